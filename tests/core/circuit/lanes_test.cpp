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

enum class Kind { Flat, Any, Curved };
constexpr Kind kKinds[] = {Kind::Flat, Kind::Any, Kind::Curved};

/// Lanes 0, 3 and 6 are tails.
struct Sample {
  Values ohms, slope, start, watts, inverse, volts;
  LaneStart from;
  LaneValues siemens{}, cut{};
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
    s.inverse.push_back(1.0 / std::max(s.volts.back(), 6.5));
  }
  for (std::size_t lane = 0; lane < kLanes; ++lane) {
    s.from.ohms[lane] = lane % 3 == 0 ? 0.0 : 1.0 / dice.between(100.0, 900.0);
    s.siemens[lane] = lane % 3 == 0 ? 0.0 : 1.0 / s.from.ohms[lane];
    s.reach.from[lane] = lane % 3 == 0 ? 0.0 : dice.between(10.0, 12.0);
    s.reach.to[lane] = dice.between(10.0, 12.0);
    s.reach.low[lane] = 0.0;
    s.reach.high[lane] = 20.0;
    s.cut[lane] = 6.5;
  }
  return s;
}

struct Outcome {
  Values volts, inverse;
  LaneWay way;
  LaneEnds ends;
  LaneValues moved{};
  std::uint32_t outside = 0, lost = 0;
};

Outcome run(const LaneLoops& loops, const Sample& s, Kind kind) {
  Outcome o;
  o.volts = s.volts;
  o.inverse = s.inverse;
  const LanePixels pixels{s.ohms.data(), s.slope.data(), s.start.data()};
  const LaneWatts watts{s.watts.data(), o.inverse.data()};
  if (kind == Kind::Flat) loops.wayFlat(kRows, s.from, pixels, o.way);
  if (kind == Kind::Any) loops.way(kRows, s.from, pixels, o.way);
  if (kind == Kind::Curved) loops.wayCurved(kRows, s.from, pixels, watts, o.way);
  LaneStart start = s.from;
  for (std::size_t lane = 0; lane < kLanes; ++lane) {
    const double from = s.reach.from[lane], to = s.reach.to[lane], one = 1.0 / o.way.open[lane];
    const double open = (to - o.way.sent[lane] * from - o.way.left[lane]) * one;
    const bool tail = s.siemens[lane] == 0.0;
    start.volts[lane] = tail ? -open : from;
    start.amps[lane] = tail ? 0.0 : open;
    if (!(o.way.worst[lane] < 0.0)) o.lost |= 1u << lane;
  }
  if (kind == Kind::Flat) o.outside = loops.fillFlat(kRows, start, pixels, s.reach, o.volts.data());
  if (kind == Kind::Any) o.outside = loops.fill(kRows, start, pixels, s.reach, o.volts.data());
  if (kind == Kind::Curved)
    o.outside = loops.fillCurved(kRows, start, pixels, s.reach, watts, s.cut, o.volts.data(), o.moved);
  return o;
}

/// The lines that a kind of loop takes the pixels by.
Sample straightened(Sample s, Kind kind) {
  for (std::size_t q = 0; q < s.ohms.size(); ++q) {
    if (kind == Kind::Flat) s.slope[q] = 0.0;
    if (kind != Kind::Curved) continue;
    s.slope[q] -= s.watts[q] * s.inverse[q] * s.inverse[q];
    s.start[q] += 2.0 * s.watts[q] * s.inverse[q];
  }
  return s;
}

Outcome eliminated(const LaneLoops& loops, const Sample& lines) {
  Outcome o;
  o.volts = lines.volts;
  Values shrink(lines.ohms.size()), offset = shrink, carry = shrink;
  const LaneShares shares{shrink.data(), offset.data(), carry.data()};
  o.lost = loops.eliminate(kRows, lines.siemens, {lines.ohms.data(), lines.slope.data(), lines.start.data()},
                           shares, o.ends);
  loops.restore(kRows, lines.reach, shares, o.volts.data());
  return o;
}

bool sameBits(const Values& a, const Values& b) {
  return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0;
}

