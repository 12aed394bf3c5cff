// Verdict: a receiver is farther from its controller than the differential pair reaches.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void receiverReach(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  const double limit = base::metres(settings(a.yard).receiverReach).si;
  for (const auto& [id, length] : a.data.receiverLink) {
    Severity severity{};
    if (limit <= 0 || !grade(length / limit, 0.95, Severity::WontWork, severity)) continue;
    Finding finding = begin(a, rule, severity, id);
    finding.used = length / limit;
    finding.figure = said(a, length);
    finding.limit = said(a, limit);
    finding.sentence = {"receiver_reach",
                        {{"receiver", label(a, id)}, {"length", finding.figure}, {"limit", finding.limit}}};
    finding.advice = {"receiver_reach_advice",
                      {{"receiver", label(a, id)}, {"over", said(a, std::max(0.0, length - limit))}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
