// Verdict: a supply gives more than its rating (won't work) or more than the part the yard plans on (close).
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void supplyLoad(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  const double usable = base::fraction(settings(a.yard).supplyUsable);
  for (const auto& [id, figure] : a.limit.supplies) {
    const Supply* supply = find<Supply>(a.yard, id);
    if (!supply) continue;
    const double rated = base::amps(supply->ratedAmps).si;
    Severity severity{};
    if (rated <= 0 || !grade(figure.amps / rated, usable, Severity::WontWork, severity)) continue;
    Finding finding = begin(a, rule, severity, id);
    finding.condition = kAtLimit;
    finding.used = figure.amps / rated;
    finding.figure = base::toCurrent({figure.amps});
    finding.limit = severity == Severity::WontWork ? supply->ratedAmps : base::toCurrent({rated * usable});
    const auto full = a.fullWhite.supplies.find(id);
    finding.sentence = {
        "supply_load",
        {{"supply", label(a, id)},
         {"amps", finding.figure},
         {"limit", finding.limit},
         {"rated", supply->ratedAmps},
         {"full", base::toCurrent({full == a.fullWhite.supplies.end() ? 0.0 : full->second.amps})}}};
    finding.advice = {
        "supply_load_advice",
        {{"supply", label(a, id)}, {"over", base::toCurrent({std::max(0.0, figure.amps - rated * usable)})}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
