#include "ui/canvas/furniture.h"

#include <QFontMetricsF>
#include <algorithm>
#include <cmath>

#include "core/base/number_text.h"
#include "ui/canvas/items/prop_item.h"

namespace yw::ui {

using papers::Role;

namespace {

constexpr int kCorner = 14;
constexpr int kRow = 16;

QRect leftCorner(QSize viewport) { return QRect(kCorner, viewport.height() - kCorner - 48, 250, 48); }

QRect keyRect(const Furniture& furniture, QSize viewport) {
  if (furniture.low.isEmpty() && furniture.entries.empty()) return {};
  const QFontMetricsF metrics(typeFace(TypeSize::Note));
  double width = 0;
  int height = 30;
  if (furniture.entries.empty()) {
    width = std::max(
        180.0, metrics.horizontalAdvance(furniture.low) + metrics.horizontalAdvance(furniture.high) + 24);
  } else {
    for (const auto& entry : furniture.entries)
      width = std::max(width, metrics.horizontalAdvance(entry.text) + 46);
    height = kRow * static_cast<int>(furniture.entries.size() + (furniture.more > 0)) + 6;
  }
  const QSize size(static_cast<int>(std::ceil(width)), height);
  QRect key(QPoint(viewport.width() - kCorner - size.width(), viewport.height() - kCorner - size.height()),
            size);
  constexpr int kApart = 8;
  if (key.left() < leftCorner(viewport).right() + kApart)  // no room beside it
    key.moveBottom(leftCorner(viewport).top() - kApart);
  return key;
}

void paintNorth(QPainter& painter, const Look& look, const Furniture& furniture, QPointF center) {
  painter.save();
  painter.translate(center);
  painter.rotate(-furniture.north);
  painter.setPen(QPen(look.color(Role::Ink), 1.2));
  const QPointF left[] = {{0, -18}, {-6, 10}, {0, 5}}, right[] = {{0, -18}, {6, 10}, {0, 5}};
  painter.setBrush(look.color(Role::Ink));
  painter.drawPolygon(left, 3);
  painter.setBrush(look.color(Role::Paper));
  painter.drawPolygon(right, 3);
  painter.setFont(typeFace(TypeSize::Note, true));
  painter.translate(0, 17);
  painter.rotate(furniture.north);
  painter.drawText(QRectF(-8, -6, 16, 12), Qt::AlignCenter, QStringLiteral("N"));
  painter.restore();
}

void paintScaleBar(QPainter& painter, const Look& look, const Furniture& furniture, QPointF at) {
  const base::Length length = scaleBar(look.scale, furniture.units);
  const double width = base::metres(length).si * 1e3 * look.scale;
  painter.setPen(QPen(look.color(Role::Ink), 1.0));
  for (int i = 0; i < 4; ++i) {
    painter.setBrush(i % 2 ? look.color(Role::Paper) : look.color(Role::Ink));
    painter.drawRect(QRectF(at.x() + width * i / 4, at.y(), width / 4, 4));
  }
  painter.setFont(typeFace(TypeSize::Note));
  painter.drawText(at + QPointF(0, -4), QStringLiteral("0"));
  const QString text = QString::fromStdString(base::lengthText(length, furniture.units));
  painter.drawText(at + QPointF(width - QFontMetricsF(painter.font()).horizontalAdvance(text) / 2, -4), text);
  painter.setPen(look.color(Role::SecondInk));
  painter.drawText(at + QPointF(0, 18), furniture.title);
}

void paintKey(QPainter& painter, const Look& look, const Furniture& furniture, const QRect& area) {
  if (area.isNull()) return;
  QColor ground = look.color(Role::Paper);
  ground.setAlphaF(0.85);
  painter.fillRect(area.adjusted(-4, -2, 4, 2), ground);
  painter.setFont(typeFace(TypeSize::Note));
  const QFontMetricsF metrics(painter.font());
  if (furniture.entries.empty()) {
    const double step = static_cast<double>(area.width()) / pixel_code::kMagnitudes;
    painter.setPen(Qt::NoPen);
    for (std::uint8_t code = 0; code < pixel_code::kMagnitudes; ++code)
      painter.fillRect(QRectF(area.left() + code * step, area.top() + 2, step + 0.5, 8),
                       look.pixelColor(code));
    painter.setPen(look.color(Role::Ink));
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(QRectF(area.left(), area.top() + 2, area.width(), 8));
    painter.drawText(QPointF(area.left(), area.bottom() - 2), furniture.low);
    painter.drawText(QPointF(area.right() - metrics.horizontalAdvance(furniture.high), area.bottom() - 2),
                     furniture.high);
    return;
  }
  double y = area.top() + 3 + kRow / 2.0;
  for (const auto& entry : furniture.entries) {
    QPen pen = look.pen(look.pixelColor(entry.code), 0.8, dashOfKind(entry.code));
    painter.setPen(pen);
    painter.drawLine(QPointF(area.left(), y), QPointF(area.left() + 34, y));
    painter.setPen(look.color(Role::Ink));
    painter.drawText(QPointF(area.left() + 42, y + metrics.ascent() / 2 - 1), entry.text);
    y += kRow;
  }
  painter.setPen(look.color(Role::SecondInk));
  if (furniture.more > 0)
    painter.drawText(QPointF(area.left() + 42, y + metrics.ascent() / 2 - 1),
                     said("canvas_key_more", {{"n", static_cast<std::int64_t>(furniture.more)}}));
}

}  // namespace

base::Length scaleBar(double pixelsPerMm, base::UnitSystem units) {
  static constexpr std::int64_t inchSteps[] = {1, 2, 6, 12, 24, 60, 120, 240, 600, 1200, 2400, 6000, 12'000};
  static constexpr std::int64_t millimetreSteps[] = {20,   50,     100,    200,    500,     1000,   2000,
                                                     5000, 10'000, 20'000, 50'000, 100'000, 200'000};
  base::Length best;
  for (int i = 0; i < 13; ++i) {
    best = units == base::UnitSystem::FeetInches ? base::inches(inchSteps[i])
                                                 : base::millimetres(millimetreSteps[i]);
    if (base::metres(best).si * 1e3 * pixelsPerMm >= 60) break;
  }
  return best;
}

std::vector<QRect> furnitureRects(const Furniture& furniture, QSize viewport) {
  std::vector<QRect> rects{leftCorner(viewport).adjusted(-7, -5, 1, 7)};
  if (const QRect key = keyRect(furniture, viewport); !key.isNull())
    rects.push_back(key.adjusted(-5, -3, 5, 3));
  return rects;
}

void paintFurniture(QPainter& painter, const Look& look, const Furniture& furniture, QSize viewport) {
  painter.setRenderHint(QPainter::Antialiasing);
  const QRect corner = leftCorner(viewport);
  QColor ground = look.color(Role::Paper);
  ground.setAlphaF(0.85);
  painter.fillRect(corner.adjusted(-6, -4, 0, 6), ground);
  if (furniture.northArrow)
    paintNorth(painter, look, furniture, QPointF(corner.left() + 12, corner.top() + 22));
  paintScaleBar(painter, look, furniture,
                QPointF(corner.left() + (furniture.northArrow ? 38 : 2), corner.top() + 22));
  paintKey(painter, look, furniture, keyRect(furniture, viewport));
}

void paintSign(QPainter& painter, const Look& look, findings::Severity severity, QPointF center,
               double size) {
  const double h = size / 2;
  const QColor ink = look.color(Role::Ink), paper = look.color(Role::Paper);
  painter.setPen(QPen(paper, 4));  // a ring of paper keeps the sign apart from what lies under it
  painter.setBrush(paper);
  const QPolygonF triangle(
      {center + QPointF(0, -h), center + QPointF(h * 1.1, h * 0.9), center + QPointF(-h * 1.1, h * 0.9)});
  const QRectF square(center.x() - h * 0.85, center.y() - h * 0.85, 1.7 * h, 1.7 * h);
  switch (severity) {
    case findings::Severity::Danger:
      painter.drawPolygon(triangle);
      painter.setPen(QPen(look.color(Role::Danger), 1));
      painter.setBrush(look.color(Role::Danger));
      painter.drawPolygon(triangle);
      painter.setPen(QPen(paper, 1.6));
      painter.drawLine(center + QPointF(0, -h * 0.35), center + QPointF(0, h * 0.3));
      painter.drawPoint(center + QPointF(0, h * 0.65));
      return;
    case findings::Severity::WontWork:
      painter.drawRect(square);
      painter.setPen(QPen(ink, 1));
      painter.setBrush(ink);
      painter.drawRect(square);
      return;
    case findings::Severity::CloseToLimit:
      painter.drawRect(square);
      painter.setPen(QPen(ink, 1.8));
      painter.setBrush(paper);
      painter.drawRect(square.adjusted(1, 1, -1, -1));
      return;
    case findings::Severity::Note:
      painter.drawEllipse(center, h * 0.5, h * 0.5);
      painter.setPen(Qt::NoPen);
      painter.setBrush(ink);
      painter.drawEllipse(center, h * 0.5, h * 0.5);
      return;
  }
}

}  // namespace yw::ui
