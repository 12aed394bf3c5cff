#pragma once
#include "core/base/exact.h"
#include "core/base/point.h"
#include "core/base/result.h"

namespace yw::base {

/// Two places at the ends of two tapes held at two fixed points, one on either side of the line between them.
struct TapedPlaces {
  Vec2 left, right;  ///< metres; as seen looking from the first fixed point to the second
  /// Farthest the place may be off if each tape is off by its whole error, metres (to the first order: tapes
  /// that cross at the angle g give error / sin(g/2) or error / cos(g/2), whichever is larger).
  double error = 0.0;
  double crossing = 0.0;  ///< angle at which the tapes cross, degrees, 0 to 180
};

/// By the law of cosines. `tapeError` of each tape, zero or more. Refuses fixed points that are one, lengths
/// of zero, and lengths that do not meet, saying by how much they miss.
Result<TapedPlaces> byTwoTapes(Point first, Length fromFirst, Point second, Length fromSecond,
                               Length tapeError);

}  // namespace yw::base
