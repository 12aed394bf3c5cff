#pragma once
#include <vector>

#include "core/shapes/shape.h"

namespace yw::shapes {

/// Longest list that is put in order; more is left as it is.
inline constexpr std::size_t kMostInChain = 5'000;

/// The order (0-based) of a short open chain through all points that begins at the first one. Hops over
/// `reach` (metres; 0: no limit) are avoided before length is: first as few as can be, then short. Exact up
/// to twelve points; beyond, nearest neighbour bettered by 2-opt and Or-opt until neither helps. The same
/// points always give the same order.
std::vector<std::size_t> shortChain(const std::vector<Vec3>& points, double reach);

/// What a chain costs: its hops over `reach`, then its length in whole micrometres.
struct ChainCost {
  std::int64_t tooLong = 0, micrometres = 0;
  auto operator<=>(const ChainCost&) const = default;
};
ChainCost chainCost(const std::vector<Vec3>& points, const std::vector<std::size_t>& order, double reach);

/// A short order of the string of a prop of kind `own`, for Prop::stringOrder; reach is its size `jumper`.
/// Errors: not of that kind, cannot be made, or more than kMostInChain pixels.
base::Result<std::vector<std::int64_t>> shortOrder(const yard::Prop& prop);

}  // namespace yw::shapes
