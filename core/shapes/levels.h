#pragma once
// Figures inside each other: rings in rings, stars of several levels. Level 0 is the outermost.
#include <vector>

#include "core/shapes/shape.h"

namespace yw::shapes {

/// Radii from the outermost to the innermost, evenly spaced; refuses an inner radius that is not less than
/// the outer.
base::Result<std::vector<double>> levelRadii(const yard::Prop& prop, const std::string& countField,
                                             const std::string& outerField, const std::string& innerField);
/// Levels in string order.
std::vector<std::size_t> levelOrder(std::size_t levels, bool outsideIn);
ChoiceInfo levelOrderChoice();

}  // namespace yw::shapes
