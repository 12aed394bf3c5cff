// Verdict: a pixel has less than its product's lowest volts for true white, but lights.
// Judged at the brightness limit; full white is told beside it (and is the limit when that is 100 %).
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {

/// Share of the headroom (nominal down to lowest) from which it is told as close. Our own judgement.
constexpr double kClose = 0.85;

double usedHeadroom(const Product& product, double volts) {
  const double nominal = base::volts(product.voltage).si, lowest = base::volts(product.lowestVolts).si;
  return nominal > lowest ? (nominal - volts) / (nominal - lowest) : (volts < lowest ? 2.0 : 0.0);
}

/// The lit, fed place that uses most of its headroom; the number of places when there is none.
std::size_t worstPlace(const assess::Assessment& a, const circuit::RunLayout& layout,
                       const circuit::RunFigure& figure) {
  std::size_t worst = layout.pixels.size();
  double most = -1e9;
  for (std::size_t i = 0; i < layout.pixels.size(); ++i) {
    const Product* product = productAt(a, layout, i);
    if (!product || !figure.fed[i] || figure.volts[i] < base::volts(product->darkVolts).si) continue;
    const double used = usedHeadroom(*product, figure.volts[i]);
    if (used > most) {
      most = used;
      worst = i;
    }
  }
  return worst;
}

}  // namespace

void lowVolts(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [runId, figure] : a.limit.runs) {
    const auto layout = a.layouts.find(runId);
    if (layout == a.layouts.end() || figure.noOperatingPoint) continue;
    const std::size_t worst = worstPlace(a, *layout->second, figure);
    if (worst == layout->second->pixels.size()) continue;
    const Product& product = *productAt(a, *layout->second, worst);
    const double used = usedHeadroom(product, figure.volts[worst]);
    Severity severity{};
    if (!grade(used, kClose, Severity::WontWork, severity)) continue;
    Finding finding = begin(a, rule, severity, runId);
    const auto place = static_cast<std::int64_t>(worst) + 1;
    pointAt(a, finding, runId, place);
    finding.condition = kAtLimit;
    finding.used = used;
    finding.figure = base::toVoltage({figure.volts[worst]});
    finding.limit = product.lowestVolts;
    noteAssumed(a, finding, productIdAt(a, *layout->second, worst));
    const auto full = a.fullWhite.runs.find(runId);
    const double fullVolts = full == a.fullWhite.runs.end() ? 0.0 : full->second.volts[worst];
    finding.sentence = {severity == Severity::WontWork ? "low_volts" : "low_volts_close",
                        {{"prop", label(a, finding.prop)},
                         {"run", label(a, runId)},
                         {"pixel", finding.pixel},
                         {"place", place},
                         {"volts", finding.figure},
                         {"limit", finding.limit},
                         {"full", base::toVoltage({fullVolts})}}};
    finding.advice = {"low_volts_advice", {{"prop", label(a, finding.prop)}, {"pixel", finding.pixel}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
