// Verdict: plugs that meet and do not mate. An adapter makes it work, and the parts list counts it: a note.
#include "core/routes/plugs.h"
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"
#include "core/yard/groups.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {

const char* endKey(PlugEnd end) { return end == PlugEnd::Male ? "takeoff_plug_male" : "takeoff_plug_female"; }

}  // namespace

void plugs(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const routes::Adapter& adapter : routes::adaptersOf(a.yard, a.routes)) {
    const routes::RoutedCable& cable = a.routes.cables.at(adapter.cable);
    Finding finding = begin(a, rule, Severity::Note, adapter.cable.of);
    if (cable.to.record && cable.to.record != adapter.cable.of) finding.subjects.push_back(cable.to.record);
    finding.used = 1.0;
    finding.figure = std::int64_t{1};
    finding.limit = std::int64_t{0};
    if (!cable.path.empty()) finding.place = adapter.atFarEnd ? cable.path.back() : cable.path.front();
    const std::map<std::string, base::Fact> facts{
        {"cable", cable.label},     {"end", adapter.atFarEnd ? cable.toText : cable.fromText},
        {"near", adapter.nearPlug}, {"near_end", base::text(base::Message{endKey(adapter.nearEnd), {}})},
        {"far", adapter.farPlug},   {"far_end", base::text(base::Message{endKey(adapter.farEnd), {}})}};
    finding.sentence = {"plugs", facts};
    finding.advice = {"plugs_advice", facts};
    out.push_back(std::move(finding));
  }
}

void groupParted(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [group, hung] : groupsHung(a.yard)) {
    if (hung.controllers.size() < 2) continue;
    Finding finding = begin(a, rule, Severity::Note, *hung.props.begin());
    finding.subjects.assign(hung.props.begin(), hung.props.end());
    finding.used = 1.0;
    finding.figure = static_cast<std::int64_t>(hung.controllers.size());
    finding.limit = std::int64_t{1};
    std::string names;
    for (const Id id : hung.controllers) names += (names.empty() ? "" : ", ") + label(a, id);
    finding.sentence = {"group_parted", {{"group", group}, {"owners", names}}};
    finding.advice = {"group_parted_advice", {{"group", group}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
