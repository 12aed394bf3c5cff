// Verdict: pixels stay dark: no supply reaches them, their volts are under the product's dark figure, or
// constant-power loads leave no operating point.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {

struct Dark {
  std::int64_t count = 0, unfed = 0, first = 1;
};

Dark darkPlaces(const assess::Assessment& a, const circuit::RunLayout& layout,
                const circuit::RunFigure& figure) {
  Dark dark;
  for (std::size_t i = 0; i < layout.pixels.size(); ++i) {
    const Product* product = productAt(a, layout, i);
    if (!product) continue;
    const bool unfed = !figure.fed[i];
    if (!unfed && figure.volts[i] >= base::volts(product->darkVolts).si) continue;
    if (dark.count++ == 0) dark.first = static_cast<std::int64_t>(i) + 1;
    dark.unfed += unfed ? 1 : 0;
  }
  return dark;
}

}  // namespace

void willNotLight(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [runId, figure] : a.limit.runs) {
    const auto layout = a.layouts.find(runId);
    if (layout == a.layouts.end() || layout->second->pixels.empty()) continue;
    const Run* run = find<Run>(a.yard, runId);
    const Dark dark = darkPlaces(a, *layout->second, figure);
    if (dark.count == 0 && !figure.noOperatingPoint) continue;
    if (run && !run->port && dark.unfed == static_cast<std::int64_t>(layout->second->pixels.size())) continue;
    const std::int64_t place = figure.noOperatingPoint ? figure.weakestPixel : dark.first;
    Finding finding = begin(a, rule, Severity::WontWork, runId);
    pointAt(a, finding, runId, place);
    finding.condition = kAtLimit;
    const auto all = static_cast<std::int64_t>(layout->second->pixels.size());
    finding.used = 2.0 + static_cast<double>(dark.count) / static_cast<double>(all);
    finding.figure = dark.count;
    finding.limit = std::int64_t{0};
    finding.sentence.facts = {{"run", label(a, runId)},
                              {"prop", label(a, finding.prop)},
                              {"pixel", finding.pixel},
                              {"count", dark.count},
                              {"all", all},
                              {"factor", base::toRatio(figure.loadFactor)}};
    finding.sentence.key = figure.noOperatingPoint    ? "no_operating_point"
                           : dark.unfed == dark.count ? "not_fed"
                                                      : "will_not_light";
    finding.advice = {"will_not_light_advice", {{"prop", label(a, finding.prop)}, {"pixel", finding.pixel}}};
    const Port* port = run && run->portPower ? find<Port>(a.yard, run->port) : nullptr;
    if (port && finding.sentence.key == "not_fed" && !supplyOfPort(a, run->port))
      finding.advice = {"section_without_supply_advice",
                        {{"section", port->section}, {"controller", label(a, port->owner)}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
