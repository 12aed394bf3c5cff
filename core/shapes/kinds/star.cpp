#include <algorithm>
#include <cmath>

#include "core/shapes/kinds/kinds.h"
#include "core/shapes/levels.h"
#include "core/shapes/lines.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

constexpr double kStripWidth = 1.5 * kInch;  // perforated strip is 1.5 to 2 in wide (common practice)
constexpr double kHalfDepth = 0.15 * 0.3048;

struct Star {
  std::int64_t points;
  double ratio;  ///< inner over outer radius of one level
  double centreHeight;
  bool clockwise;

  /// Edge from a tip to the notch beside it: sqrt(R^2 + r^2 - 2 R r cos(180/n)).
  double perimeter(double radius) const {
    const double inner = ratio * radius;
    return 2 * static_cast<double>(points) *
           std::sqrt(radius * radius + inner * inner -
                     2 * radius * inner * std::cos(kPi / static_cast<double>(points)));
  }
  /// From the lowest corner round; one tip points straight up.
  Polyline outline(double radius, double y) const {
    std::vector<Vec3> corners;
    for (std::int64_t k = points; k < 3 * points; ++k) {
      const double r = k % 2 == 0 ? radius : ratio * radius;
      const double turn = kPi / static_cast<double>(points) * static_cast<double>(k);  // from the top tip
      const double x = -r * std::sin(turn);
      corners.push_back({clockwise ? -x : x, y, centreHeight + r * std::cos(turn)});
    }
    return {std::move(corners), true};
  }
  double area(double radius) const {
    const auto n = static_cast<double>(points);
    return n * radius * radius * ratio * std::sin(kPi / n);
  }
  double lowest(double radius) const {
    return points % 2 == 0 ? radius : radius * std::max(ratio, std::cos(kPi / static_cast<double>(points)));
  }
};

struct Level {
  double radius;
  std::int64_t pixels;
};

/// One level on one face.
struct StarRow {
  std::size_t level;
  bool back;
  std::string name;
};

/// In string order. The back is strung from the level where the front ended: the hop through the star is
/// short.
std::vector<StarRow> rowsOf(const std::vector<Level>& levels, std::int64_t faces, bool outsideIn) {
  std::vector<StarRow> rows;
  for (std::int64_t face = 0; face < faces; ++face)
    for (const std::size_t k : levelOrder(levels.size(), outsideIn == (face == 0)))
      rows.push_back({k, face == 1,
                      (faces == 1  ? "level "
                       : face == 0 ? "front level "
                                   : "back level ") +
                          std::to_string(k + 1)});
  return rows;
}

void addLevel(ShapeBuilder& build, const Star& star, const Level& level, double y, const std::string& name) {
  const Polyline outline = star.outline(level.radius, y);
  build.startRow(name);
  for (std::int64_t k = 0; k < level.pixels; ++k)
    build.add(
        outline.at(outline.length() * (static_cast<double>(k) + 0.5) / static_cast<double>(level.pixels)));
  build.endRow(name + ", bottom");
  build.frameLine(outline.corners());
}

/// A tip with its two flanks, up to the notches: `point 1` is the top one, then clockwise seen from the
/// front.
void addPointParts(ShapeBuilder& build, const Star& star) {
  const auto n = static_cast<double>(star.points);
  build.partsBy(
      star.points,
      [&](const Vec3& p) {
        const double turn = std::atan2(p.x, p.z - star.centreHeight) / (2 * kPi) * n;
        return (static_cast<std::int64_t>(std::floor(turn + 0.5 + 1e-9)) + star.points) % star.points;
      },
      [](std::int64_t tip) { return "point " + std::to_string(tip + 1); });
}

base::Result<std::vector<Level>> levelsOf(const yard::Prop& prop, const Star& star, std::int64_t faces) {
  const Sizes size(prop);
  const auto radii = levelRadii(prop, "levels", "radius", "inner_level_radius");
  if (!radii) return tl::unexpected(radii.error());
  std::vector<Level> levels;
  std::int64_t total = 0;
  for (const double radius : *radii) {
    const double around = star.perimeter(radius);
    levels.push_back({radius, countAlong(around, size.metres("pitch"))});
    total += levels.back().pixels * faces;
    if (levels.back().pixels == 0)
      return tl::unexpected(*checkPixels(0, radii->size() > 1 ? "inner_level_radius" : "radius",
                                         base::toLength({around}), size.length("pitch")));
  }
  if (auto error = checkPixels(total, "radius", size.length("radius"), size.length("pitch")))
    return tl::unexpected(*error);
  return levels;
}

