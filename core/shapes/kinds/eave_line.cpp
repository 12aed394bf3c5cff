#include "core/shapes/kinds/kinds.h"
#include "core/shapes/outline.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

base::Result<Shape> makeEaveLine(const yard::Prop& prop) {
  auto corners = pathCorners(prop, false, false);
  if (!corners) return tl::unexpected(corners.error());
  return makeOutline({std::move(*corners), false, {}, "start of side 1", "end of the line", true}, prop,
                     "path");
}

}  // namespace

Kind eaveLineKind() {
  Kind kind;
  kind.name = "eave_line";
  kind.label = "Eave line";
  kind.help = "Pixels along a roof line that you draw, each straight piece counted on its own";
  kind.alongPath = kind.onWall = true;
  kind.sizes = {pitchSize(base::inches(4)), stripHoleSize()};
  kind.usualPath = {{{0}, {0}}, {base::feet(20), {0}}};
  kind.make = makeEaveLine;
  return kind;
}

}  // namespace yw::shapes
