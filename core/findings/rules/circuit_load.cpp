// Verdict: supplies and other loads take more than 80 % of the breaker (won't work) or all of it (danger).
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {
/// NEC 210.20(A): breaker at least 125 % of a continuous load, so the load at most 80 % of the breaker.
constexpr double kContinuous = 0.8;
}  // namespace

void circuitLoad(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [id, figure] : a.limit.circuits) {
    const HouseCircuit* circuit = find<HouseCircuit>(a.yard, id);
    if (!circuit || figure.amps <= 0) continue;
    const double allowed = base::amps(circuit->breaker).si * kContinuous;
    Severity severity{};
    if (!grade(figure.amps / allowed, 0.9, Severity::WontWork, severity)) continue;
    if (figure.amps > base::amps(circuit->breaker).si) severity = Severity::Danger;
    Finding finding = begin(a, rule, severity, id);
    finding.condition = kAtLimit;
    finding.used = figure.amps / allowed;
    finding.figure = base::toCurrent({figure.amps});
    finding.limit = base::toCurrent({allowed});
    finding.source = codeSource(a, rule.source);
    for (const auto& [supplyId, supply] : all<Supply>(a.yard)) {
      const Outlet* outlet = find<Outlet>(a.yard, supply->outlet);
      if (outlet && outlet->circuit == id) noteAssumed(a, finding, supplyId);
    }
    const auto full = a.fullWhite.circuits.find(id);
    finding.sentence = {
        "circuit_load",
        {{"circuit", label(a, id)},
         {"amps", finding.figure},
         {"limit", finding.limit},
         {"breaker", circuit->breaker},
         {"standing", base::toCurrent({figure.standing})},
         {"full", base::toCurrent({full == a.fullWhite.circuits.end() ? 0.0 : full->second.amps})}}};
    finding.advice = {
        "circuit_load_advice",
        {{"circuit", label(a, id)}, {"over", base::toCurrent({std::max(0.0, figure.amps - allowed)})}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
