#pragma once
#include <cstddef>
#include <cstdint>

#include "core/papers/drawing.h"

namespace yw::papers {

/// Colors as 0xRRGGBB.
/// Cividis at 0..1, clamped; not a number counts as 0.
std::uint32_t cividis(double part);

/// The i-th (0-based) of the eight kinds of Okabe & Ito (2008), Color Universal Design, black first.
std::uint32_t kindColor(std::size_t i);

/// Black on white: the inks of print, PDF and SVG.
std::uint32_t paperColor(Role role);

}  // namespace yw::papers
