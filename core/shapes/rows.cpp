#include "core/shapes/rows.h"

#include <algorithm>
#include <cmath>

#include "core/shapes/lines.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

Vec3 raised(Point p) {
  const Vec2 v = base::vec(p);
  return {v.x, v.y, 0};
}

std::vector<Vec3> withoutRepeats(const std::vector<Point>& path) {
  std::vector<Vec3> corners;
  for (const Point p : path)
    if (corners.empty() || corners.back() != raised(p)) corners.push_back(raised(p));
  return corners;
}

/// `share` of the way, rounded to the nanometre, exact at both ends.
Length between(Length a, Length b, std::int64_t step, std::int64_t steps) {
  return {a.count + base::roundedCount(static_cast<double>((b - a).count) * static_cast<double>(step) /
                                       static_cast<double>(steps))};
}

/// How far along the path the place nearest to `p` is.
double nearestAlong(const Polyline& path, Vec2 p) {
  double best = 0, nearest = -1;
  for (std::size_t side = 0; side < path.sides(); ++side) {
    const Vec2 from = base::plan(path.corners()[side]), way = base::plan(path.corners()[side + 1]) - from;
    const double t = std::clamp(base::dot(p - from, way) / base::dot(way, way), 0.0, 1.0);
    const double away = base::distance(p, from + way * t);
    if (nearest >= 0 && away >= nearest) continue;
    nearest = away;
    best = path.sideStart(side) + t * path.sideLength(side);
  }
  return best;
}

/// The mirror image of an option's name; the same where it has none.
std::string mirroredOption(const std::string& option) {
  static const std::map<std::string, std::string> images = {{"left", "right"},
                                                            {"clockwise", "counterclockwise"},
                                                            {"bottom_left", "bottom_right"},
                                                            {"top_left", "top_right"},
                                                            {"3", "9"}};
  for (const auto& [one, other] : images) {
    if (option == one) return other;
    if (option == other) return one;
  }
  return option;
}

/// From the prop's place to the other lower corner, for kinds whose place is their lower left corner; 0 for
/// those that stand over their middle.
Length cornerWidth(const yard::Prop& prop) {
  const auto stored = [&](const char* name) {
    const auto own = prop.sizes.find(name);
    return Length{own != prop.sizes.end() ? own->second : usualProp(prop.kind).sizes.at(name)};
  };
  if (prop.kind == "window_outline" || prop.kind == "door_outline") return stored("width");
  if (prop.kind == "gable") return stored("run") * 2;
  if (prop.kind == "drop_line") return stored("length");
  return {0};
}

}  // namespace

std::vector<Spot> inLine(Point from, Point to, std::int64_t count, base::Angle heading) {
  std::vector<Spot> spots;
  for (std::int64_t k = 0; k < count; ++k) {
    const std::int64_t step = count == 1 ? 1 : k, steps = count == 1 ? 2 : count - 1;
    spots.push_back({{between(from.x, to.x, step, steps), between(from.y, to.y, step, steps)}, heading});
  }
  return spots;
}

std::vector<Spot> inArc(Point middle, Length radius, base::Angle start, base::Angle sweep, std::int64_t count,
                        bool facingIn) {
  std::vector<Spot> spots;
  constexpr std::int64_t kTurn = 360'000'000;
  const bool full = std::abs(sweep.count) >= kTurn;  // the last would stand on the first
  const double r = base::metres(radius).si;
  for (std::int64_t k = 0; k < count; ++k) {
    const std::int64_t gaps = full ? count : std::max<std::int64_t>(1, count - 1);
    const base::Angle turn{start.count + (count == 1 ? sweep.count / 2 : sweep.count * k / gaps)};
    const double a = base::radians(turn);
    const Vec2 at = base::vec(middle) + Vec2{r * std::cos(a), r * std::sin(a)};
    // Heading 0 faces plan -y; facing out along the angle a is a quarter turn more.
    spots.push_back({base::point(at), {turn.count + (facingIn ? kTurn / 4 * 3 : kTurn / 4)}});
  }
  for (Spot& s : spots) s.heading.count = (s.heading.count % kTurn + kTurn) % kTurn;
  return spots;
}

std::vector<Spot> inGrid(Point from, std::int64_t columns, std::int64_t rows, Length across, Length deep,
                         base::Angle heading) {
  std::vector<Spot> spots;
  for (std::int64_t r = 0; r < rows; ++r)
    for (std::int64_t c = 0; c < columns; ++c)
      spots.push_back({{from.x + across * c, from.y + deep * r}, heading});
  return spots;
}

