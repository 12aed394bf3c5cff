// Verdict: two runs use the same universe and slot.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void addressOverlap(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const data::Overlap& overlap : a.data.overlaps) {
    Finding finding = begin(a, rule, Severity::WontWork, overlap.runA);
    finding.subjects.push_back(overlap.runB);
    finding.used = 2.0;
    finding.figure = std::to_string(overlap.first.universe) + "." + std::to_string(overlap.first.slot);
    finding.limit = std::string();
    finding.sentence = {"address_overlap",
                        {{"a", label(a, overlap.runA)},
                         {"b", label(a, overlap.runB)},
                         {"universe", overlap.first.universe},
                         {"slot", overlap.first.slot}}};
    finding.advice = {"address_overlap_advice", {{"b", label(a, overlap.runB)}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
