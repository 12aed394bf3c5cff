// Verdict: V+ and 0 V touching at the far end behind a fuse would not open it: the wire carries the current
// for as long as the supply gives it. Danger where that is more than 135 % of what the wire may carry: less
// is accepted of every wire whose fuse is not above its limit.
#include "core/circuit/fuse_curve.h"
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;
using circuit::kOpensFrom;

void shortNotCleared(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [id, fault] : a.faults().shorts) {
    if (fault.end != circuit::PartShort::End::Stays || fault.amps <= 0.0) continue;
    const bool hot = fault.wireLimit > 0.0 && fault.wireAmps > kOpensFrom * fault.wireLimit * (1 + 1e-6);
    Finding finding = begin(a, rule, hot ? Severity::Danger : Severity::CloseToLimit, id);
    if (fault.feed) finding.subjects.push_back(fault.feed);
    finding.condition = kFault;
    pointAt(a, finding, fault.at.run, fault.at.place);
    const bool fused = fault.fuse.count > 0;
    const double opens = base::amps(fault.fuse).si * kOpensFrom;
    finding.figure = base::toCurrent({fault.amps});
    finding.limit = base::toCurrent({hot ? fault.wireLimit : opens});
    finding.used = hot ? fault.wireAmps / fault.wireLimit : fused ? opens / fault.amps : 1.0;
    finding.sentence = {fused ? (hot ? "short_hot" : "short_stays") : "short_no_fuse",
                        {{"gate", label(a, id)},
                         {"fuse", fault.fuse},
                         {"prop", label(a, finding.prop)},
                         {"pixel", finding.pixel},
                         {"amps", finding.figure},
                         {"opens", base::toCurrent({opens})},
                         {"wire", base::toCurrent({fault.wireLimit})}}};
    finding.advice = {fused ? "short_advice" : "short_no_fuse_advice",
                      {{"gate", label(a, id)}, {"amps", base::toCurrent({fault.amps / kOpensFrom})}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
