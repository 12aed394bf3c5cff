#include <algorithm>
#include <map>
#include <set>

#include "core/findings/rule_help.h"
#include "core/yard/labels.h"

namespace yw::findings {

const char* label(Severity severity) {
  switch (severity) {
    case Severity::Danger:
      return "Danger";
    case Severity::WontWork:
      return "Won't work";
    case Severity::CloseToLimit:
      return "Close to limit";
    case Severity::Note:
      return "Note";
  }
  return "";
}

std::string identity(const Finding& finding) {
  std::string text = finding.rule + "|" + finding.condition;
  for (const Id subject : finding.subjects) text += "|" + std::to_string(subject.value);
  return text;
}

namespace {

std::int64_t millionths(double used) { return std::llround(used * 1e6); }

bool worse(const Finding& x, const Finding& y) {
  if (x.severity != y.severity) return x.severity < y.severity;
  if (millionths(x.used) != millionths(y.used)) return x.used > y.used;
  return x.subjects < y.subjects;
}

/// Moves what the person left as is, unless its figure got worse since.
void takeLeft(const assess::Assessment& a, Report& report) {
  const auto left = yard::all<yard::LeftAsIs>(a.yard);
  if (left.empty()) return;
  std::vector<Finding> kept;
  for (Finding& finding : report.findings) {
    const auto match = std::find_if(left.begin(), left.end(), [&](const auto& entry) {
      return entry.second->rule == finding.rule && entry.second->subjects == finding.subjects &&
             entry.second->condition == finding.condition;
    });
    if (match != left.end() && millionths(finding.used) <= match->second->figure) {
      finding.leftAsIs = true;
      finding.leftReason = match->second->reason;
      report.left.push_back(std::move(finding));
    } else {
      kept.push_back(std::move(finding));
    }
  }
  report.findings = std::move(kept);
}

void group(Report& report, base::UnitSystem units) {
  std::map<std::pair<Severity, std::string>, std::size_t> place;
  for (std::size_t i = 0; i < report.findings.size(); ++i) {
    const Finding& finding = report.findings[i];
    const auto [entry, fresh] = place.try_emplace({finding.severity, finding.rule}, report.groups.size());
    if (fresh) report.groups.push_back({finding.rule, finding.severity, {}, finding.sentence});
    report.groups[entry->second].findings.push_back(i);
  }
  for (Group& g : report.groups) {
    if (g.findings.size() == 1) continue;
    const Finding& worst = report.findings[g.findings.front()];
    base::Message sentence{"finding_group",
                           {{"count", static_cast<std::int64_t>(g.findings.size())},
                            {"worst", base::text(worst.sentence, units)}}};
    const auto rule =
        std::find_if(rules().begin(), rules().end(), [&](const Rule& r) { return g.rule == r.key; });
    sentence.facts["what"] = std::string(rule == rules().end() ? g.rule : rule->label);
    g.sentence = std::move(sentence);
  }
}

}  // namespace

Report report(const assess::Assessment& assessment) {
  Report report;
  for (const Rule& rule : rules()) rule.judge(assessment, rule, report.findings);
  takeLeft(assessment, report);
  std::stable_sort(report.findings.begin(), report.findings.end(), worse);
  for (const auto& [prop, pixels] : assessment.unwired)
    if (pixels > 0) report.notWired.push_back(prop);
  report.failing = !report.findings.empty() && report.findings.front().severity <= Severity::WontWork;
  group(report, yard::settings(assessment.yard).units);
  return report;
}

std::int64_t countOf(const Report& report, Severity severity) {
  return std::count_if(report.findings.begin(), report.findings.end(),
                       [severity](const Finding& f) { return f.severity == severity; });
}

}  // namespace yw::findings
