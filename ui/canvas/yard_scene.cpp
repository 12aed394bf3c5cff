#include "ui/canvas/yard_scene.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "core/base/number_text.h"
#include "ui/canvas/edits.h"
#include "ui/canvas/items/feature_item.h"
#include "ui/canvas/items/mark_item.h"
#include "ui/canvas/items/photo_item.h"

namespace yw::ui {

using base::Id;
using yard::RecordKind;

namespace {

/// Records whose look hangs on other records: props on a wall that moved, boxes whose supplies were counted.
void addDependents(const yard::Yard& yard, std::set<Id>& ids) {
  bool wallChanged = false, supplyChanged = false, settingsChanged = false;
  for (const Id id : ids) {
    const auto it = yard.records.find(id);
    if (it == yard.records.end()) {
      supplyChanged = true;
      continue;
    }
    const RecordKind kind = yard::kindOf(*it->second);
    wallChanged |= kind == RecordKind::Wall;
    supplyChanged |= kind == RecordKind::Supply;
    settingsChanged |= kind == RecordKind::Settings;
  }
  if (!wallChanged && !supplyChanged && !settingsChanged) return;
  for (const auto& [id, record] : yard.records) {
    const auto* prop = std::get_if<yard::Prop>(record.get());
    const auto* box = std::get_if<yard::Box>(record.get());
    if (wallChanged && ((prop && prop->wall) || (box && box->wall))) ids.insert(id);
    if (supplyChanged && std::holds_alternative<yard::Box>(*record)) ids.insert(id);
    if (settingsChanged && std::holds_alternative<yard::SpotHeight>(*record)) ids.insert(id);
  }
}

}  // namespace

void YardScene::syncYard() {
  const yard::Yard& yard = document().shownYard();
  const std::vector<Id> changed = changedRecords();
  std::set<Id> ids(changed.begin(), changed.end());
  addDependents(yard, ids);
  for (const Id id : ids) {
    const auto it = yard.records.find(id);
    if (it == yard.records.end())
      drop(id);
    else
      syncRecord(id, *it->second);
  }
}

void YardScene::syncRecord(Id id, const yard::Record& record) {
  const yard::Yard& yard = document().shownYard();
  const base::UnitSystem units = yard::settings(yard).units;
  if (const auto* prop = std::get_if<yard::Prop>(&record)) return syncProp(id, *prop);
  if (const auto* site = std::get_if<yard::Site>(&record))
    return obtain<PhotoItem>(id)->setPhoto(yard, *site);
  if (const auto* feature = std::get_if<yard::GroundFeature>(&record))
    return obtain<FeatureItem>(id)->setFeature(*feature);
  if (const auto* wall = std::get_if<yard::Wall>(&record)) return obtain<WallFootItem>(id)->setWall(*wall);
  if (const auto* box = std::get_if<yard::Box>(&record)) {
    auto* item = obtain<MarkItem>(id, RecordKind::Box);
    item->setPlace(toScene(edits::planPlace(yard, id).value_or(box->at)));
    const auto supplies = yard::all<yard::Supply>(yard);
    item->setCount(static_cast<int>(
        std::count_if(supplies.begin(), supplies.end(), [&](const auto& s) { return s.second->box == id; })));
  } else if (const auto* outlet = std::get_if<yard::Outlet>(&record)) {
    obtain<MarkItem>(id, RecordKind::Outlet)->setPlace(toScene(outlet->at));
  } else if (const auto* load = std::get_if<yard::OtherLoad>(&record)) {
    obtain<MarkItem>(id, RecordKind::OtherLoad)->setPlace(toScene(load->at));
  } else if (const auto* audience = std::get_if<yard::AudiencePoint>(&record)) {
    auto* item = obtain<MarkItem>(id, RecordKind::AudiencePoint);
    item->setPlace(toScene(audience->at));
    item->setTurn(base::degrees(audience->facing));
  } else if (const auto* spot = std::get_if<yard::SpotHeight>(&record)) {
    auto* item = obtain<MarkItem>(id, RecordKind::SpotHeight);
    item->setPlace(toScene(spot->at));
    item->setText(QString::fromStdString(base::lengthText(spot->height, units)));
  }
}

void YardScene::syncProp(Id id, const yard::Prop& prop) {
  const auto shape = shapeOf(id, prop);
  if (!shape) return drop(id);
  auto* item = obtain<PropItem>(id);
  const auto& known = drawn_[id];
  if (known.first != shape) drawn_[id] = {shape, planDrawing(*shape)};
  item->setDrawing(drawn_[id].second);
  const shapes::Placement place = shapes::placementOf(document().shownYard(), prop);
  item->setPlace(toScene(place.at), std::atan2(place.sinHeading, place.cosHeading) * 180.0 / M_PI);
  item->setStatus(prop.status == yard::PropStatus::Idea, prop.status == yard::PropStatus::NotThisYear);
  item->setHeldStill(prop.locked);
  const auto codes = colors_.pixels.find(id);
  if (codes != colors_.pixels.end()) item->setCodes(codes->second);
}

void YardScene::syncAssessment() {
  if (!document().assessment()) return;
  syncCables([](const routes::RoutedCable& cable) { return planLine(cable); });
  syncColors();
}

}  // namespace yw::ui
