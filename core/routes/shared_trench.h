#pragma once
#include <vector>

#include "core/routes/routes.h"

namespace yw::routes {

/// A trench that joins all ends, dug once however many cables lie in it.
struct SharedTrench {
  std::vector<std::vector<Vec2>> lines;  ///< m; branch places are ends of lines
  double length = 0.0;                   ///< m to dig: what is dug already is left out
  double bound = 0.0;                    ///< m: no trench over ends and corners is shorter; 0: not known
  bool exact = false;                    ///< and none is
  bool blocked = false;                  ///< an end cannot be reached
};

/// Up to so many ends the shortest trench is found exactly (Dreyfus and Wagner, Networks 1, 1971).
inline constexpr std::size_t kExactEnds = 8;

/// The shortest trench that branches at its ends and at the corners of what stands in the way. Beyond
/// `exactEnds`: the shortest tree over the ends, to which the corner that saves most is added until none
/// saves.
SharedTrench sharedTrench(const Ground& ground, const std::vector<Vec2>& ends,
                          std::size_t exactEnds = kExactEnds);

/// m that must be dug, whatever the plan, so that the ends of each net are joined by trenches that branch at
/// ends and corners (dual ascent, Wong, Mathematical Programming 28, 1984).
double diggingBound(const Ground& ground, const std::vector<std::vector<Vec2>>& nets);

}  // namespace yw::routes
