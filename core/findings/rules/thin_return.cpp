// Verdict: the 0 V of a lead carries back more than the lead's own V+ brings: the return of another supply,
// which no fuse of this lead watches, against what its wire may carry.
#include "core/circuit/code.h"
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {

/// Share of the wire's limit from which it is told as close. Our own judgement.
constexpr double kClose = 0.75;

double zeroOf(const circuit::Power& power, const routes::CableKey& key) {
  const auto figure = power.cables.find(key);
  return figure == power.cables.end() || !foreignReturn(figure->second) ? 0.0
                                                                        : std::abs(figure->second.zeroAmps);
}

}  // namespace

void thinReturn(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [key, figure] : a.fullWhite.cables) {
    const auto cable = a.routes.cables.find(key);
    if (cable == a.routes.cables.end()) continue;
    const Wire* wire = find<Wire>(a.yard, cable->second.wire);
    const double limit = wire ? routes::limitOf(*wire).si : 0.0;
    if (limit <= 0.0) continue;
    const double atLimit = zeroOf(a.limit, key), atFull = zeroOf(a.fullWhite, key);
    const bool over = atLimit > limit * (1 + 1e-6), fullOver = !over && atFull > limit * (1 + 1e-6);
    if (!over && !fullOver && atLimit < kClose * limit) continue;
    Finding finding = begin(a, rule, over ? Severity::Danger : Severity::CloseToLimit, key.of);
    finding.condition = std::string(fullOver ? kAtFullWhite : kAtLimit) + " " + cable->second.label;
    const double amps = fullOver ? atFull : atLimit;
    const auto& own = (fullOver ? a.fullWhite : a.limit).cables.at(key);
    finding.used = amps / limit;
    finding.figure = base::toCurrent({amps});
    finding.limit = base::toCurrent({limit});
    finding.source = circuit::inEdition(settings(a.yard).codeEdition, routes::limitSource(*wire));
    finding.sentence = {"thin_return",
                        {{"cable", cable->second.label},
                         {"amps", finding.figure},
                         {"own", base::toCurrent({std::abs(own.positiveAmps)})},
                         {"wire", wire->name},
                         {"limit", finding.limit}}};
    finding.advice = {
        "thin_return_advice",
        {{"cable", cable->second.label}, {"amps", base::toCurrent({amps - std::abs(own.positiveAmps)})}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
