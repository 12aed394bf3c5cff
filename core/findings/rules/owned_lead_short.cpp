// Verdict: a lead that is owned does not reach; or no way round the obstacles was found.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void ownedLeadShort(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [key, cable] : a.routes.cables) {
    if (!cable.tooShort && !cable.blocked) continue;
    Finding finding = begin(a, rule, Severity::WontWork, cable.record ? cable.record : key.of);
    finding.condition = cable.label;
    finding.figure = cable.cutLength;
    finding.limit = said(a, cable.length());
    finding.used = cable.cutLength.count > 0 ? cable.length() / base::metres(cable.cutLength).si : 2.0;
    if (cable.blocked) {
      finding.used = 2.0;
      finding.remedyKey.clear();
    }
    finding.sentence = {cable.blocked ? "way_blocked" : "owned_lead_short",
                        {{"cable", cable.label},
                         {"length", finding.figure},
                         {"needed", finding.limit},
                         {"from", cable.fromText},
                         {"to", cable.toText}}};
    finding.advice = {cable.blocked ? "way_blocked_advice" : "owned_lead_short_advice",
                      {{"cable", cable.label}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
