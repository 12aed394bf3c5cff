// What is to be dug: trenches drawn, and the ways along the ground that lie in none.
#include <algorithm>
#include <set>

#include "core/routes/routes.h"
#include "core/routes/terrain.h"

namespace yw::routes {

namespace {

using Piece = std::pair<Spot, Spot>;
using Line = std::vector<Spot>;

/// Straight pieces on the plan, each place of them once where they lie on one another.
class Pieces {
 public:
  void add(Spot a, Spot b) {
    if (a == b) return;
    if (b < a) std::swap(a, b);
    for (const Piece& piece : pieces_) {
      if (turn(piece.first, piece.second, a) != 0 || turn(piece.first, piece.second, b) != 0) continue;
      // On one line: spots along a line stand in the order of their coordinates.
      if (b <= piece.first || piece.second <= a) continue;
      if (a < piece.first) add(a, piece.first);
      if (piece.second < b) add(piece.second, b);
      return;
    }
    pieces_.insert({a, b});
  }
  double length() const {
    double sum = 0.0;
    for (const auto& [a, b] : pieces_) sum += base::distance(vecOf(a), vecOf(b));
    return sum;
  }

 private:
  std::set<Piece> pieces_;
};

}  // namespace

Digging diggingOf(const yard::Yard& yard, const Routes& routes) {
  Digging out;
  Pieces pieces;
  for (const auto& [id, feature] : yard::all<yard::GroundFeature>(yard)) {
    if (feature->kind != yard::FeatureKind::Trench || feature->dug) continue;
    const Line line = withoutRepeats(feature->outline);
    for (std::size_t i = 0; i + 1 < line.size(); ++i) pieces.add(line[i], line[i + 1]);
  }
  for (const auto& [key, cable] : routes.cables)
    for (std::size_t i = 0; i < cable.lays.size(); ++i) {
      if (cable.lays[i] == Lay::Above) continue;
      const Vec2 a = base::plan(cable.path[i]), b = base::plan(cable.path[i + 1]);
      out.oneEach += base::distance(a, b);
      if (cable.lays[i] == Lay::Ground) pieces.add(spotOf(a), spotOf(b));
    }
  out.length = pieces.length();
  return out;
}

}  // namespace yw::routes
