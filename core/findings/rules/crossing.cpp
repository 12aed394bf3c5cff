// Verdict: a cable crosses a walk (somebody can trip: danger) or a drive (wheels crush it) without a
// provision.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {
const char* sentenceKey(bool walk, std::size_t count) {
  if (count == 1) return walk ? "crossing_walk_one" : "crossing_drive_one";
  return walk ? "crossing_walk" : "crossing_drive";
}
/// The first three by name, then how many more.
std::string listed(const std::vector<std::string>& cables) {
  std::string text;
  for (std::size_t i = 0; i < cables.size() && i < 3; ++i) text += (i ? ", " : "") + cables[i];
  if (cables.size() > 3) text += " and " + std::to_string(cables.size() - 3) + " more";
  return text;
}
}  // namespace

void crossing(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  // One finding a crossed way: a cover or a duct serves all the cables that use it.
  std::map<Id, std::vector<std::string>> by;
  std::map<Id, base::Vec3> place;
  for (const auto& [key, cable] : a.routes.cables)
    for (const Id way : cable.crosses) {
      by[way].push_back(cable.label);
      if (!cable.path.empty()) place.try_emplace(way, cable.path[cable.path.size() / 2]);
    }
  for (const auto& [way, cables] : by) {
    const GroundFeature* feature = find<GroundFeature>(a.yard, way);
    if (!feature) continue;
    const bool walk = feature->kind == FeatureKind::Walk;
    Finding finding = begin(a, rule, walk ? Severity::Danger : Severity::WontWork, way);
    finding.used = 2.0;  // one cover serves however many cables
    finding.figure = static_cast<std::int64_t>(cables.size());
    finding.limit = std::int64_t{0};
    if (const auto at = place.find(way); at != place.end()) finding.place = at->second;
    finding.sentence = {sentenceKey(walk, cables.size()),
                        {{"way", label(a, way)},
                         {"count", static_cast<std::int64_t>(cables.size())},
                         {"cables", listed(cables)}}};
    finding.advice = {walk ? "crossing_walk_advice" : "crossing_drive_advice", {{"way", label(a, way)}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
