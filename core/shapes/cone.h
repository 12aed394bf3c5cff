#pragma once
#include "core/shapes/shape.h"

namespace yw::shapes {

/// What a cone tree starts with; the geometry is the same for big and small ones.
struct ConeUsual {
  Length height, baseDiameter, topDiameter, pitch;
  std::int64_t strips;
};

/// Sizes, choices and making of a cone tree; the caller gives name, label and help.
Kind coneKind(const ConeUsual& usual);

}  // namespace yw::shapes
