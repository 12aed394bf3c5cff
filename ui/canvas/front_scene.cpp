#include "ui/canvas/front_scene.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "core/routes/places.h"
#include "ui/canvas/items/mark_item.h"

namespace yw::ui {

using base::Id;
using base::Vec2;
using base::Vec3;
using yard::RecordKind;

namespace {
constexpr double kOnFace = 0.15;  ///< m: nearer to the wall's plane than this counts as on it
}

WallItem* FrontScene::wallItem() const { return dynamic_cast<WallItem*>(item(wall_)); }

void FrontScene::setWall(Id wall) {
  wall_ = wall;
  syncYard();
  if (document().assessment()) syncAssessment();
}

std::pair<QPointF, double> FrontScene::onFace(Vec3 place) const {
  const auto* wall = yard::find<yard::Wall>(document().shownYard(), wall_);
  if (!wall) return {};
  const Vec2 from = base::vec(wall->from), whole = base::vec(wall->to) - from;
  const double length = base::norm(whole);
  const Vec2 along = length > 0 ? whole * (1.0 / length) : Vec2{1, 0};
  const Vec2 off = base::plan(place) - from;
  return {QPointF(base::dot(off, along) * 1e3, -place.z * 1e3), base::cross(off, along)};
}

void FrontScene::syncYard() {
  const yard::Yard& yard = document().shownYard();
  std::set<Id> kept;
  const auto* wall = yard::find<yard::Wall>(yard, wall_);
  syncPhoto(wall);
  if (wall) {
    obtain<WallItem>(wall_)->setWall(*wall);
    kept.insert(wall_);
    for (const auto& [id, prop] : yard::all<yard::Prop>(yard))
      if (prop->wall == wall_) {
        syncProp(id, *prop);
        kept.insert(id);
      }
    const auto place = [&](yard::TerminalKind kind, Id id) {
      return routes::endPlace(yard, {}, {kind, id, 0});
    };
    for (const auto& [id, box] : yard::all<yard::Box>(yard))
      if (box->wall == wall_) {
        syncMark(id, RecordKind::Box, place(yard::TerminalKind::Box, id).at);
        kept.insert(id);
      }
    for (const auto& [id, outlet] : yard::all<yard::Outlet>(yard)) {
      const auto end = place(yard::TerminalKind::Outlet, id);
      const auto [face, before] = onFace(end.at);
      const double length = base::metres(lengthOf(*wall)).si * 1e3;
      if (std::abs(before) > kOnFace || face.x() < -kOnFace * 1e3 || face.x() > length + kOnFace * 1e3)
        continue;
      syncMark(id, RecordKind::Outlet, end.at);
      kept.insert(id);
    }
  }
  std::vector<Id> gone;
  for (const auto& [id, item] : items_)
    if (!kept.contains(id)) gone.push_back(id);
  for (const Id id : gone) drop(id);
}

void FrontScene::syncPhoto(const yard::Wall* wall) {
  if (!wall || wall->photo.empty()) {
    delete std::exchange(photo_, nullptr);
    return;
  }
  if (!photo_) addItem(photo_ = new PhotoItem(look(), Id{}));
  photo_->setPhoto(document().shownYard(), *wall);
}

void FrontScene::syncProp(Id id, const yard::Prop& prop) {
  const auto shape = shapeOf(id, prop);
  if (!shape) return drop(id);
  auto* item = obtain<PropItem>(id);
  if (drawn_[id].first != shape) drawn_[id] = {shape, frontDrawing(*shape)};
  item->setDrawing(drawn_[id].second);
  item->setPlace(onFace(shapes::placementOf(document().shownYard(), prop).toYard({})).first, 0.0);
  item->setStatus(prop.status == yard::PropStatus::Idea, prop.status == yard::PropStatus::NotThisYear);
  item->setHeldStill(prop.locked);
  if (const auto codes = colors_.pixels.find(id); codes != colors_.pixels.end())
    item->setCodes(codes->second);
}

void FrontScene::syncMark(Id id, RecordKind kind, Vec3 place) {
  if (const auto* old = dynamic_cast<const MarkItem*>(this->item(id)); old && old->kind() != kind) drop(id);
  auto* item = obtain<MarkItem>(id, kind);
  item->setPlace(onFace(place).first);
  const auto supplies = yard::all<yard::Supply>(document().shownYard());
  item->setCount(static_cast<int>(
      std::count_if(supplies.begin(), supplies.end(), [&](const auto& s) { return s.second->box == id; })));
}

/// The longest part of a cable that runs on this wall's face.
QPolygonF FrontScene::faceLine(const routes::RoutedCable& cable) const {
  QPolygonF best, now;
  const auto* wall = yard::find<yard::Wall>(document().shownYard(), wall_);
  if (!wall) return best;
  const double length = base::metres(lengthOf(*wall)).si * 1e3, slack = kOnFace * 1e3;
  for (const Vec3& p : cable.path) {
    const auto [face, before] = onFace(p);
    const bool here = std::abs(before) <= kOnFace && face.x() >= -slack && face.x() <= length + slack;
    if (here && (now.isEmpty() || now.back() != face)) now << face;
    if (now.size() > best.size()) best = now;
    if (!here) now.clear();
  }
  return best;
}

void FrontScene::syncAssessment() {
  if (!document().assessment()) return;
  syncCables([this](const routes::RoutedCable& cable) { return faceLine(cable); });
  syncColors();
}

}  // namespace yw::ui
