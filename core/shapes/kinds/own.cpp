#include <algorithm>
#include <cmath>
#include <set>

#include "core/shapes/kinds/kinds.h"
#include "core/shapes/lines.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

constexpr double kCarrier = 0.5 * kInch;  // bullets on a three-wire cord (our judgement)
constexpr double kFarthest = 300;         // metres; a point beyond it is a slip of the unit

struct Drawn {
  std::vector<Vec3> places;
  std::vector<std::size_t> line;  ///< of each place
  std::vector<std::vector<Vec3>> outlines;
  double length = 0;
};

/// Where a line's point lies: upright, x to the right and y up from the foot; flat on the ground, x and y.
struct Lie {
  bool flat = false;
  double lift = 0.0;  ///< upright: of y = 0; flat: of everything
  Vec3 at(Vec2 p) const { return flat ? Vec3{p.x, p.y, lift} : Vec3{p.x, 0, p.y + lift}; }
};

base::Result<std::vector<Vec3>> cornersOf(const yard::OwnLine& line, std::int64_t number, const Lie& lie) {
  std::vector<Vec3> corners;
  for (const Point& p : line.points) {
    const Vec2 at = base::vec(p);
    if (std::max(std::abs(at.x), std::abs(at.y)) > kFarthest)
      return tl::unexpected(sizeError("lines", "own_point_too_far",
                                      {{"line", number},
                                       {"point", static_cast<std::int64_t>(&p - line.points.data()) + 1},
                                       {"most", base::toLength({kFarthest})}}));
    const Vec3 corner = lie.at(at);
    if (line.dots || corners.empty() || corner != corners.back()) corners.push_back(corner);
  }
  if (line.closed && !line.dots && corners.size() > 1 && corners.front() == corners.back())
    corners.pop_back();
  const std::size_t least = line.dots ? 1 : line.closed ? 3 : 2;
  if (corners.size() < least)
    return tl::unexpected(sizeError("lines", "own_line_too_short",
                                    {{"line", number},
                                     {"points", static_cast<std::int64_t>(corners.size())},
                                     {"least", static_cast<std::int64_t>(least)}}));
  return corners;
}

/// Along a line from its first point: closed lines evenly round, open ones at the pitch.
std::vector<Vec3> placesOn(const std::vector<Vec3>& corners, const yard::OwnLine& line, double pitch) {
  if (line.dots) return corners;
  const Polyline way(corners, line.closed);
  const std::int64_t count =
      line.closed ? countAlong(way.length(), pitch) : countEndToEnd(way.length(), pitch);
  std::vector<Vec3> places;
  if (count > kMostPixels) return std::vector<Vec3>(static_cast<std::size_t>(kMostPixels) + 1);
  const double step = line.closed && count > 0 ? way.length() / static_cast<double>(count) : pitch;
  for (std::int64_t k = 0; k < count; ++k)
    places.push_back(way.at(std::min(way.length(), step * static_cast<double>(k))));
  return places;
}

double lowest(const yard::Prop& prop) {
  std::int64_t least = INT64_MAX;
  for (const yard::OwnLine& line : prop.lines)
    for (const Point& p : line.points) least = std::min(least, p.y.count);
  return least == INT64_MAX ? 0.0 : base::metres(Length{least}).si;
}

base::Result<Drawn> drawnOf(const yard::Prop& prop, const Sizes& size) {
  Drawn drawn;
  const double pitch = size.metres("pitch");
  const bool flat = size.chosen("lies", "flat");
  const Lie lie{flat, size.metres("foot") - (flat ? 0.0 : lowest(prop))};
  const bool onGrid = size.chosen("holes", "grid");
  std::set<std::pair<std::int64_t, std::int64_t>> taken;
  for (std::size_t k = 0; k < prop.lines.size(); ++k) {
    const auto corners = cornersOf(prop.lines[k], static_cast<std::int64_t>(k) + 1, lie);
    if (!corners) return tl::unexpected(corners.error());
    for (Vec3 at : placesOn(*corners, prop.lines[k], pitch)) {
      if (onGrid) {
        // The lowest row of the grid is half a pitch up, so that rounding never goes under the ground.
        const std::int64_t i = std::llround(at.x / pitch),
                           j = std::llround((flat ? at.y : at.z - lie.lift) / pitch);
        if (!taken.insert({i, j}).second) continue;
        at = lie.at({static_cast<double>(i) * pitch, static_cast<double>(j) * pitch});
        at.z = std::max(0.0, at.z);
      }
      drawn.places.push_back(at);
      drawn.line.push_back(k);
    }
    if (static_cast<std::int64_t>(drawn.places.size()) > kMostPixels) return drawn;
    drawn.outlines.push_back(*corners);
    if (prop.lines[k].closed && !prop.lines[k].dots) drawn.outlines.back().push_back(corners->front());
    if (!prop.lines[k].dots) drawn.length += Polyline(*corners, prop.lines[k].closed).length();
  }
  return drawn;
}

/// Prop::stringOrder if it names each pixel once; else as drawn.
std::vector<std::size_t> orderOf(const yard::Prop& prop, std::size_t pixels, bool& outOfDate) {
  std::vector<std::size_t> order;
  std::vector<char> seen(pixels, 0);
  outOfDate = !prop.stringOrder.empty() && prop.stringOrder.size() != pixels;
  for (const std::int64_t number : prop.stringOrder) {
    const bool known = number >= 1 && number <= static_cast<std::int64_t>(pixels);
    if (outOfDate || !known || seen[static_cast<std::size_t>(number - 1)]++ != 0) outOfDate = true;
    if (known) order.push_back(static_cast<std::size_t>(number - 1));
  }
  if (!outOfDate && !order.empty()) return order;
  order.resize(pixels);
  for (std::size_t k = 0; k < pixels; ++k) order[k] = k;
  return order;
}

