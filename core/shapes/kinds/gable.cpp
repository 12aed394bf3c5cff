#include <algorithm>
#include <cmath>

#include "core/shapes/kinds/kinds.h"
#include "core/shapes/outline.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

base::Result<Shape> makeGable(const yard::Prop& prop) {
  const Sizes size(prop);
  const double run = size.metres("run"), rise = run * static_cast<double>(size.count("pitch_rise")) / 12;
  const Vec3 left{0, 0, 0}, peak{run, 0, rise}, right{2 * run, 0, 0};
  Outline outline;
  if (!size.chosen("sides", "right")) outline.corners.push_back(left);
  outline.corners.push_back(peak);
  if (!size.chosen("sides", "left")) outline.corners.push_back(right);
  outline.sides = size.chosen("sides", "both")   ? std::vector<std::string>{"left rake", "right rake"}
                  : size.chosen("sides", "left") ? std::vector<std::string>{"left rake"}
                                                 : std::vector<std::string>{"right rake"};
  outline.startName = size.chosen("sides", "right") ? "peak" : "left foot";
  outline.endName = size.chosen("sides", "left") ? "peak" : "right foot";
  if (size.chosen("start", "right")) {
    std::reverse(outline.corners.begin(), outline.corners.end());
    std::reverse(outline.sides.begin(), outline.sides.end());
    std::swap(outline.startName, outline.endName);
  }
  outline.sideParts = true;
  auto shape = makeOutline(outline, prop, "run");
  if (shape) shape->facts["rake length"] = base::toLength({std::hypot(run, rise)});
  if (shape) shape->facts["rise"] = base::toLength({rise});
  return shape;
}

}  // namespace

Kind gableKind() {
  Kind kind;
  kind.name = "gable";
  kind.label = "Gable";
  kind.help = "Pixels up one rake of a gable and down the other; its place is the left foot of the gable";
  kind.alongPath = false;
  kind.onWall = true;
  kind.sizes = {
      lengthSize("run", "Run", base::feet(12), "Half of the gable's width, measured level"),
      countSize("pitch_rise", "Roof pitch, inches in 12", 6, 1, 48,
                "How far the roof rises in 12 inches of run"),
      pitchSize(base::inches(4)),
      stripHoleSize(),
  };
  kind.choices = {
      {"sides", "Rakes", {{"both", "Both"}, {"left", "Left only"}, {"right", "Right only"}}},
      {"start", "Starts at, seen from the front", {{"left", "Left"}, {"right", "Right"}}},
  };
  kind.make = makeGable;
  return kind;
}

}  // namespace yw::shapes
