#pragma once
#include <cstdint>
#include <vector>

// Which supply is plugged in where, on plain figures; circuits_of_yard.cpp makes these from a yard.
namespace yw::propose {

/// A supply with its cord.
struct PlugUnit {
  double amps = 0.0;     ///< A from the line
  double leakage = 0.0;  ///< A to earth, standing
};
struct PlugOutlet {
  std::int32_t circuit = 0;  ///< index into PlugJob::circuits
  double most = 0.0;         ///< A on one receptacle
  std::int32_t places = 2;   ///< plugs it takes; with more, all goes through one receptacle
  std::int32_t taken = 0;    ///< plugs that stay there anyway
  double takenAmps = 0.0;    ///< and what they carry
};
struct PlugCircuit {
  double amps = 0.0;        ///< A that may be planned on, other loads taken off
  double leakage = 1e9;     ///< A to earth that may be planned on
  std::int32_t units = 99;  ///< that may start together
};
struct PlugJob {
  std::vector<PlugUnit> units;
  std::vector<PlugOutlet> outlets;
  std::vector<PlugCircuit> circuits;
  std::vector<std::vector<double>> cost;  ///< [unit][outlet]; infinity: cannot be
};

struct PlugPlan {
  std::vector<std::int32_t> outlet;  ///< per unit; -1: no place
  double cost = 0.0;                 ///< of those that have one
  double bound = 0.0;                ///< with every unit plugged in, no plan costs less
  bool optimal = false;
};

/// Cheapest plugging that breaks no limit and leaves as few units out as can be: a search with bounds, given
/// up after `states` steps with the best so far.
PlugPlan planPlugs(const PlugJob& job, std::int64_t states = 300'000);
/// Every limit kept.
bool plugsHold(const PlugJob& job, const std::vector<std::int32_t>& outlet);

/// Loads into supplies: fewest new supplies so that none gives more than it may.
struct PackJob {
  std::vector<double> loads;      ///< A
  std::vector<std::int32_t> now;  ///< supply each load hangs on; -1: none
  std::vector<double> room;       ///< A each supply that is there may give
  double newRoom = 0.0;           ///< A a new supply may give
};
struct PackPlan {
  std::vector<std::int32_t> supply;  ///< per load; from room.size() on: new ones; -1: too large for any
  std::int32_t added = 0;            ///< new supplies
  std::int32_t bound = 0;            ///< no fewer can do
  std::int32_t moved = 0;            ///< loads that hang elsewhere than now
};
/// Fewest new supplies, then fewest loads moved.
PackPlan packLoads(const PackJob& job, std::int64_t states = 200'000);

}  // namespace yw::propose
