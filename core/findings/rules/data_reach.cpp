// Verdict: the data must cross a longer gap than its driver reaches, from a port or from pixel to pixel.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {

constexpr double kClose = 0.95;  // our own judgement

/// 1-based place of the first pixel of an item along the run; 0 if it has none.
std::int64_t firstPlace(const circuit::RunLayout& layout, std::int64_t item) {
  for (std::size_t i = 0; i < layout.pixels.size(); ++i)
    if (layout.pixels[i].item == item) return static_cast<std::int64_t>(i) + 1;
  return 0;
}

}  // namespace

void dataReach(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [runId, data] : a.data.runs) {
    for (const data::Hop& hop : data.hops) {
      Severity severity{};
      if (hop.limit <= 0 || !grade(hop.length / hop.limit, kClose, Severity::WontWork, severity)) continue;
      Finding finding = begin(a, rule, severity, runId);
      const Run* run = find<Run>(a.yard, runId);
      const Id reached = run && hop.item < static_cast<std::int64_t>(run->items.size())
                             ? run->items[static_cast<std::size_t>(hop.item)].prop
                             : Id{};
      pointAt(a, finding, runId, firstPlace(*a.layouts.at(runId), hop.item));
      finding.condition = run ? gapName(a, *run, hop.item) : std::string();
      finding.used = hop.length / hop.limit;
      finding.figure = said(a, hop.length);
      finding.limit = said(a, hop.limit);
      finding.sentence = {hop.fromPort ? "controller_reach" : "jumper_reach",
                          {{"run", label(a, runId)},
                           {"prop", reached ? label(a, reached) : label(a, runId)},
                           {"length", finding.figure},
                           {"limit", finding.limit}}};
      finding.advice = {severity == Severity::CloseToLimit ? "reach_close_advice" : "reach_advice",
                        {{"over", said(a, std::max(0.0, hop.length - hop.limit))}}};
      out.push_back(std::move(finding));
    }
  }
}

}  // namespace yw::findings::verdicts
