#pragma once
// What the engine says of a change while the hand still holds it: reach and volts.
#include <QStringList>
#include <optional>
#include <set>

#include "core/findings/findings.h"

namespace yw::ui {

/// The lead that is nearest to its reach, or furthest beyond it.
struct WorstLead {
  base::Id run;
  std::string label;                 ///< of the cable, `K1-P01-A`
  double length = 0.0, limit = 0.0;  ///< m
};

/// The lit pixel that has least to spare above what its product needs, at the brightness limit.
struct WorstPixel {
  base::Id run, prop;
  std::int64_t pixel = 0;            ///< of the prop, 1-based
  double volts = 0.0, needed = 0.0;  ///< V
};

/// Runs that reach one of `things`: a prop on them, the box they start in or are fed from, or the run itself.
std::set<base::Id> runsAt(const assess::Assessment& a, const std::set<base::Id>& things);
/// Among the leads that end at one of `things`; nothing if none does.
std::optional<WorstLead> worstLeadAt(const assess::Assessment& a, const std::set<base::Id>& things);
/// Among all pixels of `runs`; nothing if none of them has a fed pixel.
std::optional<WorstPixel> worstPixelOf(const assess::Assessment& a, const std::set<base::Id>& runs);

/// What stands beside the pointer: reach, and the volts at the worst pixel, with what they were before where
/// that differs. `before` may be null.
QStringList outcomeLines(const assess::Assessment& now, const assess::Assessment* before,
                         const std::set<base::Id>& things, base::UnitSystem units);

/// What would need attention that does not now: Danger and Won't work, the worst two with their sentences and
/// how many more.
QStringList newlyWrongLines(const findings::Report& then, const findings::Report& now,
                            base::UnitSystem units);

/// Of outcomeLines only the volts.
QStringList voltsLines(const assess::Assessment& now, const assess::Assessment* before,
                       const std::set<base::Id>& things, base::UnitSystem units);

}  // namespace yw::ui
