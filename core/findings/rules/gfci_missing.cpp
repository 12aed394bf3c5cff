// Verdict: supplies are plugged into a circuit without GFCI protection where the yard's code edition wants it
// outdoors.
#include "core/circuit/code.h"
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void gfciMissing(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  const CodeEdition edition = settings(a.yard).codeEdition;
  const circuit::GroundFaultScope scope = circuit::groundFaultScope(edition);
  for (const auto& [id, figure] : a.limit.circuits) {
    const HouseCircuit* circuit = find<HouseCircuit>(a.yard, id);
    if (!circuit || circuit->groundFault || figure.supplies == 0) continue;
    if (base::volts(circuit->voltage).si > scope.volts || base::amps(circuit->breaker).si > scope.breaker)
      continue;
    Finding finding = begin(a, rule, Severity::Danger, id);
    finding.used = 2.0;
    finding.figure = circuit->voltage;
    finding.limit = base::toVoltage({scope.volts});
    finding.source = circuit::inCode(edition, circuit::CodeRule::GroundFaultOutdoors);
    finding.sentence = {"gfci_missing",
                        {{"circuit", label(a, id)},
                         {"count", figure.supplies},
                         {"volts", circuit->voltage},
                         {"breaker", circuit->breaker},
                         {"most_volts", finding.limit},
                         {"most_amps", base::toCurrent({scope.breaker})}}};
    finding.advice = {"gfci_missing_advice", {{"circuit", label(a, id)}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
