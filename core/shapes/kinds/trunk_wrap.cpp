#include <algorithm>
#include <cmath>

#include "core/shapes/builder.h"
#include "core/shapes/kinds/kinds.h"
#include "core/shapes/sizes.h"
#include "core/shapes/stock.h"

namespace yw::shapes {
namespace {

constexpr double kCarrier = 0.5 * kInch;  // bullets on a three-wire cord (our judgement)

/// A spiral that starts at the front of the trunk.
struct Spiral {
  double radius, height, foot;
  std::int64_t turns;
  bool clockwise;  ///< seen from above, going up
  double around() const { return static_cast<double>(turns) * 2 * kPi * radius; }
  double length() const { return std::hypot(around(), height); }
  Vec3 at(double along) const {
    const double share = along / length(), turn = 2 * kPi * static_cast<double>(turns) * share;
    const double x = radius * std::sin(turn);
    return {clockwise ? -x : x, -radius * std::cos(turn), foot + height * share};
  }
};

void addTurns(ShapeBuilder& build, const Spiral& spiral, std::int64_t pixels, double pitch, bool fromBottom) {
  const double perTurn = spiral.length() / static_cast<double>(spiral.turns);
  std::int64_t turn = -1;
  for (std::int64_t i = 0; i < pixels; ++i) {
    const double along = (static_cast<double>(fromBottom ? i : pixels - 1 - i) + 0.5) * pitch;
    const std::int64_t here = std::min(spiral.turns - 1, static_cast<std::int64_t>(along / perTurn));
    if (here != turn) {
      if (turn >= 0) build.endRow("end of turn " + std::to_string(turn + 1));
      build.startRow("turn " + std::to_string(here + 1) + (fromBottom ? ", up" : ", down"));
      turn = here;
    }
    build.addByWire(spiral.at(along), i == 0 ? 0.0 : pitch);
  }
  build.endRow("end of turn " + std::to_string(turn + 1));
}

base::Result<Shape> makeTrunkWrap(const yard::Prop& prop) {
  const Sizes size(prop);
  const Spiral spiral{size.metres("trunk_diameter") / 2, size.metres("height"), size.metres("foot"),
                      size.count("turns"), size.chosen("direction", "clockwise")};
  const double pitch = size.metres("pitch");
  const std::int64_t pixels = countAlong(spiral.length(), pitch);
  if (auto error = checkPixels(pixels, "height", base::toLength({spiral.length()}), size.length("pitch")))
    return tl::unexpected(*error);
  const bool fromBottom = size.chosen("in_end", "bottom");
  ShapeBuilder build(pixels);
  addTurns(build, spiral, pixels, pitch, fromBottom);
  build.part("front", [](Vec3 p) { return p.y < 0; });
  build.part("back", [](Vec3 p) { return p.y >= 0; });
  const std::int64_t steps = 24 * std::min<std::int64_t>(spiral.turns, 200);
  std::vector<Vec3> line;
  for (std::int64_t i = 0; i <= steps; ++i)
    line.push_back(spiral.at(spiral.length() * static_cast<double>(i) / static_cast<double>(steps)));
  build.frameLine(std::move(line));
  build.footprintSector(spiral.radius, 2 * kPi);
  build.windArea(spiral.length() * kCarrier /
                 kPi);  // of a turn's length, a diameter's worth is seen on the near side
  build.cut("string", spiral.length(), 1, "wound on");
  build.keep("string, coiled", 1, kCoilAcross, kCoilAcross,
             kCarrier * std::sqrt(std::ceil(spiral.length() / (kPi * kCoilAcross))), {"string"});
  build.fasten("cable tie", spiral.turns);
  build.lengthFact("true pitch", pitch);
  build.lengthFact("whole length", spiral.length());
  build.lengthFact("rise in one turn", spiral.height / static_cast<double>(spiral.turns));
  return build.finish(fromBottom ? "foot of the trunk" : "top of the wrap",
                      fromBottom ? "top of the wrap" : "foot of the trunk");
}

}  // namespace

Kind trunkWrapKind() {
  Kind kind;
  kind.name = "trunk_wrap";
  kind.label = "Trunk wrap";
  kind.help = "A string wound up a tree trunk in even turns";
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      lengthSize("trunk_diameter", "Trunk diameter", base::inches(12),
                 "Measured round the trunk, divided by 3.14"),
      lengthSize("height", "Height wrapped", base::feet(6), "From the first turn to the last"),
      countSize("turns", "Turns", 9, 1, 1000, "Full turns round the trunk"),
      pitchSize(base::inches(3)),
      lengthSize("foot", "Bottom above ground", base::inches(6), "From the ground to the first turn", {0}),
  };
  kind.choices = {
      {"direction",
       "Turns, seen from above",
       {{"counterclockwise", "Counterclockwise going up"}, {"clockwise", "Clockwise going up"}}},
      {"in_end", "Data goes in at", {{"bottom", "Foot"}, {"top", "Top"}}},
  };
  kind.make = makeTrunkWrap;
  return kind;
}

}  // namespace yw::shapes
