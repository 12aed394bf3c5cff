// Verdict: V+ and 0 V touching at the far end behind a fuse would not open it: the wire carries the current
// for as long as the supply gives it. Danger where that is more than twice what the wire may always carry:
// four times the heat. That share is our own judgement, no source; the yard's wire limits are on the safe
// side.
#include "core/catalog/conductors.h"
#include "core/circuit/fuse_curve.h"
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;
using circuit::kOpensFrom;

namespace {

constexpr double kHotShare = 2.0;

/// A smaller fuse is advised only where one of the series opens in time and would last.
Message advice(const assess::Assessment& a, Id gate, const circuit::ShortFigure& fault) {
  const base::Current fuse = catalog::largestFuseUpTo({fault.amps / kOpensFrom});
  const double usable = base::amps(fuse).si * base::fraction(settings(a.yard).fuseUsable);
  const bool lasts = fuse.count > 0 && ampsThrough(a, gate) <= usable;
  const char* key = !lasts                  ? "short_feed_advice"
                    : fault.fuse.count <= 0 ? "short_no_fuse_advice"
                                            : "short_advice";
  return {key, {{"gate", label(a, gate)}, {"fuse", fuse}}};
}

}  // namespace

void shortNotCleared(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [id, fault] : a.faults().shorts) {
    if (fault.end != circuit::PartShort::End::Stays || fault.amps <= 0.0) continue;
    const bool fused = fault.fuse.count > 0, known = fault.wireLimit > 0.0;
    const double share = known ? fault.wireAmps / fault.wireLimit : 1.0;
    if (fused && share <= 1.0 && known) continue;
    Finding finding = begin(a, rule, share > kHotShare ? Severity::Danger : Severity::CloseToLimit, id);
    if (fault.feed) finding.subjects.push_back(fault.feed);
    finding.condition = kFault;
    pointAt(a, finding, fault.at.run, fault.at.place);
    const double opens = base::amps(fault.fuse).si * kOpensFrom;
    finding.figure = base::toCurrent({known ? fault.wireAmps : fault.amps});
    finding.limit = base::toCurrent({known ? fault.wireLimit : opens});
    finding.used = share;
    finding.sentence = {fused ? (known ? "short_hot" : "short_stays") : "short_no_fuse",
                        {{"gate", label(a, id)},
                         {"fuse", fault.fuse},
                         {"prop", label(a, finding.prop)},
                         {"pixel", finding.pixel},
                         {"amps", base::toCurrent({fault.amps})},
                         {"hot", base::toCurrent({fault.wireAmps})},
                         {"opens", base::toCurrent({opens})},
                         {"wire", base::toCurrent({fault.wireLimit})}}};
    finding.advice = advice(a, id, fault);
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
