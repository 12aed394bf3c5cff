// Verdict: a mains cord carries more than it, its plugs or its length allow (danger), or over 90 % of it
// (close).
#include "core/circuit/code.h"
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void cordLoad(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [key, figure] : a.limit.mains.cords) {
    const auto cable = a.routes.cables.find(key);
    Severity severity{};
    if (cable == a.routes.cables.end() || figure.limit <= 0.0 ||
        !grade(figure.amps / figure.limit, 0.9, Severity::Danger, severity))
      continue;
    Finding finding = begin(a, rule, severity, key.of);
    finding.condition = kAtLimit;
    finding.used = figure.amps / figure.limit;
    finding.figure = base::toCurrent({figure.amps});
    finding.limit = base::toCurrent({figure.limit});
    finding.source = circuit::inEdition(settings(a.yard).codeEdition, figure.limitSource);
    noteAssumed(a, finding, key.of);
    const Wire* wire = find<Wire>(a.yard, cable->second.wire);
    finding.sentence = {"cord_load",
                        {{"cord", cable->second.label},
                         {"wire", wire ? wire->name : std::string("cord")},
                         {"length", said(a, figure.wholeLength)},
                         {"amps", finding.figure},
                         {"limit", finding.limit}}};
    finding.advice = {"cord_load_advice", {{"cord", cable->second.label}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
