#pragma once
// How sure it is that a run's pixels stay above their limits, at the brightness limit.
//
// First order in the space of the standard normal unknowns: gradients by reciprocity on the true solver, the
// most likely point of failure by the steps of Hasofer and Lind (1974) and Rackwitz and Fiessler (1978).
// Where the chance is neither next to nothing nor next to certain, line sampling (Koutsourelakis, Pradlwarter
// and Schuëller, 2004) then corrects it: along a fixed set of lines in that direction the true solver's edge
// of failure is found, so that the drop-out of pixels, another pixel becoming the lowest and overloads count
// as they are. Pixels' and contacts' own differences enter to first order. Nothing in it is random.
#include "core/circuit/unknowns.h"

namespace yw::circuit {

/// What measured values leave of the unknowns: their covariance, as a square of unknowns.size(). An unknown
/// that is not in it is as the spreads say (variance 1, alone).
struct Belief {
  std::vector<Unknown> unknowns;  ///< rising
  std::vector<double> covariance;
};

/// 95 times in 100 the lowest volts are above RunMargin::likely.
inline constexpr double kLikely = 0.95;

struct RunMargin {
  std::int64_t place = 0;  ///< 1-based: the pixel with the least headroom as planned
  double volts = 0.0;      ///< there, as planned
  double limit = 0.0;      ///< V that it needs
  double likely = 0.0;     ///< V: 95 times in 100 the volts there are above, the limit of others alike
  double deviation = 0.0;  ///< V, standard deviation
  double chance = 0.0;     ///< that some pixel of the run is below its limit
  struct Share {
    Unknown unknown;
    double share;  ///< of the variance; all together 1. Below 0 where measured values tie unknowns together
  };
  std::vector<Share> shares;  ///< largest first
};

struct Margins {
  std::map<Id, RunMargin> runs;  ///< without those that have no fed pixel or no operating point
  std::int64_t solves = 0;
};

/// `yard`: as measured values teach it (fit.h), or as planned.
Margins margins(const yard::Yard& yard, const Shapes& shapes, const Routes& routes, const Layouts& layouts,
                const Belief& belief = {});

/// Lower triangle L with L·Lᵀ the matrix of n rows.
std::vector<double> choleskyOf(std::vector<double> matrix, std::size_t n);

}  // namespace yw::circuit
