// Verdict, a note: a prop that is only an idea, or rests this year, is still strung, so volts, ports and
// addresses count it although the parts do not.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void restingStrung(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [id, prop] : all<Prop>(a.yard)) {
    const bool resting = prop->status == PropStatus::NotThisYear;
    const auto wired = a.wiredIn.find(id);
    if ((!resting && prop->status != PropStatus::Idea) || wired == a.wiredIn.end() || wired->second.empty())
      continue;
    const std::string run = label(a, wired->second.front().first);
    Finding finding = begin(a, rule, Severity::Note, id);
    finding.condition = resting ? "not_this_year" : "idea";
    finding.used = 1.0;
    finding.figure = std::string();
    finding.limit = std::string();
    finding.sentence = {resting ? "resting_strung" : "idea_strung", {{"prop", label(a, id)}, {"run", run}}};
    finding.advice = {"resting_strung_advice", {{"prop", label(a, id)}, {"run", run}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
