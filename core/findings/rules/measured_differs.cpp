// Verdict: a measured value that the model cannot explain within the spreads. It was left out of the figures.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

void measuredDiffers(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const circuit::Reading& r : a.fit.readings) {
    if (r.state != circuit::Reading::State::DoesNotFit) continue;
    const bool worse = r.volts ? r.measured < r.expected : r.measured > r.expected;
    Finding finding = begin(a, rule, worse ? Severity::CloseToLimit : Severity::Note, r.measurement);
    if (r.run) pointAt(a, finding, r.run, r.place);
    finding.condition = r.volts ? "volts" : "amps";
    const auto fact = [&](double value) -> Fact {
      if (r.volts) return base::toVoltage({value});
      return base::toCurrent({value});
    };
    finding.figure = fact(r.measured);
    finding.limit = fact(r.expected);
    finding.used = std::abs(r.off) / circuit::kDoesNotFit;
    finding.sentence = {"measured_differs",
                        {{"where", placeOfMeasurement(a, r.measurement)},
                         {"measured", finding.figure},
                         {"expected", finding.limit},
                         {"within", fact(circuit::kDoesNotFit * r.deviation)}}};
    finding.advice = {worse ? "measured_worse_advice" : "measured_better_advice",
                      {{"where", placeOfMeasurement(a, r.measurement)}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
