#include "core/propose/trade_offs.h"

#include "core/findings/findings.h"

namespace yw::propose {

using namespace yw::yard;

namespace {

BrightnessRow rowAt(const assess::AssessmentPtr& assessment, base::Ratio limit,
                    const std::atomic<bool>& stop) {
  edit::Editor editor(assessment->yard);
  editor.update<Settings>(settingsId(assessment->yard), [limit](Settings& s) { s.brightnessLimit = limit; });
  const auto dimmed = assess::assess(editor.yard(), assessment);
  const WholePlan whole = planWhole(dimmed, {"supplies", "ports", "feeds", "circuits"}, stop);
  BrightnessRow row;
  row.limit = limit;
  for (const auto& [part, plan] : whole.parts) {
    row.cannot += static_cast<std::int64_t>(plan.cannot.size());
    const std::string_view key = part->key;
    if (key == "feeds" || key == "supplies") row.cost += plan.costAfter;
  }
  const assess::Assessment& after = *whole.after;
  row.feeds = static_cast<std::int64_t>(after.limit.feeds.size());
  for (const auto& [id, figure] : after.limit.supplies) {
    row.supplies += figure.amps > 0.0 ? 1 : 0;
    row.amps += figure.amps;
    row.lineAmps += figure.lineAmps;
  }
  const findings::Report report = findings::report(after);
  row.grave = findings::countOf(report, findings::Severity::Danger) +
              findings::countOf(report, findings::Severity::WontWork);
  row.now = limit == settings(assessment->yard).brightnessLimit;
  return row;
}

}  // namespace

std::vector<BrightnessRow> brightnessTradeOff(const assess::AssessmentPtr& assessment,
                                              const std::atomic<bool>& stop) {
  std::set<base::Ratio> limits{settings(assessment->yard).brightnessLimit};
  for (const double percent : {20, 30, 40, 50, 60, 80, 100}) limits.insert(base::toRatio(percent / 100.0));
  std::vector<BrightnessRow> rows;
  for (const base::Ratio limit : limits) {
    if (stop) break;
    rows.push_back(rowAt(assessment, limit, stop));
  }
  return rows;
}

}  // namespace yw::propose