void describe(ShapeBuilder& build, const Star& star, const std::vector<Level>& levels, std::int64_t faces,
              double depth) {
  double around = 0;
  for (const Level& level : levels) around += star.perimeter(level.radius);
  const double outer = levels.front().radius, perimeter = star.perimeter(outer);
  const double half = std::max(kHalfDepth, depth / 2);
  build.footprintBox(-outer, -half, outer, half);
  build.windArea(around * kStripWidth, star.area(outer));
  for (std::size_t k = 0; k < levels.size(); ++k)
    build.cut("pixel strip", star.perimeter(levels[k].radius) / (2 * static_cast<double>(star.points)),
              2 * star.points * faces, "edge of level " + std::to_string(k + 1));
  build.fasten("screw", 4 * star.points * faces * static_cast<std::int64_t>(levels.size()));  // 2 an edge
  build.lengthFact("edge", perimeter / (2 * static_cast<double>(star.points)));
  build.lengthFact("perimeter", perimeter);
  build.lengthFact("true pitch", perimeter / static_cast<double>(levels.front().pixels));
  build.lengthFact("center height", star.centreHeight);
}

base::Result<Shape> makeStar(const yard::Prop& prop) {
  const Sizes size(prop);
  Star star{size.count("points"), size.fraction("ratio"), 0, size.chosen("direction", "clockwise")};
  star.centreHeight = size.metres("stake") + star.lowest(size.metres("radius"));
  const std::int64_t faces = size.chosen("faces", "two") ? 2 : 1;
  const auto levels = levelsOf(prop, star, faces);
  if (!levels) return tl::unexpected(levels.error());

  std::int64_t total = 0;
  for (const Level& level : *levels) total += level.pixels * faces;
  ShapeBuilder build(total);
  const std::vector<StarRow> rows = rowsOf(*levels, faces, size.chosen("order", "outside_in"));
  const double depth = faces == 2 ? size.metres("depth") : 0.0;
  std::vector<std::vector<yard::Range>> ranges(levels->size());
  for (const StarRow& row : rows) {
    const std::int64_t first = build.count() + 1;
    addLevel(build, star, (*levels)[row.level], row.back ? depth / 2 : -depth / 2, row.name);
    ranges[row.level].push_back({first, build.count()});
  }
  for (std::size_t k = 0; k < ranges.size(); ++k)
    build.part("level " + std::to_string(k + 1), std::move(ranges[k]));
  if (faces == 2) build.part("front", 1, total / 2);
  if (faces == 2) build.part("back", total / 2 + 1, total);
  addPointParts(build, star);
  if (size.metres("stake") > 0) build.frameLine({{0, 0, 0}, {0, 0, size.metres("stake")}});
  describe(build, star, *levels, faces, depth);
  return build.finish("bottom of " + rows.front().name, "bottom of " + rows.back().name);
}

}  // namespace

Kind starKind() {
  Kind kind;
  kind.name = "star";
  kind.label = "Star";
  kind.help = "A star outline, one or several inside each other, one face or two";
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      lengthSize("radius", "Outer radius", base::inches(24),
                 "From the middle to the tips of the outermost star"),
      onlyOver(lengthSize("inner_level_radius", "Innermost radius", base::inches(12),
                          "To the tips of the innermost star; the others are spaced between"),
               "levels", 1),
      countSize("levels", "Stars inside each other", 3, 1, 100, "Level 1 is the outermost"),
      countSize("points", "Points", 5, 3, 48, "One points straight up"),
      ratioSize("ratio", "Notch to tip", 382, 50, 980,
                "How deep the notches are: 38.2 % makes the lines of a five-point star straight"),
      pitchSize(base::inches(3)),
      onlyWith(lengthSize("depth", "Face to face", base::inches(2), "Between two faces back to back"),
               "faces", {"two"}),
      lengthSize("stake", "Clear under it", base::inches(24),
                 "From the ground, or its mount, to the lowest point", {0}),
      stripHoleSize(),
  };
  kind.choices = {
      onlyOver(levelOrderChoice(), "levels", 1),
      {"faces", "Faces", {{"one", "One"}, {"two", "Two, back to back"}}},
      {"direction",
       "Direction from the front",
       {{"counterclockwise", "Counterclockwise"}, {"clockwise", "Clockwise"}}},
  };
  kind.make = makeStar;
  return kind;
}

}  // namespace yw::shapes
