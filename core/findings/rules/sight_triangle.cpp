// Verdict: part of a prop stands in a sight triangle between the heights that must stay clear.
#include <algorithm>
#include <cmath>

#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"
#include "core/routes/obstacles.h"
#include "core/yard/this_year.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {

/// A corner kept clear for drivers.
struct Clear {
  Id feature;
  std::vector<std::vector<routes::Spot>> rings;
  double from, to;  ///< metres above the ground; to 0: all the way up
  bool holds(const base::Vec3& p) const {
    return p.z >= from && (to <= from || p.z <= to) &&
           routes::sideOf(rings, routes::spotOf(base::plan(p))) != routes::Side::Outside;
  }
};

std::vector<Clear> clearOf(const Yard& yard) {
  std::vector<Clear> out;
  for (const auto& [id, feature] : all<GroundFeature>(yard)) {
    if (feature->kind != FeatureKind::SightTriangle) continue;
    std::vector<routes::Spot> outline = routes::cleanOutline(feature->outline);
    if (outline.empty()) continue;
    out.push_back(
        {id, {std::move(outline)}, base::metres(feature->clearFrom).si, base::metres(feature->clearTo).si});
  }
  return out;
}

/// Pixels and structure, the structure in steps no longer than a hand.
std::vector<base::Vec3> bodyOf(const shapes::Shape& shape) {
  constexpr double kStep = 0.1;  // metres
  std::vector<base::Vec3> body = shape.pixels;
  for (const auto& line : shape.frame)
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
      const base::Vec3 way = line[i + 1] - line[i];
      const int steps = std::clamp(static_cast<int>(std::ceil(base::norm(way) / kStep)), 1, 1000);
      for (int k = 0; k <= steps; ++k) body.push_back(line[i] + way * (static_cast<double>(k) / steps));
    }
  return body;
}

}  // namespace

void sightTriangle(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  const std::vector<Clear> areas = clearOf(a.yard);
  if (areas.empty()) return;
  for (const auto& [id, prop] : all<Prop>(a.yard)) {
    const auto shape = a.shapes.find(id);
    if (shape == a.shapes.end() || rests(*prop)) continue;
    const shapes::Placement placement = shapes::placementOf(a.yard, *prop);
    std::vector<base::Vec3> body = bodyOf(*shape->second);
    for (base::Vec3& p : body) p = placement.toYard(p);
    for (const Clear& area : areas) {
      const auto at = std::find_if(body.begin(), body.end(), [&](const auto& p) { return area.holds(p); });
      if (at == body.end()) continue;
      const auto* feature = find<GroundFeature>(a.yard, area.feature);
      Finding finding = begin(a, rule, Severity::WontWork, id);
      finding.subjects.push_back(area.feature);
      finding.used = 2.0;
      finding.figure = std::string();  // between two heights: no share of one
      finding.limit = std::string();
      finding.place = *at;
      const bool open = feature->clearTo <= feature->clearFrom;
      finding.sentence = {open ? "sight_triangle_open" : "sight_triangle",
                          {{"prop", label(a, id)},
                           {"area", label(a, area.feature)},
                           {"height", base::toLength({at->z})},
                           {"from", feature->clearFrom},
                           {"to", feature->clearTo}}};
      finding.advice = {"sight_triangle_advice", {{"prop", label(a, id)}, {"area", label(a, area.feature)}}};
      out.push_back(std::move(finding));
    }
  }
}

}  // namespace yw::findings::verdicts
