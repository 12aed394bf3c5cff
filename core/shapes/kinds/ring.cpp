#include "core/shapes/kinds/kinds.h"
#include "core/shapes/lines.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

constexpr double kPipe = 0.840 * kInch;       // outside of 1/2 in plastic or rigid pipe (conduit tables)
constexpr double kHalfDepth = 0.15 * 0.3048;  // footprint D x 0.3 ft (common practice)

base::Result<Shape> makeRing(const yard::Prop& prop) {
  const Sizes size(prop);
  const double diameter = size.metres("diameter"), stake = size.metres("stake");
  const double around = kPi * diameter;
  std::int64_t pixels = countAlong(around, size.metres("pitch"));  // closed: no pixel more than gaps
  const bool even = size.chosen("count", "even");
  if (even) pixels -= pixels % 2;
  if (auto error =
          checkPixels(pixels * facesOf(size), "diameter", size.length("diameter"), size.length("pitch")))
    return tl::unexpected(*error);

  const Vec3 centre{0, 0, stake + diameter / 2};
  const Ring ring{centre, diameter / 2, pixels, startHourOf(prop), size.chosen("direction", "clockwise"),
                  "",     false};
  ShapeBuilder build(pixels);
  addRing(build, ring);
  if (even) {
    build.part("upper half", [&](Vec3 p) { return p.z > centre.z; });
    build.part("lower half", [&](Vec3 p) { return p.z < centre.z; });
  }
  build.frameLine(ring.line());
  if (stake > 0) build.frameLine({{0, 0, 0}, {0, 0, stake}});
  build.footprintBox(-diameter / 2, -kHalfDepth, diameter / 2, kHalfDepth);
  build.windArea(around * kPipe, kPi * diameter * diameter / 4);
  build.cut("pipe", around / 2, 2, "half of the ring");
  build.thing("coupling", 2);
  build.keepArc("part of the ring", 1, diameter / 2, 2 * kPi, 2, "pipe");
  build.cut("stake bar", stake + kInGround, 1, "stake through the couplings");
  build.lengthFact("true pitch", around / static_cast<double>(pixels));
  build.lengthFact("circumference", around);
  build.lengthFact("half pipe", around / 2);
  build.lengthFact("center height", centre.z);
  const std::string hour = std::to_string(ring.startHour) + " o'clock";
  if (facesOf(size) == 2) build.backFace(kFaceDepth);
  return build.finish(hour, facesOf(size) == 2 ? kBackEnd : hour);
}

}  // namespace

Kind ringKind() {
  Kind kind;
  kind.name = "ring";
  kind.label = "Ring";
  kind.help = "A full ring on a stake, with an upper and a lower half arch in it";
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      lengthSize("diameter", "Diameter", base::inches(60), "Of the circle that the pixels stand on"),
      pitchSize(halfInches(5)),
      lengthSize("stake", "Clear under it", base::inches(24),
                 "From the ground to the lowest point of the ring", {0}),
  };
  kind.choices = {
      startHourChoice(),
      {"direction",
       "Direction from the front",
       {{"counterclockwise", "Counterclockwise"}, {"clockwise", "Clockwise"}}},
      {"count", "Pixel count", {{"even", "Even, so that halves are alike"}, {"whole", "As many as fit"}}},
      facesChoice(),
  };
  kind.make = makeRing;
  return kind;
}

}  // namespace yw::shapes
