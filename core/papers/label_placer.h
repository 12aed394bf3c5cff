#pragma once
#include <cstdint>
#include <vector>

#include "core/papers/sketch.h"

namespace yw::papers {

/// What is taken on a part of a page, in squares of half a millimetre.
class Occupancy {
 public:
  enum class Weight : std::uint8_t { Free = 0, Soft = 1, Hard = 2 };
  explicit Occupancy(const Rect& area);
  void markRect(const Rect& rect, Weight weight);
  void markLine(Mm a, Mm b, double halfWidth, Weight weight);
  /// A rectangle about `center`, turned by degrees anticlockwise on paper.
  void markTurned(Mm center, double w, double h, double turn, Weight weight);
  const Rect& area() const { return area_; }
  struct Cost {
    int hard = 0, soft = 0;
    bool outside = false;
  };
  Cost cost(Mm center, double w, double h, double turn) const;

 private:
  template <class Visit>
  void visitTurned(Mm center, double w, double h, double turn, Visit visit) const;
  void mark(long column, long row, Weight weight);
  Rect area_;
  long columns_, rows_;
  std::vector<std::uint8_t> cells_;
};

/// Where a label came to stand.
struct PlacedLabel {
  Rect box;
  Mm leaderFrom, leaderTo;  ///< equal: no leader needed
  bool clear = true;        ///< covers no prop and no other label
};

/// Puts a label of w × h beside `target`, as near as nothing hard is covered: right, left, above, below, then
/// between, then farther out with a leader to `anchors` (the target's own points; its center when empty). The
/// same input gives the same place. No farther than `mostGap` mm.
PlacedLabel placeBeside(Occupancy& taken, const Rect& target, const std::vector<Mm>& anchors, double w,
                        double h, double mostGap = 40.0);

/// A label along a line.
struct LineLabel {
  bool placed = false;
  Mm at;              ///< middle of the base line
  double turn = 0.0;  ///< degrees, never upside down
};
/// Along the longest clear piece of the path, just above it; not placed when nothing is long enough or clear.
LineLabel placeAlong(Occupancy& taken, const std::vector<Mm>& path, double w, double h);

}  // namespace yw::papers