std::vector<Spot> alongPath(const std::vector<Point>& points, std::int64_t count) {
  const std::vector<Vec3> corners = withoutRepeats(points);
  std::vector<Spot> spots;
  if (corners.size() < 2) return spots;
  const Polyline path(corners, false);
  for (std::int64_t k = 0; k < count; ++k) {
    const double along = count == 1 ? path.length() / 2
                                    : path.length() * static_cast<double>(k) / static_cast<double>(count - 1);
    const auto ahead = path.at(std::min(path.length(), along + 1e-6)) - path.at(std::max(0.0, along - 1e-6));
    const Vec3 at = path.at(std::min(path.length(), along));
    // The front, own -y, to the right of the way: own +x along it.
    const auto heading = base::toAngle(std::atan2(ahead.y, ahead.x) * 180 / kPi);
    spots.push_back({base::point(base::plan(at)), heading});
  }
  return spots;
}

std::vector<Spot> numberedAlong(std::vector<Spot> spots, const std::vector<Point>& walk) {
  const std::vector<Vec3> corners = withoutRepeats(walk);
  if (corners.size() < 2) return spots;
  const Polyline path(corners, false);
  std::stable_sort(spots.begin(), spots.end(), [&](const Spot& a, const Spot& b) {
    return nearestAlong(path, base::vec(a.at)) < nearestAlong(path, base::vec(b.at));
  });
  return spots;
}

yard::Prop mirrored(const yard::Prop& prop, Length axis) {
  yard::Prop image = prop;
  image.heading = -prop.heading;
  for (auto& [name, option] : image.choices) option = mirroredOption(option);
  for (const char* name : {"lean", "bend"})
    if (const auto size = image.sizes.find(name); size != image.sizes.end()) size->second = -size->second;
  for (Point& p : image.path) p.x = -p.x;
  image.at.x = axis * 2 - prop.at.x;
  const double width = base::metres(cornerWidth(prop)).si;
  if (prop.wall) {
    image.at.x -= cornerWidth(prop);
  } else if (width > 0) {  // back along own x of the image
    const Placement place = placementOf({}, image);
    image.at = image.at - base::point({width * place.cosHeading, width * place.sinHeading});
  }
  return image;
}

std::vector<yard::Prop> propsAt(const yard::Prop& like, const std::vector<Spot>& spots,
                                std::int64_t firstNumber) {
  std::vector<yard::Prop> props;
  for (const Spot& spot : spots) {
    yard::Prop& prop = props.emplace_back(like);
    prop.at = spot.at;
    prop.heading = spot.heading;
    prop.name = like.name + " " + std::to_string(firstNumber + static_cast<std::int64_t>(props.size()) - 1);
  }
  return props;
}

std::vector<std::pair<yard::Id, yard::Prop>> followers(const yard::Yard& yard, yard::Id changed,
                                                       const yard::Prop& before, const yard::Prop& after) {
  std::vector<std::pair<yard::Id, yard::Prop>> others;
  for (const auto& [arrayId, array] : yard::all<yard::PropArray>(yard)) {
    const auto mine = std::find_if(array->members.begin(), array->members.end(),
                                   [&](const yard::ArrayMember& m) { return m.prop == changed; });
    if (mine == array->members.end() || mine->detached) continue;
    for (const yard::ArrayMember& member : array->members) {
      const auto* prop = yard::find<yard::Prop>(yard, member.prop);
      if (!prop || member.detached || member.prop == changed) continue;
      yard::Prop next = *prop;
      next.kind = after.kind;
      if (before.kind != after.kind) next.choices = after.choices;
      // Only what was changed, so that a mirrored member keeps its own side.
      if (before.sizes != after.sizes || before.kind != after.kind) next.sizes = after.sizes;
      for (const auto& [name, option] : after.choices) {
        const auto was = before.choices.find(name);
        if (was == before.choices.end() || was->second != option) next.choices[name] = option;
      }
      if (before.product != after.product) next.product = after.product;
      if (before.mount != after.mount) next.mount = after.mount;
      if (before.status != after.status) next.status = after.status;
      if (before.base != after.base) next.base = after.base;
      if (before.parts != after.parts) next.parts = after.parts;
      if (before.path != after.path) next.path = after.path;
      if (next != *prop) others.emplace_back(member.prop, std::move(next));
    }
  }
  return others;
}

}  // namespace yw::shapes
