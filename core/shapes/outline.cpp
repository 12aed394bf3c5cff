#include "core/shapes/outline.h"

#include <algorithm>
#include <cmath>

#include "core/shapes/lines.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

constexpr double kStripWidth = 1.5 * kInch;  // perforated strip is 1.5 to 2 in wide (common practice)

constexpr double kFarthest = 10'000;  // metres; a point beyond it is a slip, not a yard

std::string sideName(const Outline& outline, std::size_t side) {
  return outline.sides.empty() ? "side " + std::to_string(side + 1) : outline.sides[side];
}

/// From the side's start to its first pixel: half a pitch and half of what is spare.
double firstOnSide(double side, std::int64_t pixels, double pitch) {
  return (side - static_cast<double>(pixels - 1) * pitch) / 2;
}

/// Adds the pixels; `done` is how far along the outline the last one stands.
void addSides(ShapeBuilder& build, const Outline& outline, const Polyline& line, double pitch) {
  double done = 0;
  for (std::size_t side = 0; side < line.sides(); ++side) {
    const double length = line.sideLength(side);
    const std::int64_t pixels = countAlong(length, pitch);
    if (pixels == 0) continue;
    const std::string name = sideName(outline, side);
    const std::int64_t first = build.count() + 1;
    build.startRow(name);
    const Vec3 from = line.corners()[side], way = (line.corners()[side + 1] - from) * (1 / length);
    for (std::int64_t k = 0; k < pixels; ++k) {
      const double on = firstOnSide(length, pixels, pitch) + static_cast<double>(k) * pitch;
      build.addByWire(from + way * on,
                      line.sideStart(side) + on - done);  // round the corner, along the outline
      done = line.sideStart(side) + on;
    }
    build.endRow("end of " + name);
    if (outline.sideParts) build.part(name, first, build.count());
  }
}

void warnOfShortSides(ShapeBuilder& build, const Outline& outline, const Polyline& line, Length pitch) {
  for (std::size_t side = 0; side < line.sides(); ++side)
    if (countAlong(line.sideLength(side), base::metres(pitch).si) == 0)
      build.warn("shape_side_without_pixel", {{"side", sideName(outline, side)},
                                              {"length", base::toLength({line.sideLength(side)})},
                                              {"pitch", pitch}});
}

void flatFootprint(ShapeBuilder& build, const Polyline& line) {
  double left = line.corners().front().x, right = left;
  for (const Vec3& p : line.corners()) {
    left = std::min(left, p.x);
    right = std::max(right, p.x);
  }
  const double half = 0.15 * 0.3048;  // a flat thing, 0.3 ft deep (common practice)
  build.footprintBox(left - half, -half, right + half, half);
}

}  // namespace

std::int64_t countOutline(const Outline& outline, double pitch) {
  const Polyline line(outline.corners, outline.closed);
  std::int64_t total = 0;
  for (std::size_t side = 0; side < line.sides(); ++side) total += countAlong(line.sideLength(side), pitch);
  return total;
}

base::Result<Shape> makeOutline(const Outline& outline, const yard::Prop& prop,
                                const std::string& sizeField) {
  const Length pitch = Sizes(prop).length("pitch");
  const Polyline line(outline.corners, outline.closed);
  const std::int64_t total = countOutline(outline, base::metres(pitch).si);
  if (auto error = checkPixels(total, sizeField, base::toLength({line.length()}), pitch))
    return tl::unexpected(*error);

  ShapeBuilder build(total);
  addSides(build, outline, line, base::metres(pitch).si);
  build.frameLine(line.corners());
  flatFootprint(build, line);
  build.windArea(line.length() * kStripWidth);
  for (std::size_t side = 0; side < line.sides(); ++side) {
    build.cut("pixel strip", line.sideLength(side), 1, sideName(outline, side));
    build.fasten("clip", tiesAlong(line.sideLength(side), kTieEvery));
  }
  build.lengthFact("true pitch", base::metres(pitch).si);
  build.lengthFact("whole length", line.length());
  warnOfShortSides(build, outline, line, pitch);
  return build.finish(outline.startName, outline.endName);
}

base::Result<std::vector<Vec3>> pathCorners(const yard::Prop& prop, bool onGround, bool closed) {
  const std::size_t least = closed ? 3 : 2;
  if (prop.path.size() < least)
    return tl::unexpected(sizeError("path", "shape_path_too_short",
                                    {{"points", static_cast<std::int64_t>(prop.path.size())},
                                     {"least", static_cast<std::int64_t>(least)}}));
  for (std::size_t i = 0; i < prop.path.size(); ++i) {
    const std::size_t next = (i + 1) % prop.path.size();
    if (prop.path[i] != prop.path[next] || (next == 0 && !closed)) continue;
    return tl::unexpected(sizeError(
        "path", "shape_path_repeats",
        {{"first", static_cast<std::int64_t>(i + 1)}, {"second", static_cast<std::int64_t>(next + 1)}}));
  }
  std::vector<Vec3> corners;
  for (const base::Point& p : prop.path) {
    const Vec2 at = base::vec(p);
    if (std::max(std::abs(at.x), std::abs(at.y)) > kFarthest)
      return tl::unexpected(sizeError(
          "path", "shape_path_too_far",
          {{"point", static_cast<std::int64_t>(corners.size() + 1)}, {"most", base::toLength({kFarthest})}}));
    corners.push_back(onGround ? Vec3{at.x, at.y, 0} : Vec3{at.x, 0, at.y});
  }
  return corners;
}

}  // namespace yw::shapes
