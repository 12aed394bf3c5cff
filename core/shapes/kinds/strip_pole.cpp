#include "core/shapes/kinds/kinds.h"
#include "core/shapes/sizes.h"
#include "core/shapes/strips_around.h"

namespace yw::shapes {
namespace {

constexpr double kStandOff =
    0.5 * kInch;  // how far a strip with its bullets stands off the pole (common practice)

base::Result<Shape> makeStripPole(const yard::Prop& prop) {
  const Sizes size(prop);
  StripsAround s;
  s.strips = size.count("strips");
  s.pitch = size.metres("pitch");
  s.first = s.pitch / 2;  // ready-made strip is cut between two holes
  s.height = s.slant = size.metres("length");
  s.bottomRadius = s.topRadius = size.metres("pole_diameter") / 2;
  s.each = countAlong(s.slant, s.pitch);
  s.foot = size.metres("foot");
  s.arc = 2 * kPi;
  s.order = stripOrderOf(prop);
  s.fromRight = size.chosen("first_strip", "right");
  if (auto error = checkPixels(s.strips * s.each, "length", size.length("length"), size.length("pitch")))
    return tl::unexpected(*error);

  ShapeBuilder build(s.strips * s.each);
  addStrips(build, s);
  build.frameLine({{0, 0, 0}, {0, 0, s.foot + s.height}});
  build.footprintSector(s.bottomRadius + kStandOff, s.arc);
  build.windArea(s.height * (2 * s.bottomRadius + 2 * kStandOff));
  build.cut("pixel strip", s.slant, s.strips, "strip");
  build.cut("pole", s.foot + s.height + 2 * kInGround, 1, "pole, 24 in in the ground");
  build.fasten("cable tie", tiesAlong(s.slant, kTieEvery));  // each goes round all strips
  build.lengthFact("true pitch", s.pitch);
  build.fact("pixels on a strip", s.each);
  build.lengthFact("lowest pixel from the strip's end", s.first);
  // Far away an opaque round pole shows the strips of its near half.
  build.fact("strips seen at least", s.strips / 2);
  build.fact("strips seen at most", (s.strips + 1) / 2);
  return finishStrips(build, s);
}

}  // namespace

Kind stripPoleKind() {
  Kind kind;
  kind.name = "strip_pole";
  kind.label = "Pole with strips";
  kind.help = "A pole with strips around it, seen from all sides from three strips on";
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      lengthSize("length", "Strip length", base::feet(7), "Of each strip"),
      countSize("strips", "Strips", 4, 1, 200, "Even: the out end comes back to the ground"),
      pitchSize(base::inches(3)),
      lengthSize("pole_diameter", "Pole diameter", base::inches(2), "Outside of the pipe"),
      lengthSize("foot", "Bottom above ground", base::inches(6),
                 "From the ground to the lower ends of the strips", {0}),
      stripHoleSize(),
  };
  kind.choices = {stripOrderChoice(), onlyOver(stripSideChoice(), "strips", 1)};
  kind.make = makeStripPole;
  return kind;
}

}  // namespace yw::shapes
