#pragma once
#include <span>

namespace yw::papers {

/// Advance of one character in the font's own units.
struct Advance {
  char32_t code;
  int units;
};

/// One face of B612, characters in the order of their code points.
struct FontFace {
  std::span<const Advance> advances;
  int unitsPerEm;
};

/// Defined in a file made at build time by core/fonts/read_advances.cpp.
const FontFace& fontFace(bool bold, bool mono);

}  // namespace yw::papers
