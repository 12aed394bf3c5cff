#include <algorithm>

#include "core/shapes/kinds/kinds.h"
#include "core/shapes/outline.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

/// Which of the four corners, counted clockwise from the lower left, the string starts at.
int startCorner(const Sizes& size) {
  return size.chosen("corner", "bottom_left") ? 0
         : size.chosen("corner", "top_left")  ? 1
         : size.chosen("corner", "top_right") ? 2
                                              : 3;
}

base::Result<Shape> makeWindowOutline(const yard::Prop& prop) {
  const Sizes size(prop);
  const double w = size.metres("width"), h = size.metres("height");
  const int start = startCorner(size);
  Outline outline;
  outline.closed = true;
  outline.corners = {{0, 0, 0}, {0, 0, h}, {w, 0, h}, {w, 0, 0}};
  outline.sides = {"left side", "top", "right side", "bottom"};
  std::rotate(outline.corners.begin(), outline.corners.begin() + start, outline.corners.end());
  std::rotate(outline.sides.begin(), outline.sides.begin() + start, outline.sides.end());
  if (size.chosen("direction", "counterclockwise")) {
    std::reverse(outline.corners.begin() + 1, outline.corners.end());
    std::reverse(outline.sides.begin(), outline.sides.end());
  }
  const char* corners[] = {"bottom left", "top left", "top right", "bottom right"};
  outline.startName = outline.endName = corners[start];
  outline.sideParts = true;
  return makeOutline(outline, prop, w < h ? "height" : "width");
}

}  // namespace

Kind windowOutlineKind() {
  Kind kind;
  kind.name = "window_outline";
  kind.label = "Window outline";
  kind.help = "Pixels round a window, four sides; its place is the lower left corner";
  kind.alongPath = false;
  kind.onWall = true;
  kind.sizes = {
      lengthSize("width", "Width", base::feet(3), "Of the outline"),
      lengthSize("height", "Height", base::feet(5), "Of the outline"),
      pitchSize(base::inches(3)),
      stripHoleSize(),
  };
  kind.choices = {
      {"corner",
       "Starts at, seen from the front",
       {{"bottom_left", "Bottom left"},
        {"bottom_right", "Bottom right"},
        {"top_left", "Top left"},
        {"top_right", "Top right"}}},
      {"direction",
       "Direction from the front",
       {{"clockwise", "Clockwise"}, {"counterclockwise", "Counterclockwise"}}},
  };
  kind.make = makeWindowOutline;
  return kind;
}

}  // namespace yw::shapes
