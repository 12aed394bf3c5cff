#pragma once
// Rows of props as plain changes: no Qt, no view.
#include <vector>

#include "core/edit/change.h"
#include "core/shapes/rows.h"

namespace yw::ui::edits {

/// The row a prop belongs to; none if it stands alone.
base::Id rowOf(const yard::Yard& yard, base::Id prop);

/// Props at these spots, `Arch 1`, `Arch 2` … in their order. `prop` and the rest of its row are set there
/// first, in the order of the row; what is still missing is added, alike but unwired; members beyond the
/// spots stay where they are. All of the row, in its order; empty if `prop` is none.
std::vector<base::Id> layOut(edit::Editor& editor, base::Id prop, const std::vector<shapes::Spot>& spots);

/// A prop changed on its own no longer follows its row; or follows it again.
void setDetached(edit::Editor& editor, base::Id prop, bool detached);

/// Feet of a row raised on legs or stakes so that all tops are level, the shortest reveal `least`. How many
/// were changed.
std::int64_t levelTops(edit::Editor& editor, base::Id prop, base::Length least);

}  // namespace yw::ui::edits
