// Verdict: as planned the run has enough volts, but the spreads of pixels, contacts, wire and supplies leave
// it a chance of going low above what the yard allows. Judged at the brightness limit, once the margins are
// known.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void lowMargin(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  const circuit::Margins* margins = assess::marginsIfKnown(a);
  if (margins == nullptr) return;
  const base::Ratio allowed = settings(a.yard).lowChance;
  for (const auto& [run, margin] : margins->runs) {
    // Low as planned is another rule's.
    if (margin.volts < margin.limit || margin.shares.empty()) continue;
    const base::Ratio chance{base::roundedCount(margin.chance * 1e6)};
    if (chance <= allowed) continue;
    Finding finding = begin(a, rule, Severity::CloseToLimit, run);
    pointAt(a, finding, run, margin.place);
    finding.condition = kAtLimit;
    finding.figure = chance;
    finding.limit = allowed;
    finding.used = static_cast<double>(chance.count) / static_cast<double>(allowed.count);
    if (const auto layout = a.layouts.find(run); layout != a.layouts.end())
      noteAssumed(a, finding, productIdAt(a, *layout->second, static_cast<std::size_t>(margin.place) - 1));
    const auto& most = margin.shares.front();
    finding.sentence = {"low_margin",
                        {{"prop", label(a, finding.prop)},
                         {"pixel", finding.pixel},
                         {"volts", base::toVoltage({margin.volts})},
                         {"likely", base::toVoltage({margin.likely})},
                         {"limit", base::toVoltage({margin.limit})},
                         {"chance", chance},
                         {"most", unknownText(a, most.unknown)},
                         {"share", base::Ratio{base::roundedCount(most.share * 100.0) * 10'000}}}};
    finding.advice = {
        "low_margin_advice",
        {{"prop", label(a, finding.prop)}, {"pixel", finding.pixel}, {"most", unknownText(a, most.unknown)}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
