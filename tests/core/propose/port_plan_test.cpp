// Ports against every possible choice, and the annealing against the exact search.
#include "core/propose/port_plan.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "tests/core/propose/random_ports.h"

namespace yw::propose {
namespace {

/// Every way to hang the parts, one after another at every place of every chain; its own code.
double bruteForce(const PortJob& job) {
  std::vector<PortChain> chains;
  std::vector<std::int32_t> ports;
  for (const PortSite& site : job.sites) ports.push_back(site.ports);
  double best = std::numeric_limits<double>::infinity();
  // All orders within a chain arise by inserting part p at every place among parts before it.
  std::function<void(std::int32_t)> place = [&](std::int32_t part) {
    if (part == static_cast<std::int32_t>(job.parts.size())) {
      if (portsHold(job, chains)) best = std::min(best, portsCost(job, chains));
      return;
    }
    for (std::int32_t turned = 0; turned < 2; ++turned) {
      for (std::size_t c = 0; c < chains.size(); ++c)
        for (std::size_t at = 0; at <= chains[c].nodes.size(); ++at) {
          auto& nodes = chains[c].nodes;
          nodes.insert(nodes.begin() + static_cast<std::ptrdiff_t>(at), part * 2 + turned);
          place(part + 1);
          chains[c].nodes.erase(chains[c].nodes.begin() + static_cast<std::ptrdiff_t>(at));
        }
      for (std::size_t s = 0; s < job.sites.size(); ++s) {
        if (ports[s] == 0) continue;
        --ports[s];
        chains.push_back({static_cast<std::int32_t>(s), {part * 2 + turned}});
        place(part + 1);
        chains.pop_back();
        ++ports[s];
      }
    }
  };
  place(0);
  return best;
}

TEST(PortPlan, EqualsEveryChoiceTried) {
  int feasible = 0;
  for (std::uint32_t seed = 1; seed <= 60; ++seed) {
    const PortJob job = randomPorts(seed, 5, 2, 3);
    const double best = bruteForce(job);
    PortEffort effort;
    effort.tries = 20'000;
    const PortPlan plan = planPorts(job, effort);
    ASSERT_EQ(plan.unplaced.empty(), std::isfinite(best)) << seed;
    if (!plan.unplaced.empty()) continue;
    ++feasible;
    EXPECT_NEAR(plan.cost, best, 1e-9) << seed;
    EXPECT_TRUE(plan.optimal) << seed;
    EXPECT_TRUE(portsHold(job, plan.chains)) << seed;
  }
  EXPECT_GT(feasible, 25);
}

// Parts of a group hang on one controller, unless parting them saves more than it is worth to keep them.
TEST(PortPlan, KeepsGroupsTogetherWhereThatIsWorthIt) {
  int feasible = 0, kept = 0, moved = 0;
  for (std::uint32_t seed = 1; seed <= 60; ++seed) {
    PortJob job = randomPorts(seed, 5, 2, 3);
    job.opening.assign(job.sites.size(), 0.0);
    for (std::size_t s = 0; s < job.sites.size(); ++s) job.sites[s].owner = static_cast<std::int32_t>(s);
    PortEffort effort;
    effort.tries = 120'000;
    const PortPlan free = planPorts(job, effort);
    for (std::size_t p = 0; p < 3; ++p) job.parts[p].group = 0;
    job.groupCost = seed % 3 == 0 ? 1.0 : 50.0;
    const double best = bruteForce(job);
    const PortPlan plan = planPorts(job, effort);
    ASSERT_EQ(plan.unplaced.empty(), std::isfinite(best)) << seed;
    if (!plan.unplaced.empty()) continue;
    ++feasible;
    EXPECT_NEAR(plan.cost, best, 1e-9) << seed;
    EXPECT_LE(plan.bound, best + 1e-9) << seed;
    EXPECT_NEAR(plan.cost, portsCost(job, plan.chains), 1e-9);
    kept += plan.optimal;
    moved += plan.cost > free.cost + 1e-9;
  }
  EXPECT_GT(feasible, 25);
  EXPECT_GT(kept, 10);
  EXPECT_GT(moved, 3) << "some groups would have parted";
}

struct Tally {
  int cases = 0, best = 0, proved = 0;
  double worst = 0.0;
};

/// The annealing alone against the exact search.
Tally compare(std::int32_t parts, std::int32_t sites, std::int32_t ports, int wanted) {
  Tally tally;
  for (std::uint32_t seed = 100; tally.cases < wanted && seed < 400; ++seed) {
    const PortJob job = randomPorts(seed, parts, sites, ports);
    PortEffort only;
    only.tries = 250'000;
    only.exactParts = 0;
    const PortPlan annealed = planPorts(job, only);
    PortEffort both;
    both.tries = 40'000;
    both.exactParts = 20;
    const PortPlan exact = planPorts(job, both);
    if (!exact.unplaced.empty()) continue;
    ++tally.cases;
    tally.proved += exact.optimal ? 1 : 0;
    EXPECT_TRUE(portsHold(job, annealed.chains)) << seed;
    const bool same = annealed.unplaced.empty() && annealed.cost <= exact.cost + 1e-9;
    tally.best += same ? 1 : 0;
    if (annealed.unplaced.empty()) tally.worst = std::max(tally.worst, annealed.cost / exact.cost - 1.0);
    EXPECT_LE(exact.cost, annealed.unplaced.empty() ? annealed.cost + 1e-9 : 1e18) << seed;
  }
  return tally;
}

TEST(PortPlan, AnnealingFindsTheCheapestOfTenProps) {
  const Tally t = compare(10, 2, 4, 40);
  ASSERT_EQ(t.cases, 40);
  EXPECT_EQ(t.proved, 40);
  EXPECT_GE(t.best, 39) << "worst " << t.worst;
}

TEST(PortPlan, AnnealingIsCloseAtFifteenAndTwenty) {
  const Tally fifteen = compare(15, 2, 5, 12), twenty = compare(20, 3, 5, 6);
  RecordProperty("fifteen_best", fifteen.best);
  RecordProperty("fifteen_proved", fifteen.proved);
  RecordProperty("twenty_best", twenty.best);
  RecordProperty("twenty_proved", twenty.proved);
  EXPECT_GE(fifteen.proved, 11);
  EXPECT_GE(fifteen.best, 10);
  EXPECT_LE(fifteen.worst, 0.03);
  EXPECT_GE(twenty.proved, 5);
  EXPECT_LE(twenty.worst, 0.03);
}

TEST(PortPlan, NeverBreaksALimitAndGivesTheSameAgain) {
  for (std::uint32_t seed = 1000; seed < 1400; ++seed) {
    const PortJob job =
        randomPorts(seed, 3 + static_cast<std::int32_t>(seed % 38), 1 + seed % 4, 1 + seed % 5);
    PortEffort effort;
    effort.tries = 3'000;
    effort.exactParts = 0;
    const PortPlan plan = planPorts(job, effort);
    ASSERT_TRUE(portsHold(job, plan.chains)) << seed;
    ASSERT_EQ(planPorts(job, effort).cost, plan.cost) << seed;
    if (plan.unplaced.empty()) {
      EXPECT_LE(plan.bound, plan.cost + 1e-9) << seed;
    }
  }
}

}  // namespace
}  // namespace yw::propose
