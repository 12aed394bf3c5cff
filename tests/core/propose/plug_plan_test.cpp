// Plugs and packings against trying everything.
#include "core/propose/plug_plan.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numeric>
#include <random>

#include "core/propose/site_plan.h"
#include "tests/core/propose/outside_solver.h"

namespace yw::propose {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

PlugJob randomPlugs(std::uint32_t seed) {
  std::mt19937 random(seed);
  const auto draw = [&](double low, double high) { return low + (high - low) * (random() % 1000) / 1000.0; };
  PlugJob job;
  const std::size_t units = 1 + random() % 5, outlets = 1 + random() % 4, circuits = 1 + random() % 3;
  for (std::size_t c = 0; c < circuits; ++c)
    job.circuits.push_back(
        {draw(4, 16), random() % 2 ? 0.003 : 1e9, static_cast<std::int32_t>(1 + random() % 4)});
  for (std::size_t o = 0; o < outlets; ++o)
    job.outlets.push_back({static_cast<std::int32_t>(random() % circuits), 12.0,
                           static_cast<std::int32_t>(1 + random() % 2), 0, 0.0});
  for (std::size_t u = 0; u < units; ++u) {
    job.units.push_back({draw(1, 8), draw(0.0, 0.001)});
    job.cost.emplace_back();
    for (std::size_t o = 0; o < outlets; ++o)
      job.cost.back().push_back(random() % 6 == 0 ? kInfinity : draw(1, 50));
  }
  return job;
}

/// Fewest units left out, then least cost, over every way to plug them in.
std::pair<std::int64_t, double> byTryingAll(const PlugJob& job) {
  std::pair<std::int64_t, double> best{1'000, 0.0};
  std::vector<std::int32_t> at(job.units.size(), -1);
  const auto last = static_cast<std::int32_t>(job.outlets.size()) - 1;
  for (bool more = true; more;) {
    if (plugsHold(job, at)) {
      std::pair<std::int64_t, double> now{0, 0.0};
      for (std::size_t u = 0; u < at.size(); ++u)
        at[u] < 0 ? void(++now.first) : void(now.second += job.cost[u][static_cast<std::size_t>(at[u])]);
      best = std::min(best, now);
    }
    std::size_t u = 0;
    while (u < at.size() && at[u] == last) at[u++] = -1;
    more = u < at.size();
    if (more) ++at[u];
  }
  return best;
}

TEST(PlugPlan, IsTheBestOfAllWays) {
  for (std::uint32_t seed = 1; seed <= 400; ++seed) {
    SCOPED_TRACE(seed);
    const PlugJob job = randomPlugs(seed);
    const PlugPlan plan = planPlugs(job);
    EXPECT_TRUE(plan.optimal);
    EXPECT_TRUE(plugsHold(job, plan.outlet));
    const auto [missing, cost] = byTryingAll(job);
    EXPECT_EQ(std::count(plan.outlet.begin(), plan.outlet.end(), -1), missing);
    EXPECT_NEAR(plan.cost, cost, 1e-9);
    EXPECT_LE(plan.bound, plan.cost + 1e-9);
  }
}

TEST(PlugPlan, GivenUpItStillBreaksNoLimit) {
  for (std::uint32_t seed = 1; seed <= 400; ++seed) {
    const PlugJob job = randomPlugs(seed);
    const PlugPlan plan = planPlugs(job, 3);
    EXPECT_TRUE(plugsHold(job, plan.outlet)) << seed;
  }
}

/// Fewest new supplies over every way to hang the loads.
int fewestByTryingAll(const PackJob& job) {
  for (int added = 0;; ++added) {
    std::vector<double> room = job.room;
    room.insert(room.end(), static_cast<std::size_t>(added), job.newRoom);
    const std::function<bool(std::size_t)> fits = [&](std::size_t i) {
      if (i == job.loads.size()) return true;
      for (double& left : room) {
        if (job.loads[i] > left + 1e-9) continue;
        left -= job.loads[i];
        if (fits(i + 1)) return true;
        left += job.loads[i];
      }
      return false;
    };
    if (fits(0)) return added;
  }
}

TEST(PackLoads, AddsAsFewSuppliesAsCanBe) {
  std::mt19937 random(7);
  for (int trial = 0; trial < 400; ++trial) {
    PackJob job;
    job.newRoom = 20.0;
    for (std::size_t s = random() % 3; s > 0; --s) job.room.push_back(5.0 + random() % 20);
    for (std::size_t i = 1 + random() % 7; i > 0; --i) {
      job.loads.push_back(1.0 + random() % 19);
      job.now.push_back(job.room.empty() ? -1 : static_cast<std::int32_t>(random() % job.room.size()));
    }
    const PackPlan plan = packLoads(job);
    EXPECT_EQ(plan.added, fewestByTryingAll(job)) << trial;
    EXPECT_LE(plan.bound, plan.added);
    std::vector<double> used(job.room.size() + static_cast<std::size_t>(plan.added), 0.0);
    for (std::size_t i = 0; i < job.loads.size(); ++i)
      used.at(static_cast<std::size_t>(plan.supply[i])) += job.loads[i];
    for (std::size_t s = 0; s < used.size(); ++s)
      EXPECT_LE(used[s], (s < job.room.size() ? job.room[s] : job.newRoom) + 1e-9);
  }
}

TEST(PackLoads, LeavesOutWhatNoSupplyCanGive) {
  PackJob job;
  job.newRoom = 10.0;
  job.loads = {25.0, 4.0};
  job.now = {-1, -1};
  const PackPlan plan = packLoads(job);
  EXPECT_EQ(plan.supply, (std::vector<std::int32_t>{-1, 0}));
  EXPECT_EQ(plan.added, 1);
}

SiteJob randomSites(std::mt19937& random, std::size_t boxes, std::size_t places) {
  const auto draw = [&](double low, double high) { return low + (high - low) * (random() % 1000) / 1000.0; };
  SiteJob job;
  job.tooNear.assign(places, std::vector<bool>(places, false));
  for (std::size_t p = 0; p < places; ++p) job.tooNear[p][p] = true;
  for (std::size_t b = 0; b < boxes; ++b) {
    job.mayMove.push_back(true);
    job.boxCost.emplace_back();
    for (std::size_t p = 0; p < places; ++p) job.boxCost.back().push_back(draw(0, 20));
  }
  for (std::size_t d = 0; d < 6; ++d) {
    job.demands.push_back({d % 2 ? -1 : static_cast<std::int32_t>(random() % boxes), 1.0});
    job.lead.emplace_back();
    for (std::size_t p = 0; p < places; ++p) job.lead.back().push_back(draw(0, 30));
  }
  return job;
}

double siteCost(const SiteJob& job, const std::vector<std::int32_t>& at) {
  double cost = 0.0;
  for (std::size_t b = 0; b < at.size(); ++b) cost += job.boxCost[b][static_cast<std::size_t>(at[b])];
  for (std::size_t d = 0; d < job.demands.size(); ++d) {
    double least = kInfinity;
    for (std::size_t b = 0; b < at.size(); ++b)
      if (job.demands[d].box < 0 || job.demands[d].box == static_cast<std::int32_t>(b))
        least = std::min(least, job.lead[d][static_cast<std::size_t>(at[b])]);
    cost += least;
  }
  return cost;
}

TEST(SitePlan, IsTheBestOfAllWhereTheyAreFew) {
  std::mt19937 random(11);
  constexpr int kTrials = 200, kPlaces = 8;
  for (int trial = 0; trial < kTrials; ++trial) {
    const SiteJob job = randomSites(random, 2, kPlaces);
    const SitePlan plan = planSites(job, {0, 1});
    EXPECT_NEAR(plan.cost, siteCost(job, plan.at), 1e-9);
    EXPECT_LE(plan.cost, siteCost(job, {0, 1}) + 1e-9);
    EXPECT_NE(plan.at[0], plan.at[1]);
    double least = kInfinity;
    for (std::int32_t a = 0; a < kPlaces; ++a)
      for (std::int32_t b = 0; b < kPlaces; ++b)
        if (a != b) least = std::min(least, siteCost(job, {a, b}));
    EXPECT_NEAR(plan.cost, least, 1e-9) << "so few choices are all tried";
    EXPECT_NEAR(plan.bound, least, 1e-9);
  }
}

/// Boxes on a lawn of 60 m by 40 m with an outlet in a corner; demands that any box may serve, and some of
/// one box's own.
SiteJob lawn(std::mt19937& random, std::size_t boxes, std::size_t places, std::size_t demands) {
  const auto draw = [&](double low, double high) { return low + (high - low) * (random() / 4294967296.0); };
  struct Spot {
    double x, y;
  };
  const auto away = [](Spot a, Spot b) { return std::hypot(a.x - b.x, a.y - b.y); };
  std::vector<Spot> at;
  for (std::size_t p = 0; p < places; ++p) at.push_back({draw(0, 60), draw(0, 40)});
  SiteJob job;
  job.tooNear.assign(places, std::vector<bool>(places, false));
  for (std::size_t p = 0; p < places; ++p) job.tooNear[p][p] = true;
  for (std::size_t b = 0; b < boxes; ++b) {
    job.mayMove.push_back(true);
    job.boxCost.emplace_back();
    for (const Spot spot : at) job.boxCost.back().push_back(2.0 * away(spot, {0, 0}));
  }
  for (std::size_t d = 0; d < demands; ++d) {
    const Spot prop{draw(0, 60), draw(0, 40)};
    job.demands.push_back({d % 5 == 0 ? static_cast<std::int32_t>(random() % boxes) : -1, 1.5});
    job.lead.emplace_back();
    for (const Spot spot : at) job.lead.back().push_back(1.5 * away(spot, prop));
  }
  return job;
}

/// The least cost by cbc: a box at a place, a demand from a place that has a box.
OutsideAnswer bestSites(const SiteJob& job) {
  ZeroOne out;
  const std::size_t places = job.tooNear.size();
  std::vector<std::vector<std::size_t>> stands(job.boxCost.size());
  std::vector<ZeroOne::Row> onePlace(places);
  for (std::size_t b = 0; b < stands.size(); ++b) {
    ZeroOne::Row one{{}, true, 1.0};
    for (std::size_t p = 0; p < places; ++p) {
      stands[b].push_back(out.cost.size());
      double cost = job.boxCost[b][p];
      for (std::size_t d = 0; d < job.demands.size(); ++d)
        if (job.demands[d].box == static_cast<std::int32_t>(b)) cost += job.lead[d][p];
      one.terms.emplace_back(out.cost.size(), 1.0);
      onePlace[p].terms.emplace_back(out.cost.size(), 1.0);
      onePlace[p].right = 1.0;
      out.cost.push_back(cost);
    }
    out.rows.push_back(one);
  }
  out.rows.insert(out.rows.end(), onePlace.begin(), onePlace.end());
  for (std::size_t d = 0; d < job.demands.size(); ++d) {
    if (job.demands[d].box >= 0) continue;
    ZeroOne::Row one{{}, true, 1.0};
    for (std::size_t p = 0; p < places; ++p) {
      ZeroOne::Row onlyFrom{{{out.cost.size(), 1.0}}, false, 0.0};
      for (const auto& box : stands) onlyFrom.terms.emplace_back(box[p], -1.0);
      one.terms.emplace_back(out.cost.size(), 1.0);
      out.rows.push_back(onlyFrom);
      out.cost.push_back(job.lead[d][p]);
    }
    out.rows.push_back(one);
  }
  return solveOutside(out);
}

// Against the cbc program (Debian, coinor-cbc): the bound lies below its optimum and not far below.
TEST(SitePlan, BoundAndPlanAreNearTheOptimumOfAnotherSolver) {
  std::mt19937 random(17);
  int cases = 0, same = 0;
  double over = 0.0, under = 0.0;
  for (int trial = 0; trial < 12; ++trial) {
    const SiteJob job = lawn(random, 4, 16, 40);
    const SitePlan plan = planSites(job, {0, 1, 2, 3});
    const OutsideAnswer best = bestSites(job);
    ASSERT_TRUE(best.ran) << "is the program cbc installed (package coinor-cbc)?";
    if (!best.solved) continue;
    ++cases;
    EXPECT_LE(plan.bound, best.cost + 1e-6) << trial << ": the bound is none";
    EXPECT_GE(plan.cost, best.cost - 1e-6) << trial;
    same += plan.cost <= best.cost + 1e-6 ? 1 : 0;
    over = std::max(over, plan.cost / best.cost - 1.0);
    under = std::max(under, 1.0 - plan.bound / best.cost);
  }
  RecordProperty("same", same);
  RecordProperty("worst over, per mille", static_cast<int>(1000 * over));
  RecordProperty("worst bound under, per mille", static_cast<int>(1000 * under));
  EXPECT_GE(cases, 10);
  EXPECT_GE(same, cases * 9 / 10);
  EXPECT_LE(over, 0.02);
  EXPECT_LE(under, 0.03);
}

TEST(SitePlan, LeavesABoxThatIsKept) {
  std::mt19937 random(13);
  for (int trial = 0; trial < 50; ++trial) {
    SiteJob job = randomSites(random, 2, 8);
    job.mayMove[0] = false;
    EXPECT_EQ(planSites(job, {0, 1}).at[0], 0);
  }
}

}  // namespace
}  // namespace yw::propose
