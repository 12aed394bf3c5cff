#pragma once
#include <nlohmann/json_fwd.hpp>

#include "core/papers/digest.h"

namespace yw::papers {

/// Brightness limit, full white and each color alone; how white each run's white is.
nlohmann::ordered_json conditionsJson(const Digest& digest);
/// What every loss does, shorts behind every fuse, data without its 0 V.
nlohmann::ordered_json faultsJson(const Digest& digest);

}  // namespace yw::papers
