#include <cmath>

#include "core/shapes/builder.h"
#include "core/shapes/kinds/kinds.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

constexpr double kFace = 6 * kInch;  // a small flood is about 6 in square (common practice)

base::Result<Shape> makeFlood(const yard::Prop& prop) {
  const Sizes size(prop);
  const std::int64_t units = size.count("units");
  const double spacing = size.metres("spacing"), height = size.metres("height"), away = size.metres("throw");
  const double tilt = size.radians("tilt"), beam = size.radians("beam");
  const bool fromRight = size.chosen("start", "right");
  ShapeBuilder build(units);
  const double left = -spacing * static_cast<double>(units - 1) / 2;
  for (std::int64_t k = 0; k < units; ++k) {
    const double x = (fromRight ? -1 : 1) * (left + spacing * static_cast<double>(k));
    const std::string name = "flood " + std::to_string(k + 1);
    build.startRow(name);
    build.add({x, 0, height});
    build.endRow(name);
    build.part(name, k + 1, k + 1);
    build.frameLine({{x, 0, 0}, {x, 0, height}});
  }
  const double half = kFace / 2;
  build.footprintBox(left - half, -half, -left + half, half);
  build.windArea(static_cast<double>(units) * kFace * kFace);
  build.thing("flood", units);
  build.cut("stake bar", height + kInGround, units, "stake");
  build.lengthFact("true pitch", spacing);
  // A cone of that angle on a wall square to its axis.
  build.lengthFact("lit across at that distance", 2 * away * std::tan(beam / 2));
  build.lengthFact("middle of the light above the flood", away * std::tan(tilt));
  return build.finish("flood 1", "flood " + std::to_string(units));
}

}  // namespace

Kind floodKind() {
  Kind kind;
  kind.name = "flood";
  kind.label = "Flood";
  kind.help = "Floods in a row; each is one pixel to the data, and many to the supply";
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      countSize("units", "Floods", 1, 1, 1000, "Each takes one pixel's place in the run"),
      lengthSize("spacing", "Flood to flood", base::feet(4), "Along the row"),
      lengthSize("height", "Above ground", base::inches(8), "Of the middle of its face", {0}),
      lengthSize("throw", "Distance to what it lights", base::feet(8), "Square to the row"),
      angleSize("tilt", "Tilt", 30, 0, 80, "Upward from level"),
      angleSize("beam", "Beam", 90, 5, 150, "Whole angle of its light, from its data sheet"),
  };
  kind.choices = {
      {"start", "Starts at, seen from the front", {{"left", "Left"}, {"right", "Right"}}, {"units", {}, 1}}};
  kind.make = makeFlood;
  return kind;
}

}  // namespace yw::shapes