void warnOfJumpers(ShapeBuilder& build, Length jumper) {
  std::int64_t tooLong = 0;
  double worst = 0;
  for (std::int64_t k = 1; k < build.count(); ++k) {
    const double hop = base::distance(build.pixel(k), build.pixel(k + 1));
    tooLong += hop > base::metres(jumper).si + 1e-9;
    worst = std::max(worst, hop);
  }
  build.lengthFact("longest hop", worst);
  if (tooLong > 0)
    build.warn("own_jumpers_too_long",
               {{"count", tooLong}, {"reach", jumper}, {"longest", base::toLength({worst})}});
}

void describe(ShapeBuilder& build, const Drawn& drawn, const Sizes& size) {
  double left = build.pixel(1).x, right = left, near = build.pixel(1).y, far = near, low = build.pixel(1).z,
         top = low;
  for (const auto& outline : drawn.outlines) {
    for (const Vec3& p : outline) {
      left = std::min(left, p.x);
      right = std::max(right, p.x);
      near = std::min(near, p.y);
      far = std::max(far, p.y);
      low = std::min(low, p.z);
      top = std::max(top, p.z);
    }
    if (outline.size() > 1) build.frameLine(outline);
  }
  for (std::int64_t k = 1; k <= build.count(); ++k) {  // a grid's places may stand off the lines
    left = std::min(left, build.pixel(k).x);
    right = std::max(right, build.pixel(k).x);
    near = std::min(near, build.pixel(k).y);
    far = std::max(far, build.pixel(k).y);
    low = std::min(low, build.pixel(k).z);
    top = std::max(top, build.pixel(k).z);
  }
  const double half = 0.15 * 0.3048, carrier = std::max(drawn.length, size.metres("pitch"));
  if (!size.chosen("lies", "flat"))
    build.frameLine(
        {{(left + right) / 2, 0, 0}, {(left + right) / 2, 0, std::max(0.001, size.metres("foot"))}});
  build.footprintBox(left - half, near - half, right + half, far + half);
  build.windArea(carrier * kCarrier);
  build.cut("rod", carrier, 1, "along what was drawn");
  build.keep("frame as it was drawn", 1, right - left, std::max(far - near, top - low), kKeptDepth, {"rod"});
  build.fasten("cable tie", build.count());
  build.lengthFact("true pitch", size.metres("pitch"));
  if (drawn.length > 0) build.lengthFact("whole length", drawn.length);
  warnOfJumpers(build, size.length("jumper"));
}

base::Result<Shape> makeOwn(const yard::Prop& prop) {
  const Sizes size(prop);
  if (prop.lines.empty()) return tl::unexpected(sizeError("lines", "own_no_lines"));
  const auto drawn = drawnOf(prop, size);
  if (!drawn) return tl::unexpected(drawn.error());
  const auto total = static_cast<std::int64_t>(drawn->places.size());
  if (auto error = checkPixels(total, "lines", base::toLength({drawn->length}), size.length("pitch")))
    return tl::unexpected(*error);
  bool outOfDate = false;
  const std::vector<std::size_t> order = orderOf(prop, drawn->places.size(), outOfDate);
  ShapeBuilder build(total);
  std::vector<std::vector<yard::Range>> lines(prop.lines.size());
  std::int64_t stretch = 0;
  for (std::size_t k = 0; k < order.size(); ++k) {
    const std::size_t line = drawn->line[order[k]];
    const bool starts = k == 0 || line != drawn->line[order[k - 1]];
    const std::int64_t number = static_cast<std::int64_t>(k) + 1;
    if (starts && k > 0) build.endRow("end of stretch " + std::to_string(stretch));
    if (starts)
      build.startRow("stretch " + std::to_string(++stretch) + ", on line " + std::to_string(line + 1));
    if (starts) lines[line].push_back({number, number});
    lines[line].back().last = number;
    build.add(drawn->places[order[k]]);
  }
  build.endRow("end of stretch " + std::to_string(stretch));
  for (std::size_t k = 0; k < lines.size(); ++k)
    build.part("line " + std::to_string(k + 1), std::move(lines[k]));
  describe(build, *drawn, size);
  if (outOfDate)
    build.warn("own_order_out_of_date",
               {{"named", static_cast<std::int64_t>(prop.stringOrder.size())}, {"count", total}});
  return build.finish("first pixel", "last pixel");
}

}  // namespace

Kind ownKind() {
  Kind kind;
  kind.name = "own";
  kind.label = "Own shape";
  kind.help = "Lines and points of your own, typed, from a table, or from an SVG or DXF drawing";
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      pitchSize(base::inches(2)),
      stripHoleSize(),
      lengthSize("foot", "Bottom above ground", base::inches(12), "From the ground to the lowest point", {0}),
      lengthSize("jumper", "Longest jumper", base::inches(24),
                 "A hop between two pixels that the wire can take"),
  };
  kind.choices = {
      {"lies",
       "Stands or lies",
       {{"upright", "Upright, drawn from the front"}, {"flat", "Flat, drawn from above"}}},
      {"holes",
       "Holes",
       {{"along", "Along each line at the pitch"}, {"grid", "Nearest hole of a grid of the pitch"}}}};
  using base::feet;
  kind.usualLines = {{{{{0}, {0}}, {feet(3), {0}}, {base::inches(18), feet(2)}}, true, false}};
  kind.make = makeOwn;
  return kind;
}

}  // namespace yw::shapes
