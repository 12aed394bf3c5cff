#pragma once
#include <atomic>
#include <vector>

#include "core/propose/whole_plan.h"

// What a setting costs: the same yard planned at several values of it, each by the planners and the circuit.
namespace yw::propose {

/// The yard planned at one brightness limit: supplies, ports, feeds and outlets as the planners would have
/// them, with what is there used first.
struct BrightnessRow {
  base::Ratio limit;
  std::int64_t feeds = 0, supplies = 0;  ///< feeds; supplies that give anything
  double cost = 0.0;                     ///< wiring and feeds of the plan, and supplies added
  double amps = 0.0, lineAmps = 0.0;     ///< out of all supplies; from the house
  std::int64_t cannot = 0;               ///< limits that cannot be met
  std::int64_t grave = 0;                ///< findings of Danger and Won't work that are left
  bool now = false;                      ///< the yard's own limit
};

/// At 20, 30, 40, 50, 60, 80 and 100 % and at the yard's own limit, rising. `stop` ends it before the next.
std::vector<BrightnessRow> brightnessTradeOff(const assess::AssessmentPtr& assessment,
                                              const std::atomic<bool>& stop);

}  // namespace yw::propose
