#include "core/circuit/lanes.h"

#include <gtest/gtest.h>

#include <cstring>

#include "tests/outside/networks.h"

namespace yw::circuit {
namespace {

constexpr std::size_t kRows = 40;
using Values = std::vector<double>;

struct Sample {
  Values ohms, slope, start, watts, idle, cut, volts;
  LaneValues first{}, from{}, to{}, low{}, high{};
};

Sample sampleOf(std::uint64_t seed) {
  checks::Dice dice(seed);
  Sample s;
  for (std::size_t q = 0; q < kRows * kLanes; ++q) {
    s.ohms.push_back(dice.between(1e-3, 1e-2));
    s.slope.push_back(dice.between(0.0, 0.02));
    s.start.push_back(dice.between(-0.1, 0.1));
    s.watts.push_back(dice.unit() < 0.7 ? dice.between(0.1, 0.4) : 0.0);
    s.idle.push_back(0.001);
    s.cut.push_back(6.5);
    s.volts.push_back(dice.between(5.0, 12.0));
  }
  for (std::size_t lane = 0; lane < kLanes; ++lane) {
    s.first[lane] = lane % 3 == 0 ? 0.0 : dice.between(100.0, 900.0);
    s.from[lane] = lane % 3 == 0 ? 0.0 : dice.between(10.0, 12.0);
    s.to[lane] = dice.between(10.0, 12.0);
    s.low[lane] = 0.0;
    s.high[lane] = 20.0;
  }
  return s;
}

struct Outcome {
  Values shrink, offset, carry, volts, slope, start;
  LaneEnds ends;
  bool good = false;
  std::uint32_t outside = 0;
  double farthest = 0.0;
};

Outcome run(const LaneLoops& loops, const Sample& s) {
  Outcome o;
  o.shrink = o.offset = o.carry = o.volts = Values(s.ohms.size());
  o.slope = s.slope;
  o.start = s.start;
  o.good = loops.condense(kRows, s.first, s.ohms.data(), s.slope.data(), s.start.data(), o.shrink.data(),
                          o.offset.data(), o.carry.data(), o.ends);
  o.outside = loops.fill(kRows, s.from, s.to, s.low, s.high, o.shrink.data(), o.offset.data(), o.carry.data(),
                         o.volts.data());
  o.farthest = loops.tangent(kRows, 0.75, s.watts.data(), s.idle.data(), s.cut.data(), s.volts.data(),
                             o.volts.data(), o.slope.data(), o.start.data());
  return o;
}

bool sameBits(const Values& a, const Values& b) {
  return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0;
}

TEST(Lanes, EveryVectorWidthGivesTheSameBits) {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    SCOPED_TRACE(seed);
    const Sample s = sampleOf(seed);
    const auto all = laneLoops();
    const Outcome plain = run(all.front(), s);
    EXPECT_TRUE(plain.good);
    for (const LaneLoops& loops : all) {
      const Outcome o = run(loops, s);
      EXPECT_TRUE(sameBits(o.volts, plain.volts) && sameBits(o.shrink, plain.shrink) &&
                  sameBits(o.slope, plain.slope) && sameBits(o.start, plain.start));
      EXPECT_EQ(o.ends.fromSelf, plain.ends.fromSelf);
      EXPECT_EQ(o.ends.mutual, plain.ends.mutual);
      EXPECT_EQ(o.outside, plain.outside);
      EXPECT_EQ(o.farthest, plain.farthest);
    }
  }
}

TEST(Lanes, EndsSeeWhatThePixelsDraw) {
  const Sample s = sampleOf(3);
  const Outcome o = run(laneLoops().back(), s);
  for (std::size_t lane = 0; lane < kLanes; ++lane) {
    double drawn = 0.0;
    for (std::size_t q = lane; q < o.volts.size(); q += kLanes) drawn += s.slope[q] * o.volts[q] + s.start[q];
    const double to =
        o.ends.self[lane] * s.to[lane] + o.ends.mutual[lane] * s.from[lane] + o.ends.start[lane];
    const double from =
        o.ends.fromSelf[lane] * s.from[lane] + o.ends.mutual[lane] * s.to[lane] + o.ends.fromStart[lane];
    EXPECT_NEAR(to + (s.first[lane] > 0.0 ? from : 0.0), drawn, 1e-10);
  }
}

TEST(Lanes, SayWhenAPivotOrABoundIsLost) {
  Sample s = sampleOf(5);
  const LaneLoops loops = laneLoops().back();
  EXPECT_EQ(run(loops, s).outside, 0u);
  s.low[6] = 13.0;
  EXPECT_EQ(run(loops, s).outside, 1u << 6);
  s.slope[17 * kLanes + 2] = -1e6;
  EXPECT_FALSE(run(loops, s).good);
}

}  // namespace
}  // namespace yw::circuit
