#pragma once
#include "core/yard/yard.h"

namespace yw::ui {

/// A prop or box that was hung on a wall, or taken off one, keeps its place as nearly as it can: `after`
/// names another wall than `before`, and its place is put from the plan into the wall's own frame or back.
yard::Record rehung(const yard::Yard& yard, const yard::Record& before, yard::Record after);

}  // namespace yw::ui
