#pragma once
#include "core/papers/digest.h"
#include "core/papers/papers.h"

namespace yw::papers {

/// A leg, a strip or a drop of a prop that brings something level.
struct LevelLine {
  enum class What { RowLeg, RingLeg, Strip, Drop } what = What::RowLeg;
  std::int64_t number = 1;  ///< of the leg, strip or ornament, 1-based; strips in string order
  double ground = 0.0;      ///< metres above the yard's zero; for a strip above that under the pole
  base::Length length;      ///< leg or stake above the ground, strip, drop
  std::int64_t pixels = 0;  ///< on the strip
};

/// What levels one prop: its leg in its row and, of a cone tree, the legs of its base ring brought level or
/// its strips with the ring along the ground, where spot heights say that the ground is not level; the drops
/// of a hung line.
std::vector<LevelLine> levelLines(const Digest& digest, Id prop);
std::string levelText(const LevelLine& line);  ///< `leg 3 of the base ring`

/// All of them.
Table levelsTable(const Digest& digest);

}  // namespace yw::papers
