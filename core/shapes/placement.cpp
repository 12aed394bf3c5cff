#include <cmath>

#include "core/shapes/shape.h"

namespace yw::shapes {
namespace {

constexpr std::int64_t kQuarterTurn = 90'000'000;  // micro-degrees

/// Cosine and sine, exact at quarter turns, so that a prop turned by 90° stays square to the plan.
Vec2 direction(base::Angle angle) {
  if (angle.count % kQuarterTurn == 0) {
    switch ((angle.count / kQuarterTurn % 4 + 4) % 4) {
      case 0:
        return {1, 0};
      case 1:
        return {0, 1};
      case 2:
        return {-1, 0};
      default:
        return {0, -1};
    }
  }
  const double turn = base::radians(angle);
  return {std::cos(turn), std::sin(turn)};
}

}  // namespace

Placement placementOf(const yard::Yard& yard, const yard::Prop& prop) {
  const double base = base::metres(prop.base).si;
  const auto* wall = yard::find<yard::Wall>(yard, prop.wall);
  if (!wall) {
    const Vec2 turn = direction(prop.heading);
    return {base::vec(prop.at), base, turn.x, turn.y};
  }
  // The outside is on the right hand looking along the wall, so own y, a quarter turn to the left of own x,
  // points into the house and the front (own -y) faces outside.
  const Vec2 from = base::vec(wall->from), along = base::vec(wall->to) - from;
  const double length = norm(along);
  const Vec2 x = length > 0 ? along * (1 / length) : Vec2{1, 0};
  return {from + x * base::metres(prop.at.x).si, base::metres(prop.at.y).si + base, x.x, x.y};
}

}  // namespace yw::shapes
