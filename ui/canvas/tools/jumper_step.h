#pragma once
// Pulling a lead or jumper of a run aside, through a prop.
#include <optional>
#include <set>

#include "core/assess/assess.h"
#include "core/edit/change.h"

namespace yw::ui {

struct JumperStep {
  edit::Change change;  ///< empty: it cannot be done, `refusal` says why
  base::Message refusal;
  bool reversed = false;  ///< data enters at the prop's last pixel
};

/// What pulling the cable before `item` of `run` through `prop` would do: the prop comes into the run there.
/// One that is wired elsewhere as one stretch is taken out there. It is entered so that both leads together
/// are shortest, unless `reversed` says at which end.
JumperStep pullThrough(const assess::Assessment& a, base::Id run, std::int64_t item, base::Id prop,
                       std::optional<bool> reversed = std::nullopt);

/// Data enters each wired prop of `ids` at its other end. Those it was done to.
std::set<base::Id> turnRound(edit::Editor& editor, const std::set<base::Id>& ids);

}  // namespace yw::ui
