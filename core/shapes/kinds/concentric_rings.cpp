#include "core/shapes/kinds/kinds.h"
#include "core/shapes/levels.h"
#include "core/shapes/lines.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

constexpr double kWire = 0.25 * kInch;    // bent rod or hub and spokes (common practice)
constexpr double kCarrier = 0.5 * kInch;  // bullets on a three-wire cord (our judgement)
constexpr std::int64_t kSpokes = 4;       // common practice
constexpr double kHalfDepth = 0.15 * 0.3048;

base::Result<Shape> makeConcentricRings(const yard::Prop& prop) {
  const Sizes size(prop);
  const double pitch = size.metres("pitch");
  const auto radii = levelRadii(prop, "rings", "outer_radius", "inner_radius");
  if (!radii) return tl::unexpected(radii.error());
  std::vector<std::int64_t> counts;
  std::int64_t total = 0;
  double around = 0;
  for (const double radius : *radii) {
    total += counts.emplace_back(countAlong(2 * kPi * radius, pitch)) * facesOf(size);
    around += 2 * kPi * radius;
    if (counts.back() > 0) continue;
    const std::string field = radii->size() > 1 ? "inner_radius" : "outer_radius";
    return tl::unexpected(*checkPixels(0, field, base::toLength({2 * kPi * radius}), size.length("pitch")));
  }
  if (auto error = checkPixels(total, "outer_radius", size.length("outer_radius"), size.length("pitch")))
    return tl::unexpected(*error);

  const double outer = radii->front(), centre = size.metres("stake") + outer;
  ShapeBuilder build(total);
  const std::vector<std::size_t> order = levelOrder(radii->size(), size.chosen("order", "outside_in"));
  for (const std::size_t k : order) {
    const std::string name = "ring " + std::to_string(k + 1);
    const Ring ring{
        {0, 0, centre}, (*radii)[k], counts[k], startHourOf(prop), size.chosen("direction", "clockwise"),
        name,           true};
    const std::int64_t first = build.count() + 1;
    addRing(build, ring);
    build.part(name, first, build.count());
    build.frameLine(ring.line());
  }
  for (std::int64_t s = 0; s < kSpokes; ++s) {
    const Arc rim{{0, 0, centre}, outer, 0, 0};
    build.frameLine({rim.centre, rim.at(2 * kPi * (static_cast<double>(s) + 0.5) / kSpokes)});
  }
  if (size.metres("stake") > 0) build.frameLine({{0, 0, 0}, {0, 0, size.metres("stake")}});
  build.footprintBox(-outer, -kHalfDepth, outer, kHalfDepth);
  build.windArea(around * kCarrier + kSpokes * outer * kWire, kPi * outer * outer);
  for (std::size_t k = 0; k < radii->size(); ++k)
    build.cut("rod", 2 * kPi * (*radii)[k], 1, "ring " + std::to_string(k + 1));
  build.cut("rod", outer, kSpokes, "spoke");
  build.keep("rings with their spokes", 1, 2 * outer, 2 * outer, kKeptDepth, {"rod"});
  build.cut("stake bar", size.metres("stake") + outer + kInGround, 1, "stake up to the middle");
  build.fasten("cable tie",
               total + kSpokes * static_cast<std::int64_t>(radii->size()));  // pixels and crossings
  build.lengthFact("true pitch", 2 * kPi * outer / static_cast<double>(counts.front()));
  if (radii->size() > 1) {
    build.lengthFact("true pitch of the innermost ring",
                     2 * kPi * radii->back() / static_cast<double>(counts.back()));
    build.lengthFact("ring to ring", (*radii)[0] - (*radii)[1]);
  }
  build.lengthFact("center height", centre);
  const auto end = [&](std::size_t k) {
    return std::to_string(startHourOf(prop)) + " o'clock of ring " + std::to_string(k + 1);
  };
  if (facesOf(size) == 2) build.backFace(kFaceDepth);
  return build.finish(end(order.front()), facesOf(size) == 2 ? kBackEnd : end(order.back()));
}

}  // namespace

Kind concentricRingsKind() {
  Kind kind;
  kind.name = "concentric_rings";
  kind.label = "Rings in rings";
  kind.help = "Rings on one center, evenly spaced, each strung once round";
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      countSize("rings", "Rings", 4, 1, 500, "Ring 1 is the outermost"),
      lengthSize("outer_radius", "Outer radius", base::inches(24), "Of the outermost ring"),
      onlyOver(lengthSize("inner_radius", "Inner radius", base::inches(6),
                          "Of the innermost ring; the others are spaced between"),
               "rings", 1),
      pitchSize(base::inches(2)),
      lengthSize("stake", "Clear under it", base::inches(24), "From the ground to the lowest point", {0}),
  };
  kind.choices = {
      onlyOver(levelOrderChoice(), "rings", 1),
      startHourChoice(),
      facesChoice(),
      {"direction",
       "Direction from the front",
       {{"counterclockwise", "Counterclockwise"}, {"clockwise", "Clockwise"}}},
  };
  kind.make = makeConcentricRings;
  return kind;
}

}  // namespace yw::shapes
