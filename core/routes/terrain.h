#pragma once
#include <vector>

#include "core/routes/obstacles.h"

namespace yw::routes {

/// m: a hair to one side of an outline.
inline constexpr double kBeside = 1e-6;

/// A walk or drive without provision whose crossing has a price.
struct Toll {
  std::vector<std::vector<Spot>> rings;  ///< grown by 6 mm, so that nothing slips along a seam
  double price = 0.0;                    ///< of one crossing, in metres of lead
};

/// A trench or duct: leads in it go under whatever it goes under.
struct Trench {
  base::Id feature;
  std::vector<Spot> line;
};

/// The ground as leads see it.
struct Terrain {
  std::vector<Obstacle> obstacles;
  std::vector<Toll> tolls;
  std::vector<Trench> trenches;
  double trenchShare = 1.0;  ///< what a metre in a trench counts as, 0 < share <= 1
};

/// What the yard's settings say about the ground, as plain figures: two yards with the same features and the
/// same of these have the same terrain.
struct GroundRules {
  bool walkNever = false, driveNever = false;
  double walkToll = 0.0, driveToll = 0.0;  ///< m of lead; 0: crossed at will
  double trenchShare = 1.0;
  bool operator==(const GroundRules&) const = default;
};
/// A crossing's price in metres is that of its cover by that of a metre of the usual lead. In a trench a
/// metre counts as the wire alone, beside it as wire and digging, where digging has a price; else as the
/// settings say.
GroundRules groundRulesOf(const yard::Yard& yard);

Terrain terrainOf(const yard::Yard& yard);

/// Halves of crossings on the straight way from p to q: each passing of a toll's edge pays half its price, so
/// that a way which bends inside pays once. Touching an edge from within counts as leaving.
double tollBetween(const std::vector<Toll>& tolls, Spot p, Spot q);

/// Where an open segment a-b meets the segment c-d in one inner or end place, as a share of a-b.
bool meetsAt(Spot a, Spot b, Spot c, Spot d, double& share);

}  // namespace yw::routes
