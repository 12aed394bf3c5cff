#include <cmath>

#include "core/shapes/kinds/kinds.h"
#include "core/shapes/lines.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

constexpr double kPipe = 0.840 * kInch;       // outside of 1/2 in plastic or rigid pipe (conduit tables)
constexpr double kHalfDepth = 0.15 * 0.3048;  // common practice, as for a ring

/// The circle that the outer hoop is part of, its feet on the ground.
struct Hoop {
  double radius;
  double centre;  ///< height of the circle's centre; 0 for a semicircle, negative for a flat arch
};

/// Half the angle under a pipe of `length` whose ends stand `chord` apart: sin(half) / half = chord / length.
/// Bisection; the left side falls from 1 at 0 to 2/pi at a semicircle.
double halfAngle(double length, double chord) {
  double low = 0, high = kPi / 2;
  for (int i = 0; i < 100; ++i) {
    const double half = (low + high) / 2;
    (std::sin(half) > half * chord / length ? low : high) = half;
  }
  return (low + high) / 2;
}

base::Result<Hoop> outerHoop(const Sizes& size) {
  if (size.chosen("curve", "semicircle")) return Hoop{size.metres("radius"), 0};
  const double pipe = size.metres("pipe"), feet = size.metres("feet");
  const std::map<std::string, base::Fact> facts = {{"pipe", size.length("pipe")},
                                                   {"feet", size.length("feet")},
                                                   {"least", base::toLength({2 * pipe / kPi})}};
  if (feet >= pipe) return tl::unexpected(sizeError("feet", "shape_feet_wider_than_pipe", facts));
  // A millimetre is forgiven: a semicircle's own foot spacing, typed rounded, is a semicircle.
  if (feet < 2 * pipe / kPi - 0.001) return tl::unexpected(sizeError("feet", "shape_feet_too_close", facts));
  const double half = halfAngle(pipe, feet), radius = pipe / (2 * half);
  return Hoop{radius, -radius * std::cos(half)};
}

/// The hoops from the outer to the inner one, on one centre, from the left foot to the right.
base::Result<std::vector<Arc>> allHoops(const Sizes& size, const Hoop& outer) {
  std::vector<Arc> hoops;
  const std::int64_t count = size.count("hoops");
  for (std::int64_t k = 0; k < count; ++k) {
    const double radius = outer.radius - static_cast<double>(k) * size.metres("hoop_step");
    if (radius <= -outer.centre)
      return tl::unexpected(sizeError("hoop_step", "shape_inner_hoop_vanishes",
                                      {{"hoops", count},
                                       {"step", size.length("hoop_step")},
                                       {"rise", base::toLength({outer.radius + outer.centre})}}));
    const double half = std::acos(-outer.centre / radius);
    hoops.push_back({{0, 0, outer.centre}, radius, kPi / 2 + half, kPi / 2 - half});
  }
  return hoops;
}

void addHoop(ShapeBuilder& build, const Arc& hoop, std::int64_t pixels, double pitch, bool toRight,
             const std::string& name) {
  build.startRow(name + (toRight ? ", left to right" : ", right to left"));
  const double spare = hoop.length() - static_cast<double>(pixels - 1) * pitch;  // shared by the two feet
  for (std::int64_t k = 0; k < pixels; ++k) {
    const double along = spare / 2 + static_cast<double>(toRight ? k : pixels - 1 - k) * pitch;
    build.add(hoop.at(hoop.from - along / hoop.radius));
  }
  build.endRow(name + (toRight ? ", right foot" : ", left foot"));
}

std::string hoopName(std::size_t k, std::size_t hoops) {
  return hoops == 1 ? "arch" : "hoop " + std::to_string(k + 1);
}

