#pragma once
#include <atomic>

#include "core/circuit/margin.h"

namespace yw::circuit {

/// margins() for a job in the background: where `stop` is set while it works, what it gives is not whole.
Margins marginsUnless(const std::atomic<bool>& stop, const yard::Yard& yard, const Shapes& shapes,
                      const Routes& routes, const Layouts& layouts, const Belief& belief = {});

}  // namespace yw::circuit
