#pragma once
// Pixels along the sides of a figure, each side on its own: floor(side / p) with half-pitch ends, corners not
// shared.
#include <string>
#include <vector>

#include "core/shapes/builder.h"

namespace yw::shapes {

struct Outline {
  std::vector<Vec3> corners;  ///< in string order
  bool closed = false;
  std::vector<std::string> sides;  ///< name of each side; empty: `side 1` …
  std::string startName, endName;  ///< landmarks of the two ends
  bool sideParts = false;          ///< each side is a named part too
};

/// Sum over sides. At most 100 million a side.
std::int64_t countOutline(const Outline& outline, double pitch);

/// The finished shape: a row a side, joints at the corners; strip as material; wind area by the strip's
/// width. `sizeField` is what a refusal names. Warns of sides too short for a pixel.
base::Result<Shape> makeOutline(const Outline& outline, const yard::Prop& prop, const std::string& sizeField);

/// Corners of Prop::path in the front plane (x, z) or, for ground props, on the ground (x, y); refuses too
/// few points and neighbours at the same place.
base::Result<std::vector<Vec3>> pathCorners(const yard::Prop& prop, bool onGround, bool closed);

}  // namespace yw::shapes
