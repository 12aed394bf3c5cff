// Verdict: a mains cord, with those before it, loses more of the line than the yard allows (close), or leaves
// less than supplies are made for (won't work).
#include "core/circuit/code.h"
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void cordDrop(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  const double allowed = base::fraction(settings(a.yard).cordDrop);
  for (const auto& [key, figure] : a.limit.mains.cords) {
    const auto cable = a.routes.cables.find(key);
    Severity severity{};
    // From the limit on only: below it a long cord is what it is.
    if (cable == a.routes.cables.end() || allowed <= 0.0 ||
        !grade(figure.lostShare / allowed, 1.0, Severity::CloseToLimit, severity))
      continue;
    const bool tooLow = circuit::lowLineShare(figure.farVolts) <= 0.0;
    Finding finding = begin(a, rule, tooLow ? Severity::WontWork : severity, key.of);
    finding.condition = kAtLimit;
    finding.used = figure.lostShare / allowed;
    finding.figure = base::toRatio(figure.lostShare);
    finding.limit = settings(a.yard).cordDrop;
    finding.source = circuit::inCode(settings(a.yard).codeEdition, circuit::CodeRule::DropAdvice);
    noteAssumed(a, finding, key.of);
    finding.sentence = {tooLow ? "cord_drop_low" : "cord_drop",
                        {{"cord", cable->second.label},
                         {"lost", finding.figure},
                         {"limit", finding.limit},
                         {"volts", base::toVoltage({figure.farVolts})},
                         {"length", said(a, figure.wholeLength)},
                         {"amps", base::toCurrent({figure.amps})}}};
    finding.advice = {"cord_drop_advice", {{"cord", cable->second.label}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
