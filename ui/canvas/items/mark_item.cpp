#include "ui/canvas/items/mark_item.h"

#include <QPainter>
#include <algorithm>
#include <cmath>

namespace yw::ui {

using papers::Role;
using yard::RecordKind;

MarkItem::MarkItem(const Look& look, base::Id id, RecordKind kind)
    : CanvasItem(look, id, Layer::Gear), kind_(kind) {
  setFlag(ItemIgnoresTransformations);
  // What is small lies over what is large: an outlet on a box is seen and can be taken.
  setZValue(kind == RecordKind::Box ? 40 : 42);
}

void MarkItem::setText(const QString& text) {
  if (text == text_) return;
  text_ = text;
  update();
}

void MarkItem::setCount(int supplies) {
  if (supplies == count_) return;
  count_ = supplies;
  update();
}

void MarkItem::setTurn(double degrees) {
  if (degrees == turn_) return;
  turn_ = degrees;
  update();
}

bool MarkItem::hit(QPointF scene, double reach) const {
  const QPointF d = scene - pos();
  return std::hypot(d.x(), d.y()) <= 10.0 / look().scale + reach;
}

void MarkItem::paint(QPainter* painter, const QStyleOptionGraphicsItem*, QWidget*) {
  painter->setRenderHint(QPainter::Antialiasing);
  const QPen ink(look().color(Role::Ink), 0.35 * kPixelsPerPaperMm);
  if (selected()) {
    painter->setPen(QPen(look().color(Role::Accent), 3));
    painter->setBrush(Qt::NoBrush);
    painter->drawRoundedRect(QRectF(-13, -12, 26, 24), 3, 3);
  }
  painter->setPen(ink);
  painter->setBrush(look().color(Role::Paper));
  switch (kind_) {
    case RecordKind::Box:
      return paintBox(*painter);
    case RecordKind::AudiencePoint:
      return paintAudience(*painter);
    case RecordKind::Outlet:
      painter->drawEllipse(QPointF(0, 0), 6.5, 6.5);
      painter->drawLine(QPointF(-2, -2.5), QPointF(-2, 1));
      painter->drawLine(QPointF(2, -2.5), QPointF(2, 1));
      painter->drawLine(QPointF(0, 3), QPointF(0, 3.6));
      return;
    case RecordKind::OtherLoad:
      painter->drawEllipse(QPointF(0, 0), 6.5, 6.5);
      painter->drawLine(QPointF(-4.6, -4.6), QPointF(4.6, 4.6));
      painter->drawLine(QPointF(-4.6, 4.6), QPointF(4.6, -4.6));
      return;
    default:
      painter->drawLine(QPointF(-5, 0), QPointF(5, 0));
      painter->drawLine(QPointF(0, -5), QPointF(0, 5));
      painter->setFont(typeFace(TypeSize::Note));
      painter->setPen(look().color(Role::SecondInk));
      painter->drawText(QPointF(6, -3), text_);
  }
}

/// An enclosure seen from above: heavy outline, a lid line, one solid bar for each supply in it.
void MarkItem::paintBox(QPainter& painter) const {
  painter.setPen(QPen(look().color(Role::Ink), 0.5 * kPixelsPerPaperMm));
  painter.drawRect(QRectF(-9, -8, 18, 16));
  const int bars = std::min(count_, 4);
  painter.setPen(Qt::NoPen);
  painter.setBrush(look().color(Role::Ink));
  for (int i = 0; i < bars; ++i) painter.drawRect(QRectF(-6 + 3.4 * i, -4.5, 2.0, 9));
}

/// Where people stand and which way they look.
void MarkItem::paintAudience(QPainter& painter) const {
  painter.save();
  painter.rotate(-turn_);
  painter.setBrush(Qt::NoBrush);
  QPen ray(look().color(Role::SecondInk), 1.0);
  painter.setPen(ray);
  painter.drawLine(QPointF(0, 0), QPointF(-9, 20));
  painter.drawLine(QPointF(0, 0), QPointF(9, 20));
  painter.restore();
  painter.setPen(QPen(look().color(Role::Ink), 1.3));
  painter.setBrush(look().color(Role::Paper));
  painter.drawEllipse(QPointF(0, 0), 5.0, 5.0);
}

}  // namespace yw::ui
