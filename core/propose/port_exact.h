#pragma once
#include "core/propose/port_plan.h"

namespace yw::propose {

/// Cheapest plan with every part placed, opening costs left out.
struct ExactPorts {
  bool complete = false;  ///< not given up: either found, or there is none below the limit
  bool found = false;     ///< a plan below the limit
  std::vector<PortChain> chains;
};

/// Lists every chain that can be, with its best order, then parts them exactly among the ports: a search over
/// the sets of placed parts and the ports used, cut short where dual prices of the parts say that the rest
/// costs too much. At most 30 parts.
ExactPorts exactPorts(const PortJob& job, double limit, std::int64_t states);

}  // namespace yw::propose