TEST(Lanes, EveryVectorWidthGivesTheSameBits) {
  const auto all = laneLoops();
  for (std::uint64_t seed = 1; seed <= 20; ++seed)
    for (const Kind kind : kKinds) {
      SCOPED_TRACE(seed);
      const Sample s = sampleOf(seed);
      const Outcome plain = run(all.front(), s, kind), whole = eliminated(all.front(), s);
      EXPECT_EQ(plain.lost, 0u);
      for (const LaneLoops& loops : all) {
        const Outcome o = run(loops, s, kind), e = eliminated(loops, s);
        EXPECT_TRUE(sameBits(o.volts, plain.volts) && sameBits(o.inverse, plain.inverse) &&
                    sameBits(e.volts, whole.volts));
        EXPECT_EQ(o.way.open, plain.way.open);
        EXPECT_EQ(o.way.leftAmps, plain.way.leftAmps);
        EXPECT_EQ(o.outside, plain.outside);
        EXPECT_EQ(o.moved, plain.moved);
        EXPECT_EQ(e.ends.fromSelf, whole.ends.fromSelf);
        EXPECT_EQ(e.ends.mutual, whole.ends.mutual);
      }
    }
}

/// So that a lane's figures are the same whether or not others in its group have slopes.
TEST(Lanes, FlatLanesHaveTheBitsOfAnyLanesWithoutSlope) {
  const Sample s = straightened(sampleOf(7), Kind::Flat);
  for (const LaneLoops& loops : laneLoops()) {
    const Outcome flat = run(loops, s, Kind::Flat), any = run(loops, s, Kind::Any);
    EXPECT_TRUE(sameBits(flat.volts, any.volts));
    EXPECT_EQ(flat.way.sent, any.way.sent);
    EXPECT_EQ(flat.way.open, any.way.open);
    EXPECT_EQ(flat.way.left, any.way.left);
    EXPECT_EQ(flat.way.openAmps, any.way.openAmps);
    EXPECT_EQ(flat.way.leftAmps, any.way.leftAmps);
  }
}

/// The two ways to the same volts know nothing of each other.
TEST(Lanes, MarchingAndEliminatingAgree) {
  for (std::uint64_t seed = 1; seed <= 20; ++seed)
    for (const Kind kind : kKinds) {
      const Sample s = sampleOf(seed);
      const Outcome o = run(laneLoops().back(), s, kind),
                    e = eliminated(laneLoops().back(), straightened(s, kind));
      for (std::size_t q = 0; q < o.volts.size(); ++q) EXPECT_NEAR(o.volts[q], e.volts[q], 1e-11);
    }
}

/// What the ends draw in all is what the pixels draw, those with watts on the tangent at their old volts.
TEST(Lanes, EndsSeeWhatThePixelsDraw) {
  for (const Kind kind : kKinds) {
    const Sample s = sampleOf(3), lines = straightened(s, kind);
    const Outcome o = run(laneLoops().back(), s, kind), e = eliminated(laneLoops().back(), lines);
    for (std::size_t lane = 0; lane < kLanes; ++lane) {
      double drawn = 0.0, farthest = 0.0;
      for (std::size_t q = lane; q < o.volts.size(); q += kLanes) {
        drawn += lines.slope[q] * o.volts[q] + lines.start[q];
        if (s.watts[q] > 0.0) farthest = std::max(farthest, std::abs(o.volts[q] - s.volts[q]));
      }
      const double to = e.ends.self[lane] * s.reach.to[lane] + e.ends.mutual[lane] * s.reach.from[lane] +
                        e.ends.start[lane];
      const double from = e.ends.fromSelf[lane] * s.reach.from[lane] +
                          e.ends.mutual[lane] * s.reach.to[lane] + e.ends.fromStart[lane];
      EXPECT_NEAR(to + (s.siemens[lane] > 0.0 ? from : 0.0), drawn, 1e-10);
      if (kind == Kind::Curved) {
        EXPECT_EQ(o.moved[lane], farthest);
      }
    }
  }
}

TEST(Lanes, SayWhenAPivotOrABoundIsLost) {
  Sample s = sampleOf(5);
  const LaneLoops loops = laneLoops().back();
  EXPECT_EQ(run(loops, s, Kind::Any).outside, 0u);
  s.reach.low[6] = 13.0;
  EXPECT_EQ(run(loops, s, Kind::Any).outside, 1u << 6);
  for (const std::size_t lane : {2, 3}) s.slope[17 * kLanes + lane] = -1e6;  // with two ends, and a tail
  for (const Kind kind : {Kind::Any, Kind::Curved}) {
    EXPECT_EQ(run(loops, s, kind).lost, 0b1100u);
    EXPECT_EQ(eliminated(loops, straightened(s, kind)).lost, 0b1100u);
  }
}

}  // namespace
}  // namespace yw::circuit
