#pragma once
#include <cmath>
#include <compare>
#include <cstdint>
#include <vector>

#include "core/base/point.h"
#include "core/base/rational.h"

namespace yw::routes {

/// A place on the nanometre lattice. Left-or-right questions about spots are answered exactly, so that a way
/// may graze a wall or touch a corner without a tolerance.
struct Spot {
  std::int64_t x = 0, y = 0;
  auto operator<=>(const Spot&) const = default;
};

/// Nearest spot; coordinates beyond 1000 km are drawn in to it.
Spot spotOf(base::Vec2 place);
inline base::Vec2 vecOf(Spot s) { return {static_cast<double>(s.x) * 1e-9, static_cast<double>(s.y) * 1e-9}; }

/// +1: c lies left of the line a -> b, -1: right, 0: on it. Exact.
inline int turn(Spot a, Spot b, Spot c) {
  const std::int64_t ux = b.x - a.x, uy = b.y - a.y, vx = c.x - a.x, vy = c.y - a.y;
  const double left = static_cast<double>(ux) * static_cast<double>(vy);
  const double right = static_cast<double>(uy) * static_cast<double>(vx);
  const double det = left - right;
  // Each product is off by at most 2^-53 of itself, the differences are exact: beyond this the sign is sure.
  const double doubt = 4.0 * 0x1p-53 * (std::abs(left) + std::abs(right));
  if (det > doubt) return 1;
  if (det < -doubt) return -1;
  const base::Int128 exact = static_cast<base::Int128>(ux) * vy - static_cast<base::Int128>(uy) * vx;
  return (exact > 0) - (exact < 0);
}

/// p lies on the segment a-b but is neither of its ends.
bool onOpenSegment(Spot a, Spot b, Spot p);

/// Directions around a corner that lead into what blocks: those strictly between from and to, anticlockwise.
struct Wedge {
  Spot from, to;
};
/// Going from `corner` to `towards` starts inside the wedge.
bool goesInto(const Wedge& wedge, Spot corner, Spot towards);

/// Twice the signed area of a ring is positive, zero or negative: +1 anticlockwise.
int windingOf(const std::vector<Spot>& ring);

}  // namespace yw::routes
