// Verdict, a note: a prop that is only an idea, or rests this year, is on a run, which goes on past it.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"
#include "core/yard/this_year.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {

/// The cable by which the run goes on past the item; null if nothing of it stands after that.
const routes::RoutedCable* pastItem(const assess::Assessment& a, Id runId, const Run& run,
                                    std::int64_t item) {
  for (auto i = static_cast<std::size_t>(item) + 1; i < run.items.size(); ++i) {
    if (run.items[i].kind != RunItemKind::Stretch) continue;
    const Prop* next = find<Prop>(a.yard, run.items[i].prop);
    if (!next || rests(*next)) continue;
    for (const auto role : {routes::CableRole::Lead, routes::CableRole::Jumper})
      if (const auto it = a.routes.cables.find({role, runId, static_cast<std::int64_t>(i)});
          it != a.routes.cables.end())
        return &it->second;
    return nullptr;
  }
  return nullptr;
}

}  // namespace

void restingStrung(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [id, prop] : all<Prop>(a.yard)) {
    const auto wired = a.wiredIn.find(id);
    if (!rests(*prop) || wired == a.wiredIn.end() || wired->second.empty()) continue;
    const auto [runId, item] = wired->second.back();
    const std::string run = label(a, runId);
    const bool idea = prop->status == PropStatus::Idea;
    Finding finding = begin(a, rule, Severity::Note, id);
    finding.condition = idea ? "idea" : "not_this_year";
    finding.used = 1.0;
    finding.figure = std::string();
    finding.limit = std::string();
    std::map<std::string, base::Fact> facts = {{"prop", label(a, id)}, {"run", run}};
    const routes::RoutedCable* past = pastItem(a, runId, *find<Run>(a.yard, runId), item);
    if (past) {
      facts["length"] = past->cutLength;
      facts["next"] = label(a, past->to.record);
    }
    finding.sentence = {past   ? (idea ? "idea_passed" : "resting_passed")
                        : idea ? "idea_left_out"
                               : "resting_left_out",
                        facts};
    finding.advice = {"resting_strung_advice", facts};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
