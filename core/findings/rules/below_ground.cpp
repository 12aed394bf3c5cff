// Verdict: pixels of a prop that would be under the ground where it stands.
#include <cmath>

#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"
#include "core/yard/this_year.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void belowGround(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  constexpr double kSettled = 0.01;  // m: a foot pressed into the lawn
  for (const auto& [id, shape] : a.shapes) {
    const auto* prop = find<Prop>(a.yard, id);
    if (!prop || shape->pixels.empty() || rests(*prop)) continue;
    const shapes::Placement placement = shapes::placementOf(a.yard, *prop);
    double lowest = 0.0;
    std::int64_t under = 0, pixel = 0;
    for (std::size_t i = 0; i < shape->pixels.size(); ++i) {
      const double height = placement.toYard(shape->pixels[i]).z;
      if (height < -kSettled) ++under;
      if (height < lowest) lowest = height, pixel = static_cast<std::int64_t>(i) + 1;
    }
    if (under == 0) continue;
    Finding finding = begin(a, rule, Severity::WontWork, id);
    finding.prop = id;
    finding.pixel = pixel;
    finding.place = placeOfPixel(a, id, pixel);
    finding.figure = base::toLength({lowest});
    finding.limit = base::Length{0};
    finding.used = 2.0;
    finding.sentence = {"below_ground",
                        {{"prop", label(a, id)}, {"count", under}, {"depth", base::toLength({-lowest})}}};
    finding.advice = {"below_ground_advice", {{"prop", label(a, id)}, {"depth", base::toLength({-lowest})}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
