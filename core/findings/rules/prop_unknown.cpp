// Verdict: a prop whose sizes are refused, or whose pixel product is not known, so nothing is computed for
// it.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void propUnknown(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [id, error] : a.shapeErrors) {
    Finding finding = begin(a, rule, Severity::WontWork, id);
    finding.condition = "sizes";
    finding.used = 2.0;
    finding.figure = error.where;
    finding.limit = std::string();
    finding.sentence = {"prop_refused",
                        {{"prop", label(a, id)}, {"why", base::text(error, settings(a.yard).units)}}};
    finding.advice = {"prop_refused_advice", {{"prop", label(a, id)}}};
    out.push_back(std::move(finding));
  }
  for (const auto& [id, prop] : all<Prop>(a.yard)) {
    if (productOf(a.yard, *prop)) continue;
    Finding finding = begin(a, rule, Severity::WontWork, id);
    finding.condition = "product";
    finding.used = 2.0;
    finding.figure = std::string();
    finding.limit = std::string();
    finding.sentence = {"prop_without_product", {{"prop", label(a, id)}}};
    finding.advice = {"prop_without_product_advice", {{"prop", label(a, id)}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
