#pragma once
#include "core/shapes/builder.h"
#include "core/shapes/grid.h"

namespace yw::shapes {

/// The full grid of a prop with sizes `width`, `height`, `pitch`, `foot` and the choices `order` and
/// `corner`: floor(width / p) x floor(height / p) with half-pitch margins, the spare shared by both sides.
struct Panel {
  Grid grid;
  std::int64_t cols = 0, rows = 0;
};
base::Result<Panel> panelOf(const yard::Prop& prop);

ChoiceInfo panelOrderChoice();

/// Pixels, outline, footprint and the facts `columns`, `rows`, `true pitch`; halves as parts.
void addPanel(ShapeBuilder& build, const Panel& panel, const yard::Prop& prop);

/// Choice `backing`: half-inch or quarter-inch mesh, or what `sheet` says.
ChoiceInfo backingChoice(const char* sheet);
/// Hole spacing of the chosen mesh in metres; 0: not mesh.
double meshSpacing(const yard::Prop& prop);

}  // namespace yw::shapes
