// Verdict: a supply gives more than its rating in the air of its box and at the volts its cord leaves (won't
// work), or more than the part the yard plans on (close). Close only where the box was not measured. Nothing
// while the whole rating holds: supply_load judges that.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

void supplyHot(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  const double usable = base::fraction(settings(a.yard).supplyUsable);
  for (const auto& [id, now] : a.limit.mains.supplies) {
    const Supply* supply = find<Supply>(a.yard, id);
    const auto figure = a.limit.supplies.find(id);
    if (!supply || figure == a.limit.supplies.end() || figure->second.amps <= 0.0) continue;
    const double rated = base::amps(supply->ratedAmps).si;
    if (rated <= 0.0 || now.warmShare * now.lineShare >= 1.0) continue;
    const auto box = a.limit.mains.boxes.find(supply->box);
    const bool guessed = box != a.limit.mains.boxes.end() && box->second.assumedSize && now.lineShare >= 1.0;
    // A rating of nothing is shown as a hundredth of the label's, so that the bar has an end.
    constexpr double kLeast = 0.01;
    const double allowed = std::max(now.ratedNow, rated * kLeast), used = figure->second.amps / allowed;
    Severity severity{};
    if (!grade(used, usable, guessed ? Severity::CloseToLimit : Severity::WontWork, severity)) continue;
    Finding finding = begin(a, rule, severity, id);
    if (box != a.limit.mains.boxes.end()) finding.subjects.push_back(supply->box);
    finding.condition = kAtLimit;
    finding.used = used;
    finding.figure = base::toCurrent({figure->second.amps});
    finding.limit = base::toCurrent({now.ratedNow});
    noteAssumed(a, finding, id);
    const base::Temperature air{base::roundedCount(now.air * 1000.0)};
    finding.sentence = {
        guessed ? "supply_hot_guessed" : "supply_hot",
        {{"supply", label(a, id)},
         {"amps", finding.figure},
         {"limit", finding.limit},
         {"rated", supply->ratedAmps},
         {"air", air},
         {"volts", base::toVoltage({now.inputVolts})},
         {"heat", base::toPower({box == a.limit.mains.boxes.end() ? now.heat : box->second.heat})}}};
    finding.advice = {"supply_hot_advice", {{"supply", label(a, id)}, {"from", supply->derateFrom}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
