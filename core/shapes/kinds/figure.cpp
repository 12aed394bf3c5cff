#include "core/shapes/kinds/kinds.h"
#include "core/shapes/outline.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

base::Result<Shape> makeFigure(const yard::Prop& prop) {
  const bool closed = Sizes(prop).chosen("ends", "closed");
  auto corners = pathCorners(prop, false, closed);
  if (!corners) return tl::unexpected(corners.error());
  return makeOutline(
      {std::move(*corners), closed, {}, "corner 1", closed ? "corner 1" : "the last corner", true}, prop,
      "path");
}

}  // namespace

Kind figureKind() {
  Kind kind;
  kind.name = "figure";
  kind.label = "Outline figure";
  kind.help = "A figure or letter that you draw, face-on, closed or open";
  kind.alongPath = kind.onWall = true;
  kind.sizes = {pitchSize(base::inches(2)), stripHoleSize()};
  kind.choices = {{"ends", "Last corner", {{"closed", "Joined to the first"}, {"open", "Open"}}}};
  kind.usualPath = {{{0}, {0}}, {base::feet(3), {0}}, {base::feet(3), base::feet(3)}, {{0}, base::feet(3)}};
  kind.make = makeFigure;
  return kind;
}

}  // namespace yw::shapes
