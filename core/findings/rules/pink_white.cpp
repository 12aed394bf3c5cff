// Verdict: white turns pink: green and blue have lost light for want of volts while red still has it. The
// weakest color against the strongest, judged pixel by pixel at the brightness limit.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void pinkWhite(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  const double least = base::fraction(settings(a.yard).tintLimit);
  for (const auto& [runId, tint] : a.limit.tints) {
    if (tint.firstPlace == 0 || tint.whiteness >= least) continue;
    Finding finding = begin(a, rule, Severity::CloseToLimit, runId);
    pointAt(a, finding, runId, tint.firstPlace);
    finding.condition = kAtLimit;
    finding.used = 1.0 + (least - tint.whiteness);  // 1 at the limit
    finding.figure = base::toRatio(tint.whiteness);
    finding.limit = settings(a.yard).tintLimit;
    // Less than half a percent is gone.
    finding.sentence = {tint.whiteness < 0.005 ? "pink_white_gone" : "pink_white",
                        {{"run", label(a, runId)},
                         {"prop", label(a, finding.prop)},
                         {"pixel", finding.pixel},
                         {"count", tint.count},
                         {"worst", finding.figure}}};
    finding.advice = {"pink_white_advice", {{"prop", label(a, finding.prop)}, {"pixel", finding.pixel}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
