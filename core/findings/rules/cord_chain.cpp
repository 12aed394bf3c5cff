// Verdict: more than one joint between cords, or a strip fed from a strip, on the way from an outlet.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {
/// One joint between two cords is passed. Common practice, no source.
constexpr std::int64_t kMostJoints = 1;
}  // namespace

void cordChain(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [key, figure] : a.limit.mains.cords) {
    const auto cable = a.routes.cables.find(key);
    const bool strips = figure.strips > 0;
    if (cable == a.routes.cables.end() || (!strips && figure.joints <= kMostJoints)) continue;
    Finding finding = begin(a, rule, Severity::CloseToLimit, key.of);
    finding.used =
        static_cast<double>(std::max(figure.joints, kMostJoints)) / static_cast<double>(kMostJoints);
    finding.figure = figure.joints;
    finding.limit = kMostJoints;
    finding.sentence = {strips ? "cord_chain_strips" : "cord_chain",
                        {{"cord", cable->second.label},
                         {"joints", figure.joints},
                         {"before", strips ? label(a, figure.before) : std::string()},
                         {"length", said(a, figure.wholeLength)}}};
    finding.advice = {"cord_chain_advice",
                      {{"cord", cable->second.label}, {"length", said(a, figure.wholeLength)}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
