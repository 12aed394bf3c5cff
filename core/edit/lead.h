#pragma once
#include "core/edit/change.h"

namespace yw::edit {

/// The record of the lead or jumper before that stretch of a run (0-based among its items), made if it has
/// none yet, so that something can be said of it. None where the item is no stretch.
Id leadRecord(Editor& editor, Id run, std::int64_t item);

}  // namespace yw::edit
