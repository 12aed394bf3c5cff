#pragma once
#include <atomic>
#include <functional>
#include <set>
#include <span>
#include <string>

#include "core/propose/plan.h"

// The planners one after the other, each on what the one before it has left.
namespace yw::propose {

struct PlanPart {
  const char* key;  ///< `ports`; its wording is plan_title_<key> and plan_part_<key>
  YardPlan (*plan)(const assess::AssessmentPtr&);
};
/// In the order in which they follow from each other.
std::span<const PlanPart> planParts();

/// Steps that a person leaves out: a part's key and what its step is about, by label (`ports`, `K1-P05`).
using LeftOut = std::set<std::pair<std::string, std::string>>;

struct WholePlan {
  struct Made {
    const PlanPart* part;
    YardPlan plan;
    std::vector<std::pair<std::string, PlanStep>> leftOut{};  ///< what would have been done as well, by name
  };
  std::vector<Made> parts;
  assess::AssessmentPtr after;  ///< the yard with all of them done
  edit::Change change;          ///< all of them as one
  bool met = true;              ///< no part has a limit that cannot be met
  bool stopped = false;         ///< given up before the last part; those that stand are whole
  LeftOut unknown;              ///< of those to leave out: there is no such step
};

/// The parts whose keys are wanted. `stop` ends it before the next part begins; `begins` (may be empty) is
/// told each part as it begins, on this thread. A part with a step to leave out is planned again with what
/// that step is about kept as it is, and the parts after it on what that gives: so what remains holds.
WholePlan planWhole(const assess::AssessmentPtr& assessment, const std::set<std::string>& wanted,
                    const std::atomic<bool>& stop, const std::function<void(const PlanPart&)>& begins = {},
                    const LeftOut& leftOut = {});

/// Money as people write it, to the cent, in the yard's currency.
std::string money(const yard::Yard& yard, double amount);

/// What a part does in one line: things changed, cost before and after, how near the best.
base::Message titleOf(const WholePlan::Made& made, const yard::Yard& yard);

}  // namespace yw::propose
