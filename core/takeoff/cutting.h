#pragma once
#include <vector>

#include "core/base/exact.h"

namespace yw::takeoff {

using base::Length;

/// Pieces cut from one length of stock, longest first.
struct Bar {
  std::vector<Length> pieces;
  Length left;  ///< what stays over, saw cuts taken off
};

struct CutPlan {
  std::vector<Bar> bars;
  std::int64_t joined = 0;  ///< pieces longer than the stock: whole lengths joined to the rest of it
  double yield = 0.0;       ///< share of the stock that ends up in pieces, 0 to 1
};

/// Width of a saw cut, 1/8 in (common practice).
inline constexpr Length kKerf{base::kNanometresPerInch / 8};

/// Best fit decreasing: each piece, the longest first, goes on the bar where the least stays over. A piece
/// longer than the stock takes whole lengths and goes on with its rest. Stock of no length: no bars.
CutPlan cutFrom(std::vector<Length> pieces, Length stock, Length kerf = kKerf);

/// Alike rectangles of sheet or mesh.
struct SheetPiece {
  Length length, width;
  std::int64_t count = 1;
};

/// Laid out as one cuts by hand: straight across the stock in runs of its whole width, each piece the way
/// round that takes the shorter of it; narrow pieces side by side in a run, one wider than the stock in as
/// many runs as it takes (counted in `joined`, as are runs longer than the stock). Bars are the sheets or
/// rolls with their runs. No stock: no bars.
CutPlan cutFromSheet(const std::vector<SheetPiece>& pieces, Length stockLength, Length stockWidth);

}  // namespace yw::takeoff
