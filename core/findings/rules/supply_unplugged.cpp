// Verdict, a note: a supply carries load but nothing says which outlet it uses, so no house circuit counts
// it.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void supplyUnplugged(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [id, figure] : a.limit.supplies) {
    const Supply* supply = find<Supply>(a.yard, id);
    if (!supply || supply->outlet || figure.amps <= 0) continue;
    Finding finding = begin(a, rule, Severity::Note, id);
    finding.used = 1.0;
    finding.figure = base::toCurrent({figure.amps});
    finding.limit = std::string();
    finding.sentence = {"supply_unplugged", {{"supply", label(a, id)}, {"amps", finding.figure}}};
    finding.advice = {"supply_unplugged_advice", {{"supply", label(a, id)}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
