#include "ui/canvas/items/feature_item.h"

#include <QFontMetricsF>
#include <QPainter>
#include <QPainterPath>
#include <algorithm>
#include <cmath>

namespace yw::ui {

using papers::Dash;
using papers::Role;
using yard::FeatureKind;

namespace {

/// How one kind is drawn: line weight in mm of paper, ink, hatch angle and gap (logical pixels, 0: none).
struct Manner {
  double weight;
  Role role;
  Dash dash;
  double hatchTurn, hatchGap;
};

Manner mannerOf(FeatureKind kind) {
  switch (kind) {
    case FeatureKind::House:
      return {0.50, Role::House, Dash::Solid, 45, 18};
    case FeatureKind::Walk:
      return {0.25, Role::Ground, Dash::Solid, 0, 16};
    case FeatureKind::Drive:
      return {0.25, Role::Ground, Dash::Solid, 90, 16};
    case FeatureKind::Bed:
      return {0.25, Role::Ground, Dash::Solid, 135, 22};
    case FeatureKind::Tree:
      return {0.25, Role::Ground, Dash::Solid, 0, 0};
    case FeatureKind::Fence:
      return {0.25, Role::Ground, Dash::Solid, 0, 0};
    case FeatureKind::Water:
      return {0.25, Role::Ground, Dash::Solid, 0, 9};
    case FeatureKind::KeepOut:
      return {0.25, Role::KeepOut, Dash::Long, 45, 9};
    case FeatureKind::BuriedLine:
      return {0.35, Role::KeepOut, Dash::Long, 0, 0};
    case FeatureKind::PublicStrip:
      return {0.25, Role::KeepOut, Dash::Short, 135, 14};
    case FeatureKind::SightTriangle:
      return {0.25, Role::KeepOut, Dash::LongDot, 90, 12};
    case FeatureKind::Trench:
      return {1.4, Role::Ground, Dash::Solid, 0, 0};  // wide, so that it shows beside the cables in it
    case FeatureKind::LotLine:
      return {0.25, Role::SecondInk, Dash::LongDot, 0, 0};
  }
  return {0.25, Role::Ground, Dash::Solid, 0, 0};
}

QPointF centerOf(const QPolygonF& line) {
  QPointF sum;
  double twice = 0.0;
  for (int i = 0; i < line.size(); ++i) {
    const QPointF a = line[i], b = line[(i + 1) % line.size()];
    const double c = a.x() * b.y() - b.x() * a.y();
    twice += c;
    sum += (a + b) * c;
  }
  return std::abs(twice) > 1e-6 ? sum / (3.0 * twice) : line.boundingRect().center();
}

/// The longest edge, from left to right as read.
QLineF longestEdge(const QPolygonF& line, bool closed) {
  QLineF best;
  for (int i = 0; i + (closed ? 0 : 1) < line.size(); ++i) {
    const QLineF edge(line[i], line[(i + 1) % line.size()]);
    if (edge.length() > best.length()) best = edge;
  }
  return best.dx() < 0 ? QLineF(best.p2(), best.p1()) : best;
}

bool rectTouchesLine(const QRectF& rect, const QPolygonF& line, bool closed) {
  QPainterPath area;
  area.addRect(rect);
  for (int i = 0; i + (closed ? 0 : 1) < line.size(); ++i) {
    QPainterPath edge(line[i]);
    edge.lineTo(line[(i + 1) % line.size()]);
    if (area.intersects(edge) || rect.contains(line[i])) return true;
  }
  return false;
}

}  // namespace

FeatureItem::FeatureItem(const Look& look, base::Id id) : CanvasItem(look, id, Layer::Ground) {}

bool FeatureItem::closed() const { return !yard::isLine(kind_); }

bool FeatureItem::keptOut() const {
  return kind_ == FeatureKind::KeepOut || kind_ == FeatureKind::BuriedLine ||
         kind_ == FeatureKind::PublicStrip || kind_ == FeatureKind::SightTriangle;
}

void FeatureItem::setFeature(const yard::GroundFeature& feature) {
  prepareGeometryChange();
  kind_ = feature.kind;
  name_ = QString::fromStdString(feature.name);
  reason_ = QString::fromStdString(feature.reason);
  const bool tolerated = kind_ == FeatureKind::KeepOut || kind_ == FeatureKind::BuriedLine;
  tolerance_ = tolerated ? base::metres(feature.tolerance).si * 1e3 : 0.0;
  line_.clear();
  for (const base::Point& p : feature.outline) line_ << toScene(p);
  hatchGap_ = 0.0;
  const int order[] = {8, 3, 2, 1, 6, 7, 4, 5, 0, 5, 1, 5, 4};  // House … Trench: what lies over what
  setZValue(order[static_cast<int>(kind_)]);
  update();
}

bool FeatureItem::hit(QPointF scene, double reach) const {
  if (distanceTo(line_, closed(), scene) <= reach) return true;
  return closed() && line_.containsPoint(scene, Qt::OddEvenFill);
}

bool FeatureItem::touches(const QRectF& rect) const { return rectTouchesLine(rect, line_, closed()); }

QRectF FeatureItem::boundingRect() const {
  const double margin = 16.0 / look().scale + tolerance_ * 1.5;
  return line_.boundingRect().adjusted(-margin, -margin, margin, margin);
}

void FeatureItem::paint(QPainter* painter, const QStyleOptionGraphicsItem*, QWidget*) {
  if (line_.size() < 2) return;
  painter->setRenderHint(QPainter::Antialiasing);
  if (tolerance_ > 0) paintTolerance(*painter);
  if (closed()) paintHatch(*painter);
  paintOutline(*painter);
  if (kind_ == FeatureKind::Fence) paintTicks(*painter);
  if (kind_ == FeatureKind::Tree) {
    const QPointF c = centerOf(line_);
    const double arm = 5.0 / look().scale;
    painter->drawLine(c - QPointF(arm, 0), c + QPointF(arm, 0));
    painter->drawLine(c - QPointF(0, arm), c + QPointF(0, arm));
  }
  if (keptOut() && !reason_.isEmpty())
    paintReason(*painter);
  else if (!name_.isEmpty())
    paintName(*painter);
}

void FeatureItem::paintHatch(QPainter& painter) const {
  const Manner manner = mannerOf(kind_);
  QColor fill = look().color(kind_ == FeatureKind::House ? Role::Paper : manner.role);
  fill.setAlphaF(kind_ == FeatureKind::House ? 0.9 : 0.06);
  painter.setPen(Qt::NoPen);
  painter.setBrush(fill);
  painter.drawPolygon(line_);
  painter.setBrush(Qt::NoBrush);
  if (manner.hatchGap <= 0) return;
  const double gap = manner.hatchGap / look().scale;
  if (gap != hatchGap_) {
    hatchLines_ = hatch(line_, manner.hatchTurn, gap);
    hatchGap_ = gap;
  }
  QColor ink = look().color(manner.role);
  ink.setAlphaF(kind_ == FeatureKind::KeepOut ? 0.55 : keptOut() ? 0.4 : 0.28);
  painter.setPen(look().pen(
      ink, 0.13, kind_ == FeatureKind::Bed || kind_ == FeatureKind::Water ? Dash::Long : Dash::Solid));
  painter.drawLines(hatchLines_.data(), static_cast<int>(hatchLines_.size()));
}

void FeatureItem::paintTolerance(QPainter& painter) const {
  QColor band = look().color(Role::KeepOut);
  band.setAlphaF(0.16);
  painter.setPen(QPen(band, 2 * tolerance_, Qt::SolidLine, Qt::SquareCap, Qt::MiterJoin));
  painter.setBrush(Qt::NoBrush);
  closed() ? painter.drawPolygon(line_) : painter.drawPolyline(line_);
}

void FeatureItem::paintOutline(QPainter& painter) const {
  const Manner manner = mannerOf(kind_);
  const auto draw = [&] { closed() ? painter.drawPolygon(line_) : painter.drawPolyline(line_); };
  painter.setBrush(Qt::NoBrush);
  if (selected()) {
    painter.setPen(look().pen(Role::Accent, manner.weight + 1.0));
    draw();
  }
  painter.setPen(look().pen(manner.role, manner.weight, manner.dash));
  draw();
}

/// The small crosses by which a fence is told from a path.
void FeatureItem::paintTicks(QPainter& painter) const {
  const double step = 26.0 / look().scale, arm = 3.5 / look().scale;
  int drawn = 0;
  for (int i = 0; i + 1 < line_.size(); ++i) {
    const QLineF edge(line_[i], line_[i + 1]);
    for (double d = step / 2; d < edge.length() && drawn < 3000; d += step, ++drawn) {
      const QPointF at = edge.pointAt(d / edge.length());
      painter.drawLine(at + QPointF(-arm, -arm), at + QPointF(arm, arm));
      painter.drawLine(at + QPointF(-arm, arm), at + QPointF(arm, -arm));
    }
  }
}

void FeatureItem::paintReason(QPainter& painter) const {
  const QLineF edge = longestEdge(line_, closed());
  const QTransform toScreen = painter.worldTransform();
  QPointF inward = centerOf(line_) - edge.center();
  const double away = std::hypot(inward.x(), inward.y());
  inward = away > 0 ? inward / away : QPointF(0, 1);
  painter.save();
  painter.setWorldTransform(QTransform());
  const QFont font = typeFace(TypeSize::Note);
  const QFontMetricsF metrics(font);
  const QLineF onScreen(toScreen.map(edge.p1()), toScreen.map(edge.p2()));
  const QString text = metrics.elidedText(reason_, Qt::ElideRight, onScreen.length() - 8);
  if (text.size() > 1) {
    const double width = metrics.horizontalAdvance(text);
    painter.translate(onScreen.center() + inward * 9.0);
    painter.rotate(-onScreen.angle() > -90 ? -onScreen.angle() : 360 - onScreen.angle());
    QColor ground = look().color(Role::Paper);
    ground.setAlphaF(0.85);
    painter.fillRect(QRectF(-width / 2 - 3, -6.5, width + 6, 13), ground);
    painter.setPen(look().color(Role::Ink));
    painter.setFont(font);
    painter.drawText(QPointF(-width / 2, metrics.ascent() / 2 - 1), text);
  }
  painter.restore();
}

void FeatureItem::paintName(QPainter& painter) const {
  const QTransform toScreen = painter.worldTransform();
  const QRectF room = toScreen.mapRect(line_.boundingRect());
  const QFont font = typeFace(kind_ == FeatureKind::House ? TypeSize::Text : TypeSize::Note);
  const QFontMetricsF metrics(font);
  const double width = metrics.horizontalAdvance(name_);
  if (closed() && (room.width() < width + 6 || room.height() < metrics.height())) return;
  const QPointF at = closed() ? centerOf(line_) : longestEdge(line_, false).center();
  painter.save();
  painter.setWorldTransform(QTransform());
  painter.setFont(font);
  const QRectF box(toScreen.map(at) - QPointF(width / 2, metrics.height() / 2),
                   QSizeF(width, metrics.height()));
  QColor ground = look().color(Role::Paper);
  ground.setAlphaF(0.8);
  painter.fillRect(box.adjusted(-3, 0, 3, 0), ground);
  painter.setPen(look().color(Role::SecondInk));
  painter.drawText(QPointF(box.left(), box.top() + metrics.ascent()), name_);
  painter.restore();
}

WallFootItem::WallFootItem(const Look& look, base::Id id) : CanvasItem(look, id, Layer::Ground) {
  setZValue(9);
}

void WallFootItem::setWall(const yard::Wall& wall) {
  prepareGeometryChange();
  line_ = QPolygonF({toScene(wall.from), toScene(wall.to)});
  update();
}

bool WallFootItem::hit(QPointF scene, double reach) const { return distanceTo(line_, false, scene) <= reach; }
bool WallFootItem::touches(const QRectF&) const {
  return false;
}  // a rubber band takes houses, not their walls

QRectF WallFootItem::boundingRect() const {
  const double margin = 10.0 / look().scale;
  return line_.boundingRect().adjusted(-margin, -margin, margin, margin);
}

void WallFootItem::paint(QPainter* painter, const QStyleOptionGraphicsItem*, QWidget*) {
  if (!selected()) return;
  painter->setRenderHint(QPainter::Antialiasing);
  painter->setPen(look().pen(Role::Accent, 1.2));
  painter->drawPolyline(line_);
}

}  // namespace yw::ui
