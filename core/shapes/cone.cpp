#include "core/shapes/cone.h"

#include <cmath>

#include "core/shapes/sizes.h"
#include "core/shapes/strips_around.h"

namespace yw::shapes {
namespace {

std::optional<base::Error> checkRadii(const Sizes& size) {
  if (size.count("top_diameter") <= size.count("base_diameter")) return std::nullopt;
  return sizeError("top_diameter", "shape_top_over_base",
                   {{"top", size.length("top_diameter")}, {"base", size.length("base_diameter")}});
}

StripsAround stripsOf(const yard::Prop& prop) {
  const Sizes size(prop);
  StripsAround s;
  s.strips = size.count("strips");
  s.pitch = size.metres("pitch");
  s.first = s.pitch / 2;  // ready-made strip is cut between two holes
  s.height = size.metres("height");
  s.bottomRadius = size.metres("base_diameter") / 2;
  s.topRadius = size.metres("top_diameter") / 2;
  s.slant = std::hypot(s.height, s.bottomRadius - s.topRadius);
  s.each = countAlong(s.slant, s.pitch);
  s.foot = size.metres("foot");
  s.arc = size.radians("arc");
  s.order = stripOrderOf(prop);
  s.fromRight = size.chosen("first_strip", "right");
  return s;
}

std::vector<Vec3> hoop(const StripsAround& s, double radius, double z) {
  std::vector<Vec3> line;
  const int steps = std::max(4, static_cast<int>(std::lround(48 * s.arc / (2 * kPi))));
  for (int i = 0; i <= steps; ++i) {
    const double turn = -s.arc / 2 + s.arc * i / steps;
    line.push_back({radius * std::sin(turn), -radius * std::cos(turn), z});
  }
  return line;
}

/// Strips nearer to each other at the top than they are wide will not go on the topper.
void describeSpacing(ShapeBuilder& build, const StripsAround& s, Length stripWidth) {
  if (s.gaps() == 0) return;
  const auto spacing = [&](double radius) { return radius * s.arc / static_cast<double>(s.gaps()); };
  build.lengthFact("bottom spacing", spacing(s.bottomRadius));
  build.lengthFact("top spacing", spacing(s.topRadius));
  if (spacing(s.topRadius) < base::metres(stripWidth).si)
    build.warn("shape_topper_too_small",
               {{"spacing", base::toLength({spacing(s.topRadius)})},
                {"width", stripWidth},
                {"strips", s.strips},
                {"least",
                 base::toLength({2 * base::metres(stripWidth).si * static_cast<double>(s.gaps()) / s.arc})}});
}

base::Result<Shape> makeCone(const yard::Prop& prop) {
  const Sizes size(prop);
  if (auto error = checkRadii(size)) return tl::unexpected(*error);
  const StripsAround s = stripsOf(prop);
  if (auto error = checkPixels(s.strips * s.each, "height", base::toLength({s.slant}), size.length("pitch")))
    return tl::unexpected(*error);

  ShapeBuilder build(s.strips * s.each);
  addStrips(build, s);
  build.frameLine(hoop(s, s.bottomRadius, s.foot));
  build.frameLine(hoop(s, s.topRadius, s.foot + s.height));
  build.frameLine({{0, 0, 0}, {0, 0, s.foot + s.height}});
  build.footprintSector(s.bottomRadius, s.arc);
  // Strips face outward: over a turn they show 2/pi of their width, front and back counted (common practice).
  build.windArea(static_cast<double>(s.strips) * s.slant * size.metres("strip_width") * 2 / kPi,
                 (s.bottomRadius + s.topRadius) * s.height);
  build.cut("pixel strip", s.slant, s.strips, "strip");
  build.cut("pole", s.foot + s.height + 2 * kInGround, 1, "pole, 24 in in the ground");
  build.thing("topper", 1);
  build.cut("base ring pipe", s.bottomRadius * s.arc, 1, "base ring");
  build.cut("stake bar", s.foot + kInGround, size.count("ring_stakes"), "stake of the base ring");
  build.fasten("hook or screw", 2 * s.strips);  // at the top and at the bottom of each strip
  build.lengthFact("true pitch", s.pitch);
  build.lengthFact("slant", s.slant);
  build.fact("pixels on a strip", s.each);
  build.lengthFact("lowest pixel from the strip's end", s.first);
  build.lengthFact("left over at the top", s.slant - static_cast<double>(s.each) * s.pitch);
  build.fact("lift for slack", base::toRatio(s.slant / s.height));
  describeSpacing(build, s, size.length("strip_width"));
  return finishStrips(build, s);
}

}  // namespace

Kind coneKind(const ConeUsual& usual) {
  Kind kind;
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      lengthSize("height", "Height", usual.height,
                 "From the base ring up to the topper, not along the strips"),
      lengthSize("base_diameter", "Base diameter", usual.baseDiameter,
                 "Of the ring that the strips are tied to"),
      lengthSize("top_diameter", "Top diameter", usual.topDiameter, "Of the topper where the strips hang"),
      countSize("strips", "Strips", usual.strips, 1, 2000, "Even: the out end comes back to the ground"),
      pitchSize(usual.pitch),
      angleSize("arc", "Part of a circle", 360, 1, 360,
                "360° is a full tree, 180° a half tree facing the front"),
      lengthSize("foot", "Base ring above ground", {0}, "From the ground to the base ring", {0}),
      stripHoleSize(),
      countSize("ring_stakes", "Stakes of the base ring", 8, 0, 200, "Or its legs; they hold the ring down"),
      lengthSize("strip_width", "Strip width", halfInches(3),
                 "Common practice: 1.5 in; decides whether they fit on the topper"),
  };
  kind.choices = {stripOrderChoice(), onlyOver(stripSideChoice(), "strips", 1)};
  kind.make = makeCone;
  return kind;
}

}  // namespace yw::shapes
