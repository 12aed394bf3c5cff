// Verdict: chips that need other data (channels, bits, rate, header) on one run.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {
bool sameData(const Product& x, const Product& y) {
  return x.channels == y.channels && x.bits == y.bits && x.bitRate == y.bitRate &&
         x.headerBits == y.headerBits && x.chip == y.chip;
}
}  // namespace

void mixedChips(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [runId, data] : a.data.runs) {
    const Product* first = data.products.empty() ? nullptr : find<Product>(a.yard, data.products.front());
    if (!first) continue;
    for (const Id other : data.products) {
      const Product* product = find<Product>(a.yard, other);
      if (!product || sameData(*first, *product)) continue;
      Finding finding = begin(a, rule, Severity::WontWork, runId);
      finding.used = 2.0;
      finding.figure = product->chip;
      finding.limit = first->chip;
      finding.sentence = {"mixed_chips",
                          {{"run", label(a, runId)},
                           {"a", first->name},
                           {"b", product->name},
                           {"chip_a", first->chip},
                           {"chip_b", product->chip}}};
      finding.advice = {"mixed_volts_advice", {{"b", product->name}}};
      out.push_back(std::move(finding));
      break;
    }
  }
}

}  // namespace yw::findings::verdicts
