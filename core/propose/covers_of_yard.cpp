// Covers or ducts where cables must cross walks and drives: one a way, however many cables lie in it.
#include <map>

#include "core/propose/plan.h"
#include "core/yard/labels.h"

namespace yw::propose {

using namespace yw::yard;

YardPlan planCoversOf(const assess::AssessmentPtr& assessment) {
  const assess::Assessment& a = *assessment;
  std::map<Id, std::int64_t> cables;
  for (const auto& [key, cable] : a.routes.cables)
    for (const Id way : cable.crosses) ++cables[way];
  YardPlan out;
  edit::Editor editor(a.yard);
  for (const auto& [way, count] : cables) {
    if (!find<GroundFeature>(a.yard, way) || keptAsIs(a.yard, way, "cover")) continue;
    editor.update<GroundFeature>(way, [](GroundFeature& f) { f.crossingAllowed = true; });
    out.steps.push_back({way, {"plan_cover", {{"way", labelOf(a.yard, way)}, {"count", count}}}});
    out.costAfter += coverPrice(a.yard, way);
  }
  out.bound = out.costAfter;
  out.change = editor.finish(base::text(
      base::Message{"plan_covers_done", {{"count", static_cast<std::int64_t>(out.steps.size())}}}));
  return out;
}

}  // namespace yw::propose
