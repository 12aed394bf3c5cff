#include "core/circuit/lanes.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstring>

#include "tests/outside/networks.h"

namespace yw::circuit {
namespace {

constexpr std::size_t kRows = 40;
using Values = std::vector<double>;

struct Sample {
  Values ohms, slope, start, watts, volts;
  LaneValues first{}, cut{};
  LaneReach reach;
};

Sample sampleOf(std::uint64_t seed) {
  checks::Dice dice(seed);
  Sample s;
  for (std::size_t q = 0; q < kRows * kLanes; ++q) {
    s.ohms.push_back(dice.between(1e-3, 1e-2));
    s.slope.push_back(dice.between(0.0, 0.02));
    s.start.push_back(dice.between(-0.1, 0.1));
    s.watts.push_back(dice.unit() < 0.7 ? dice.between(0.1, 0.4) : 0.0);
    s.volts.push_back(dice.between(5.0, 12.0));
  }
  for (std::size_t lane = 0; lane < kLanes; ++lane) {
    s.first[lane] = lane % 3 == 0 ? 0.0 : dice.between(100.0, 900.0);
    s.reach.from[lane] = lane % 3 == 0 ? 0.0 : dice.between(10.0, 12.0);
    s.reach.to[lane] = dice.between(10.0, 12.0);
    s.reach.low[lane] = 0.0;
    s.reach.high[lane] = 20.0;
    s.cut[lane] = 6.5;
  }
  return s;
}

struct Outcome {
  Values shrink, offset, carry, volts;
  LaneEnds ends;
  bool good = false;
  std::uint32_t outside = 0;
  double farthest = 0.0;
};

Outcome run(const LaneLoops& loops, const Sample& s, bool curved) {
  Outcome o;
  o.shrink = o.offset = o.carry = Values(s.ohms.size());
  o.volts = s.volts;
  const LanePixels pixels{s.ohms.data(), s.slope.data(), s.start.data()};
  const LaneShares shares{o.shrink.data(), o.offset.data(), o.carry.data()};
  if (curved) {
    o.good =
        loops.condenseCurved(kRows, s.first, pixels, s.watts.data(), s.cut, s.volts.data(), shares, o.ends);
    o.outside = loops.fillCurved(kRows, s.reach, shares, s.watts.data(), o.volts.data(), o.farthest);
  } else {
    o.good = loops.condense(kRows, s.first, pixels, shares, o.ends);
    o.outside = loops.fill(kRows, s.reach, shares, o.volts.data());
  }
  return o;
}

bool sameBits(const Values& a, const Values& b) {
  return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0;
}

TEST(Lanes, EveryVectorWidthGivesTheSameBits) {
  const auto all = laneLoops();
  for (std::uint64_t seed = 1; seed <= 20; ++seed)
    for (const bool curved : {false, true}) {
      SCOPED_TRACE(seed);
      const Sample s = sampleOf(seed);
      const Outcome plain = run(all.front(), s, curved);
      EXPECT_TRUE(plain.good);
      for (const LaneLoops& loops : all) {
        const Outcome o = run(loops, s, curved);
        EXPECT_TRUE(sameBits(o.volts, plain.volts) && sameBits(o.shrink, plain.shrink) &&
                    sameBits(o.offset, plain.offset) && sameBits(o.carry, plain.carry));
        EXPECT_EQ(o.ends.fromSelf, plain.ends.fromSelf);
        EXPECT_EQ(o.ends.mutual, plain.ends.mutual);
        EXPECT_EQ(o.outside, plain.outside);
        EXPECT_EQ(o.farthest, plain.farthest);
      }
    }
}

/// Lanes filled either way in one go have the bits that either way alone gives them.
TEST(Lanes, AMixedFillIsBothFills) {
  constexpr std::uint32_t kFlat = 0b01101001;
  const Sample s = sampleOf(7);
  LaneValues amps{};
  for (std::size_t lane = 0; lane < kLanes; ++lane) amps[lane] = 0.1 * static_cast<double>(lane);
  const LanePixels pixels{s.ohms.data(), s.slope.data(), s.start.data()};
  for (const LaneLoops& loops : laneLoops()) {
    Outcome o = run(loops, s, false);
    const LaneShares shares{o.shrink.data(), o.offset.data(), o.carry.data()};
    Values level = s.volts, mixed = s.volts;
    loops.fillFlat(kRows, s.reach, amps, pixels, level.data());
    loops.fillMixed(kRows, s.reach, amps, pixels, shares, kFlat, mixed.data());
    Values expected = o.volts;
    for (std::size_t q = 0; q < expected.size(); ++q)
      if ((kFlat >> q % kLanes & 1u) != 0) expected[q] = level[q];
    EXPECT_TRUE(sameBits(mixed, expected));
  }
}

/// What the ends draw in all is what the pixels draw, those with watts on the tangent at their old volts.
TEST(Lanes, EndsSeeWhatThePixelsDraw) {
  const Sample s = sampleOf(3);
  for (const bool curved : {false, true}) {
    const Outcome o = run(laneLoops().back(), s, curved);
    double farthest = 0.0;
    for (std::size_t lane = 0; lane < kLanes; ++lane) {
      double drawn = 0.0;
      for (std::size_t q = lane; q < o.volts.size(); q += kLanes) {
        drawn += s.slope[q] * o.volts[q] + s.start[q];
        if (!curved || !(s.watts[q] > 0.0)) continue;
        const double at = std::max(s.volts[q], s.cut[lane]);
        drawn += s.watts[q] / at - s.watts[q] / (at * at) * (o.volts[q] - at);
        farthest = std::max(farthest, std::abs(o.volts[q] - s.volts[q]));
      }
      const double to = o.ends.self[lane] * s.reach.to[lane] + o.ends.mutual[lane] * s.reach.from[lane] +
                        o.ends.start[lane];
      const double from = o.ends.fromSelf[lane] * s.reach.from[lane] +
                          o.ends.mutual[lane] * s.reach.to[lane] + o.ends.fromStart[lane];
      EXPECT_NEAR(to + (s.first[lane] > 0.0 ? from : 0.0), drawn, 1e-10);
    }
    EXPECT_EQ(o.farthest, farthest);
  }
}

TEST(Lanes, SayWhenAPivotOrABoundIsLost) {
  Sample s = sampleOf(5);
  const LaneLoops loops = laneLoops().back();
  EXPECT_EQ(run(loops, s, false).outside, 0u);
  s.reach.low[6] = 13.0;
  EXPECT_EQ(run(loops, s, false).outside, 1u << 6);
  s.slope[17 * kLanes + 2] = -1e6;
  EXPECT_FALSE(run(loops, s, false).good);
  EXPECT_FALSE(run(loops, s, true).good);
}

}  // namespace
}  // namespace yw::circuit
