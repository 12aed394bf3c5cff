#include <algorithm>
#include <cmath>

#include "core/shapes/kinds/kinds.h"
#include "core/shapes/lines.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

constexpr double kCarrier = 0.5 * kInch;  // bullets on a three-wire cord (our judgement)

struct Latitude {
  double radius, z;  ///< of its ring; height over the middle
  std::int64_t pixels;
};

/// Rings at even latitudes from the lowest up, half a step off the poles: floor(2 pi R cos(lat) / p) each.
std::vector<Latitude> latitudesOf(const Sizes& size) {
  const std::int64_t rings = size.count("rings");
  const double radius = size.metres("diameter") / 2;
  std::vector<Latitude> all;
  for (std::int64_t k = 0; k < rings; ++k) {
    const double lat = kPi * ((static_cast<double>(k) + 0.5) / static_cast<double>(rings) - 0.5);
    const double around = radius * std::cos(lat);
    all.push_back({around, radius * std::sin(lat), countAlong(2 * kPi * around, size.metres("pitch"))});
  }
  return all;
}

void addLatitude(ShapeBuilder& build, const Latitude& ring, double centre, std::int64_t number) {
  if (ring.pixels == 0) return;
  const std::string name = "ring " + std::to_string(number);
  const std::int64_t first = build.count() + 1;
  build.startRow(name);
  std::vector<Vec3> line;
  for (const Vec2 on : circlePoints())
    line.push_back({ring.radius * on.y, -ring.radius * on.x, centre + ring.z});
  build.frameLine(std::move(line));
  for (std::int64_t k = 0; k < ring.pixels; ++k) {
    const double turn = 2 * kPi * (static_cast<double>(k) + 0.5) / static_cast<double>(ring.pixels);
    build.add({ring.radius * std::sin(turn), -ring.radius * std::cos(turn), centre + ring.z});
  }
  build.endRow(name + ", front");
  build.part(name, first, build.count());
  build.cut("rod", 2 * kPi * ring.radius, 1, name);
}

base::Result<Shape> makeSphere(const yard::Prop& prop) {
  const Sizes size(prop);
  const std::vector<Latitude> rings = latitudesOf(size);
  std::int64_t total = 0;
  for (const Latitude& ring : rings) total += ring.pixels;
  if (auto error = checkPixels(total, "diameter", size.length("diameter"), size.length("pitch")))
    return tl::unexpected(*error);
  const double radius = size.metres("diameter") / 2, stake = size.metres("stake"), centre = stake + radius;
  ShapeBuilder build(total);
  const bool up = size.chosen("order", "bottom_up");
  double around = 0;
  for (std::size_t i = 0; i < rings.size(); ++i) {
    const std::size_t k = up ? i : rings.size() - 1 - i;
    addLatitude(build, rings[k], centre, static_cast<std::int64_t>(k) + 1);
    around += 2 * kPi * rings[k].radius;
  }
  build.part("upper half", [&](Vec3 p) { return p.z > centre + 1e-9; });
  build.part("lower half", [&](Vec3 p) { return p.z < centre - 1e-9; });
  build.frameLine({{0, 0, 0}, {0, 0, stake + 2 * radius}});
  build.footprintSector(radius, 2 * kPi);
  // Seen from one side a ring shows its width twice, front and back.
  build.windArea(around / kPi * 2 * kCarrier, kPi * radius * radius);
  build.cut("rod", kPi * radius, 4, "meridian, bottom to top");
  build.keep("ball with its meridians", 1, 2 * radius, 2 * radius, 2 * radius, {"rod"});
  build.cut("stake bar", stake + 2 * radius + kInGround, 1, "stake up to the top");
  build.fasten("cable tie", total + 4 * static_cast<std::int64_t>(rings.size()));
  build.lengthFact("true pitch", size.metres("pitch"));
  build.lengthFact("center height", centre);
  build.fact("rings with pixels",
             static_cast<std::int64_t>(
                 std::count_if(rings.begin(), rings.end(), [](const Latitude& r) { return r.pixels > 0; })));
  return build.finish(up ? "bottom ring" : "top ring", up ? "top ring" : "bottom ring");
}

}  // namespace

Kind sphereKind() {
  Kind kind;
  kind.name = "sphere";
  kind.label = "Sphere";
  kind.help = "Level rings on a ball, evenly from bottom to top; ring 1 is the lowest";
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      lengthSize("diameter", "Diameter", base::inches(24), "Of the ball"),
      countSize("rings", "Rings", 8, 1, 1000, "Half a step off the poles"),
      pitchSize(base::inches(2)),
      lengthSize("stake", "Clear under it", base::inches(24), "From the ground to the lowest point", {0}),
  };
  kind.choices = {
      {"order", "String order", {{"bottom_up", "From the bottom up"}, {"top_down", "From the top down"}}}};
  kind.make = makeSphere;
  return kind;
}

}  // namespace yw::shapes
