// Verdict: the load at the brightness limit is over 75 % of the fuse (close) or over all of it.
#include "core/catalog/conductors.h"
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {

struct FuseLoad {
  Id id;
  double amps;
  base::Current fuse;
};

std::vector<FuseLoad> loads(const assess::Assessment& a, const circuit::Power& power) {
  std::vector<FuseLoad> all;
  for (const auto& [port, amps] : power.portAmps)
    if (const Port* p = find<Port>(a.yard, port)) all.push_back({port, amps, p->fuse});
  for (const auto& [feed, figure] : power.feeds)
    if (const auto* p = find<FusePosition>(a.yard, figure.fusePosition))
      all.push_back({figure.fusePosition, figure.amps, p->fuse});
  return all;
}

}  // namespace

void fuseLoad(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  const double usable = base::fraction(settings(a.yard).fuseUsable);
  for (const auto& [id, amps, fuse] : loads(a, a.limit)) {
    const double rating = base::amps(fuse).si;
    if (rating <= 0) continue;
    Severity severity{};
    if (!grade(amps / rating, usable, Severity::WontWork, severity)) continue;
    Finding finding = begin(a, rule, severity, id);
    finding.condition = kAtLimit;
    finding.used = amps / rating;
    finding.figure = base::toCurrent({amps});
    finding.limit = severity == Severity::WontWork ? fuse : base::toCurrent({rating * usable});
    finding.sentence = {severity == Severity::WontWork ? "fuse_load_over" : "fuse_load",
                        {{"position", label(a, id)},
                         {"amps", finding.figure},
                         {"fuse", fuse},
                         {"limit", finding.limit},
                         {"usable", settings(a.yard).fuseUsable}}};
    const base::Current larger = catalog::smallestFuse({amps}, usable);
    finding.advice = {larger.count > 0 ? "fuse_load_advice" : "fuse_load_most_advice",
                      {{"position", label(a, id)}, {"amps", finding.figure}, {"fuse", larger}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
