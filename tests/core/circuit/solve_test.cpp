#include <gtest/gtest.h>

#include <cstring>

#include "tests/outside/closed_forms.h"
#include "tests/outside/nodal.h"

namespace yw::checks {
namespace {

using circuit::Solution;
using circuit::solve;
using State = Solution::State;

double sum(const std::vector<double>& values) {
  double total = 0.0;
  for (const double v : values) total += v;
  return total;
}

double drawn(const Network& n, const Solution& s) {
  double total = 0.0;
  for (std::size_t c = 0; c < n.chains.size(); ++c)
    for (std::size_t k = 0; k < n.chains[c].load.size(); ++k)
      if (s.fed[c][k]) total += circuit::evaluate(n.loads[n.chains[c].load[k]], s.volts[c][k]).amps;
  return total;
}

/// Watts lost in the metal and drawn by the pixels, against watts out of the sources.
double powerLeftOver(const Network& n, const Solution& s) {
  double watts = 0.0;
  for (std::size_t i = 0; i < n.sources.size(); ++i)
    watts += s.sourceAmps[i] * n.sources[i].volts - s.sourceAmps[i] * s.sourceAmps[i] * n.sources[i].ohms;
  for (std::size_t i = 0; i < n.conductors.size(); ++i)
    watts -= s.conductorAmps[i] * s.conductorAmps[i] * n.conductors[i].ohms;
  for (std::size_t c = 0; c < n.chains.size(); ++c)
    for (std::size_t k = 0; k < n.chains[c].load.size(); ++k) {
      const double p = s.positiveAmps[c][k], z = s.zeroAmps[c][k], v = s.volts[c][k];
      if (k > 0 && std::isfinite(n.chains[c].positive[k])) watts -= p * p * n.chains[c].positive[k];
      if (k > 0) watts -= z * z * n.chains[c].zero[k];
      if (s.fed[c][k]) watts -= v * circuit::evaluate(n.loads[n.chains[c].load[k]], v).amps;
    }
  return watts;
}

Wish wishOf(int seed) {
  Wish wish;
  wish.pixels = 60 + 45 * seed;
  wish.chains = 1 + seed % 7;
  wish.stress = 0.3 + 0.2 * (seed % 6);
  wish.sourceOhms = seed % 3 == 0 ? 0.0 : 0.005;
  return wish;
}

TEST(Solve, KeepsKirchhoffAndEnergy) {
  for (int seed = 1; seed <= 40; ++seed) {
    SCOPED_TRACE(seed);
    const Network n = randomNetwork(seed, wishOf(seed));
    const Solution s = solve(n);
    EXPECT_LT(s.residual, 1e-9);
    EXPECT_NEAR(sum(s.sourceAmps), drawn(n, s), 1e-8);
    EXPECT_NEAR(powerLeftOver(n, s), 0.0, 1e-7);
  }
}

TEST(Solve, AnswersTheWholeNetworksEquations) {
  for (int seed = 1; seed <= 40; ++seed) {
    SCOPED_TRACE(seed);
    const Network n = randomNetwork(seed, wishOf(seed));
    EXPECT_LT(NodalStep(n).change(solve(n)), 1e-8);
  }
}

// Along these the volts fall to a fraction again and again, so that rounding would grow without bounds on a
// march from one end to the other.
TEST(Solve, AnswersRunsThatTakeTheirVoltsDownManyTimesOver) {
  for (const int count : {30, 300, 3'000, 30'000}) {
    Network n;
    n.loads = {resistorLoad(0.001, 0.5, 20.0), kneeLoad(0.002, 0.3, 4.0, 4.2), regulatedLoad(0.2, 6.5)};
    n.extraNodes = 2;
    for (const int load : {0, 1}) n.chains.push_back(evenChain(count, load, 0.02, 0.03));
    for (std::size_t k = 7; k < 12; ++k) n.chains[0].load[k] = 2;  // on a run that is short of volts
    n.sources.push_back({0, 1, 12.0, 0.005});
    for (const std::size_t chain : {0, 1}) feed(n, 0, 1, chain, 0, 0.01, 0.01);
    feed(n, 0, 1, 0, 20, 0.01, 0.01);
    feed(n, 0, 1, 1, static_cast<std::size_t>(count) - 1, 0.05, 0.05);
    const Solution s = solve(n);
    EXPECT_LT(s.residual, 1e-9) << count;
    EXPECT_LT(NodalStep(n).change(s), 1e-6) << count;
  }
}

// Newton's way down starts at the highest supply's volts, which one without resistance shows nowhere else.
TEST(Solve, TakesAnIdealSupplyInNoMoreStepsThanAStiffOne) {
  for (int seed = 1; seed <= 20; ++seed) {
    SCOPED_TRACE(seed);
    Wish wish = wishOf(seed);
    wish.stress = 0.5;
    wish.sourceOhms = 0.0;
    const int ideal = solve(randomNetwork(seed, wish)).steps;
    wish.sourceOhms = 1e-3;
    EXPECT_LE(ideal, solve(randomNetwork(seed, wish)).steps);
  }
}

TEST(Solve, GivesTheSameBitsAgain) {
  const Network n = randomNetwork(7, wishOf(7));
  const Solution a = solve(n), b = solve(n);
  for (std::size_t c = 0; c < a.volts.size(); ++c)
    EXPECT_EQ(std::memcmp(a.volts[c].data(), b.volts[c].data(), a.volts[c].size() * sizeof(double)), 0);
  EXPECT_EQ(a.conductorAmps, b.conductorAmps);
}

/// Each node is joined to the next by one way only: a second feed at equal volts is the one exception asked
/// for.
TEST(Solve, SecondFeedNeverLowersAStringOnItsOwn) {
  for (int seed = 1; seed <= 60; ++seed) {
    SCOPED_TRACE(seed);
    Dice dice(seed);
    Network n = withSupply(12.0);
    n.loads = {kneeLoad(0.002, 0.038, 7.0, 10.2), resistorLoad(0.001, 6.3, 150.0)};
    const int count = 20 + dice.below(200);
    const double ohms = kAwg20 * dice.between(0.05, 0.15);
    n.chains.push_back(evenChain(count, 0, ohms, ohms * dice.between(0.8, 1.3)));
    for (auto& load : n.chains[0].load) load = dice.below(2);
    const double lead = dice.between(0.01, 0.1);
    feed(n, 0, 1, 0, 0, lead, lead * n.chains[0].zero[1] / n.chains[0].positive[1]);
    const auto one = solve(n);
    const auto at = static_cast<std::size_t>(1 + dice.below(count - 1));
    feed(n, 0, 1, 0, at, lead, lead * n.chains[0].zero[1] / n.chains[0].positive[1]);
    const auto two = solve(n);
    for (int k = 0; k < count; ++k) EXPECT_GE(two.volts[0][k], one.volts[0][k] - 1e-9);
  }
}

Network threeRuns(Dice& dice, bool constant) {
  Network n = withSupply(12.0, 0.005);
  n.loads = {constant ? constantLoad(0.03) : resistorLoad(0.001, 6.3, 150.0)};
  for (int c = 0; c < 3; ++c) {
    const double ohms = kAwg20 * dice.between(0.05, 0.15);
    n.chains.push_back(evenChain(10 + dice.below(90), 0, ohms, ohms * dice.between(0.8, 1.3)));
  }
  for (std::size_t c = 0; c < 3; ++c) feed(n, 0, 1, c, 0, dice.between(0.01, 0.1), dice.between(0.01, 0.1));
  return n;
}

/// Most that any pixel loses when a run and its lead get more copper, V.
double lostToMoreCopper(const Network& n, Dice& dice) {
  Network more = n;
  const auto c = static_cast<std::size_t>(dice.below(3));
  for (double& ohms : dice.unit() < 0.5 ? more.chains[c].positive : more.chains[c].zero) ohms *= 0.6;
  more.conductors[2 * c].ohms *= 0.7;
  const auto before = solve(n), after = solve(more);
  double lost = 0.0;
  for (std::size_t i = 0; i < 3; ++i)
    for (std::size_t k = 0; k < before.volts[i].size(); ++k)
      lost = std::max(lost, before.volts[i][k] - after.volts[i][k]);
  return lost;
}

/// More copper in a tree lowers nothing as long as the pixels' currents stay what they are.
TEST(Solve, MoreCopperNeverLowersATree) {
  for (int seed = 1; seed <= 60; ++seed) {
    SCOPED_TRACE(seed);
    Dice dice(seed + 500);
    const Network n = threeRuns(dice, true);
    EXPECT_LT(lostToMoreCopper(n, dice), 1e-9);
  }
}

/// Resistor pixels draw more at more volts: a better run then pulls its supply, and with it the others, down.
TEST(Solve, MoreCopperLetsResistorPixelsPullTheSupplyDown) {
  int lowered = 0;
  for (int seed = 1; seed <= 20; ++seed) {
    Dice dice(seed + 500);
    const Network n = threeRuns(dice, false);
    lowered += lostToMoreCopper(n, dice) > 1e-6 ? 1 : 0;
  }
  EXPECT_GT(lowered, 15);
}

/// Where two supplies share their 0 V, better 0 V copper for one lets its return raise the other's 0 V: a
/// pixel there loses volts. What holds for one string on its own is no rule for a yard.
TEST(Solve, MoreCopperInASharedZeroVoltsCanLowerAPixel) {
  Network n;
  n.extraNodes = 4;
  n.sources = {{0, 1, 12.0, 0.0}, {2, 3, 12.0, 0.0}};
  n.loads = {kneeLoad(0.002, 0.06, 7.0, 10.2), kneeLoad(0.002, 0.01, 7.0, 10.2)};
  n.chains = {evenChain(100, 0, 3e-3, 3e-3), evenChain(20, 1, 3e-3, 3e-3)};
  feed(n, 0, 1, 0, 0, 0.02, 0.2);  // a thin 0 V back to its supply
  n.conductors.push_back({2, n.positiveNode(1, 0), 0.05});
  n.conductors.push_back({3, n.zeroNode(1, 0), 0.3});
  n.conductors.push_back({1, 3, 0.05});                                 // both supplies' 0 V meet
  n.conductors.push_back({n.zeroNode(0, 99), n.zeroNode(1, 19), 5.0});  // a data lead from run to run
  Network more = n;
  more.conductors.back().ohms = 0.05;
  const auto before = solve(n), after = solve(more);
  EXPECT_LT(after.volts[1][19], before.volts[1][19] - 0.05);
  EXPECT_GT(after.volts[0][99], before.volts[0][99]);
}

/// Ohm's law knows no unit: all resistances ten times and all currents a tenth give the same volts.
TEST(Solve, ScalesWithItsUnits) {
  for (int seed = 1; seed <= 20; ++seed) {
    SCOPED_TRACE(seed);
    const Network n = randomNetwork(seed, wishOf(seed));
    Network m = n;
    constexpr double kUnit = 8.0;  // a power of two: not even a rounding differs
    for (Load& load : m.loads) load = times(load, 1.0 / kUnit);
    for (auto& c : m.conductors) c.ohms *= kUnit;
    for (auto& s : m.sources) s.ohms *= kUnit;
    for (auto& chain : m.chains)
      for (std::size_t k = 0; k < chain.load.size(); ++k) {
        chain.positive[k] *= kUnit;
        chain.zero[k] *= kUnit;
      }
    const auto a = solve(n), b = solve(m);
    for (std::size_t c = 0; c < a.volts.size(); ++c)
      for (std::size_t k = 0; k < a.volts[c].size(); ++k) EXPECT_NEAR(b.volts[c][k], a.volts[c][k], 1e-9);
  }
}

/// Fails if the mesh of 0 V were left out of the equations.
TEST(Solve, CarriesReturnThroughTheMeshOfZeroVolts) {
  int moved = 0, meshed = 0;
  for (int seed = 1; seed <= 20; ++seed) {
    Wish wish = wishOf(seed);
    wish.chains = 4;
    const Network n = randomNetwork(seed, wish);
    Network bare = n;
    std::erase_if(bare.conductors, [&](const circuit::Conductor& c) {
      return c.a >= n.extraNodes && c.b >= n.extraNodes;  // ties between runs
    });
    if (bare.conductors.size() == n.conductors.size()) continue;
    ++meshed;
    const auto with = solve(n), without = solve(bare);
    double most = 0.0;
    for (std::size_t c = 0; c < with.volts.size(); ++c)
      for (std::size_t k = 0; k < with.volts[c].size(); ++k)
        most = std::max(most, std::abs(with.volts[c][k] - without.volts[c][k]));
    moved += most > 1e-3 ? 1 : 0;
  }
  ASSERT_GT(meshed, 10);
  EXPECT_GT(moved, meshed / 2);
}

TEST(Solve, MirrorsASymmetricRing) {
  Network n = withSupply(12.0);
  n.loads.push_back(kneeLoad(0.002, 0.038, 7.0, 10.2));
  n.chains.push_back(evenChain(101, 0, 3e-3, 3e-3));
  feed(n, 0, 1, 0, 0, 0.05, 0.05);
  feed(n, 0, 1, 0, 100, 0.05, 0.05);
  const auto s = solve(n);
  for (std::size_t k = 0; k <= 50; ++k) EXPECT_NEAR(s.volts[0][k], s.volts[0][100 - k], 1e-11);
  EXPECT_NEAR(s.positiveAmps[0][1], -s.positiveAmps[0][100], 1e-10);
}

TEST(Solve, TurnsWithTheChain) {
  // The same string counted from its other end.
  Network n = randomNetwork(3, {.chains = 1, .pixels = 120, .cuts = false, .ties = false});
  n.conductors.clear();
  Network m = n;
  Chain& turned = m.chains[0];
  std::reverse(turned.load.begin(), turned.load.end());
  std::reverse(turned.positive.begin() + 1, turned.positive.end());
  std::reverse(turned.zero.begin() + 1, turned.zero.end());
  feed(n, 0, 1, 0, 30, 0.03, 0.03);
  feed(m, 0, 1, 0, 89, 0.03, 0.03);
  const auto a = solve(n), b = solve(m);
  for (std::size_t k = 0; k < 120; ++k) EXPECT_NEAR(a.volts[0][k], b.volts[0][119 - k], 1e-10);
}

TEST(Solve, SaysWhatNoSourceReaches) {
  Network n = withSupply(12.0);
  n.loads.push_back(constantLoad(0.1));
  n.chains = {evenChain(10, 0, 0.01, 0.01), evenChain(5, 0, 0.01, 0.01), evenChain(3, 0, 0.01, 0.01)};
  feed(n, 0, 1, 0, 2, 0.1, 0.1);
  n.conductors.push_back({0, n.positiveNode(1, 0), 0.1});  // V+ but no 0 V
  const auto s = solve(n);
  EXPECT_EQ(s.state, State::Open);
  EXPECT_EQ(s.chainStates[0].state, State::Solved);
  EXPECT_EQ(s.chainStates[1].state, State::Open);
  EXPECT_EQ(s.fed[1], std::vector<std::uint8_t>(5, 0));
  EXPECT_EQ(s.volts[1], std::vector<double>(5, 0.0));
  EXPECT_EQ(s.volts[2], std::vector<double>(3, 0.0));
  EXPECT_EQ(s.conductorAmps[2], 0.0);
  EXPECT_NEAR(s.sourceAmps[0], 1.0, 1e-12);
}

TEST(Solve, CutPositiveLeavesTheRestDarkButItsZeroVoltsCarries) {
  Network n = withSupply(12.0);
  n.loads.push_back(constantLoad(0.05));
  n.chains.push_back(evenChain(10, 0, 0.01, 0.01));
  n.chains[0].positive[5] = kCut;
  feed(n, 0, 1, 0, 0, 0.1, 0.1);
  n.conductors.push_back({1, n.zeroNode(0, 9), 0.1});
  const auto s = solve(n);
  for (std::size_t k = 0; k < 10; ++k) EXPECT_EQ(s.fed[0][k], k < 5 ? 1 : 0);
  EXPECT_LT(s.zeroVolts[0][9], s.zeroVolts[0][0]);
  EXPECT_GT(s.zeroAmps[0][7], 0.05);
  EXPECT_NEAR(s.zeroAmps[0][6], s.zeroAmps[0][8], 1e-12);
  EXPECT_EQ(s.positiveAmps[0][7], 0.0);
  EXPECT_LT(s.residual, 1e-12);
}

TEST(Solve, TakesJointsWithoutResistance) {
  Network n;
  n.extraNodes = 6;
  n.sources.push_back({0, 1, 12.0, 0.0});
  n.conductors = {{0, 2, 0.0}, {2, 3, 0.0}, {3, 0, 0.0}, {1, 4, 0.0}, {3, 5, 0.5}};
  n.loads.push_back(constantLoad(0.25));
  n.chains = {evenChain(4, 0, 0.0, 0.0), evenChain(2, 0, 0.1, 0.0)};
  n.conductors.push_back({5, n.positiveNode(0, 0), 0.0});
  n.conductors.push_back({4, n.zeroNode(0, 3), 0.0});
  n.conductors.push_back({2, n.positiveNode(1, 0), 0.0});
  n.conductors.push_back({4, n.zeroNode(1, 1), 0.0});
  const auto s = solve(n);
  EXPECT_EQ(s.state, State::Solved);
  for (const double v : s.volts[0]) EXPECT_NEAR(v, 11.5, 1e-12) << "1 A through half an ohm";
  EXPECT_NEAR(s.volts[1][1], 12.0 - 0.025, 1e-12);
  EXPECT_NEAR(s.positiveAmps[0][1], 0.75, 1e-12);
  EXPECT_NEAR(s.zeroAmps[0][1], 0.25, 1e-12);
  EXPECT_NEAR(s.zeroAmps[1][1], 0.25, 1e-12);
  EXPECT_NEAR(s.sourceAmps[0], 1.5, 1e-12);
  EXPECT_NEAR(s.conductorAmps[3], -1.5, 1e-12);
  EXPECT_NEAR(s.conductorAmps[0] - s.conductorAmps[2], 1.5, 1e-12);
  EXPECT_NEAR(s.conductorAmps[4], 1.0, 1e-12);
  EXPECT_NEAR(NodalStep(n).change(s), 0.0, 1e-11);
}

TEST(Solve, GivesShortsAndQuarrelingSuppliesAnAnswer) {
  Network n = withSupply(12.0);
  n.loads.push_back(constantLoad(0.1));
  n.chains.push_back(evenChain(3, 0, 0.1, 0.1));
  feed(n, 0, 1, 0, 0, 0.0, 0.0);
  n.sources.push_back({0, 1, 12.5, 0.0});
  const auto quarrel = solve(n);
  EXPECT_NEAR(quarrel.volts[0][0], 12.0, 1e-9);
  EXPECT_NEAR(quarrel.sourceAmps[1], 0.5 / 1e-3, 1e-6) << "1 mΩ is put into the second";
  EXPECT_NEAR(sum(quarrel.sourceAmps), 0.3, 1e-6);
  n.sources.pop_back();
  n.conductors.push_back({0, 1, 0.0});
  const auto shorted = solve(n);
  EXPECT_NEAR(shorted.sourceAmps[0], 12.0 / 1e-3, 1e-6);
  EXPECT_EQ(shorted.volts[0][2], 0.0);
}

TEST(Solve, TakesASupplyTheWrongWayRound) {
  Network n = withSupply(12.0, 0.01);
  n.loads = {kneeLoad(0.002, 0.038, 7.0, 10.2)};
  n.chains.push_back(evenChain(20, 0, 0.01, 0.01));
  feed(n, 1, 0, 0, 0, 0.1, 0.1);
  const auto s = solve(n);
  for (const double v : s.volts[0]) EXPECT_NEAR(v, -12.0, 1e-12);
  EXPECT_EQ(s.sourceAmps[0], 0.0);
}

TEST(Solve, TakesNothing) {
  EXPECT_EQ(solve(Network{}).state, State::Solved);
  Network n = withSupply(12.0);
  n.chains.emplace_back();
  EXPECT_EQ(solve(n).sourceAmps[0], 0.0);
}

TEST(Solve, ReferenceIsTheFirstSuppliesZeroVolts) {
  Network n;
  n.extraNodes = 4;
  n.sources = {{0, 1, 12.0, 0.01}, {2, 3, 5.0, 0.0}};
  n.conductors.push_back({1, 3, 0.02});
  n.loads.push_back(constantLoad(1.0));
  n.chains.push_back(evenChain(1, 0, 0.0, 0.0));
  n.conductors.push_back({2, n.positiveNode(0, 0), 0.1});
  n.conductors.push_back({1, n.zeroNode(0, 0), 0.1});
  const auto s = solve(n);
  EXPECT_EQ(s.nodeVolts[1], 0.0);
  EXPECT_NEAR(s.nodeVolts[3], -0.02, 1e-12);
  EXPECT_NEAR(s.nodeVolts[2], 4.98, 1e-12);
  EXPECT_NEAR(s.nodeVolts[0], 12.0, 1e-12);
  EXPECT_NEAR(s.zeroVolts[0][0], 0.1, 1e-12);
}

}  // namespace
}  // namespace yw::checks
