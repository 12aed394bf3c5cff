// Verdict: the ports of one power section together draw more than its terminals may carry.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {
constexpr double kClose = 0.9;  // our own judgement
}

void sectionAmps(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [key, amps] : a.limit.sectionAmps) {
    const auto& [owner, number] = key;
    const auto* controller = find<Controller>(a.yard, owner);
    const auto* receiver = find<Receiver>(a.yard, owner);
    const std::vector<PowerSection>* sections = controller ? &controller->sections
                                                : receiver ? &receiver->sections
                                                           : nullptr;
    if (!sections || number < 1 || number > static_cast<std::int64_t>(sections->size())) continue;
    const base::Current allowed = (*sections)[static_cast<std::size_t>(number - 1)].limit;
    const double limit = base::amps(allowed).si;
    Severity severity{};
    if (limit <= 0 || !grade(amps / limit, kClose, Severity::WontWork, severity)) continue;
    Finding finding = begin(a, rule, severity, owner);
    finding.condition = std::string(kAtLimit) + " section " + std::to_string(number);
    finding.used = amps / limit;
    finding.figure = base::toCurrent({amps});
    finding.limit = allowed;
    finding.sentence = {"section_amps",
                        {{"controller", label(a, owner)},
                         {"section", number},
                         {"amps", finding.figure},
                         {"limit", finding.limit}}};
    finding.advice = {"section_amps_advice",
                      {{"controller", label(a, owner)},
                       {"section", number},
                       {"over", base::toCurrent({std::max(0.0, amps - limit)})}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
