#pragma once
#include <nlohmann/json_fwd.hpp>

#include "core/assess/assess.h"

namespace yw::papers {

/// What the house gives, as the check's JSON carries it: supplies, boxes, cords, outlets, circuits, energy,
/// and the usual fuse and wire of each loaded port and fuse position. Units in the names.
nlohmann::ordered_json mainsJson(const assess::Assessment& assessment);

}  // namespace yw::papers
