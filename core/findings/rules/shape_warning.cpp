// Verdict, a note: what the shape itself says of its sizes, e.g. a topper too small for its strips.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void shapeWarning(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [id, shape] : a.shapes)
    for (const base::Message& warning : shape->warnings) {
      Finding finding = begin(a, rule, Severity::Note, id);
      finding.condition = warning.key;
      finding.used = 1.0;
      finding.figure = std::string();
      finding.limit = std::string();
      finding.sentence = {"shape_warning",
                          {{"prop", label(a, id)}, {"what", base::text(warning, settings(a.yard).units)}}};
      finding.advice = {"prop_refused_advice", {{"prop", label(a, id)}}};
      out.push_back(std::move(finding));
    }
}

}  // namespace yw::findings::verdicts
