// Verdict: a controller would have to take more universes than it accepts.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void universesFull(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [id, count] : a.data.universesOf) {
    const Controller* controller = find<Controller>(a.yard, id);
    if (!controller || controller->universes <= 0 || count <= controller->universes) continue;
    Finding finding = begin(a, rule, Severity::WontWork, id);
    finding.used = static_cast<double>(count) / static_cast<double>(controller->universes);
    finding.figure = count;
    finding.limit = controller->universes;
    finding.sentence = {"universes_full",
                        {{"controller", label(a, id)}, {"count", count}, {"limit", controller->universes}}};
    finding.advice = {"universes_full_advice",
                      {{"controller", label(a, id)}, {"over", count - controller->universes}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
