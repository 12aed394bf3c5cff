// Feeds against every possible choice, on small random runs.
#include "core/propose/feed_plan.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/draw.h"

namespace yw::propose {
namespace {

struct Kind {
  double ohmsPerMetre, most, fixed, perMetre;
};
constexpr Kind kKinds[] = {{0.0132, 5.0, 3.0, 0.5}, {0.0083, 7.5, 4.0, 0.9}, {0.0052, 11.0, 5.0, 1.6}};

circuit::Load constantLoad(double amps) {
  circuit::Load load;
  load.channels[0] = {amps, 3.0, 4.0, 0.0};
  return load;
}
circuit::Load resistorLoad(double amps, double volts) {
  circuit::Load load;
  load.kind = circuit::Load::Kind::Resistor;
  load.channels[0] = {0.0, 7.0, 0.0, (volts - 7.0) / amps};
  return load;
}

/// One ratio of V+ to 0 V everywhere, so that the loop model is the truth and an answer can be proved.
FeedRun randomRun(Draw& draw, int pixels, int places, int kinds, bool cuts) {
  FeedRun run;
  run.supplyVolts = {12.0};
  if (draw.whole(0, 1) == 0)
    run.loads = {constantLoad(draw.part(0.15, 0.9))};
  else
    run.loads = {resistorLoad(draw.part(0.15, 0.9), 12.0)};
  const double least = draw.part(9.8, 11.6), ohms = draw.part(0.01, 0.06);
  for (int k = 0; k < pixels; ++k) {
    run.load.push_back(0);
    const double r = k == 0 ? 0.0 : ohms * draw.part(0.7, 1.5);
    run.positiveOhms.push_back(r);
    run.zeroOhms.push_back(r);
    run.leastVolts.push_back(least);
  }
  const auto option = [&](int place, const Kind& kind, bool cut) {
    FeedOption o;
    o.place = place;
    const double metres = draw.part(1.0, 12.0);
    o.positiveOhms = o.zeroOhms = 0.01 + metres * kind.ohmsPerMetre;
    o.most = kind.most * 0.75;
    o.cost = kind.fixed + metres * kind.perMetre;
    o.cut = cut;
    return o;
  };
  if (draw.whole(0, 2) > 0) {
    run.hasPort = true;
    run.port = option(0, kKinds[0], false);
    run.port.cost = 0.0;
    if (draw.whole(0, 1) == 1) run.portOffCost = 0.0;
  }
  for (int i = 0; i < places; ++i)
    for (int t = 0; t < kinds; ++t) {
      const int place = i * (pixels - 1) / std::max(1, places - 1);
      run.options.push_back(option(place, kKinds[t], false));
      if (cuts && place > 0 && t == 0) run.options.push_back(option(place, kKinds[t], true));
    }
  return run;
}

/// Solves the loop of one piece of V+ (pixels a..b) by elimination, its own code; true when all limits hold.
bool pieceHolds(const FeedRun& run, const std::vector<const FeedOption*>& feeds, int a, int b) {
  const auto n = static_cast<std::size_t>(b - a + 1);
  std::vector<double> low(n, 0.0), mid(n, 0.0), rhs(n, 0.0);
  for (std::size_t i = 0; i < n; ++i) {
    const circuit::Load& load = run.loads[0];
    if (load.kind == circuit::Load::Kind::Resistor) {
      mid[i] += 1.0 / load.channels[0].ohms;
      rhs[i] += load.channels[0].dark / load.channels[0].ohms;
    } else {
      rhs[i] -= load.channels[0].amps;
    }
    if (i == 0) continue;
    const std::size_t k = static_cast<std::size_t>(a) + i;
    const double g = 1.0 / (run.positiveOhms[k] + run.zeroOhms[k]);
    low[i] = -g;
    mid[i] += g;
    mid[i - 1] += g;
  }
  for (const FeedOption* feed : feeds) {
    const double g = 1.0 / (feed->positiveOhms + feed->zeroOhms);
    mid[static_cast<std::size_t>(feed->place - a)] += g;
    rhs[static_cast<std::size_t>(feed->place - a)] += 12.0 * g;
  }
  for (std::size_t i = 1; i < n; ++i) {
    const double f = low[i] / mid[i - 1];
    mid[i] -= f * low[i];
    rhs[i] -= f * rhs[i - 1];
  }
  std::vector<double> volts(n);
  for (std::size_t i = n; i-- > 0;)
    volts[i] = (rhs[i] - (i + 1 < n ? low[i + 1] * volts[i + 1] : 0.0)) / mid[i];
  for (std::size_t i = 0; i < n; ++i)
    if (volts[i] < run.leastVolts[static_cast<std::size_t>(a) + i]) return false;
  for (const FeedOption* feed : feeds)
    if ((12.0 - volts[static_cast<std::size_t>(feed->place - a)]) / (feed->positiveOhms + feed->zeroOhms) >
        feed->most)
      return false;
  return true;
}

bool holds(const FeedRun& run, const std::vector<const FeedOption*>& feeds, bool port) {
  std::vector<const FeedOption*> piece;
  if (port) piece.push_back(&run.port);
  int a = 0;
  for (const FeedOption* feed : feeds) {
    if (feed->cut) {
      if (piece.empty() || !pieceHolds(run, piece, a, feed->place - 1)) return false;
      piece.clear();
      a = feed->place;
    }
    piece.push_back(feed);
  }
  return !piece.empty() && pieceHolds(run, piece, a, static_cast<int>(run.load.size()) - 1);
}

/// Tries every choice of at most one option a place.
double bruteForce(const FeedRun& run, bool inTheCircuit = false) {
  std::vector<std::vector<const FeedOption*>> places;
  for (const FeedOption& option : run.options) {
    if (places.empty() || places.back().front()->place != option.place) places.emplace_back();
    places.back().push_back(&option);
  }
  double best = std::numeric_limits<double>::infinity();
  std::vector<const FeedOption*> chosen;
  const auto walk = [&](const auto& self, std::size_t i, double cost, bool port) -> void {
    if (cost >= best) return;
    if (i == places.size()) {
      std::vector<std::int32_t> numbers;
      for (const FeedOption* option : chosen)
        numbers.push_back(static_cast<std::int32_t>(option - run.options.data()));
      if (inTheCircuit ? checkFeeds(run, numbers, port).holds : holds(run, chosen, port)) best = cost;
      return;
    }
    self(self, i + 1, cost, port);
    for (const FeedOption* option : places[i]) {
      chosen.push_back(option);
      self(self, i + 1, cost + option->cost, port);
      chosen.pop_back();
    }
  };
  if (run.hasPort) walk(walk, 0, 0.0, true);
  if (!run.hasPort) walk(walk, 0, 0.0, false);
  if (run.hasPort && run.portOffCost >= 0) walk(walk, 0, run.portOffCost, false);
  return best;
}

// Two conductors of one ratio on a tree are one loop exactly, so every choice can be tried by elimination.
TEST(FeedPlan, EqualsEveryChoiceTried) {
  int feasible = 0, infeasible = 0, several = 0;
  for (std::uint32_t seed = 1; seed <= 1500; ++seed) {
    Draw draw(seed);
    const FeedRun run = randomRun(draw, draw.whole(8, 17), draw.whole(3, 6), draw.whole(1, 3), false);
    const double best = bruteForce(run);
    const FeedPlan plan = planFeeds(run);
    ASSERT_EQ(plan.feasible, std::isfinite(best)) << "seed " << seed << " cost " << best;
    ++(plan.feasible ? feasible : infeasible);
    if (!plan.feasible) continue;
    several += plan.chosen.size() > 1 ? 1 : 0;
    ASSERT_NEAR(plan.cost, best, 1e-6) << "seed " << seed;
    EXPECT_TRUE(plan.optimal) << "seed " << seed;
    EXPECT_TRUE(checkFeeds(run, plan.chosen, plan.usesPort).holds) << "seed " << seed;
  }
  EXPECT_GT(feasible, 1000);
  EXPECT_GT(infeasible, 20);
  EXPECT_GT(several, 500);
}

// Across a cut the return goes on, which the loop model leaves out: what would be cheaper is tried in the
// circuit.
TEST(FeedPlan, WithCutsHoldsAndIsNeverDearerThanEveryChoiceTried) {
  int feasible = 0;
  for (std::uint32_t seed = 2001; seed <= 2300; ++seed) {
    Draw draw(seed);
    const FeedRun run = randomRun(draw, draw.whole(8, 14), draw.whole(3, 5), draw.whole(1, 2), true);
    const double least = bruteForce(run, true);
    const FeedPlan plan = planFeeds(run);
    ASSERT_EQ(plan.feasible, std::isfinite(least)) << "seed " << seed;
    if (!plan.feasible) continue;
    ++feasible;
    EXPECT_TRUE(checkFeeds(run, plan.chosen, plan.usesPort).holds) << "seed " << seed;
    EXPECT_TRUE(plan.optimal) << "seed " << seed;
    EXPECT_NEAR(plan.cost, least, 1e-6) << "seed " << seed;
    EXPECT_NEAR(plan.bound, least, 1e-6) << "seed " << seed;
  }
  EXPECT_GT(feasible, 200);
}

// More than one supply can give: the run is fed from two, V+ cut between, and neither gives too much.
TEST(FeedPlan, SharesARunOverTwoSuppliesBehindACut) {
  FeedRun run;
  run.supplyVolts = {12.0, 12.0};
  run.loads = {constantLoad(0.3)};
  for (int k = 0; k < 40; ++k) {
    run.load.push_back(0);
    run.positiveOhms.push_back(0.01);
    run.zeroOhms.push_back(0.01);
    run.leastVolts.push_back(11.0);
  }
  for (const int place : {0, 10, 20, 30, 39}) {
    run.options.push_back({place, 0, false, 0.02, 0.02, 6.0, 1.0});
    run.options.push_back({place, 1, place > 0, 0.02, 0.02, 6.0, 2.0});
  }
  const FeedPlan one = planFeeds(run);
  ASSERT_TRUE(one.feasible);
  EXPECT_NEAR(checkFeeds(run, one.chosen, one.usesPort).supplyAmps[0], 12.0, 1e-6) << "40 pixels of 0.3 A";
  EXPECT_NEAR(checkFeeds(run, one.chosen, one.usesPort).supplyAmps[1], 0.0, 1e-6);
  run.supplyRoom = {7.0, 8.0};
  const FeedPlan two = planFeeds(run);
  ASSERT_TRUE(two.feasible);
  const FeedCheck check = checkFeeds(run, two.chosen, two.usesPort);
  EXPECT_TRUE(check.holds);
  EXPECT_LE(check.supplyAmps[0], 7.0);
  EXPECT_LE(check.supplyAmps[1], 8.0);
  EXPECT_NEAR(check.supplyAmps[0] + check.supplyAmps[1], 12.0, 1e-6);
  run.supplyRoom = {7.0, 4.0};
  EXPECT_FALSE(planFeeds(run).feasible) << "both together have 11 A";
}

// The bound must lie at or below every plan's cost, never above the best.
TEST(FeedPlan, BoundIsNeverAboveTheBest) {
  FeedEffort none;
  none.comparisons = 0;
  for (std::uint32_t seed = 5000; seed < 5600; ++seed) {
    Draw draw(seed);
    const FeedRun run = randomRun(draw, draw.whole(8, 17), draw.whole(3, 6), draw.whole(1, 2), false);
    const double best = bruteForce(run);
    const FeedPlan plan = planFeeds(run, none);
    if (std::isfinite(best)) {
      EXPECT_LE(plan.bound, best + 1e-9) << "seed " << seed;
    }
  }
}

TEST(FeedPlan, HoldsInTheCircuitIsNeverDearerThanEvenSpacingAndHasNoNeedlessFeed) {
  int planned = 0;
  for (std::uint32_t seed = 9000; seed < 9060; ++seed) {
    Draw draw(seed);
    FeedRun run = randomRun(draw, draw.whole(60, 200), draw.whole(6, 14), draw.whole(1, 3), seed % 2 == 0);
    for (circuit::Load& load : run.loads) load.channels[0].amps /= 12, load.channels[0].ohms *= 12;
    // Rails of unlike ratio, as strips and fuses have: the loop model is no longer exact.
    if (seed % 4 == 0)
      for (double& ohms : run.positiveOhms) ohms *= 1.3;
    // A second supply, and neither can give all that the run takes.
    if (seed % 3 == 0) {
      run.supplyVolts.push_back(12.0);
      const double amps = static_cast<double>(run.load.size()) * circuit::evaluate(run.loads[0], 12.0).amps;
      run.supplyRoom = {0.8 * amps, 0.7 * amps};
      for (std::size_t o = 0, count = run.options.size(); o < count; ++o) {
        FeedOption other = run.options[o];
        other.supply = 1;
        other.cut = other.place > 0;
        other.cost += 1.0;
        run.options.push_back(other);
      }
    }
    FeedEffort effort;
    effort.comparisons = 2'000'000;
    const FeedPlan plan = planFeeds(run, effort), even = equalSpacing(run);
    EXPECT_TRUE(!even.feasible || plan.feasible) << "seed " << seed;
    if (!plan.feasible) continue;
    ++planned;
    EXPECT_TRUE(checkFeeds(run, plan.chosen, plan.usesPort).holds) << "seed " << seed;
    if (even.feasible) {
      EXPECT_LE(plan.cost, even.cost + 1e-9) << "seed " << seed;
    }
    for (std::size_t i = 0; i < plan.chosen.size(); ++i) {
      auto without = plan.chosen;
      without.erase(without.begin() + static_cast<std::ptrdiff_t>(i));
      EXPECT_FALSE(checkFeeds(run, without, plan.usesPort).holds) << "seed " << seed << " feed " << i;
    }
    EXPECT_EQ(planFeeds(run, effort).chosen, plan.chosen);
  }
  EXPECT_GT(planned, 40);
}

TEST(FeedPlan, NeverJoinsTwoSuppliesAndSaysWhereNothingReaches) {
  FeedRun run;
  run.supplyVolts = {12.0, 12.0};
  run.loads = {constantLoad(0.3)};
  for (int k = 0; k < 40; ++k) {
    run.load.push_back(0);
    run.positiveOhms.push_back(0.01);
    run.zeroOhms.push_back(0.01);
    run.leastVolts.push_back(11.0);
  }
  run.hasPort = true;
  run.port = {0, 0, false, 0.02, 0.02, 3.0, 0.0};
  for (const int place : {10, 20, 30, 39})
    for (const bool cut : {false, true})
      run.options.push_back({place, 1, cut, 0.02, 0.02, 6.0, cut ? 5.0 : 1.0});
  const FeedPlan plan = planFeeds(run);
  ASSERT_TRUE(plan.feasible);
  ASSERT_FALSE(plan.chosen.empty());
  EXPECT_TRUE(run.options[static_cast<std::size_t>(plan.chosen.front())].cut);
  for (double& volts : run.leastVolts) volts = 12.5;
  const FeedPlan none = planFeeds(run);
  EXPECT_FALSE(none.feasible);
  EXPECT_GE(none.stuckAt, 0);
  EXPECT_LT(none.stuckVolts, 12.5);
}

}  // namespace
}  // namespace yw::propose
