// Verdict: the standing leakage of all supplies on one GFCI reaches what it may trip at (won't work) or what
// the yard plans on (close).
#include "core/circuit/code.h"
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void gfciLeakage(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  const base::Current budget = settings(a.yard).leakageBudget;
  for (const auto& [id, figure] : a.limit.circuits) {
    const HouseCircuit* circuit = find<HouseCircuit>(a.yard, id);
    if (!circuit || !circuit->groundFault || figure.leakage <= 0.0) continue;
    const double used = figure.leakage / circuit::kGroundFaultHolds;
    Severity severity{};
    if (!grade(used, base::amps(budget).si / circuit::kGroundFaultHolds, Severity::WontWork, severity))
      continue;
    Finding finding = begin(a, rule, severity, id);
    finding.condition = "standing";
    finding.used = used;
    finding.figure = base::toCurrent({figure.leakage});
    finding.limit = severity == Severity::WontWork ? base::toCurrent({circuit::kGroundFaultHolds}) : budget;
    for (const auto& [supplyId, supply] : all<Supply>(a.yard)) {
      const Outlet* outlet = find<Outlet>(a.yard, supply->outlet);
      if (outlet && outlet->circuit == id) noteAssumed(a, finding, supplyId);
    }
    finding.sentence = {severity == Severity::WontWork ? "gfci_leakage" : "gfci_leakage_close",
                        {{"circuit", label(a, id)},
                         {"leakage", finding.figure},
                         {"count", figure.supplies},
                         {"limit", finding.limit}}};
    finding.advice = {"gfci_leakage_advice", {{"circuit", label(a, id)}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
