// Verdict: the V+ of two supplies meet on one run without a cut: one feeds back into the other.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {

/// Amps that one supply would push through the run's V+ with the other off.
double crossing(const assess::Assessment& a, Id run, Id off) {
  const auto loss = a.faults().lost.find(off);
  return loss != a.faults().lost.end() && loss->second.crossingAt.run == run ? loss->second.crossing : 0.0;
}

}  // namespace

void positivesJoined(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [runId, layout] : a.layouts) {
    const Run* run = find<Run>(a.yard, runId);
    if (!run) continue;
    struct Entry {
      std::int64_t place;
      Id supply;
      bool cut;
      Id feed;
    };
    std::vector<Entry> entries;
    if (run->port && run->portPower) entries.push_back({0, supplyOfPort(a, run->port), false, {}});
    for (const auto& [feed, figure] : a.limit.feeds) {
      if (figure.run != runId) continue;
      const Cable* cable = find<Cable>(a.yard, feed);
      const auto* position = find<FusePosition>(a.yard, figure.fusePosition);
      if (cable && position) entries.push_back({figure.runPixel, position->supply, cable->cutPositive, feed});
    }
    std::stable_sort(entries.begin(), entries.end(),
                     [](const Entry& x, const Entry& y) { return x.place < y.place; });
    for (std::size_t i = 1; i < entries.size(); ++i) {
      if (entries[i].cut || !entries[i].supply || !entries[i - 1].supply ||
          entries[i].supply == entries[i - 1].supply)
        continue;
      Finding finding = begin(a, rule, Severity::Danger, runId);
      finding.subjects.push_back(entries[i].feed);
      pointAt(a, finding, runId, entries[i].place);
      finding.used = 2.0;
      const double amps =
          std::max(crossing(a, runId, entries[i].supply), crossing(a, runId, entries[i - 1].supply));
      finding.figure = base::toCurrent({amps});
      finding.limit = base::Current{0};
      finding.sentence = {"positives_joined",
                          {{"run", label(a, runId)},
                           {"a", label(a, entries[i - 1].supply)},
                           {"b", label(a, entries[i].supply)},
                           {"amps", finding.figure},
                           {"prop", label(a, finding.prop)},
                           {"pixel", finding.pixel}}};
      finding.advice = {"positives_joined_advice",
                        {{"prop", label(a, finding.prop)}, {"pixel", finding.pixel}}};
      out.push_back(std::move(finding));
    }
  }
}

}  // namespace yw::findings::verdicts
