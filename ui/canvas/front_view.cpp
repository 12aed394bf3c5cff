#include "ui/canvas/front_view.h"

#include <QPainter>
#include <algorithm>
#include <cmath>

#include "core/base/number_text.h"
#include "core/yard/labels.h"
#include "ui/canvas/edits.h"
#include "ui/canvas/items/mark_item.h"
#include "ui/canvas/tools/opening_tool.h"
#include "ui/canvas/tools/place_tool.h"

namespace yw::ui {

using base::Id;
using base::Point;
using papers::Role;
using yard::RecordKind;
using yard::Wall;

namespace {

double lengthOf(const Wall& wall) { return base::distance(base::vec(wall.from), base::vec(wall.to)); }

/// A yard place on a wall's face, m: x along from its left end, y up; and how far it stands off the face.
struct OnFace {
  double along, up, off;
};
OnFace onFace(const Wall& wall, const base::Vec3& place) {
  const base::Vec2 a = base::vec(wall.from), whole = base::vec(wall.to) - a;
  const double length = base::norm(whole);
  if (length <= 0) return {0, place.z, 1e9};
  const base::Vec2 unit = whole * (1 / length), d = base::plan(place) - a;
  return {base::dot(d, unit), place.z, std::abs(base::cross(unit, d))};
}

QPointF sceneOf(const OnFace& at) { return QPointF(at.along * 1e3, -at.up * 1e3); }

}  // namespace

void FrontScene::setWall(Id wall) {
  wall_ = wall;
  while (!items_.empty()) drop(items_.begin()->first);
  for (const auto& [id, record] : document().shownYard().records) syncHere(id, *record);
  syncAssessment();
}

void FrontScene::syncYard() {
  const yard::Yard& yard = document().shownYard();
  for (const Id id : changedRecords()) {
    const auto it = yard.records.find(id);
    if (it == yard.records.end())
      drop(id);
    else
      syncHere(id, *it->second);
  }
}

void FrontScene::syncHere(Id id, const yard::Record& record) {
  const Wall* wall = yard::find<Wall>(document().shownYard(), wall_);
  if (!wall) return drop(id);
  if (const auto* prop = std::get_if<yard::Prop>(&record)) {
    const auto shape = prop->wall == wall_ ? shapeOf(id, *prop) : nullptr;
    if (!shape) return drop(id);
    auto* item = obtain<PropItem>(id);
    if (drawn_[id].first != shape) drawn_[id] = {shape, frontDrawing(*shape)};
    item->setDrawing(drawn_[id].second);
    item->setPlace(toScene(prop->at) - QPointF(0, base::metres(prop->base).si * 1e3), 0.0);
    item->setHeldStill(prop->locked);
    if (const auto codes = colors_.pixels.find(id); codes != colors_.pixels.end())
      item->setCodes(codes->second);
    return;
  }
  if (const auto* box = std::get_if<yard::Box>(&record)) {
    if (box->wall != wall_) return drop(id);
    const Point at{box->at.x, box->at.y.count > 0 ? box->at.y : box->height};
    obtain<MarkItem>(id, RecordKind::Box)->setPlace(toScene(at));
    return;
  }
  if (const auto* outlet = std::get_if<yard::Outlet>(&record)) {
    const base::Vec2 at = base::vec(outlet->at);
    const OnFace face = onFace(*wall, {at.x, at.y, base::metres(outlet->height).si});
    if (face.off > 0.15 || face.along < -0.1 || face.along > lengthOf(*wall) + 0.1) return drop(id);
    obtain<MarkItem>(id, RecordKind::Outlet)->setPlace(sceneOf(face));
  }
}

void FrontScene::syncAssessment() {
  if (!document().assessment()) return;
  const Wall* wall = yard::find<Wall>(document().shownYard(), wall_);
  syncCables([&](const routes::RoutedCable& cable) {
    QPolygonF line;
    if (!wall) return line;
    for (const base::Vec3& place : cable.path) {
      const OnFace face = onFace(*wall, place);
      if (face.off > 0.3 || face.along < -0.5 || face.along > lengthOf(*wall) + 0.5) continue;
      line << sceneOf(face);
    }
    return line;
  });
  syncColors();
}

FrontView::FrontView(Document& document, QWidget* parent) : CanvasView(document, parent) {
  setObjectName(QStringLiteral("frontView"));
  setAccessibleName(said("canvas_front_name"));
  setAccessibleDescription(said("canvas_front_description"));
  viewport()->setAccessibleName(said("canvas_front_name"));
  scene_ = new FrontScene(document, const_cast<Look&>(look()), this);
  adopt(scene_);
}

Id FrontView::wall() const { return scene_->wall(); }

void FrontView::setWall(Id wall) {
  if (!selecting()) setTool(nullptr);
  scene_->setWall(wall);
  if (const Wall* w = yard::find<Wall>(document().shownYard(), wall)) {
    const double height = base::metres(w->eaveHeight).si + 1.5;
    fit(QRectF(0, -height * 1e3, lengthOf(*w) * 1e3, height * 1e3));
  }
  marksChanged();
  viewport()->update();
}

void FrontView::drawOpening(yard::OpeningKind kind) {
  if (wall()) setTool(std::make_unique<OpeningTool>(*this, wall(), kind));
}

void FrontView::addMove(edit::Editor& editor, const std::set<Id>& ids, Point by) const {
  edits::moveOnWall(editor, wall(), ids, by);
}

std::optional<QPointF> FrontView::placeHere(Id id) const {
  const CanvasItem* item = canvas().item(id);
  return item ? std::optional<QPointF>(item->pos()) : std::nullopt;
}

bool FrontView::canMoveHere(Id id) const {
  const yard::Yard& yard = document().shownYard();
  const auto* prop = yard::find<yard::Prop>(yard, id);
  const auto* box = yard::find<yard::Box>(yard, id);
  return edits::canMove(yard, id) && ((prop && prop->wall == wall()) || (box && box->wall == wall()));
}

std::vector<CatchPoint> FrontView::catches(const std::set<Id>& without) const {
  return wallCatches(document().shownYard(), wall(), without);
}

/// The wall itself: outline, gable by its pitch, openings, ground line; drafting weights as on the plan.
void FrontView::drawBackground(QPainter* painter, const QRectF& rect) {
  CanvasView::drawBackground(painter, rect);
  const Wall* w = yard::find<Wall>(document().shownYard(), wall());
  if (!w) return;
  const double width = lengthOf(*w) * 1e3, eave = base::metres(w->eaveHeight).si * 1e3;
  painter->setRenderHint(QPainter::Antialiasing);
  painter->setPen(look().pen(Role::House, 0.5));
  painter->setBrush(Qt::NoBrush);
  painter->drawRect(QRectF(0, -eave, width, eave));
  painter->setPen(look().pen(Role::Ground, 0.35));
  painter->drawLine(QPointF(-3000, 0), QPointF(width + 3000, 0));
  for (const yard::Opening& opening : w->openings) {
    const double x = base::metres(opening.at.x).si * 1e3, y = base::metres(opening.at.y).si * 1e3;
    const double wide = base::metres(opening.width).si * 1e3, high = base::metres(opening.height).si * 1e3;
    painter->setPen(look().pen(Role::House, 0.25));
    switch (opening.kind) {
      case yard::OpeningKind::Gable: {
        const double rise = high > 0 ? high : wide / 2 * static_cast<double>(w->pitchRise) / 12.0;
        painter->setPen(look().pen(Role::House, 0.5));
        painter->drawPolyline(
            QPolygonF({QPointF(x, -y), QPointF(x + wide / 2, -y - rise), QPointF(x + wide, -y)}));
        break;
      }
      case yard::OpeningKind::Eave:
        painter->setPen(look().pen(Role::House, 0.7));
        painter->drawLine(QPointF(x, -y), QPointF(x + wide, -y));
        break;
      case yard::OpeningKind::Window:
        painter->drawLine(QPointF(x + wide / 2, -y), QPointF(x + wide / 2, -y - high));
        painter->drawLine(QPointF(x, -y - high / 2), QPointF(x + wide, -y - high / 2));
        painter->drawRect(QRectF(x, -y - high, wide, high));
        break;
      case yard::OpeningKind::Door:
        painter->drawRect(QRectF(x, -y - high, wide, high));
        break;
    }
  }
}

std::vector<LabelWish> FrontView::labelWishes() const {
  std::vector<LabelWish> wishes;
  const yard::Yard& yard = document().shownYard();
  for (const auto& [id, item] : canvas().records()) {
    if (!item->isVisible()) continue;
    QRectF of = viewportTransform().mapRect(item->extent());
    if (item->layer() == Layer::Gear) of = QRectF(of.center() - QPointF(10, 10), QSizeF(20, 20));
    wishes.push_back({QString::fromStdString(yard::labelOf(yard, id)), of,
                      item->layer() == Layer::Gear ? 0 : 1, document().selection().ids().contains(id)});
  }
  return wishes;
}

Furniture FrontView::furniture() const {
  Furniture made;
  made.northArrow = false;
  made.units = units();
  if (const Wall* w = yard::find<Wall>(document().shownYard(), wall())) {
    made.title = QString::fromStdString(w->name);
  } else {
    made.title = said("canvas_no_wall");
  }
  return made;
}

QPointF FrontView::findingPlace(const findings::Finding& finding, bool& here) const {
  const Wall* w = yard::find<Wall>(document().shownYard(), wall());
  here = false;
  if (!w || finding.place == base::Vec3{}) return {};
  const OnFace face = onFace(*w, finding.place);
  here = face.off < 0.3 && face.along > -0.3 && face.along < lengthOf(*w) + 0.3;
  return sceneOf(face);
}

void FrontView::place(const QByteArray& what, QPointF scene) {
  const auto placed = PlaceWhat::fromMime(what);
  if (!placed || !wall()) return;
  PlaceTool tool(*this, *placed, wall());
  tool.placeAt(scene);
}

}  // namespace yw::ui
