// Verdict: a measured value that cannot be held against the plan.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

void measurementUnused(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  using State = circuit::Reading::State;
  for (const circuit::Reading& r : a.fit.readings) {
    if (r.state == State::Used || r.state == State::DoesNotFit) continue;
    Finding finding = begin(a, rule, Severity::Note, r.measurement);
    finding.condition = r.volts ? "volts" : "amps";
    finding.figure = std::string("1");
    finding.limit = std::string("0");
    finding.used = 1.0;
    const char* key = r.state == State::NoFigure ? "measurement_empty"
                      : r.state == State::NotFed ? "measurement_not_fed"
                                                 : "measurement_not_wired";
    finding.sentence = {key, {{"where", placeOfMeasurement(a, r.measurement)}}};
    finding.advice = {"measurement_unused_advice", {}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
