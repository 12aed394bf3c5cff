#pragma once
#include "core/papers/sheets/sheets.h"

namespace yw::papers {

/// From where a prop is looked at.
enum class PropView { Front, Back, Above };

/// How a prop of that shape is best shown: flat on the ground from above, else from the front and mirrored
/// from the back.
std::vector<PropView> viewsOf(const shapes::Shape& shape);

/// One prop with its string in order: arrows along the rows, IN and OUT, the numbers at every joint. Pixels
/// first..last are those of the run; others are drawn pale. Returns how many numbers found no place.
int drawPropView(Sketch sketch, const Digest& d, Id prop, PropView view, const Rect& frame,
                 std::int64_t first, std::int64_t last);

}  // namespace yw::papers
