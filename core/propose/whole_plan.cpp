#include "core/propose/whole_plan.h"

#include <algorithm>
#include <cmath>

#include "core/yard/labels.h"

namespace yw::propose {

namespace {

YardPlan feeds(const assess::AssessmentPtr& a) { return planFeedsOf(a); }

constexpr PlanPart kParts[] = {{"controllers", planControllersOf},
                               {"sites", planSitesOf},
                               {"supplies", planSuppliesOf},
                               {"ports", planPortsOf},
                               {"feeds", feeds},
                               {"circuits", planCircuitsOf},
                               {"trenches", planTrenchesOf},
                               {"addresses", planAddressesOf},
                               {"covers", planCoversOf}};

/// Steps of the plan that are among those to leave out; the names that were found are taken off `names`.
std::vector<std::pair<std::string, PlanStep>> chosenOf(const YardPlan& plan, const yard::Yard& before,
                                                       std::set<std::string>& names) {
  std::vector<std::pair<std::string, PlanStep>> chosen;
  if (names.empty()) return chosen;
  const yard::Yard after = edit::apply(before, plan.change);
  std::set<std::string> found;
  for (const PlanStep& step : plan.steps) {
    const std::string label = step.subject ? yard::labelOf(after, step.subject) : std::string();
    if (!names.contains(label)) continue;
    found.insert(label);
    chosen.emplace_back(label, step);
  }
  for (const std::string& name : found) names.erase(name);
  return chosen;
}

/// The part with what the chosen steps are about kept as it is; the marks for that do not stay.
YardPlan planWithout(const PlanPart& part, const assess::AssessmentPtr& now,
                     const std::vector<std::pair<std::string, PlanStep>>& chosen) {
  edit::Editor marks(now->yard);
  std::vector<Id> added;
  for (const auto& [name, step] : chosen)
    for (const Id id : step.keep.empty() ? std::vector<Id>{step.subject} : step.keep)
      if (now->yard.records.contains(id)) added.push_back(marks.add(yard::KeepAsIs{id, {}}));
  const edit::Change marked = marks.finish({});
  YardPlan plan = part.plan(assess::assess(edit::apply(now->yard, marked), now));
  edit::Editor unmarked(edit::apply(edit::apply(now->yard, marked), plan.change));
  unmarked.remove(added);
  plan.change = edit::combined(edit::combined(marked, plan.change), unmarked.finish(plan.change.name));
  return plan;
}

WholePlan::Made make(const PlanPart& part, const assess::AssessmentPtr& now, const LeftOut& leftOut,
                     LeftOut& unknown) {
  WholePlan::Made made{&part, part.plan(now)};
  std::set<std::string> names;
  for (const auto& [key, name] : leftOut)
    if (key == part.key) names.insert(name);
  // What another step does instead may be left out too: looked for again in each plan.
  constexpr int kMostRounds = 4;
  for (int round = 0; round < kMostRounds && !names.empty(); ++round) {
    const auto more = chosenOf(made.plan, now->yard, names);
    if (more.empty()) break;
    made.leftOut.insert(made.leftOut.end(), more.begin(), more.end());
    made.plan = planWithout(part, now, made.leftOut);
  }
  for (const std::string& name : names) unknown.insert({part.key, name});
  return made;
}

}  // namespace

std::string money(const yard::Yard& yard, double amount) {
  const auto cents = static_cast<std::int64_t>(std::llround(amount * 100));
  const std::string part = std::to_string(100 + cents % 100).substr(1);
  return yard::settings(yard).currency + std::to_string(cents / 100) + "." + part;
}

std::span<const PlanPart> planParts() { return kParts; }

WholePlan planWhole(const assess::AssessmentPtr& assessment, const std::set<std::string>& wanted,
                    const std::atomic<bool>& stop, const std::function<void(const PlanPart&)>& begins,
                    const LeftOut& leftOut) {
  WholePlan whole;
  for (const auto& one : leftOut)
    if (!wanted.contains(one.first)) whole.unknown.insert(one);
  whole.after = assessment;
  for (const PlanPart& part : kParts) {
    if (!wanted.contains(part.key)) continue;
    if (stop) {
      whole.stopped = true;
      break;
    }
    if (begins) begins(part);
    whole.parts.push_back(make(part, whole.after, leftOut, whole.unknown));
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
