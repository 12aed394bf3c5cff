// Verdict: a port sends more pixels than its frame time or its controller allows.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void portPixels(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [runId, data] : a.data.runs) {
    const Run* run = find<Run>(a.yard, runId);
    if (!run || !run->port || data.limit() <= 0 || data.slots() <= data.limit()) continue;
    Finding finding = begin(a, rule, Severity::WontWork, runId);
    finding.subjects.push_back(run->port);
    pointAt(a, finding, runId, data.limit() + 1);
    finding.used = static_cast<double>(data.slots()) / static_cast<double>(data.limit());
    finding.figure = data.slots();
    finding.limit = data.limit();
    const bool byFrame = data.limitByController == 0 || data.limitByFrame <= data.limitByController;
    finding.sentence = {byFrame ? "port_pixels_frame" : "port_pixels_controller",
                        {{"run", label(a, runId)},
                         {"port", label(a, run->port)},
                         {"pixels", data.slots()},
                         {"limit", data.limit()},
                         {"rate", settings(a.yard).frameRate},
                         {"over", data.slots() - data.limit()}}};
    finding.advice = {"port_pixels_advice",
                      {{"over", data.slots() - data.limit()}, {"port", label(a, run->port)}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
