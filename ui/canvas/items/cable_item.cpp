#include "ui/canvas/items/cable_item.h"

#include <QPainter>
#include <QPainterPath>
#include <algorithm>
#include <cmath>

#include "ui/canvas/items/prop_item.h"

namespace yw::ui {

using papers::Dash;
using papers::Role;
using routes::CableRole;

namespace {

struct Manner {
  Role role;
  double weight;
  Dash dash;
};

Manner mannerOf(CableRole role) {
  switch (role) {
    case CableRole::Lead:
    case CableRole::Jumper:
    case CableRole::ReceiverLink:
      return {Role::DataCable, 0.35, Dash::Solid};
    case CableRole::Feed:
      return {Role::FeedCable, 0.60, Dash::Solid};
    case CableRole::Trunk:
      return {Role::FeedCable, 0.80, Dash::Solid};
    case CableRole::Tie:
      return {Role::FeedCable, 0.35, Dash::Dot};
    case CableRole::MainsCord:
      return {Role::MainsCable, 0.35, Dash::Long};
  }
  return {Role::DataCable, 0.35, Dash::Solid};
}

}  // namespace

QPolygonF planLine(const routes::RoutedCable& cable) {
  QPolygonF line;
  for (const base::Vec3& p : cable.path) {
    const QPointF at = toScene(base::plan(p));
    if (line.isEmpty() || line.back() != at) line << at;
  }
  return line;
}

base::Id CableItem::selects(const routes::RoutedCable& cable) {
  return cable.record ? cable.record : cable.key.of;
}

CableItem::CableItem(const Look& look, const routes::RoutedCable& cable)
    : CanvasItem(look, selects(cable), Layer::Cables),
      key_(cable.key),
      label_(QString::fromStdString(cable.label)),
      line_(planLine(cable)),
      blocked_(cable.blocked) {
  setZValue(cable.key.role == CableRole::MainsCord ? 20 : cable.key.role == CableRole::Feed ? 21 : 22);
}

void CableItem::setLine(QPolygonF line) {
  prepareGeometryChange();
  line_ = std::move(line);
}

void CableItem::setCode(std::uint8_t code) {
  if (code == code_) return;
  code_ = code;
  update();
}

QPointF CableItem::middle() const {
  double length = 0.0;
  for (int i = 0; i + 1 < line_.size(); ++i) length += QLineF(line_[i], line_[i + 1]).length();
  double half = length / 2;
  for (int i = 0; i + 1 < line_.size(); ++i) {
    const QLineF part(line_[i], line_[i + 1]);
    if (part.length() >= half && part.length() > 0) return part.pointAt(half / part.length());
    half -= part.length();
  }
  return line_.isEmpty() ? QPointF() : line_.back();
}

bool CableItem::hit(QPointF scene, double reach) const {
  return line_.size() > 1 && distanceTo(line_, false, scene) <= reach;
}

bool CableItem::touches(const QRectF& rect) const {
  QPainterPath area;
  area.addRect(rect);
  for (int i = 0; i + 1 < line_.size(); ++i) {
    QPainterPath part(line_[i]);
    part.lineTo(line_[i + 1]);
    if (rect.contains(line_[i]) || area.intersects(part)) return true;
  }
  return false;
}

QRectF CableItem::boundingRect() const {
  const double margin = 12.0 / look().scale;
  return line_.boundingRect().adjusted(-margin, -margin, margin, margin);
}

void CableItem::paint(QPainter* painter, const QStyleOptionGraphicsItem*, QWidget*) {
  if (line_.size() < 2) return;
  painter->setRenderHint(QPainter::Antialiasing);
  painter->setBrush(Qt::NoBrush);
  const Manner manner = mannerOf(key_.role);
  if (selected()) {
    painter->setPen(look().pen(Role::Accent, manner.weight + 1.1));
    painter->drawPolyline(line_);
  }
  const bool byKind = code_ != pixel_code::kUnwired;
  QColor ink = byKind ? look().pixelColor(code_) : look().color(manner.role);
  if (look().stale) ink.setAlphaF(0.45);
  painter->setPen(look().pen(ink, manner.weight,
                             blocked_ ? Dash::Short
                             : byKind ? dashOfKind(code_)
                                      : manner.dash));
  painter->drawPolyline(line_);
  if (key_.role == CableRole::Feed || key_.role == CableRole::Trunk) paintArrow(*painter, ink);
  if (end_ == yard::RunItemKind::NullPixel || end_ == yard::RunItemKind::Booster) paintEnd(*painter);
}

/// A diamond, open for a null pixel and solid for a booster: the same signs as on paper.
void CableItem::paintEnd(QPainter& painter) const {
  const double half = 5.0 / look().scale;
  const QPointF at = line_.back();
  painter.setPen(look().pen(Role::Ink, 0.35));
  painter.setBrush(look().color(end_ == yard::RunItemKind::Booster ? Role::Ink : Role::Paper));
  painter.drawPolygon(QPolygonF(
      {at - QPointF(0, half), at + QPointF(half, 0), at + QPointF(0, half), at - QPointF(half, 0)}));
}

/// A feed's arrowhead stands at its fuse end (the path's first place).
void CableItem::paintArrow(QPainter& painter, const QColor& ink) const {
  const QTransform toScreen = painter.worldTransform();
  const QPointF tip = toScreen.map(line_[0]);
  QPointF way;
  for (int i = 1; i < line_.size(); ++i) {
    way = tip - toScreen.map(line_[i]);
    if (std::hypot(way.x(), way.y()) > 6.0) break;
  }
  const double length = std::hypot(way.x(), way.y());
  if (length < 1.0) return;
  way /= length;
  const QPointF side(-way.y(), way.x()), root = tip - way * 11.0;
  const QPointF corners[] = {tip, root + side * 4.0, root - side * 4.0};
  painter.save();
  painter.setWorldTransform(QTransform());
  painter.setPen(Qt::NoPen);
  painter.setBrush(ink);
  painter.drawPolygon(corners, 3);
  painter.restore();
}

}  // namespace yw::ui
