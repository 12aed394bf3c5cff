// Verdict: pixels of different voltage on one run, or a supply of another voltage than its pixels: too much
// burns them.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {

/// Supplies are commonly adjustable by ±15 % (a 350 W data sheet); beyond it the volts are simply other
/// volts.
constexpr double kTrim = 0.15 + 1e-9;

std::vector<Id> suppliesOf(const assess::Assessment& a, Id runId, const Run& run) {
  std::vector<Id> all;
  const auto add = [&](Id supply) {
    if (supply && std::find(all.begin(), all.end(), supply) == all.end()) all.push_back(supply);
  };
  if (run.port && run.portPower) add(supplyOfPort(a, run.port));
  for (const auto& [feed, figure] : a.limit.feeds)
    if (figure.run == runId)
      if (const auto* position = find<FusePosition>(a.yard, figure.fusePosition)) add(position->supply);
  return all;
}

}  // namespace

void mixedVolts(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [runId, data] : a.data.runs) {
    const Run* run = find<Run>(a.yard, runId);
    const Product* first = data.products.empty() ? nullptr : find<Product>(a.yard, data.products.front());
    if (!run || !first) continue;
    for (const Id other : data.products) {
      const Product* product = find<Product>(a.yard, other);
      if (!product || product->voltage == first->voltage) continue;
      Finding finding = begin(a, rule, Severity::Danger, runId);
      finding.condition = "pixels";
      finding.used = 2.0;
      finding.figure = product->voltage;
      finding.limit = first->voltage;
      finding.sentence = {"mixed_volts",
                          {{"run", label(a, runId)},
                           {"a", first->name},
                           {"b", product->name},
                           {"volts_a", first->voltage},
                           {"volts_b", product->voltage}}};
      finding.advice = {"mixed_volts_advice", {{"b", product->name}}};
      out.push_back(std::move(finding));
      break;
    }
    for (const Id supplyId : suppliesOf(a, runId, *run)) {
      const Supply* supply = find<Supply>(a.yard, supplyId);
      const double ratio = supply ? base::volts(supply->voltage).si / base::volts(first->voltage).si : 1.0;
      if (ratio > 1 - kTrim && ratio < 1 + kTrim) continue;
      Finding finding = begin(a, rule, ratio > 1 ? Severity::Danger : Severity::WontWork, runId);
      finding.subjects.push_back(supplyId);
      finding.condition = "supply";
      finding.remedyKey.clear();
      finding.used = ratio > 1 ? ratio : 1 / ratio;
      finding.figure = supply->voltage;
      finding.limit = first->voltage;
      finding.sentence = {ratio > 1 ? "supply_volts_high" : "supply_volts_low",
                          {{"run", label(a, runId)},
                           {"supply", label(a, supplyId)},
                           {"product", first->name},
                           {"volts", supply->voltage},
                           {"nominal", first->voltage}}};
      finding.advice = {"supply_volts_advice", {{"supply", label(a, supplyId)}, {"nominal", first->voltage}}};
      out.push_back(std::move(finding));
    }
  }
}

}  // namespace yw::findings::verdicts
