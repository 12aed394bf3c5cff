#pragma once
#include <cstdint>
#include <map>
#include <vector>

#include "core/circuit/power.h"

namespace yw::circuit {

/// Where a cable stands in the network: numbers into Network::conductors, -1: it has no such conductor.
struct CablePlace {
  std::int64_t positive = -1, zero = -1;
};

/// A feed's landing in the network.
struct FeedPlace {
  Id fusePosition, run;
  std::size_t chain = 0, place = 0;  ///< 0-based place along the run
  double fuseOhms = 0.0;
  std::int32_t supplyPositive = -1, supplyZero = -1;
};

/// The network of a yard with the way back from its parts to the records.
struct YardNetwork {
  Network network;
  std::vector<Id> chainRun;
  std::map<CableKey, CablePlace> cables;   ///< those that are no part of a chain
  std::map<Id, std::size_t> supplySource;  ///< index into Network::sources
  std::map<Id, FeedPlace> feeds;           ///< by cable record
};

YardNetwork buildYard(const yard::Yard& yard, const Shapes& shapes, const Routes& routes,
                      const Layouts& layouts, Condition condition);

}  // namespace yw::circuit
