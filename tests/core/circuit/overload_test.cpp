#include <gtest/gtest.h>

#include "tests/outside/closed_forms.h"
#include "tests/outside/nodal.h"

namespace yw::checks {
namespace {

using circuit::Solution;
using circuit::solve;
using State = Solution::State;

Network overloaded(int seed) {
  Dice dice(seed * 77 + 5);
  Wish wish;
  wish.pixels = 200 + dice.below(1500);
  wish.chains = 1 + dice.below(8);
  wish.stress = dice.between(0.3, 12.0);
  wish.sourceOhms = seed % 3 ? 0.005 : 0.0;
  return randomNetwork(seed, wish);
}

Network scaled(Network n, double factor) {
  for (Load& load : n.loads) load = times(load, factor);
  return n;
}

TEST(Overload, EveryNetworkEndsInAVerifiedState) {
  int sick = 0;
  for (int seed = 1; seed <= 200; ++seed) {
    SCOPED_TRACE(seed);
    const Network n = overloaded(seed);
    const Solution s = solve(n);
    sick += s.state == State::NoOperatingPoint ? 1 : 0;
    EXPECT_LT(s.residual, 1e-9);
    EXPECT_LT(s.steps, 5000);
    EXPECT_LT(NodalStep(n).change(s), 1e-6);
    for (const auto& volts : s.volts) EXPECT_GE(lowest(volts), 0.0);
  }
  EXPECT_GE(sick, 20) << "the draw must hold networks without an operating point";
}

TEST(Overload, LoadFactorIsTheLargestThatHasAnOperatingPoint) {
  int looked = 0;
  for (int seed = 1; looked < 40; ++seed) {
    ASSERT_LT(seed, 1000);
    SCOPED_TRACE(seed);
    const Network n = overloaded(seed);
    const Solution s = solve(n);
    if (s.state != State::NoOperatingPoint) continue;
    ++looked;
    EXPECT_GT(s.loadFactor, 0.0);
    EXPECT_LT(s.loadFactor, 1.0);
    EXPECT_EQ(solve(scaled(n, 0.99999 * s.loadFactor)).state, State::Solved);
    EXPECT_EQ(solve(scaled(n, 1.00001 * s.loadFactor)).state, State::NoOperatingPoint);
    const Load& weak = n.loads[n.chains[s.weakestChain].load[s.weakestPixel]];
    EXPECT_EQ(weak.kind, Load::Kind::Regulated);
  }
}

// Maximum power transfer: 12 V behind R feeds at most 12²/(4R).
TEST(Overload, SingleLoadTurnsAtMaximumPowerTransfer) {
  const auto state = [](double watts) {
    Network n = withSupply(12.0);
    n.loads.push_back(regulatedLoad(watts, 5.0));
    n.chains.push_back(evenChain(1, 0, 0.0, 0.0));
    feed(n, 0, 1, 0, 0, 0.75, 0.75);
    return solve(n);
  };
  EXPECT_EQ(state(23.99).state, State::Solved);
  EXPECT_GT(state(23.99).volts[0][0], 6.0) << "the upper of the two answers";
  const Solution s = state(24.01);
  EXPECT_EQ(s.state, State::NoOperatingPoint);
  // Below its cut it is the conductance P/cut².
  EXPECT_NEAR(s.volts[0][0], 12.0 / (1.0 + 1.5 * 24.01 / 25.0), 1e-9);
}

TEST(Overload, SickRunCostsItsNeighborNothing) {
  Network n = withSupply(12.0);
  n.loads = {regulatedLoad(0.7, 6.5), regulatedLoad(0.3, 6.5)};
  n.chains = {evenChain(400, 0, 3e-3, 3e-3), evenChain(50, 1, 3e-3, 3e-3)};
  feed(n, 0, 1, 0, 0, 0.05, 0.05);
  feed(n, 0, 1, 1, 0, 0.05, 0.05);
  const Solution s = solve(n);
  EXPECT_EQ(s.state, State::NoOperatingPoint);
  EXPECT_EQ(s.chainStates[0].state, State::NoOperatingPoint);
  EXPECT_EQ(s.chainStates[1].state, State::Solved);
  EXPECT_EQ(s.weakestChain, 0u);
  EXPECT_EQ(s.weakestPixel, 399u);
  n.chains.erase(n.chains.begin());
  n.conductors.clear();
  feed(n, 0, 1, 0, 0, 0.05, 0.05);
  const Solution alone = solve(n);
  for (std::size_t k = 0; k < 50; ++k) EXPECT_NEAR(s.volts[1][k], alone.volts[0][k], 1e-9);
}

TEST(Overload, SupplyBelowTheCutHasNoFactorAtAll) {
  Network n = withSupply(5.0);
  n.loads.push_back(regulatedLoad(0.3, 6.5));
  n.chains.push_back(evenChain(10, 0, 3e-3, 3e-3));
  feed(n, 0, 1, 0, 0, 0.05, 0.05);
  const Solution s = solve(n);
  EXPECT_EQ(s.state, State::NoOperatingPoint);
  EXPECT_EQ(s.loadFactor, 0.0);
  EXPECT_GT(lowest(s.volts[0]), 4.5);
}

/// Nobody builds this, but a slip of a key asks for it.
TEST(Overload, HundredThousandPixelsOnOneRunEndInAnAnswer) {
  for (const Load& load : {kneeLoad(0.002, 0.038, 7.0, 10.2), regulatedLoad(0.3, 6.5, 0.001)}) {
    Network n = withSupply(12.0, 0.005);
    n.loads = {load};
    n.chains.push_back(evenChain(100'000, 0, 3e-3, 3e-3));
    for (std::size_t at = 0; at < 100'000; at += 1'000) feed(n, 0, 1, 0, at, 0.05, 0.05);
    const Solution s = solve(n);
    EXPECT_EQ(s.state, load.kind == Load::Kind::Regulated ? State::NoOperatingPoint : State::Solved);
    EXPECT_GE(lowest(s.volts[0]), 0.0);
    EXPECT_LT(NodalStep(n).change(s), 1e-6);
  }
}

}  // namespace
}  // namespace yw::checks
