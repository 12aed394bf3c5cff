// Verdict, a note: the check distance does not agree with the scaled picture within 1 %.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {
constexpr double kAllowed = 0.01;  // our own judgement: a foot in a hundred
}

void pictureScale(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  const Site& place = site(a.yard);
  if (place.photo.empty() || place.checkDistance.count <= 0) return;
  const double drawn = base::distance(base::vec(place.checkFrom), base::vec(place.checkTo));
  const double taped = base::metres(place.checkDistance).si;
  const double off = std::abs(drawn - taped) / taped;
  Severity severity{};
  if (!grade(off / kAllowed, 1.0, Severity::Note, severity)) return;
  Finding finding = begin(a, rule, Severity::Note, siteId(a.yard));
  finding.used = off / kAllowed;
  finding.figure = base::toLength({drawn});
  finding.limit = place.checkDistance;
  finding.place = {base::metres(place.checkFrom.x).si, base::metres(place.checkFrom.y).si, 0.0};
  finding.sentence = {"picture_scale",
                      {{"drawn", finding.figure}, {"taped", finding.limit}, {"off", base::toRatio(off)}}};
  finding.advice = {"picture_scale_advice", {}};
  out.push_back(std::move(finding));
}

}  // namespace yw::findings::verdicts
