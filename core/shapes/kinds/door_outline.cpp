#include <algorithm>

#include "core/shapes/kinds/kinds.h"
#include "core/shapes/outline.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

base::Result<Shape> makeDoorOutline(const yard::Prop& prop) {
  const Sizes size(prop);
  const double w = size.metres("width"), h = size.metres("height");
  Outline outline{{{0, 0, 0}, {0, 0, h}, {w, 0, h}, {w, 0, 0}},
                  false,
                  {"left side", "top", "right side"},
                  "bottom left",
                  "bottom right",
                  true};
  if (size.chosen("start", "right")) {
    std::reverse(outline.corners.begin(), outline.corners.end());
    std::reverse(outline.sides.begin(), outline.sides.end());
    std::swap(outline.startName, outline.endName);
  }
  return makeOutline(outline, prop, "height");
}

}  // namespace

Kind doorOutlineKind() {
  Kind kind;
  kind.name = "door_outline";
  kind.label = "Door outline";
  kind.help =
      "Pixels up one side of a door, over the top and down the other; its place is the lower left corner";
  kind.alongPath = false;
  kind.onWall = true;
  kind.sizes = {
      lengthSize("width", "Width", base::feet(3), "Of the outline"),
      lengthSize("height", "Height", base::feet(7), "Of the outline"),
      pitchSize(base::inches(3)),
      stripHoleSize(),
  };
  kind.choices = {
      {"start", "Starts at, seen from the front", {{"left", "Bottom left"}, {"right", "Bottom right"}}}};
  kind.make = makeDoorOutline;
  return kind;
}

}  // namespace yw::shapes
