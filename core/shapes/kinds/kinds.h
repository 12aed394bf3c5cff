#pragma once
// One function a kind, each in the file of its name. registry.cpp lists them in the order of the Place strip.
#include "core/shapes/shape.h"

namespace yw::shapes {

Kind straightStripKind();
Kind archKind();
Kind ringKind();

}  // namespace yw::shapes
