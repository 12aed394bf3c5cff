#pragma once
#include <vector>

#include "core/edit/change.h"

namespace yw::edit {

/// A ground feature of that kind as one begins with it: whether leads go round it, how far to stay from a
/// buried line (24 in, from memory), which heights a sight triangle keeps clear (30 in to 8 ft, within what
/// towns ask for; common practice).
yard::GroundFeature usualFeature(yard::FeatureKind kind);

/// Adds a wall for each side of a house's outline, its outside away from the house, named by where it faces
/// (`South wall`). Gives the new walls; none for an outline without an inside.
std::vector<base::Id> addWalls(Editor& editor, base::Id house);

}  // namespace yw::edit
