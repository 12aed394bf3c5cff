// Verdict: more goes through one receptacle than 80 % of its rating (won't work) or all of it (danger). More
// plugs than places need a strip, and then all goes through one.
#include "core/circuit/code.h"
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void receptacleLoad(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [id, figure] : a.limit.mains.outlets) {
    const Outlet* outlet = find<Outlet>(a.yard, id);
    Severity severity{};
    if (!outlet || figure.limit <= 0.0 ||
        !grade(figure.worst / figure.limit, 0.9, Severity::WontWork, severity))
      continue;
    if (figure.worst > base::amps(outlet->receptacle).si) severity = Severity::Danger;
    Finding finding = begin(a, rule, severity, id);
    finding.condition = kAtLimit;
    finding.used = figure.worst / figure.limit;
    finding.figure = base::toCurrent({figure.worst});
    finding.limit = base::toCurrent({figure.limit});
    finding.source = circuit::inCode(settings(a.yard).codeEdition, circuit::CodeRule::ReceptacleLoad);
    for (const auto& [supplyId, supply] : all<Supply>(a.yard))
      if (supply->outlet == id) noteAssumed(a, finding, supplyId);
    const bool strip = figure.plugs > outlet->sockets;
    finding.sentence = {strip ? "receptacle_strip" : "receptacle_load",
                        {{"outlet", label(a, id)},
                         {"amps", finding.figure},
                         {"limit", finding.limit},
                         {"rating", outlet->receptacle},
                         {"plugs", figure.plugs},
                         {"sockets", outlet->sockets}}};
    finding.advice = {
        "receptacle_load_advice",
        {{"outlet", label(a, id)}, {"over", base::toCurrent({std::max(0.0, figure.worst - figure.limit)})}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
