#include "core/propose/propose.h"

#include <algorithm>
#include <map>
#include <utility>

#include "core/propose/candidates.h"

namespace yw::propose {

namespace {

using Maker = std::vector<Proposal> (*)(const Case&);

Maker makerOf(const std::string& key) {
  static const std::map<std::string, Maker> table{
      {"feed", feedRun},
      {"feed_section", feedSection},
      {"split_run", splitRun},
      {"split_at_change", splitAtChange},
      {"right_fuse", rightFuse},
      {"smaller_fuse", smallerFuse},
      {"relieve_supply", relieveSupply},
      {"shorten_reach", shortenReach},
      {"free_address", freeAddress},
      {"move_outlet", moveOutlet},
      {"plug_in", plugIn},
      {"provide_crossing", provideCrossing},
      {"raise_prop", raiseProp},
      {"leave_keep_out", leaveKeepOut},
      {"end_at_last", endAtLast},
      {"cut_positive", cutPositive},
      {"join_zero", joinZero},
      {"own_return", ownReturn},
      {"cut_new_lead", cutNewLead},
      {"cool_box", coolBox},
      {"protect_circuit", protectCircuit},
      {"other_receptacle", otherReceptacle},
      {"thicker_cord", thickerCord},
      {"straight_cord", straightCord},
      {"stagger", stagger},
  };
  const auto found = table.find(key);
  return found == table.end() ? nullptr : found->second;
}

/// Work done is bounded by tries, never by the clock, so that the same yard gives the same answer anywhere.
constexpr std::size_t kMostTries = 24;

/// What is wrong already may grow by this much: a null pixel draws its idle current, a lead becomes a foot
/// longer.
constexpr double kMayWorsen = 1.02;

/// Rule and first subject: a remedy must not leave the same trouble at the same thing under another
/// condition.
std::string trouble(const findings::Finding& finding) {
  return finding.rule + "|" +
         (finding.subjects.empty() ? std::string() : std::to_string(finding.subjects.front().value)) + "|" +
         finding.condition;
}

bool cures(const findings::Report& before, const findings::Report& after, const findings::Finding& finding) {
  std::map<std::string, double> had;
  for (const findings::Finding& f : before.findings)
    if (f.severity <= finding.severity) had[trouble(f)] = std::max(had[trouble(f)], f.used);
  for (const findings::Finding& f : after.findings) {
    if (trouble(f) == trouble(finding) && f.severity <= finding.severity) return false;
    if (f.severity > finding.severity) continue;
    const auto old = had.find(trouble(f));
    if (old == had.end() || f.used > old->second * kMayWorsen) return false;
  }
  return true;
}

std::int64_t closeIn(const findings::Report& report) {
  return findings::countOf(report, findings::Severity::CloseToLimit);
}

/// Without margins a report cannot say that a run may go low, so a remedy would seem to cure that always.
bool judgesMargins(const findings::Report& report, const findings::Finding& finding) {
  return finding.severity >= findings::Severity::CloseToLimit &&
         std::any_of(report.findings.begin(), report.findings.end(),
                     [](const findings::Finding& f) { return f.rule == "low_margin"; });
}

}  // namespace

std::optional<Proposal> remedy(const assess::AssessmentPtr& assessment, const findings::Report& report,
                               const findings::Finding& finding) {
  const Maker make = makerOf(finding.remedyKey);
  if (!make) return {};
  std::vector<Proposal> candidates = make({*assessment, finding});
  std::size_t tries = 0;
  for (Proposal& candidate : candidates) {
    if (candidate.change.empty()) continue;
    if (tries++ == kMostTries) break;
    const assess::AssessmentPtr after =
        assess::assess(edit::apply(assessment->yard, candidate.change), assessment);
    findings::Report then = findings::report(*after);
    if (!cures(report, then, finding)) continue;
    // What the spreads leave is asked last: it takes longest.
    if (judgesMargins(report, finding)) {
      assess::margins(*after);
      then = findings::report(*after);
      if (!cures(report, then, finding)) continue;
    }
    const std::int64_t close = closeIn(then) - closeIn(report);
    if (close > 0) candidate.effect = {"remedy_brings_close", {{"count", close}}};
    return std::move(candidate);
  }
  return {};
}

}  // namespace yw::propose
