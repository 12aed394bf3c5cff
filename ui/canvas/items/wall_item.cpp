#include "ui/canvas/items/wall_item.h"

#include <QFontMetricsF>
#include <QPainter>
#include <cmath>

namespace yw::ui {

using papers::Dash;
using papers::Role;
using yard::OpeningKind;

base::Length lengthOf(const yard::Wall& wall) {
  return base::toLength({base::distance(base::vec(wall.from), base::vec(wall.to))});
}

base::Length gableHeight(const yard::Wall& wall, const yard::Opening& gable) {
  if (gable.height) return gable.height;
  return {gable.width.count / 2 * wall.pitchRise / 12};
}

QPolygonF openingOutline(const yard::Wall& wall, const yard::Opening& opening) {
  const QPointF corner = toScene(opening.at);
  const double width = base::metres(opening.width).si * 1e3;
  if (opening.kind == OpeningKind::Gable) {
    const double height = base::metres(gableHeight(wall, opening)).si * 1e3;
    return QPolygonF({corner, corner + QPointF(width / 2, -height), corner + QPointF(width, 0)});
  }
  if (opening.kind == OpeningKind::Eave) return QPolygonF({corner, corner + QPointF(width, 0)});
  const double height = base::metres(opening.height).si * 1e3;
  return QPolygonF(
      {corner, corner + QPointF(0, -height), corner + QPointF(width, -height), corner + QPointF(width, 0)});
}

WallItem::WallItem(const Look& look, base::Id id) : CanvasItem(look, id, Layer::Ground) { setZValue(0); }

void WallItem::setWall(const yard::Wall& wall) {
  prepareGeometryChange();
  wall_ = wall;
  const QPointF top = toScene(base::Point{lengthOf(wall), wall.eaveHeight});
  extent_ = QRectF(0, top.y(), top.x(), -top.y());
  for (const yard::Opening& opening : wall.openings)
    extent_ = extent_.united(openingOutline(wall, opening).boundingRect());
  update();
}

void WallItem::setChosen(int opening) {
  if (opening == chosen_) return;
  chosen_ = opening;
  update();
}

bool WallItem::hit(QPointF scene, double) const { return extent_.contains(scene); }

QRectF WallItem::boundingRect() const {
  const double margin = 40.0 / look().scale;
  return extent_.adjusted(-margin, -margin, margin, margin);
}

void WallItem::paint(QPainter* painter, const QStyleOptionGraphicsItem*, QWidget*) {
  painter->setRenderHint(QPainter::Antialiasing);
  const double length = base::metres(lengthOf(wall_)).si * 1e3,
               eave = base::metres(wall_.eaveHeight).si * 1e3;
  const QRectF face(0, -eave, length, eave);
  if (selected()) {
    painter->setPen(look().pen(Role::Accent, 1.5));
    painter->setBrush(Qt::NoBrush);
    painter->drawRect(face);
  }
  painter->setPen(look().pen(Role::House, 0.5));
  const bool overPhoto = !wall_.photo.empty() && look().shows(Layer::Photo);
  painter->setBrush(overPhoto ? QBrush(Qt::NoBrush) : QBrush(look().color(Role::Paper)));
  painter->drawRect(face);
  // The ground: a heavy line with the strokes by which a section shows earth.
  const double out = 30.0 / look().scale, step = 14.0 / look().scale;
  painter->setPen(look().pen(Role::Ink, 0.5));
  painter->drawLine(QPointF(-out, 0), QPointF(length + out, 0));
  QColor earth = look().color(Role::Ground);
  painter->setPen(look().pen(earth, 0.18));
  for (double x = -out; x < length + out; x += step)
    painter->drawLine(QPointF(x + step, 0), QPointF(x, step * 0.8));
  for (std::size_t i = 0; i < wall_.openings.size(); ++i) paintOpening(*painter, i);
}

void WallItem::paintOpening(QPainter& painter, std::size_t index) const {
  const yard::Opening& opening = wall_.openings[index];
  const QPolygonF outline = openingOutline(wall_, opening);
  const bool eave = opening.kind == OpeningKind::Eave;
  if (static_cast<int>(index) == chosen_) {
    painter.setPen(look().pen(Role::Accent, 1.5));
    painter.setBrush(Qt::NoBrush);
    eave ? painter.drawPolyline(outline) : painter.drawPolygon(outline);
  }
  painter.setBrush(Qt::NoBrush);
  painter.setPen(look().pen(Role::House, opening.kind == OpeningKind::Gable || eave ? 0.5 : 0.35));
  if (eave)
    painter.drawPolyline(outline);
  else
    painter.drawPolygon(outline);
  const QRectF box = outline.boundingRect();
  QColor faint = look().color(Role::House);
  faint.setAlphaF(0.3);
  painter.setPen(look().pen(faint, 0.18));
  if (opening.kind == OpeningKind::Window) {
    painter.drawLine(QPointF(box.center().x(), box.top()), QPointF(box.center().x(), box.bottom()));
    painter.drawLine(QPointF(box.left(), box.center().y()), QPointF(box.right(), box.center().y()));
  } else if (opening.kind == OpeningKind::Gable) {
    const auto lines = hatch(outline, 0, 12.0 / look().scale);
    painter.drawLines(lines.data(), static_cast<int>(lines.size()));
  }
  const QString name = QString::fromStdString(opening.name);
  const QTransform toScreen = painter.worldTransform();
  const QFontMetricsF metrics(typeFace(TypeSize::Note));
  const QRectF room = toScreen.mapRect(box);
  if (name.isEmpty() || eave || room.width() < metrics.horizontalAdvance(name) + 6 ||
      room.height() < metrics.height() + 4)
    return;
  painter.save();
  painter.setWorldTransform(QTransform());
  painter.setFont(typeFace(TypeSize::Note));
  painter.setPen(look().color(Role::SecondInk));
  painter.drawText(room.adjusted(0, 0, 0, -4), Qt::AlignHCenter | Qt::AlignBottom, name);
  painter.restore();
}

}  // namespace yw::ui
