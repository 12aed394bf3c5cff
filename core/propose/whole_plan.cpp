#include "core/propose/whole_plan.h"

#include <cmath>

namespace yw::propose {

namespace {

YardPlan feeds(const assess::AssessmentPtr& a) { return planFeedsOf(a); }

constexpr PlanPart kParts[] = {{"controllers", planControllersOf},
                               {"sites", planSitesOf},
                               {"supplies", planSuppliesOf},
                               {"ports", planPortsOf},
                               {"feeds", feeds},
                               {"circuits", planCircuitsOf},
                               {"addresses", planAddressesOf},
                               {"covers", planCoversOf}};

}  // namespace

std::string money(const yard::Yard& yard, double amount) {
  const auto cents = static_cast<std::int64_t>(std::llround(amount * 100));
  const std::string part = std::to_string(100 + cents % 100).substr(1);
  return yard::settings(yard).currency + std::to_string(cents / 100) + "." + part;
}

std::span<const PlanPart> planParts() { return kParts; }

WholePlan planWhole(const assess::AssessmentPtr& assessment, const std::set<std::string>& wanted,
                    const std::atomic<bool>& stop, const std::function<void(const PlanPart&)>& begins) {
  WholePlan whole;
  whole.after = assessment;
  for (const PlanPart& part : kParts) {
    if (!wanted.contains(part.key)) continue;
    if (stop) {
      whole.stopped = true;
      break;
    }
    if (begins) begins(part);
    whole.parts.push_back({&part, part.plan(whole.after)});
    const YardPlan& plan = whole.parts.back().plan;
    whole.met = whole.met && plan.cannot.empty();
    if (plan.change.empty()) continue;
    whole.after = assess::assess(edit::apply(whole.after->yard, plan.change), whole.after);
    whole.change = whole.change.empty() ? plan.change : edit::combined(whole.change, plan.change);
  }
  return whole;
}

base::Message titleOf(const WholePlan::Made& made, const yard::Yard& yard) {
  std::set<Id> subjects;
  for (const PlanStep& step : made.plan.steps)
    if (step.subject) subjects.insert(step.subject);
  return {std::string("plan_title_") + made.part->key,
          {{"before", money(yard, made.plan.costBefore)},
           {"after", money(yard, made.plan.costAfter)},
           {"gap", std::llround(made.plan.gap() * 100)},
           {"count", static_cast<std::int64_t>(subjects.size())}}};
}

}  // namespace yw::propose
