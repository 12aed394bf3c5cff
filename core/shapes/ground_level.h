#pragma once
// Sloping ground: what brings tops, rings and bottoms level.
#include <vector>

#include "core/shapes/shape.h"

namespace yw::shapes {

/// Height of the ground from the yard's spot heights: a plane laid through them, the near ones counting most,
/// so that spots are kept and even slopes are met exactly. Fewer than three, or all on a line: their mean by
/// nearness; none: 0. Metres.
double groundHeight(const yard::Yard& yard, Vec2 at);

/// Legs, stakes or posts that bring tops level.
struct Reveals {
  double top = 0.0;          ///< the common top, metres above the yard's zero
  std::vector<double> each;  ///< above the ground, in the order given; never less than the least
};

/// reveal_i = top - height_i - ground_i; the lowest top that leaves every reveal at least `least`. Heights
/// are from the top of the leg to the top of the prop. Both lists of one length.
Reveals levelTops(const std::vector<double>& ground, const std::vector<double>& heights, double least);

/// The same for a row of props, each on its own leg at its place; ids that are no prop, or cannot be made,
/// are left out of `each` and named in neither.
struct RowReveals {
  std::vector<yard::Id> props;
  Reveals reveals;
};
RowReveals levelRow(const yard::Yard& yard, const std::vector<yard::Id>& props, double least);

/// Reveals of `legs` evenly round a prop's base, the first at its front; `radius` metres.
Reveals levelLegs(const yard::Yard& yard, const yard::Prop& prop, std::int64_t legs, double radius,
                  double least);

/// The same for a cone tree's base ring brought level: a reveal at each of its stakes (eight if it has none),
/// the least of them what its ring is above the ground. Errors: not a cone tree.
base::Result<Reveals> levelRing(const yard::Yard& yard, const yard::Prop& prop);

/// One strip of a cone tree whose base ring lies parallel to the ground, its topper on an upright pole.
struct StripOnSlope {
  double ground;  ///< under its lower end, above that under the pole, metres
  double length;  ///< metres
  std::int64_t pixels;
};
/// Strips in string order. Errors: not a cone tree, or one that cannot be made, or a strip without a pixel.
base::Result<std::vector<StripOnSlope>> stripsOnSlope(const yard::Yard& yard, const yard::Prop& prop);

}  // namespace yw::shapes
