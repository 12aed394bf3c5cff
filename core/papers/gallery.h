#pragma once
#include <string>

#include "core/base/message.h"

namespace yw::papers {

/// Every kind of prop at its usual sizes, drawn from the front with its figures: one HTML page that needs
/// nothing else.
std::string gallery(base::UnitSystem units);

}  // namespace yw::papers
