// Verdict: a port gives more amps than its contacts may carry. Full white is told beside it.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {
constexpr double kClose = 0.9;  // our own judgement
}

void portAmps(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [portId, amps] : a.limit.portAmps) {
    const Port* port = find<Port>(a.yard, portId);
    if (!port || port->limit.count <= 0) continue;
    const double limit = base::amps(port->limit).si;
    Severity severity{};
    if (!grade(amps / limit, kClose, Severity::WontWork, severity)) continue;
    Finding finding = begin(a, rule, severity, portId);
    const Id run = runOnPort(a.yard, portId);
    if (run) finding.subjects.push_back(run);
    pointAt(a, finding, run, 1);
    finding.condition = kAtLimit;
    finding.used = amps / limit;
    finding.figure = base::toCurrent({amps});
    finding.limit = port->limit;
    const auto full = a.fullWhite.portAmps.find(portId);
    finding.sentence = {
        "port_amps",
        {{"port", label(a, portId)},
         {"amps", finding.figure},
         {"limit", finding.limit},
         {"full", base::toCurrent({full == a.fullWhite.portAmps.end() ? 0.0 : full->second})}}};
    finding.advice = {"port_amps_advice",
                      {{"port", label(a, portId)}, {"over", base::toCurrent({amps - limit})}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
