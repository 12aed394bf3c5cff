#pragma once
#include "core/propose/port_plan.h"

namespace yw::propose {

/// What a chain takes from its bank, A.
double bankAmps(const PortJob& job, std::int32_t site, const std::vector<std::int32_t>& nodes);

struct AnnealedPorts {
  std::vector<PortChain> chains;
  double cost = 0.0;  ///< with a penalty for each part that is left out
};
/// One annealing. `bankPrice`: of an ampere over a bank, in shares of a usual arc, at the least.
AnnealedPorts annealPorts(const PortJob& job, std::int64_t tries, std::uint32_t seed, double bankPrice);

}  // namespace yw::propose