void describe(ShapeBuilder& build, const std::vector<Arc>& hoops, double pitch, bool bent) {
  double pipe = 0;
  for (std::size_t k = 0; k < hoops.size(); ++k) {
    pipe += hoops[k].length();
    build.frameLine(hoops[k].line());
    build.cut("pipe", hoops[k].length(), 1, hoopName(k, hoops.size()));
    // A pipe that is only pushed between its bars springs straight again.
    if (bent) build.keepArc(hoopName(k, hoops.size()) + ", bent", 1, hoops[k].radius, kPi, 1, "pipe");
  }
  const Arc& outer = hoops.front();
  const double half = (outer.from - outer.to) / 2, span = 2 * outer.radius * std::sin(half);
  build.footprintBox(-span / 2, -kHalfDepth, span / 2, kHalfDepth);
  build.windArea(pipe * kPipe);
  build.cut("stake bar", 2 * kInGround, 2 * static_cast<std::int64_t>(hoops.size()), "bar at each foot");
  build.lengthFact("true pitch", pitch);
  build.lengthFact("arc length", outer.length());
  build.lengthFact("span", span);
  build.lengthFact("rise", outer.radius * (1 - std::cos(half)));
  build.lengthFact("radius", outer.radius);
  build.fact("lean of the bars from upright", base::toAngle(90 - half * 180 / kPi));
}

base::Result<Shape> makeArch(const yard::Prop& prop) {
  const Sizes size(prop);
  const auto outer = outerHoop(size);
  if (!outer) return tl::unexpected(outer.error());
  const auto hoops = allHoops(size, *outer);
  if (!hoops) return tl::unexpected(hoops.error());

  const double pitch = size.metres("pitch");
  std::vector<std::int64_t> counts;
  std::int64_t total = 0;
  for (const Arc& hoop : *hoops) total += counts.emplace_back(countEndToEnd(hoop.length(), pitch));
  const std::string lengthField = size.chosen("curve", "semicircle") ? "radius" : "pipe";
  if (auto error = checkPixels(total, lengthField, size.length(lengthField), size.length("pitch")))
    return tl::unexpected(*error);

  ShapeBuilder build(total);
  const bool fromLeft = size.chosen("start", "left"), alternate = size.chosen("order", "alternate");
  bool toRight = fromLeft;
  for (std::size_t k = 0; k < hoops->size(); ++k) {
    toRight = fromLeft != (alternate && k % 2 == 1);
    const std::int64_t first = build.count() + 1;
    addHoop(build, (*hoops)[k], counts[k], pitch, toRight, hoopName(k, hoops->size()));
    if (hoops->size() > 1) build.part(hoopName(k, hoops->size()), first, build.count());
  }
  build.part("left half", [](Vec3 p) { return p.x < -1e-9; });
  build.part("right half", [](Vec3 p) { return p.x > 1e-9; });
  describe(build, *hoops, pitch, size.chosen("curve", "semicircle"));
  const std::string of = hoops->size() == 1 ? "" : " of hoop ";
  return build.finish(
      (fromLeft ? "left foot" : "right foot") + (of.empty() ? of : of + "1"),
      (toRight ? "right foot" : "left foot") + (of.empty() ? of : of + std::to_string(hoops->size())));
}

}  // namespace

Kind archKind() {
  Kind kind;
  kind.name = "arch";
  kind.label = "Arch";
  kind.help = "A half circle, or a flatter arch from a straight pipe, one hoop or several inside each other";
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      onlyWith(lengthSize("radius", "Radius", base::inches(36), "Of the outer hoop"), "curve",
               {"semicircle"}),
      onlyWith(lengthSize("pipe", "Pipe length", base::feet(10), "Of the outer hoop, while it is straight"),
               "curve", {"pipe"}),
      onlyWith(lengthSize("feet", "Feet apart", base::feet(8), "Sets how high a bent pipe rises"), "curve",
               {"pipe"}),
      pitchSize(halfInches(5)),
      countSize("hoops", "Hoops", 1, 1, 50, "Nested on one base, the outer one first"),
      onlyOver(
          lengthSize("hoop_step", "Hoop to hoop", base::inches(2), "How much smaller each hoop's radius is"),
          "hoops", 1),
  };
  kind.choices = {
      {"curve",
       "Curve",
       {{"semicircle", "Half circle by its radius"}, {"pipe", "Pipe by its length and feet"}}},
      {"start", "Starts at", {{"left", "Left foot"}, {"right", "Right foot"}}},
      {"order",
       "Hoops",
       {{"alternate", "Out on one, back on the next"}, {"same_way", "All the same way, with return wires"}},
       {"hoops", {}, 1}},
  };
  kind.make = makeArch;
  return kind;
}

}  // namespace yw::shapes
