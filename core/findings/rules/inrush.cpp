// Verdict, a note: more supplies start together on one breaker than the yard allows.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void inrush(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  const std::int64_t most = settings(a.yard).suppliesAtOnce;
  for (const auto& [id, figure] : a.limit.circuits) {
    const HouseCircuit* circuit = find<HouseCircuit>(a.yard, id);
    if (!circuit || circuit->staggered || most < 1 || figure.supplies <= most) continue;
    Finding finding = begin(a, rule, Severity::Note, id);
    finding.condition = "cold start";
    finding.used = static_cast<double>(figure.supplies) / static_cast<double>(most);
    finding.figure = figure.supplies;
    finding.limit = most;
    for (const auto& [supplyId, supply] : all<Supply>(a.yard)) {
      const Outlet* outlet = find<Outlet>(a.yard, supply->outlet);
      if (outlet && outlet->circuit == id) noteAssumed(a, finding, supplyId);
    }
    finding.sentence = {"inrush",
                        {{"circuit", label(a, id)},
                         {"count", figure.supplies},
                         {"amps", base::toCurrent({figure.inrush})},
                         {"breaker", circuit->breaker},
                         {"limit", most}}};
    finding.advice = {"inrush_advice", {{"circuit", label(a, id)}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
