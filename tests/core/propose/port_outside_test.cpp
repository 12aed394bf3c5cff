// Ports against the cbc program (Debian, coinor-cbc) on chains listed by the test.
#include <gtest/gtest.h>

#include "tests/core/propose/outside_solver.h"
#include "tests/core/propose/random_ports.h"

namespace yw::propose {
namespace {

struct Gaps {
  int cases = 0, same = 0, proved = 0;
  double worst = 0.0, sum = 0.0;
};

/// Plans of feasible random jobs against the outside optimum; `wanted` of them.
Gaps against(std::int32_t parts, std::int32_t sites, std::int32_t ports, int wanted,
             std::int32_t exactParts) {
  Gaps gaps;
  for (std::uint32_t seed = 1; gaps.cases < wanted && seed < 400; ++seed) {
    const PortJob job = randomPorts(seed, parts, sites, ports);
    const OutsideAnswer best = solveOutside(ChainList(job).problem());
    EXPECT_TRUE(best.ran) << "is the program cbc installed (package coinor-cbc)?";
    if (!best.ran) return gaps;
    if (!best.solved) continue;  // cbc did not come to an end in its time
    PortEffort effort;
    effort.tries = 200'000;
    effort.exactParts = exactParts;
    const PortPlan plan = planPorts(job, effort);
    if (!best.feasible) {
      EXPECT_FALSE(plan.unplaced.empty()) << seed;
      continue;
    }
    ++gaps.cases;
    EXPECT_TRUE(portsHold(job, plan.chains)) << seed;
    const double gap = plan.unplaced.empty() ? plan.cost / best.cost - 1.0 : 1.0;
    EXPECT_GE(gap, -1e-7) << seed << ": cheaper than the optimum";
    EXPECT_LE(plan.bound, best.cost * (1 + 1e-7)) << seed << ": the bound is none";
    gaps.same += gap < 1e-7 ? 1 : 0;
    gaps.proved += plan.optimal ? 1 : 0;
    gaps.worst = std::max(gaps.worst, gap);
    gaps.sum += gap;
  }
  return gaps;
}

TEST(PortsOutside, TenPropsEqualTheOptimumOfAnotherSolver) {
  const Gaps annealed = against(10, 2, 4, 40, 0);
  ASSERT_EQ(annealed.cases, 40);
  RecordProperty("annealed_same", annealed.same);
  EXPECT_GE(annealed.same, 39) << "worst " << annealed.worst;
  const Gaps exact = against(10, 2, 4, 40, 20);
  EXPECT_EQ(exact.same, 40) << "worst " << exact.worst;
  EXPECT_EQ(exact.proved, 40);
}

TEST(PortsOutside, FifteenAndTwentyPropsAreEqualOrClose) {
  const Gaps fifteen = against(15, 2, 5, 10, 20), twenty = against(20, 3, 5, 6, 20);
  RecordProperty("fifteen_same", fifteen.same);
  RecordProperty("twenty_same", twenty.same);
  EXPECT_EQ(fifteen.cases, 10);
  EXPECT_GE(fifteen.same, 9);
  EXPECT_LE(fifteen.worst, 0.03);
  EXPECT_EQ(twenty.cases, 6);
  EXPECT_GE(twenty.same, 5);
  EXPECT_LE(twenty.worst, 0.03);
}

// Banks too weak for everything: as few parts as can be are left out, and the bank is never over.
TEST(PortsOutside, WeakBanksLeaveOutAsFewPartsAsCanBe) {
  int cases = 0, same = 0;
  for (std::uint32_t seed = 1; seed <= 30; ++seed) {
    PortJob job = randomPorts(seed, 10, 2, 4);
    double amps = 0.0;
    for (const PortPart& part : job.parts) amps += part.amps;
    job.bankTakesAll = true;
    for (PortSite& site : job.sites) site.bankAmps = 0.4 * amps;
    constexpr double kMissing = 1e4;
    const OutsideAnswer best = solveOutside(ChainList(job).problem(kMissing));
    ASSERT_TRUE(best.feasible) << seed;
    PortEffort effort;
    effort.tries = 200'000;
    const PortPlan plan = planPorts(job, effort);
    ASSERT_TRUE(portsHold(job, plan.chains)) << seed;
    const double cost = plan.cost + kMissing * static_cast<double>(plan.unplaced.size());
    EXPECT_GE(cost, best.cost - 1e-6) << seed;
    EXPECT_LT(cost, best.cost + 0.5 * kMissing) << seed << ": more left out than need be";
    ++cases;
    same += cost < best.cost + 1e-6 ? 1 : 0;
  }
  RecordProperty("same", same);
  EXPECT_GE(same, cases * 9 / 10);
}

}  // namespace
}  // namespace yw::propose
