#include "ui/dialogs/outline_picture.h"

#include <QMouseEvent>
#include <QPainter>
#include <algorithm>
#include <cmath>

#include "ui/canvas/look.h"
#include "ui/fields/look.h"

namespace yw::ui {

using papers::Role;
using yard::FeatureKind;

namespace {

Role roleOf(FeatureKind kind) {
  switch (kind) {
    case FeatureKind::House:
      return Role::House;
    case FeatureKind::KeepOut:
    case FeatureKind::BuriedLine:
    case FeatureKind::PublicStrip:
    case FeatureKind::SightTriangle:
      return Role::KeepOut;
    case FeatureKind::LotLine:
      return Role::SecondInk;
    default:
      return Role::Ground;
  }
}

}  // namespace

OutlinePicture::OutlinePicture(QWidget* parent) : QWidget(parent) {
  setObjectName(QStringLiteral("outline_picture"));
  setAccessibleName(tr("Plan of the outlines"));
  setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
}

void OutlinePicture::show(const file::Outlines* outlines, std::set<std::size_t> chosen,
                          std::vector<base::Point> ends) {
  outlines_ = outlines;
  chosen_ = std::move(chosen);
  ends_ = std::move(ends);
  update();
}

QPointF OutlinePicture::placeOf(base::Point place) const {
  double x0 = 1e9, x1 = -1e9, y0 = 1e9, y1 = -1e9;
  for (const file::Outline& outline : outlines_->outlines)
    for (const base::Point p : outline.points) {
      const base::Vec2 at = base::vec(p);
      x0 = std::min(x0, at.x), x1 = std::max(x1, at.x), y0 = std::min(y0, at.y), y1 = std::max(y1, at.y);
    }
  const double room = 22, scale = std::min((width() - 2 * room) / std::max(x1 - x0, 1e-6),
                                           (height() - 2 * room) / std::max(y1 - y0, 1e-6));
  const base::Vec2 p = base::vec(place);
  return {width() / 2.0 + (p.x - (x0 + x1) / 2) * scale, height() / 2.0 - (p.y - (y0 + y1) / 2) * scale};
}

void OutlinePicture::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  const Theme& theme = currentTheme();
  painter.fillRect(rect(), theme.color(Role::Paper));
  if (!outlines_ || outlines_->outlines.empty()) return;
  painter.setRenderHint(QPainter::Antialiasing);
  const QPointF origin = placeOf({});
  const base::Point metre = base::point(base::Vec2{1, 0});
  const double scale = placeOf(metre).x() - origin.x();
  const auto at = [&](base::Point p) {
    const base::Vec2 v = base::vec(p);
    return origin + QPointF(v.x * scale, -v.y * scale);
  };
  for (const bool marked : {false, true})
    for (std::size_t i = 0; i < outlines_->outlines.size(); ++i) {
      if (chosen_.contains(i) != marked) continue;
      const file::Outline& outline = outlines_->outlines[i];
      QPolygonF line;
      for (const base::Point p : outline.points) line << at(p);
      if (outline.closed) line << line.front();
      const QColor ink = theme.color(marked         ? Role::Accent
                                     : outline.kind ? roleOf(*outline.kind)
                                                    : Role::SecondInk);
      QColor fill = ink;
      fill.setAlphaF(outline.closed && outline.kind && !yard::isLine(*outline.kind) ? 0.12 : 0.0);
      painter.setPen(Qt::NoPen);
      painter.setBrush(fill);
      painter.drawPolygon(line);
      painter.setBrush(Qt::NoBrush);
      const bool house = outline.kind == FeatureKind::House;
      painter.setPen(QPen(ink, marked ? 2.6 : house ? 1.9 : 1.1, outline.kind ? Qt::SolidLine : Qt::DotLine));
      painter.drawPolyline(line);
    }
  painter.setPen(QPen(theme.color(Role::Accent), 2));
  for (std::size_t i = 0; i < ends_.size(); ++i) {
    const QPointF end = at(ends_[i]);
    painter.setBrush(theme.color(Role::Paper));
    painter.drawEllipse(end, 5, 5);
    painter.drawText(end + QPointF(8, -6), i == 0 ? QStringLiteral("A") : QStringLiteral("B"));
  }
  if (ends_.size() == 2) {
    painter.setPen(QPen(theme.color(Role::Accent), 1.2, Qt::DashLine));
    painter.drawLine(at(ends_[0]), at(ends_[1]));
  }
}

void OutlinePicture::mousePressEvent(QMouseEvent* event) {
  if (event->button() != Qt::LeftButton || !outlines_) return;
  constexpr double kReach = 9.0;
  const QPointF hand = event->position();
  const base::Point* corner = nullptr;
  double nearest = kReach;
  std::optional<std::size_t> line;
  double lineAway = kReach, inside = 1e300;
  for (std::size_t i = 0; i < outlines_->outlines.size(); ++i) {
    const file::Outline& outline = outlines_->outlines[i];
    QPolygonF drawn;
    for (const base::Point& p : outline.points) {
      drawn << placeOf(p);
      const QPointF off = drawn.back() - hand;
      if (const double away = std::hypot(off.x(), off.y()); away < nearest) nearest = away, corner = &p;
    }
    if (const double away = distanceTo(drawn, outline.closed, hand); away < lineAway)
      lineAway = away, line = i;
    const double size = drawn.boundingRect().width() * drawn.boundingRect().height();
    if (lineAway == kReach && outline.closed && size < inside && drawn.containsPoint(hand, Qt::OddEvenFill))
      inside = size, line = i;
  }
  if (corner)
    Q_EMIT cornerClicked(*corner);
  else if (line)
    Q_EMIT outlineClicked(*line);
}

}  // namespace yw::ui
