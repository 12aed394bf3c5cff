#pragma once
#include <utility>
#include <vector>

#include "core/papers/drawing.h"

namespace yw::papers {

/// Parallel strokes inside a closed outline (even-odd), `spacing` mm apart; `degrees` is their direction,
/// anticlockwise on paper. Their place does not depend on the outline, so that neighbours match.
std::vector<std::pair<Mm, Mm>> hatchStrokes(const std::vector<Mm>& outline, double spacing, double degrees);

/// How a hatched area of that role is drawn: keep-outs at 45° and close, ground sparse and the other way.
struct HatchStyle {
  double spacing, degrees, width;
};
HatchStyle hatchStyle(Role role);

/// Lengths of stroke and gap in mm, empty for solid.
const std::vector<double>& dashPattern(Dash dash);

/// The filled triangle at the end of a line that has an arrow; empty when the line has no length.
std::vector<Mm> arrowHead(const std::vector<Mm>& line, double width);

}  // namespace yw::papers
