#include "ui/canvas/edits.h"

#include <algorithm>
#include <cmath>

#include "core/base/message.h"
#include "core/edit/ground.h"
#include "core/shapes/rows.h"
#include "core/yard/labels.h"

namespace yw::ui::edits {

using base::Vec2;
using yard::GroundFeature;
using yard::Prop;
using yard::RecordKind;
using yard::Wall;

namespace {

const yard::Record* recordOf(const Yard& yard, Id id) {
  const auto it = yard.records.find(id);
  return it == yard.records.end() ? nullptr : it->second.get();
}

/// Unit vector along a wall; level for a wall without length.
Vec2 alongWall(const Wall& wall) {
  const Vec2 whole = base::vec(wall.to) - base::vec(wall.from);
  const double length = base::norm(whole);
  return length > 0 ? whole * (1.0 / length) : Vec2{1, 0};
}

/// The part of a way over the plan that goes along the wall a thing hangs on.
base::Length partAlong(const Yard& yard, Id wallId, Point by) {
  const auto* wall = yard::find<Wall>(yard, wallId);
  return wall ? base::toLength({base::dot(base::vec(by), alongWall(*wall))}) : base::Length{0};
}

/// True if a place lies on the wall's foot, within 5 cm: what is drawn there belongs to the wall.
bool onFoot(const Wall& wall, Point at) {
  constexpr double kNear = 0.05;
  const Vec2 off = base::vec(at) - base::vec(wall.from), along = alongWall(wall);
  const double x = base::dot(off, along), length = base::distance(base::vec(wall.from), base::vec(wall.to));
  return x >= -kNear && x <= length + kNear && std::abs(base::cross(along, off)) <= kNear;
}

/// Moved already because its wall, or its wall's house, moves.
bool carried(const Yard& yard, const std::set<Id>& ids, Id wallId) {
  const auto* wall = yard::find<Wall>(yard, wallId);
  return wall && (ids.contains(wallId) || ids.contains(wall->feature));
}

/// The house's walls, what hangs on them and the outlets in them come along.
void moveHouse(Editor& editor, const std::set<Id>& ids, Id house, Point by) {
  std::vector<Wall> walls;
  for (const auto& [id, wall] : yard::all<Wall>(editor.yard())) {
    if (wall->feature != house) continue;
    walls.push_back(*wall);
    editor.update<Wall>(id, [&](Wall& w) {
      w.from = w.from + by;
      w.to = w.to + by;
    });
  }
  for (const auto& [id, outlet] : yard::all<yard::Outlet>(editor.yard())) {
    if (ids.contains(id)) continue;
    if (std::any_of(walls.begin(), walls.end(), [&](const Wall& wall) { return onFoot(wall, outlet->at); }))
      editor.update<yard::Outlet>(id, [&](yard::Outlet& o) { o.at = o.at + by; });
  }
}

void moveOne(Editor& editor, const std::set<Id>& ids, Id id, Point by) {
  const auto shift = [&](auto& record) { record.at = record.at + by; };
  const auto slide = [&](auto& record) {
    if (!record.wall)
      shift(record);
    else if (!carried(editor.yard(), ids, record.wall))
      record.at.x += partAlong(editor.yard(), record.wall, by);
  };
  editor.update<Prop>(id, slide);
  editor.update<yard::Box>(id, slide);
  if (yard::find<GroundFeature>(editor.yard(), id)) {
    editor.update<GroundFeature>(id, [&](GroundFeature& f) {
      for (Point& p : f.outline) p = p + by;
    });
    moveHouse(editor, ids, id, by);
  }
  editor.update<yard::Outlet>(id, shift);
  editor.update<yard::OtherLoad>(id, shift);
  editor.update<yard::AudiencePoint>(id, shift);
  editor.update<yard::SpotHeight>(id, shift);
}

std::string text(const char* key, std::map<std::string, base::Fact> facts) {
  return base::text(base::Message{key, std::move(facts)});
}

}  // namespace

bool canMove(const Yard& yard, Id id) {
  const auto* record = recordOf(yard, id);
  if (!record) return false;
  if (const auto* prop = std::get_if<Prop>(record)) return !prop->locked;
  switch (yard::kindOf(*record)) {
    case RecordKind::GroundFeature:
    case RecordKind::SpotHeight:
    case RecordKind::AudiencePoint:
    case RecordKind::Outlet:
    case RecordKind::OtherLoad:
    case RecordKind::Box:
      return true;
    default:
      return false;
  }
}

bool canTurn(const Yard& yard, Id id) {
  if (const auto* prop = yard::find<Prop>(yard, id)) return !prop->locked && !prop->wall;
  return yard::find<yard::AudiencePoint>(yard, id) != nullptr;
}

std::optional<Point> planPlace(const Yard& yard, Id id) {
  const auto hung = [&](Id wallId, Point at) {
    const auto* wall = yard::find<Wall>(yard, wallId);
    return wall ? base::point(base::vec(wall->from) + alongWall(*wall) * base::metres(at.x).si) : at;
  };
  if (const auto* prop = yard::find<Prop>(yard, id)) return hung(prop->wall, prop->at);
  if (const auto* box = yard::find<yard::Box>(yard, id)) return hung(box->wall, box->at);
  if (const auto* feature = yard::find<GroundFeature>(yard, id))
    return feature->outline.empty() ? std::nullopt : std::optional<Point>(feature->outline.front());
  if (const auto* outlet = yard::find<yard::Outlet>(yard, id)) return outlet->at;
  if (const auto* load = yard::find<yard::OtherLoad>(yard, id)) return load->at;
  if (const auto* audience = yard::find<yard::AudiencePoint>(yard, id)) return audience->at;
  if (const auto* spot = yard::find<yard::SpotHeight>(yard, id)) return spot->at;
  return std::nullopt;
}

void moveOnPlan(Editor& editor, const std::set<Id>& ids, Point by) {
  if (by == Point{}) return;
  for (const Id id : ids)
    if (canMove(editor.yard(), id)) moveOne(editor, ids, id, by);
}

void moveOnWall(Editor& editor, Id wallId, const std::set<Id>& ids, Point by) {
  if (by == Point{}) return;
  for (const Id id : ids) {
    if (!canMove(editor.yard(), id)) continue;
    const auto shift = [&](auto& record) {
      if (record.wall == wallId) record.at = record.at + by;
    };
    editor.update<Prop>(id, shift);
    editor.update<yard::Box>(id, [&](yard::Box& box) {
      if (box.wall == wallId && box.at.y.count <= 0) box.at.y = box.height;  // hung where its leads leave
      shift(box);
    });
  }
}

void turn(Editor& editor, const std::set<Id>& ids, Angle by) {
  constexpr std::int64_t kWhole = 360'000'000;
  const auto turned = [&](Angle angle) {
    return Angle{((angle.count + by.count) % kWhole + kWhole) % kWhole};
  };
  for (const Id id : ids) {
    if (!canTurn(editor.yard(), id)) continue;
    editor.update<Prop>(id, [&](Prop& p) { p.heading = turned(p.heading); });
    editor.update<yard::AudiencePoint>(id, [&](yard::AudiencePoint& a) { a.facing = turned(a.facing); });
  }
}

namespace {

template <class R>
std::optional<Id> copyNamed(Editor& editor, Id id, Point by, Plane plane) {
  const R* original = yard::find<R>(editor.yard(), id);
  if (!original) return std::nullopt;
  R copy = *original;
  copy.name = yard::freeName(editor.yard(), yard::kindOf(yard::Record(copy)), copy.name);
  if constexpr (requires { copy.wall; })
    if (copy.wall && plane == Plane::Plan) by = {partAlong(editor.yard(), copy.wall, by), {}};
  copy.at = copy.at + by;
  return editor.add(copy);
}

}  // namespace

std::set<Id> duplicate(Editor& editor, const std::set<Id>& ids, Point by, Plane plane) {
  std::set<Id> copies;
  const auto keep = [&](std::optional<Id> id) {
    if (id) copies.insert(*id);
  };
  for (const Id id : ids) {
    keep(copyNamed<Prop>(editor, id, by, plane));
    keep(copyNamed<yard::Box>(editor, id, by, plane));
    keep(copyNamed<yard::Outlet>(editor, id, by, plane));
    keep(copyNamed<yard::OtherLoad>(editor, id, by, plane));
    keep(copyNamed<yard::AudiencePoint>(editor, id, by, plane));
    if (const auto* spot = yard::find<yard::SpotHeight>(editor.yard(), id)) {
      auto copy = *spot;
      copy.at = copy.at + by;
      keep(editor.add(copy));
    }
    if (const auto* feature = yard::find<GroundFeature>(editor.yard(), id)) {
      auto copy = *feature;
      if (!copy.name.empty()) copy.name = yard::freeName(editor.yard(), RecordKind::GroundFeature, copy.name);
      for (Point& p : copy.outline) p = p + by;
      const Id added = editor.add(copy);
      if (copy.kind == yard::FeatureKind::House) edits::addWalls(editor, added);
      keep(added);
    }
  }
  return copies;
}

base::Vec2 Copying::operator()(base::Vec2 place) const {
  base::Vec2 off = place - center;
  if (mirrored) off.x = -off.x;
  const double angle = turn * M_PI / 180.0, c = std::cos(angle), s = std::sin(angle);
  return center + Vec2{off.x * c - off.y * s, off.x * s + off.y * c} + by;
}

namespace {

/// Plan place, or for what hangs on the wall seen face-on its place there.
std::optional<Point> ownPlace(const Yard& yard, Id id, Plane plane) {
  if (plane == Plane::Plan) return planPlace(yard, id);
  if (const auto* prop = yard::find<Prop>(yard, id)) return prop->at;
  if (const auto* box = yard::find<yard::Box>(yard, id)) return box->at;
  return std::nullopt;
}

/// The copy as the mirror image of its original about x = `axis` of this plane, its own place and name kept.
void mirror(Editor& editor, Id id, double axis, Plane plane) {
  editor.update<Prop>(id, [&](Prop& p) {
    if (p.wall && plane == Plane::Plan) return;  // its own frame is the wall's, not the plan's
    const Point at = p.at;
    p = shapes::mirrored(p, base::toLength({axis}));
    p.at = at;
    p.heading.count = (p.heading.count % 360'000'000 + 360'000'000) % 360'000'000;
  });
  editor.update<yard::AudiencePoint>(
      id, [](yard::AudiencePoint& a) { a.facing = Angle{(360'000'000 - a.facing.count) % 360'000'000}; });
}

}  // namespace

std::set<Id> repeat(Editor& editor, const std::set<Id>& ids, const std::vector<Copying>& places,
                    Plane plane) {
  std::set<Id> copies;
  for (const Id id : ids) {
    const auto from = ownPlace(editor.yard(), id, plane);
    if (!from) continue;
    yard::PropArray array;
    array.members.push_back({id, false});
    for (const Copying& place : places) {
      const Point by = base::point(place(base::vec(*from))) - *from;
      const auto made = duplicate(editor, {id}, by, plane);
      if (made.empty()) continue;
      const Id copy = *made.begin();
      copies.insert(copy);
      if (place.mirrored) mirror(editor, copy, place.center.x, plane);
      if (place.turn != 0.0) turn(editor, {copy}, base::toAngle(place.turn));
      array.members.push_back({copy, false});
    }
    if (const auto* prop = yard::find<Prop>(editor.yard(), id); prop && array.members.size() > 1) {
      array.name = yard::freeName(editor.yard(), RecordKind::PropArray, prop->name);
      editor.add(array);
    }
  }
  return copies;
}

std::string called(const Yard& yard, const std::set<Id>& ids) {
  if (ids.size() == 1) return yard::labelOf(yard, *ids.begin());
  const bool props = std::all_of(ids.begin(), ids.end(), [&](Id id) { return yard::find<Prop>(yard, id); });
  return text(props ? "canvas_props" : "canvas_items", {{"n", static_cast<std::int64_t>(ids.size())}});
}

std::string stepName(const char* key, const Yard& yard, const std::set<Id>& ids) {
  return text(key, {{"what", called(yard, ids)}});
}

std::vector<Id> addWalls(Editor& editor, Id house) { return edit::addWalls(editor, house); }

}  // namespace yw::ui::edits
