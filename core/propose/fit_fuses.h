#pragma once
#include <set>

#include "core/assess/assess.h"
#include "core/edit/change.h"

namespace yw::propose {

/// Makes those of the fuses (fuse positions and ports) smaller that a short at the far end would not open,
/// where one of the series opens in time and carries its load. Each is tried in the whole yard; it stays as
/// it was where its findings would be no fewer, and all do where the yard's would be graver.
void fitFuses(edit::Editor& editor, const assess::AssessmentPtr& before, const std::set<base::Id>& gates);

}  // namespace yw::propose
