// Verdict: a prop, box or lead end stands in an area where nothing may be driven or stood.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"
#include "core/yard/this_year.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {
void tell(const assess::Assessment& a, const Rule& rule, Id id, const std::vector<base::Vec2>& places,
          std::vector<Finding>& out) {
  for (const base::Vec2 place : places) {
    const std::vector<Id> areas = a.ground->keepOutsAt(place);
    if (areas.empty()) continue;
    const GroundFeature* area = find<GroundFeature>(a.yard, areas.front());
    // On the public strip nothing is hurt; whose ground it is decides.
    const bool strip = area && area->kind == FeatureKind::PublicStrip;
    Finding finding = begin(a, rule, strip ? Severity::Note : Severity::Danger, id);
    finding.subjects.push_back(areas.front());
    finding.used = 2.0;
    finding.figure = std::string();  // inside or not: no share of a limit
    finding.limit = std::string();
    finding.place = {place.x, place.y, 0.0};
    const bool buried = area && area->kind == FeatureKind::BuriedLine;
    const bool reason = area && !area->reason.empty();
    finding.sentence = {strip    ? (reason ? "keep_out_strip" : "keep_out_strip_bare")
                        : buried ? (reason ? "keep_out_buried" : "keep_out_buried_bare")
                                 : "keep_out",
                        {{"what", label(a, id)},
                         {"area", label(a, areas.front())},
                         {"reason", reason ? area->reason : std::string("no reason written")}}};
    finding.advice = {"keep_out_advice", {{"what", label(a, id)}}};
    out.push_back(std::move(finding));
    return;
  }
}
}  // namespace

void keepOut(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [id, prop] : all<Prop>(a.yard)) {
    const auto shape = a.shapes.find(id);
    if (prop->wall || shape == a.shapes.end() || rests(*prop)) continue;
    const shapes::Placement placement = shapes::placementOf(a.yard, *prop);
    std::vector<base::Vec2> outline{placement.at};
    for (const base::Vec2 corner : shape->second->footprint)
      outline.push_back(base::plan(placement.toYard({corner.x, corner.y, 0})));
    tell(a, rule, id, outline, out);
  }
  for (const auto& [id, box] : all<Box>(a.yard))
    if (!box->wall) tell(a, rule, id, {base::vec(box->at)}, out);
}

}  // namespace yw::findings::verdicts
