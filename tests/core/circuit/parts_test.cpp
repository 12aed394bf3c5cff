// Losses, shorts and joined positives: by hand and against the ngspice circuit simulator.
#include "core/circuit/parts.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/outside/spice.h"
#include "tests/outside/spice_cases.h"

namespace yw::circuit {
namespace {

using namespace yw::checks;

/// One 12 V supply, a string of `count` pixels of `amps` each, 0.05 Ω a rail between them, fed through fuse
/// joints of 0.1 Ω at the places given; 0 V bare.
Part fedAt(int count, double amps, const std::vector<std::int32_t>& places, double rating = 5.0) {
  Part part;
  Network& n = part.network;
  n.extraNodes = 2;
  n.loads.push_back(kneeLoad(0.0, amps, 7.0, 10.2));
  n.chains.push_back(evenChain(count, 0, 0.05, 0.05));
  n.sources.push_back({0, 1, 12.0, 0.0});
  for (const std::int32_t place : places) {
    const auto k = static_cast<std::size_t>(place);
    part.gates.push_back({static_cast<std::int32_t>(n.conductors.size()), rating, 6.0, 0, 0, place});
    feed(n, 0, 1, 0, k, 0.1, 0.0);
  }
  part.still = {Load{}};
  part.needs = {{10.2, 7.0, true}};
  part.wireLimits = {std::vector<double>(static_cast<std::size_t>(count), 4.0)};
  part.sourceRated = {30.0};
  return part;
}

TEST(FeedLost, TheOtherTakesOverAndTheFarEndGoesLow) {
  const Part part = fedAt(10, 0.3, {0, 9});
  const PartFaults f = faultsOf(part);
  ASSERT_EQ(f.gates.size(), 2u);
  EXPECT_NEAR(f.gates[0].before, 1.5, 1e-9) << "the two share ten pixels of 0.3 A alike";
  EXPECT_EQ(f.gates[0].gate, 1);
  EXPECT_NEAR(f.gates[0].amps, 3.0, 1e-9) << "what one carried the other carries too";
  EXPECT_NEAR(f.gates[0].fuseShare, 0.6, 1e-9);
  // 0.1 Ω · 3 A and 0.05 Ω · 0.3 A · (9 + … + 1) on V+; its 0 V still comes in here.
  const Solution by = solve(without(part.network, part.gates[0].conductor));
  EXPECT_NEAR(by.volts[0][0], 12.0 - 0.3 - 0.05 * 0.3 * 45.0, 1e-9);
  EXPECT_EQ(f.gates[0].dark + f.gates[0].low, 0);
  EXPECT_EQ(f.worstGate[0], 0);
  EXPECT_EQ(f.worst[0], by.volts[0]);
}

TEST(FeedLost, WithoutAnotherTheStringIsDark) {
  const PartFaults f = faultsOf(fedAt(10, 0.1, {0}));
  EXPECT_EQ(f.gates[0].dark, 10);
  EXPECT_EQ(f.gates[0].low, 0);
  EXPECT_EQ(f.gates[0].volts, 0.0);
  EXPECT_EQ(f.gates[0].gate, -1);
  EXPECT_FALSE(f.gates[0].follows);
  EXPECT_TRUE(f.worst[0].empty()) << "no second way in to compare with";
  ASSERT_EQ(f.sources.size(), 1u);
  EXPECT_EQ(f.sources[0].dark, 10);
}

TEST(FeedLost, TheNextFuseFollowsAndThenAllIsDark) {
  const PartFaults f = faultsOf(fedAt(10, 0.3, {0, 9}, 2.0));
  EXPECT_TRUE(f.gates[0].follows) << "3 A on a 2 A fuse: 150 %";
  EXPECT_EQ(f.gates[0].afterwards, 10);
  EXPECT_NEAR(f.gates[0].fuseShare, 1.5, 1e-9);
}

TEST(FeedLost, AThinStringIsSaid) {
  Part part = fedAt(10, 0.3, {0, 9});
  part.wireLimits[0].assign(10, 2.0);
  const PartFaults f = faultsOf(part);
  EXPECT_NEAR(f.gates[0].wireShare, 2.7 / 2.0, 1e-9) << "nine pixels behind the last piece";
  EXPECT_EQ(f.gates[0].wireChain, 0);
  EXPECT_EQ(f.gates[0].wireSegment, 9);
}

// At the far end: 0.1 + 9 · 0.05 Ω on V+, 9 · 0.05 Ω on 0 V, 0.01 Ω in the short.
TEST(Short, CurrentByOhmsLawAndTheFuseOpens) {
  const PartFaults f = faultsOf(fedAt(10, 0.1, {0}));
  ASSERT_EQ(f.shorts.size(), 1u);
  const PartShort& s = f.shorts[0];
  EXPECT_EQ(s.pixel, 9);
  EXPECT_NEAR(s.prospective, 12.0 / 1.01, 1e-9);
  EXPECT_NEAR(s.amps, 12.0 / 1.01, 1e-9);
  EXPECT_EQ(s.end, PartShort::End::Clears);
  EXPECT_GT(s.most, 0.5) << "238 % of 5 A: between 200 % (5 s) and 350 % (0.5 s)";
  EXPECT_LT(s.most, 5.0);
  EXPECT_NEAR(s.wireLimit, 4.0, 0.0);
}

TEST(Short, ALongStringHidesItFromTheFuse) {
  const PartFaults f = faultsOf(fedAt(21, 0.05, {0}));
  const PartShort& s = f.shorts[0];
  EXPECT_NEAR(s.amps, 12.0 / (0.1 + 2.0 + 0.01), 1e-9) << "5.7 A: 114 % of 5 A";
  EXPECT_EQ(s.end, PartShort::End::Stays);
  EXPECT_GT(s.wireAmps, s.wireLimit);
}

TEST(Short, WithoutAFuseItStays) {
  Part part = fedAt(10, 0.1, {0}, 0.0);
  EXPECT_EQ(faultsOf(part).shorts[0].end, PartShort::End::Stays);
  part.sourceRated = {7.0};
  const PartShort s = faultsOf(part).shorts[0];
  EXPECT_EQ(s.end, PartShort::End::SupplyCutsOff) << "11.9 A are more than 150 % of 7 A";
  EXPECT_NEAR(s.amps, 10.5, 1e-9);
}

TEST(Short, BothFusesOpenOneAfterTheOther) {
  const PartFaults f = faultsOf(fedAt(10, 0.1, {0, 9}));
  for (const PartShort& s : f.shorts) EXPECT_EQ(s.end, PartShort::End::Clears);
  EXPECT_GT(f.shorts[0].prospective, f.shorts[0].amps);
}

/// Two supplies on one string, one at each end.
Part joinedPositives(double volts) {
  Part part = fedAt(10, 0.1, {0});
  Network& n = part.network;
  n = {};
  n.extraNodes = 4;
  n.loads.push_back(kneeLoad(0.0, 0.1, 7.0, 10.2));
  n.chains.push_back(evenChain(10, 0, 0.05, 0.05));
  n.sources = {{0, 1, 12.0, 0.01}, {2, 3, volts, 0.01}};
  feed(n, 0, 1, 0, 0, 0.1, 0.0);
  feed(n, 2, 3, 0, 9, 0.1, 0.0);
  part.gates = {{0, 5.0, 6.0, 0, 0, 0}, {2, 5.0, 6.0, 1, 0, 9}};
  part.sourceRated = {30.0, 30.0};
  return part;
}

TEST(JoinedPositives, OneOffTheOtherPushesThroughTheString) {
  const PartFaults f = faultsOf(joinedPositives(12.0));
  ASSERT_EQ(f.sources.size(), 2u);
  EXPECT_NEAR(f.sources[0].crossing, 0.9, 1e-9) << "nine pixels of 0.1 A beyond the first piece";
  EXPECT_EQ(f.sources[0].crossingSegment, 9);
  EXPECT_EQ(f.sources[0].gate, 1);
  EXPECT_NEAR(f.sources[0].amps, 1.0, 1e-9);
}

TEST(Parts, SameContentIsTheSame) {
  const Part a = fedAt(10, 0.1, {0, 9});
  Part b = fedAt(10, 0.1, {0, 9});
  EXPECT_TRUE(same(a, b));
  b.network.chains[0].positive[3] = 0.051;
  EXPECT_FALSE(same(a, b));
  b = a;
  b.gates[1].rating = 4.0;
  EXPECT_FALSE(same(a, b));
}

double spiceGap(const Network& n) { return spiceDifference(n, solve(n)).value_or(INFINITY); }

TEST(Spice, AgreesOnEveryKindOfFault) {
  const Part two = fedAt(12, 0.2, {0, 11});
  EXPECT_LT(spiceGap(without(two.network, two.gates[1].conductor)), 1e-6) << "a lost feed";
  EXPECT_LT(spiceGap(shorted(two.network, 0, 6)), 1e-6) << "a short";
  std::vector<std::int32_t> conductorOf;
  EXPECT_LT(spiceGap(shorted(aloneWith(two.network, 0, conductorOf), 0, 11)), 1e-6);
  const Part joined = joinedPositives(12.6);
  EXPECT_LT(spiceGap(joined.network), 1e-6) << "joined positives";
  EXPECT_LT(spiceGap(withoutSource(joined.network, 0)), 1e-6) << "a lost supply";
  for (int seed = 1; seed <= 8; ++seed) {
    Wish wish;
    wish.regulated = false;
    Network n = randomNetwork(static_cast<std::uint64_t>(seed), wish);
    EXPECT_LT(spiceGap(shorted(n, 0, static_cast<std::int32_t>(n.chains[0].load.size()) - 1)), 1e-6) << seed;
  }
}

}  // namespace
}  // namespace yw::circuit
