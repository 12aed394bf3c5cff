#pragma once
#include <vector>

#include "core/routes/lattice.h"
#include "core/yard/yard.h"

namespace yw::routes {

/// Something that leads go round. A solid one has closed rings with its inside on the left hand (outlines
/// anticlockwise, holes clockwise). A fence is one chain without an inside; a closed fence repeats no spot.
struct Obstacle {
  base::Id feature;
  bool solid = true;
  bool closed = true;  ///< a fence may be open
  std::vector<std::vector<Spot>> rings;
};

/// An outline as a region with an inside; keep-outs and buried lines are grown by their tolerance.
struct Region {
  base::Id feature;
  std::vector<std::vector<Spot>> rings;
};

enum class Side { Inside, Boundary, Outside };
Side sideOf(const std::vector<std::vector<Spot>>& rings, Spot spot);

/// A line's corners without repeats.
std::vector<Spot> withoutRepeats(const std::vector<base::Point>& points);

/// Outline without repeated spots, anticlockwise; empty when it encloses nothing.
std::vector<Spot> cleanOutline(const std::vector<base::Point>& outline);

/// The region grown by `by` metres all round with mitred corners (bevelled where a miter would be longer than
/// 5 times `by`): one or more regions, with holes where the growth closed round a court.
std::vector<std::vector<std::vector<Spot>>> grown(const std::vector<std::vector<Spot>>& rings, double by);

/// The strip within `by` metres of a line, its ends as far beyond it.
std::vector<std::vector<std::vector<Spot>>> stripAlong(const std::vector<Spot>& line, double by);

/// Closes gaps of 5 mm and less, since a lead is thicker than that: fences whose ends meet become one, the
/// end of a fence at another is drawn on 12 mm across it, and an outline that touches another or a fence
/// grows by 6 mm.
void seal(std::vector<Obstacle>& obstacles);

/// Whether leads go round this feature: house, tree, water, keep-out or fence, unless the person said not.
bool blocks(const yard::GroundFeature& feature);

/// What leads go round: what blocks them, and the walks and drives that are never crossed.
std::vector<Obstacle> obstaclesOf(const yard::Yard& yard);

/// Walks and drives whose crossing is not provided for.
std::vector<Region> crossingsOf(const yard::Yard& yard);
/// Keep-outs, buried lines with their tolerance and the public strip: where nothing is driven or stood.
std::vector<Region> keepOutsOf(const yard::Yard& yard);
/// The tolerance of a buried line; a hand's width on either side where none is said.
double toleranceOf(const yard::GroundFeature& line);

}  // namespace yw::routes
