// Verdict: data comes to a run without the 0 V of the board that sends it, so that its levels mean nothing.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

void zeroOpen(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [run, open] : a.faults().zeroOpen) {
    Finding finding = begin(a, rule, Severity::WontWork, run);
    finding.subjects.push_back(open.board);
    pointAt(a, finding, run, open.at.place);
    finding.figure = std::int64_t{0};
    finding.limit = std::int64_t{1};
    finding.used = 2.0;
    finding.sentence = {"zero_open",
                        {{"run", label(a, run)},
                         {"board", label(a, open.board)},
                         {"prop", label(a, finding.prop)},
                         {"pixel", finding.pixel}}};
    finding.advice = {
        "zero_open_advice",
        {{"board", label(a, open.board)}, {"prop", label(a, finding.prop)}, {"pixel", finding.pixel}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
