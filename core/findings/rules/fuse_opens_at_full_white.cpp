// Verdict, a note: should the data ever ask for full white, this fuse opens. That is what it is for; worth
// knowing.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void fuseOpensAtFullWhite(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  const auto tell = [&](Id id, double amps, double atLimit, base::Current fuse) {
    const double rating = base::amps(fuse).si;
    if (rating <= 0 || amps <= rating || atLimit > rating) return;
    Finding finding = begin(a, rule, Severity::Note, id);
    finding.condition = kAtFullWhite;
    finding.used = amps / rating;
    finding.figure = base::toCurrent({amps});
    finding.limit = fuse;
    finding.sentence = {"fuse_opens_at_full_white",
                        {{"position", label(a, id)}, {"amps", finding.figure}, {"fuse", fuse}}};
    finding.advice = {"fuse_opens_advice", {}};
    out.push_back(std::move(finding));
  };
  for (const auto& [portId, amps] : a.fullWhite.portAmps) {
    const Port* port = find<Port>(a.yard, portId);
    const auto limit = a.limit.portAmps.find(portId);
    if (port) tell(portId, amps, limit == a.limit.portAmps.end() ? 0.0 : limit->second, port->fuse);
  }
  for (const auto& [feed, figure] : a.fullWhite.feeds) {
    const auto* position = find<FusePosition>(a.yard, figure.fusePosition);
    const auto limit = a.limit.feeds.find(feed);
    if (position)
      tell(figure.fusePosition, figure.amps, limit == a.limit.feeds.end() ? 0.0 : limit->second.amps,
           position->fuse);
  }
}

}  // namespace yw::findings::verdicts
