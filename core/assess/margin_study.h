#pragma once
#include <atomic>

#include "core/assess/assess.h"

namespace yw::assess {

/// margins() for a job in the background: given up, and false, once `stop` is set.
bool studyMargins(const Assessment& a, const std::atomic<bool>& stop);

}  // namespace yw::assess
