#include "ui/canvas/items/prop_item.h"

#include <QFontMetricsF>
#include <QPainter>
#include <QPainterPath>
#include <QStyleOptionGraphicsItem>
#include <algorithm>
#include <cmath>

#include "ui/canvas/items/dot_atlas.h"
#include "ui/document/document.h"

namespace yw::ui {

using papers::Dash;
using papers::Role;

namespace {
constexpr double kPointTier = 2.6;    ///< device pixels between neighbours: below it, points
constexpr double kDotTier = 12.0;     ///< below it, ready-drawn dots; above, single circles
constexpr double kNumberTier = 20.0;  ///< logical pixels between neighbours from which each has its number
constexpr double kEndsTier = 8.0;     ///< logical pixels between neighbours from which ends are shown unasked
constexpr double kMargin = 18.0;      ///< logical pixels round the geometry that pens and end marks may use

double apart(QPointF a, QPointF b) { return std::hypot(a.x() - b.x(), a.y() - b.y()); }
}  // namespace

Dash dashOfKind(std::uint8_t code) {
  static constexpr Dash dashes[] = {Dash::Solid, Dash::Long, Dash::Short, Dash::LongDot, Dash::Dot};
  return dashes[(code - pixel_code::kFirstKind) % 5];
}

PropItem::PropItem(const Look& look, base::Id id)
    : CanvasItem(look, id, Layer::Props), drawing_(std::make_shared<PropDrawing>()) {
  setFlag(ItemUsesExtendedStyleOption);
  setZValue(30);
}

void PropItem::setDrawing(PropDrawingPtr drawing) {
  if (drawing == drawing_) return;
  prepareGeometryChange();
  drawing_ = std::move(drawing);
  remeasure();
  update();
}

void PropItem::setPlace(QPointF scene, double turn) {
  if (pos() == scene && rotation() == -turn) return;
  setPos(scene);
  setRotation(-turn);
  remeasure();
}

void PropItem::remeasure() {
  QPolygonF all(QList<QPointF>(drawing_->pixels.begin(), drawing_->pixels.end()));
  all << drawing_->body;
  for (const QPolygonF& line : drawing_->frame) all << line;
  extent_ = sceneTransform().map(all).boundingRect();
}

void PropItem::setStatus(bool planned, bool absent) {
  if (planned == planned_ && absent == absent_) return;
  planned_ = planned;
  absent_ = absent;
  setOpacity(absent ? 0.35 : 1.0);
  update();
}

void PropItem::setCodes(std::vector<std::uint8_t> codes) {
  if (codes == codes_) return;
  codes_ = std::move(codes);
  update();
}

void PropItem::setOutlineCode(std::uint8_t code) {
  if (code == outlineCode_) return;
  outlineCode_ = code;
  update();
}

std::uint8_t PropItem::code(std::int64_t pixel) const {
  const auto i = static_cast<std::size_t>(pixel - 1);
  return i < codes_.size() ? codes_[i] : pixel_code::kUnwired;
}

QPointF PropItem::pixelPlace(std::int64_t pixel) const {
  const auto i = static_cast<std::size_t>(pixel - 1);
  return i < drawing_->pixels.size() ? mapToScene(drawing_->pixels[i]) : pos();
}

std::int64_t PropItem::pixelAt(QPointF scene, double reach) const {
  const QPointF own = mapFromScene(scene);
  double best = reach * reach;
  std::int64_t found = 0;
  for (std::size_t i = 0; i < drawing_->pixels.size(); ++i) {
    const QPointF d = drawing_->pixels[i] - own;
    const double away = d.x() * d.x() + d.y() * d.y();
    if (away <= best) {
      if (away == best && found) continue;
      best = away;
      found = static_cast<std::int64_t>(i) + 1;
    }
  }
  return found;
}

bool PropItem::hit(QPointF scene, double reach) const {
  if (!extent_.adjusted(-reach, -reach, reach, reach).contains(scene)) return false;
  const QPointF own = mapFromScene(scene);
  if (drawing_->body.containsPoint(own, Qt::OddEvenFill)) return true;
  for (const QPolygonF& line : drawing_->frame)
    if (distanceTo(line, false, own) <= reach) return true;
  // Between neighbours of a string counts as on it; inside an outline does not, so that what lies there can
  // be hit.
  return pixelAt(scene, std::max(reach, drawing_->pitch * 0.7)) > 0;
}

bool PropItem::touches(const QRectF& rect) const {
  if (!extent_.intersects(rect) && !rect.contains(extent_.topLeft())) return false;
  const QPolygonF own = mapFromScene(rect);
  QPainterPath area;
  area.addPolygon(own);
  area.closeSubpath();
  const auto crosses = [&](const QPolygonF& line) {
    QPainterPath path;
    path.addPolygon(line);
    return area.intersects(path);
  };
  if (!drawing_->body.isEmpty() && crosses(drawing_->body)) return true;
  if (std::any_of(drawing_->frame.begin(), drawing_->frame.end(), crosses)) return true;
  return std::any_of(drawing_->pixels.begin(), drawing_->pixels.end(),
                     [&](QPointF p) { return own.containsPoint(p, Qt::OddEvenFill); });
}

QRectF PropItem::boundingRect() const {
  const double margin = kMargin / look().scale;
  return drawing_->bounds.adjusted(-margin, -margin, margin, margin);
}

void PropItem::paint(QPainter* painter, const QStyleOptionGraphicsItem* option, QWidget*) {
  painter->setRenderHint(QPainter::Antialiasing);
  paintBody(*painter);
  paintPixels(*painter, option->exposedRect);
  if (selected() || drawing_->pitch * scaleOf(*painter) >= kEndsTier) paintEnds(*painter);
}

void PropItem::paintBody(QPainter& painter) const {
  const bool chosen = selected();
  if (!drawing_->body.isEmpty()) {
    QColor fill = look().color(Role::Paper);
    fill.setAlphaF(0.88);
    if (chosen) {
      painter.setPen(look().pen(Role::Accent, 1.3));
      painter.setBrush(Qt::NoBrush);
      painter.drawPolygon(drawing_->body);
    }
    painter.setBrush(fill);
    if (outlineCode_ != pixel_code::kUnwired)
      painter.setPen(look().pen(look().pixelColor(outlineCode_), 0.6, dashOfKind(outlineCode_)));
    else
      painter.setPen(look().pen(Role::Ink, 0.35, planned_ ? Dash::Short : Dash::Solid));
    painter.drawPolygon(drawing_->body);
  } else if (chosen) {
    paintString(painter);
  }
  painter.setBrush(Qt::NoBrush);
  painter.setPen(look().pen(Role::Frame, 0.2, planned_ ? Dash::Short : Dash::Solid));
  for (const QPolygonF& line : drawing_->frame) painter.drawPolyline(line);
}

/// A broad accent stroke along the string: how a thing as thin as a line shows that it is selected.
void PropItem::paintString(QPainter& painter) const {
  QColor accent = look().color(Role::Accent);
  accent.setAlphaF(0.5);
  painter.setPen(look().pen(accent, 2.0));
  painter.setBrush(Qt::NoBrush);
  const auto& pixels = drawing_->pixels;
  for (const QPolygonF& line : drawing_->frame) painter.drawPolyline(line);
  if (drawing_->frame.empty() && !pixels.empty())
    painter.drawPolyline(pixels.data(), static_cast<int>(pixels.size()));
}

void PropItem::paintPixels(QPainter& painter, const QRectF& exposed) const {
  const QTransform toScreen = painter.worldTransform();
  const double pitch = drawing_->pitch * std::hypot(toScreen.m11(), toScreen.m12());
  const QRectF device = toScreen.mapRect(exposed).adjusted(-kMargin, -kMargin, kMargin, kMargin);
  painter.save();
  painter.setBrush(Qt::NoBrush);
  if (pitch * look().deviceRatio < kPointTier || look().dense) {
    paintPoints(painter, device);
  } else {
    const double diameter = std::clamp(pitch * 0.62, 2.6, 9.0);
    if (pitch < kDotTier)
      paintDots(painter, device, diameter);
    else
      paintClose(painter, device, pitch);
  }
  painter.restore();
}

/// Far away: every pixel is a small block of its color on a darker ground, written straight into a picture,
/// since that costs less than any painter call a pixel.
void PropItem::paintPoints(QPainter& painter, const QRectF& device) const {
  const double ratio = look().deviceRatio;
  QTransform toImage = painter.worldTransform();
  const QRect area =
      toImage.mapRect(drawing_->bounds).intersected(device).adjusted(-3, -3, 3, 3).toAlignedRect();
  if (area.isEmpty() || drawing_->pixels.empty()) return;
  toImage *= QTransform::fromTranslate(-area.x(), -area.y()) * QTransform::fromScale(ratio, ratio);
  QImage image(QSize(static_cast<int>(std::ceil(area.width() * ratio)),
                     static_cast<int>(std::ceil(area.height() * ratio))),
               QImage::Format_ARGB32_Premultiplied);
  image.fill(0);
  const int block = std::max(2, static_cast<int>(std::lround(2 * ratio)));
  QRgb inks[pixel_code::kCount];
  for (std::uint8_t code = 0; code < pixel_code::kCount; ++code)
    inks[code] = look().pixelColor(code).rgb() | 0xff000000u;
  const double m11 = toImage.m11(), m12 = toImage.m12(), m21 = toImage.m21(), m22 = toImage.m22(),
               dx = toImage.dx(), dy = toImage.dy();
  auto* bits = reinterpret_cast<QRgb*>(image.bits());
  const int stride = static_cast<int>(image.bytesPerLine() / 4), width = image.width(),
            height = image.height();
  const auto blocks = [&](int size, auto inkOf) {
    const double half = size / 2.0;
    for (std::size_t i = 0; i < drawing_->pixels.size(); ++i) {
      const QPointF p = drawing_->pixels[i];
      const int x = static_cast<int>(std::floor(m11 * p.x() + m21 * p.y() + dx - half + 0.5));
      const int y = static_cast<int>(std::floor(m12 * p.x() + m22 * p.y() + dy - half + 0.5));
      if (x < 0 || y < 0 || x + size > width || y + size > height) continue;
      const QRgb ink = inkOf(i);
      for (int row = 0; row < size; ++row) {
        QRgb* at = bits + (y + row) * stride + x;
        for (int column = 0; column < size; ++column) at[column] = ink;
      }
    }
  };
  QColor rim = look().color(Role::SecondInk);
  const QRgb rimInk = rim.rgb() | 0xff000000u;
  blocks(block + 2 * std::max(1, static_cast<int>(std::lround(ratio))), [&](std::size_t) { return rimInk; });
  blocks(block, [&](std::size_t i) { return inks[i < codes_.size() ? codes_[i] : pixel_code::kUnwired]; });
  image.setDevicePixelRatio(ratio);
  painter.setWorldTransform(QTransform());
  painter.drawImage(QPointF(area.topLeft()), image);
}

void PropItem::paintDots(QPainter& painter, const QRectF& device, double diameter) const {
  const DotAtlas& atlas = DotAtlas::of(look(), std::round(diameter * 4) / 4);
  const QTransform toScreen = painter.worldTransform();
  std::vector<QPainter::PixmapFragment> fragments;
  fragments.reserve(drawing_->pixels.size());
  for (std::size_t i = 0; i < drawing_->pixels.size(); ++i) {
    const QPointF at = toScreen.map(drawing_->pixels[i]);
    if (!device.contains(at)) continue;
    const std::uint8_t code = i < codes_.size() ? codes_[i] : pixel_code::kUnwired;
    fragments.push_back(QPainter::PixmapFragment::create(at, atlas.source(code), 1.0 / look().deviceRatio,
                                                         1.0 / look().deviceRatio));
  }
  painter.setWorldTransform(QTransform());
  painter.setRenderHint(QPainter::SmoothPixmapTransform, look().deviceRatio != 1.0);
  painter.drawPixmapFragments(fragments.data(), static_cast<int>(fragments.size()), atlas.dots);
}

void PropItem::paintClose(QPainter& painter, const QRectF& device, double pitch) const {
  constexpr double kPixelWidth = 24.0;  // mm: no pixel is drawn much larger than it is
  const QTransform toScreen = painter.worldTransform();
  const double radius = std::clamp(std::min(pitch * 0.31, kPixelWidth / 2 * look().scale), 3.5, 11.0);
  const std::int64_t every = pitch >= kNumberTier ? 1 : 5;  // closer together only every fifth can be read
  painter.setWorldTransform(QTransform());
  painter.setFont(typeFace(TypeSize::Note));
  const std::int64_t marked =
      look().selection && look().selection->pixelProp() == id() ? look().selection->pixel() : 0;
  const std::size_t count = drawing_->pixels.size();
  for (std::size_t i = 0; i < count;) {
    const QPointF at = toScreen.map(drawing_->pixels[i]);
    std::size_t next = i + 1;  // pixels straight above one another show as one, with all their numbers
    while (next < count && apart(toScreen.map(drawing_->pixels[next]), at) < 2.0) ++next;
    if (device.contains(at)) {
      paintDot(painter, look(), code(static_cast<std::int64_t>(i) + 1), at, radius);
      const auto first = static_cast<std::int64_t>(i) + 1, last = static_cast<std::int64_t>(next);
      const bool loud = first <= marked && marked <= last;
      if (loud || first == 1 || last > first || first % every == 0) {
        // Beside a string that runs up, above one that runs across.
        const std::size_t other = next < count ? next : i > 0 ? i - 1 : i;
        const QPointF way = toScreen.map(drawing_->pixels[other]) - at;
        paintNumber(painter, at, radius + 2.0, std::abs(way.x()) > std::abs(way.y()), first, last,
                    loud ? marked : 0);
      }
      if (loud) {
        painter.setPen(QPen(look().color(Role::Accent), 2));
        painter.setBrush(Qt::NoBrush);
        painter.drawEllipse(at, radius + 3, radius + 3);
      }
    }
    i = next;
  }
}

void PropItem::paintNumber(QPainter& painter, QPointF at, double away, bool above, std::int64_t first,
                           std::int64_t last, std::int64_t marked) const {
  painter.setFont(typeFace(marked ? TypeSize::Text : TypeSize::Note, marked > 0));
  painter.setPen(look().color(marked ? Role::Accent : Role::Ink));
  QString text = QString::number(marked ? marked : first);
  if (!marked && last > first) text += QStringLiteral("–") + QString::number(last);
  const QFontMetricsF metrics(painter.font());
  const QPointF start =
      above ? QPointF(-metrics.horizontalAdvance(text) / 2, -away) : QPointF(away, metrics.ascent() / 2 - 1);
  painter.drawText(at + start, text);
}

/// IN: a solid arrowhead that points at the first pixel; OUT: an open one that leaves the last.
void PropItem::paintEnds(QPainter& painter) const {
  const auto& pixels = drawing_->pixels;
  if (pixels.empty()) return;
  painter.save();
  const QTransform toScreen = painter.worldTransform();
  painter.setWorldTransform(QTransform());
  const auto arrow = [&](QPointF at, QPointF inner, bool in) {
    QPointF way = at - inner;
    const double length = std::hypot(way.x(), way.y());
    way = length > 0.1 ? way / length : QPointF(0, 1);
    const QPointF side(-way.y(), way.x());
    const QPointF tip = at + way * (in ? 3.0 : 11.0), tail = at + way * (in ? 11.0 : 3.0);
    const QPointF corners[] = {tip, tail + side * 4.0, tail - side * 4.0};
    painter.setPen(QPen(look().color(Role::Ink), 1.3));
    painter.setBrush(in ? look().color(Role::Ink) : look().color(Role::Paper));
    painter.drawPolygon(corners, 3);
  };
  const QPointF first = toScreen.map(pixels.front()), last = toScreen.map(pixels.back());
  const QPointF second = pixels.size() > 1 ? toScreen.map(pixels[1]) : first;
  const QPointF nextToLast = pixels.size() > 1 ? toScreen.map(pixels[pixels.size() - 2]) : last;
  arrow(first, second, true);
  arrow(last, nextToLast, false);
  painter.restore();
}

}  // namespace yw::ui
