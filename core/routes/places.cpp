#include "core/routes/places.h"

#include <algorithm>

namespace yw::routes {

namespace {

using yard::TerminalKind;

constexpr double kOnWall = 0.05;  // m from a wall's line: a thing there counts as on the wall

EndPlace boxPlace(const yard::Yard& yard, Id id) {
  const auto* box = yard::find<yard::Box>(yard, id);
  if (box == nullptr) return {};
  const double height = base::metres(box->height).si;
  const auto* wall = yard::find<yard::Wall>(yard, box->wall);
  if (wall == nullptr) {
    const Vec2 at = base::vec(box->at);
    return {{at.x, at.y, height}, {}, {}, true};
  }
  // On a wall the place is in the wall's frame; leads leave at its height there.
  const Vec2 from = base::vec(wall->from), along = base::vec(wall->to) - from;
  const double length = base::norm(along), x = base::metres(box->at.x).si;
  const Vec2 at = length > 0.0 ? from + along * (x / length) : from;
  return {{at.x, at.y, box->at.y.count > 0 ? base::metres(box->at.y).si : height}, box->wall, {}, true};
}

Id wallUnder(const yard::Yard& yard, Vec2 place) {
  for (const auto& [id, wall] : yard::all<yard::Wall>(yard)) {
    const Vec2 from = base::vec(wall->from), along = base::vec(wall->to) - from;
    const double length = base::norm(along);
    if (length <= 0.0) continue;
    const double k = base::dot(place - from, along) / length;
    if (k < -kOnWall || k > length + kOnWall) continue;
    if (std::abs(base::cross(along, place - from)) / length <= kOnWall) return id;
  }
  return {};
}

EndPlace outletPlace(const yard::Yard& yard, Id id) {
  const auto* outlet = yard::find<yard::Outlet>(yard, id);
  if (outlet == nullptr) return {};
  const Vec2 at = base::vec(outlet->at);
  return {{at.x, at.y, base::metres(outlet->height).si}, wallUnder(yard, at), {}, true};
}

const Vec3* ownPlace(const shapes::Shape& shape, const yard::Terminal& terminal) {
  if (terminal.kind == TerminalKind::PropIn) return &shape.in.at;
  if (terminal.kind == TerminalKind::PropOut) return &shape.out.at;
  if (shape.pixels.empty()) return nullptr;
  const auto last = static_cast<std::int64_t>(shape.pixels.size());
  return &shape.pixels[static_cast<std::size_t>(std::clamp<std::int64_t>(terminal.pixel, 1, last) - 1)];
}

EndPlace propPlace(const yard::Yard& yard, const Shapes& shapes, const yard::Terminal& terminal) {
  const auto* prop = yard::find<yard::Prop>(yard, terminal.record);
  if (prop == nullptr) return {};
  const auto shape = shapes.find(terminal.record);
  const Vec3* own = shape == shapes.end() ? nullptr : ownPlace(*shape->second, terminal);
  const shapes::Placement placement = shapes::placementOf(yard, *prop);
  const Id wall = yard::find<yard::Wall>(yard, prop->wall) == nullptr ? Id{} : prop->wall;
  return {placement.toYard(own == nullptr ? Vec3{} : *own), wall, terminal.record, true};
}

/// Plan place where two walls meet, if they do.
std::optional<Vec2> meeting(const yard::Wall& a, const yard::Wall& b) {
  for (const base::Point p : {a.from, a.to})
    for (const base::Point q : {b.from, b.to})
      if (base::distance(base::vec(p), base::vec(q)) <= kOnWall) return base::vec(p);
  return std::nullopt;
}

Lie straight(const EndPlace& from, const EndPlace& to) {
  Lie out;
  out.path = {from.at, to.at};
  out.lays = {Lay::Above};
  out.verticalLength = std::abs(to.at.z - from.at.z);
  out.planLength = base::distance(from.at, to.at) - out.verticalLength;
  return out;
}

/// Along walls over the plan places given, at the height of the higher end.
Lie onWalls(const Vec3& from, const Vec3& to, const std::vector<Vec2>& corners) {
  Lie out;
  const double high = std::max(from.z, to.z);
  std::vector<Vec2> along{base::plan(from)};
  along.insert(along.end(), corners.begin(), corners.end());
  along.push_back(base::plan(to));
  out.path.push_back(from);
  for (const Vec2 p : along) out.path.push_back({p.x, p.y, high});
  out.path.push_back(to);
  for (std::size_t i = 0; i + 1 < along.size(); ++i) out.planLength += base::distance(along[i], along[i + 1]);
  out.verticalLength = std::abs(to.z - from.z);
  out.path.erase(std::unique(out.path.begin(), out.path.end()), out.path.end());
  out.lays.assign(out.path.size() - 1, Lay::Above);
  return out;
}

Lie overGround(const Ground& ground, const Vec3& from, const Vec3& to, const std::vector<Vec2>& via,
               double most) {
  const double legs = std::abs(from.z) + std::abs(to.z);
  const Ground::Way way = ground.shortest(base::plan(from), base::plan(to), via, most - legs);
  Lie out;
  out.onGround = true;
  out.blocked = way.blocked;
  out.planLength = way.length;
  out.verticalLength = legs;
  const auto go = [&](const Vec3& place, Lay lay) {
    if (!out.path.empty() && out.path.back() == place) return;
    if (!out.path.empty()) out.lays.push_back(lay);
    out.path.push_back(place);
  };
  go(from, Lay::Above);
  for (std::size_t i = 0; i < way.points.size(); ++i) {
    const Lay lay = i == 0 ? Lay::Above : way.inTrench[i - 1] ? Lay::Trench : Lay::Ground;
    go({way.points[i].x, way.points[i].y, 0.0}, lay);
  }
  go(to, Lay::Above);
  return out;
}

}  // namespace

EndPlace endPlace(const yard::Yard& yard, const Shapes& shapes, const yard::Terminal& terminal) {
  switch (terminal.kind) {
    case TerminalKind::None:
      return {};
    case TerminalKind::Port:
    case TerminalKind::FusePosition:
    case TerminalKind::Supply:
    case TerminalKind::Controller:
    case TerminalKind::Receiver:
      return boxPlace(yard, yard::boxOf(yard, terminal.record));
    case TerminalKind::Box:
      return boxPlace(yard, terminal.record);
    case TerminalKind::Outlet:
      return outletPlace(yard, terminal.record);
    case TerminalKind::PropPixel:
    case TerminalKind::PropIn:
    case TerminalKind::PropOut:
      return propPlace(yard, shapes, terminal);
  }
  return {};
}

Vec3 placeOf(const yard::Yard& yard, const Shapes& shapes, const yard::Terminal& terminal) {
  return endPlace(yard, shapes, terminal).at;
}

yard::Range rangeOf(const yard::RunItem& item, const Shapes& shapes) {
  const auto shape = shapes.find(item.prop);
  const auto count = shape == shapes.end() ? 0 : static_cast<std::int64_t>(shape->second->pixels.size());
  if (count == 0) return {1, 0};
  const std::int64_t first = item.first <= 0 ? 1 : item.first, last = item.last <= 0 ? count : item.last;
  if (first > count || last < first) return {1, 0};
  return {first, std::min(last, count)};
}

namespace {

yard::Terminal endOf(const yard::RunItem& item, const Shapes& shapes, bool low) {
  const yard::Range range = rangeOf(item, shapes);
  if (range.last < range.first) return {TerminalKind::PropIn, item.prop, 0};
  if (low && range.first == 1) return {TerminalKind::PropIn, item.prop, 1};
  const auto count = static_cast<std::int64_t>(shapes.at(item.prop)->pixels.size());
  if (!low && range.last == count) return {TerminalKind::PropOut, item.prop, count};
  return {TerminalKind::PropPixel, item.prop, low ? range.first : range.last};
}

}  // namespace

yard::Terminal entryOf(const yard::RunItem& item, const Shapes& shapes) {
  return endOf(item, shapes, !item.reversed);
}
yard::Terminal exitOf(const yard::RunItem& item, const Shapes& shapes) {
  return endOf(item, shapes, item.reversed);
}

Lie lie(const yard::Yard& yard, const Ground& ground, const EndPlace& from, const EndPlace& to,
        const std::vector<Vec2>& via, double most) {
  if (!from.known && !to.known) return {};
  if (!from.known || !to.known) {
    Lie out;
    out.path = {from.known ? from.at : to.at};
    return out;
  }
  if (via.empty()) {
    if (base::distance(from.at, to.at) < kTouching || (from.prop && from.prop == to.prop))
      return straight(from, to);
    if (from.wall && from.wall == to.wall) return onWalls(from.at, to.at, {});
    const auto *a = yard::find<yard::Wall>(yard, from.wall), *b = yard::find<yard::Wall>(yard, to.wall);
    if (a != nullptr && b != nullptr)
      if (const auto corner = meeting(*a, *b)) return onWalls(from.at, to.at, {*corner});
  }
  return overGround(ground, from.at, to.at, via, most);
}

std::vector<Id> crossedBy(const Ground& ground, const Lie& lie) {
  std::vector<Vec2> points;
  std::vector<bool> inTrench;
  for (const Vec3& p : lie.path) points.push_back(base::plan(p));
  for (const Lay lay : lie.lays) inTrench.push_back(lay == Lay::Trench);
  return ground.crossed(points, inTrench);
}

namespace {

Lay layOf(const Lie& whole, std::size_t piece) {
  return whole.lays.empty() ? Lay::Above : whole.lays[std::min(piece, whole.lays.size() - 1)];
}

}  // namespace

Lie partOf(const Lie& whole, double from, double to) {
  Lie out;
  out.blocked = whole.blocked;
  out.onGround = whole.onGround;
  out.planLength = whole.planLength * (to - from);
  out.verticalLength = whole.verticalLength * (to - from);
  if (whole.path.empty()) return out;
  double total = 0.0;
  for (std::size_t i = 0; i + 1 < whole.path.size(); ++i)
    total += base::distance(whole.path[i], whole.path[i + 1]);
  const auto at = [&](double share) {
    double left = share * total;
    for (std::size_t i = 0; i + 1 < whole.path.size(); ++i) {
      const double step = base::distance(whole.path[i], whole.path[i + 1]);
      if (left <= step && step > 0.0)
        return whole.path[i] + (whole.path[i + 1] - whole.path[i]) * (left / step);
      left -= step;
    }
    return whole.path.back();
  };
  out.path.push_back(from <= 0.0 ? whole.path.front() : at(from));
  double passed = 0.0;
  std::size_t last = 0;  // the piece that the part ends in
  for (std::size_t i = 0; i + 1 < whole.path.size(); ++i) {
    passed += base::distance(whole.path[i], whole.path[i + 1]);
    if (passed < to * total) last = i + 1;
    if (passed <= from * total || passed >= to * total) continue;
    out.path.push_back(whole.path[i + 1]);
    out.lays.push_back(layOf(whole, i));
  }
  out.path.push_back(to >= 1.0 ? whole.path.back() : at(to));
  out.lays.push_back(layOf(whole, last));
  return out;
}

}  // namespace yw::routes
