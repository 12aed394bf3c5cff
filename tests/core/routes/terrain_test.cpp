// Ways over ground that is not all alike: crossings with a price, crossings that are banned, trenches.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>
#include <random>

#include "core/routes/routes.h"
#include "core/routes/terrain.h"

namespace yw::routes {
namespace {

using base::Point;
using yard::Crossing;
using yard::FeatureKind;

std::int64_t nm(double metres) { return base::roundedCount(metres * 1e9); }
Point at(double x, double y) { return {{nm(x)}, {nm(y)}}; }
std::vector<Point> square(double x0, double y0, double x1, double y1) {
  return {at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1)};
}

class TerrainTest : public ::testing::Test {
 protected:
  TerrainTest() {
    yard::Wire lead;
    lead.pricePerMetre = {10'000};  // 1 a metre: a crossing's price is as many metres
    settings.usualLead = put(lead);
  }
  template <class R>
  Id put(const R& record) {
    const Id id{yard.nextId++};
    yard.records.emplace(id, std::make_shared<const yard::Record>(record));
    return id;
  }
  Id add(FeatureKind kind, std::vector<Point> outline) {
    yard::GroundFeature f;
    f.kind = kind;
    f.outline = std::move(outline);
    return put(f);
  }
  Ground ground() {
    yard::Yard whole = yard;
    whole.records.emplace(Id{whole.nextId++}, std::make_shared<const yard::Record>(settings));
    return Ground(whole);
  }
  yard::Yard yard;
  yard::Settings settings;
};

// Snell's law: a way enters a medium in which a metre costs `share` at an angle whose cosine is the share.
TEST_F(TerrainTest, AWayEntersATrenchAsLightWould) {
  settings.trenchShare = {500'000};
  add(FeatureKind::Trench, {at(0, 0), at(20, 0)});
  const Ground::Way way = ground().shortest({2, 3}, {15, -2});
  const double slope = 1.0 / std::sqrt(3.0), sine = std::sqrt(3.0) / 2.0;
  const double first = 2 + 3 * slope, last = 15 - 2 * slope;
  ASSERT_EQ(way.points.size(), 4u);
  EXPECT_NEAR(way.points[1].x, first, 1e-8);
  EXPECT_NEAR(way.points[2].x, last, 1e-8);
  EXPECT_EQ(way.inTrench, (std::vector<bool>{false, true, false}));
  EXPECT_NEAR(way.cost, 3 / sine + 0.5 * (last - first) + 2 / sine, 1e-8);
  EXPECT_NEAR(way.length, 3 / sine + (last - first) + 2 / sine, 1e-8);
}

TEST_F(TerrainTest, ATrenchTooFarAsideIsLeftAlone) {
  settings.trenchShare = {500'000};
  add(FeatureKind::Trench, {at(0, 0), at(20, 0)});
  const Ground::Way way = ground().shortest({2, 9}, {8, 9});
  EXPECT_EQ(way.points.size(), 2u);
  EXPECT_DOUBLE_EQ(way.cost, 6.0);
}

TEST_F(TerrainTest, DiggingSetsWhatATrenchSaves) {
  settings.diggingPrice = {30'000};  // 3 a metre beside 1 of wire
  EXPECT_DOUBLE_EQ(groundRulesOf([&] {
                     yard::Yard whole = yard;
                     whole.records.emplace(Id{99}, std::make_shared<const yard::Record>(settings));
                     return whole;
                   }())
                       .trenchShare,
                   0.25);
}

TEST_F(TerrainTest, ADearCrossingIsGoneRoundWhereThatIsShorter) {
  const Id walk = add(FeatureKind::Walk, square(-1, -5, 1, 4));
  const double round = 2 * std::hypot(3.0 - 1, 4.0) + 2.0;  // past its upper end, without the seam of 6 mm
  EXPECT_DOUBLE_EQ(ground().shortest({-3, 0}, {3, 0}).length, 6.0);
  settings.walkCrossing = Crossing::AtAPrice;
  settings.walkCover = {60'000};
  const Ground::Way about = ground().shortest({-3, 0}, {3, 0});
  EXPECT_NEAR(about.length, round, 0.03);
  EXPECT_TRUE(ground().crossed(about.points).empty());
  settings.walkCover = {40'000};
  const Ground::Way across = ground().shortest({-3, 0}, {3, 0});
  EXPECT_DOUBLE_EQ(across.length, 6.0);
  EXPECT_DOUBLE_EQ(across.cost, 10.0);
  EXPECT_EQ(ground().crossed(across.points), std::vector<Id>{walk});
  settings.walkCrossing = Crossing::AtWill;
  settings.driveCrossing = Crossing::Never;
  EXPECT_DOUBLE_EQ(ground().shortest({-3, 0}, {3, 0}).cost, 6.0)
      << "the rule for drives is not that for walks";
}

TEST_F(TerrainTest, AProvidedCrossingCostsNothing) {
  yard::GroundFeature walk;
  walk.kind = FeatureKind::Walk;
  walk.outline = square(-1, -5, 1, 4);
  walk.crossingAllowed = true;
  put(walk);
  settings.walkCrossing = Crossing::Never;
  EXPECT_DOUBLE_EQ(ground().shortest({-3, 0}, {3, 0}).cost, 6.0);
}

TEST_F(TerrainTest, ABannedCrossingIsNeverTakenButADuctGoesUnderIt) {
  const Id drive = add(FeatureKind::Drive, square(-1, -50, 1, 4));
  settings.driveCrossing = Crossing::Never;
  const Ground::Way about = ground().shortest({-3, -9}, {3, -9});
  EXPECT_GT(about.length, 20.0);
  EXPECT_TRUE(ground().crossed(about.points).empty());
  add(FeatureKind::Trench, {at(-2, -9), at(2, -9)});
  settings.trenchShare = {1'000'000};
  const Ground::Way under = ground().shortest({-3, -9}, {3, -9});
  EXPECT_NEAR(under.length, 6.0, 1e-9);
  EXPECT_TRUE(ground().crossed(under.points, under.inTrench).empty());
  EXPECT_EQ(ground().crossed(under.points), std::vector<Id>{drive}) << "on the ground it would be one";
}

TEST_F(TerrainTest, ABannedCrossingAllRoundLeavesNoWay) {
  add(FeatureKind::Walk, square(-4, 2, 4, 3));
  add(FeatureKind::Walk, square(-4, -3, 4, -2));
  add(FeatureKind::Walk, square(-4, -3, -3, 3));
  add(FeatureKind::Walk, square(3, -3, 4, 3));
  settings.walkCrossing = Crossing::Never;
  EXPECT_TRUE(ground().shortest({0, 0}, {9, 0}).blocked);
}

TEST_F(TerrainTest, NothingSlipsBetweenTheHouseAndAWalkThatEndsAtIt) {
  add(FeatureKind::House, square(-10, 0, 10, 6));
  const Id walk = add(FeatureKind::Walk, square(-1, -20, 1, 0));
  settings.walkCrossing = Crossing::AtAPrice;
  settings.walkCover = {50'000};
  const Ground::Way way = ground().shortest({-5, -1}, {5, -1});
  EXPECT_EQ(ground().crossed(way.points), std::vector<Id>{walk});
  EXPECT_NEAR(way.cost, 10.0 + 5.0, 1e-9);
}

TEST_F(TerrainTest, WhatMustNotBeLongerTakesTheShortestWay) {
  settings.trenchShare = {100'000};
  add(FeatureKind::Trench, {at(0, 0), at(0, 8), at(10, 8), at(10, 0)});
  const Ground made = ground();
  const Ground::Way about = made.shortest({0, 0}, {10, 0});
  EXPECT_NEAR(about.length, 26.0, 1e-8);
  EXPECT_NEAR(about.cost, 2.6, 1e-8);
  EXPECT_DOUBLE_EQ(made.shortest({0, 0}, {10, 0}, {}, 26.1).length, about.length);
  const Ground::Way straight = made.shortest({0, 0}, {10, 0}, {}, 25.0);
  EXPECT_DOUBLE_EQ(straight.length, 10.0);
  EXPECT_EQ(straight.inTrench, std::vector<bool>{false});
}

TEST_F(TerrainTest, ATrenchThatStartsAtAFenceIsNoHoleInIt) {
  add(FeatureKind::Fence, {at(0, -5), at(0, 5)});
  add(FeatureKind::Trench, {at(0, 0), at(3, 0)});
  const double round = std::hypot(1, 4) + std::hypot(1, 6);
  EXPECT_NEAR(ground().shortest({-1, 1}, {1, -1}).length, round, 1e-6);
  add(FeatureKind::Trench, {at(-3, 2), at(3, 2)});
  EXPECT_LT(ground().shortest({-1, 1}, {1, -1}).length, 7.0) << "a duct under the fence is one";
}

TEST_F(TerrainTest, ADuctServesALeadThatMustNotBeLonger) {
  add(FeatureKind::Drive, square(-1, -50, 1, 50));
  settings.driveCrossing = Crossing::Never;
  settings.trenchShare = {300'000};
  add(FeatureKind::Trench, {at(-9, 0), at(9, 0)});
  const Ground made = ground();
  const Ground::Way cheap = made.shortest({-8, 6}, {8, 6});
  const Ground::Way fits = made.shortest({-8, 6}, {8, 6}, {}, cheap.length - 0.01);
  EXPECT_LT(fits.length, cheap.length - 0.01);
  EXPECT_GT(fits.cost, 0.0);
  EXPECT_NE(std::find(fits.inTrench.begin(), fits.inTrench.end(), true), fits.inTrench.end());
  EXPECT_TRUE(made.crossed(fits.points, fits.inTrench).empty());
}

// ---- against an independent check on random yards

struct Sampled {
  Vec2 at;
  bool trench = false;  ///< a place along a trench that is no corner of it
  std::size_t piece = 0;
};

bool insideOf(const std::vector<std::vector<Spot>>& rings, Vec2 p) {  // even-odd, by a ray
  bool inside = false;
  for (const auto& ring : rings)
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 a = vecOf(ring[i]), b = vecOf(ring[(i + 1) % ring.size()]);
      if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y)) inside = !inside;
    }
  return inside;
}

/// Inside and more than a tenth of a micrometre from the edge.
bool deepIn(const std::vector<std::vector<Spot>>& rings, Vec2 p) {
  for (const auto& ring : rings)
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 a = vecOf(ring[i]), d = vecOf(ring[(i + 1) % ring.size()]) - a;
      const double k = std::clamp(base::dot(p - a, d) / base::dot(d, d), 0.0, 1.0);
      if (base::distance(p, a + d * k) < 1e-7) return false;
    }
  return insideOf(rings, p);
}

/// Shares of p-q at which it meets the rings.
std::vector<double> cutsOf(const std::vector<std::vector<Spot>>& rings, Vec2 p, Vec2 q) {
  std::vector<double> cuts{0.0, 1.0};
  const Vec2 d = q - p;
  for (const auto& ring : rings)
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 a = vecOf(ring[i]), e = vecOf(ring[(i + 1) % ring.size()]) - a;
      const double det = base::cross(d, e);
      if (det == 0.0) continue;
      const double along = base::cross(a - p, e) / det, beside = base::cross(a - p, d) / det;
      if (along > 0.0 && along < 1.0 && beside >= 0.0 && beside <= 1.0) cuts.push_back(along);
    }
  std::sort(cuts.begin(), cuts.end());
  return cuts;
}

/// Metres of p-q inside the rings, and how often it passes from one side to the other.
std::pair<double, int> through(const std::vector<std::vector<Spot>>& rings, Vec2 p, Vec2 q) {
  const std::vector<double> cuts = cutsOf(rings, p, q);
  double inside = 0.0;
  int changes = 0, last = -1;
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
    const double length = (cuts[i + 1] - cuts[i]) * base::distance(p, q);
    if (length < 1e-7) continue;
    const int in = deepIn(rings, p + (q - p) * ((cuts[i] + cuts[i + 1]) / 2.0)) ? 1 : 0;
    inside += in * length;
    if (last >= 0) changes += in != last;
    last = in;
  }
  return {inside, changes};
}

/// Nodes every 20 mm along each trench, Dijkstra over all that is free, own questions for what is free and
/// what is crossed. Ends lie outside everything.
class Check {
 public:
  Check(const Terrain& terrain, const std::vector<Vec2>& ends) : t_(terrain) {
    for (const Vec2 end : ends) nodes_.push_back({end});
    for (const Obstacle& o : t_.obstacles) take(o.rings);
    for (const Toll& toll : t_.tolls) take(toll.rings);
    std::size_t piece = 0;
    for (const Trench& trench : t_.trenches)
      for (std::size_t i = 0; i + 1 < trench.line.size(); ++i, ++piece) {
        const Vec2 a = vecOf(trench.line[i]), d = vecOf(trench.line[i + 1]) - a;
        const auto steps = static_cast<int>(std::ceil(base::norm(d) / 0.02));
        for (int k = 0; k <= steps; ++k) {
          if (k > 0) along_.emplace_back(nodes_.size() - 1, nodes_.size());
          nodes_.push_back({a + d * (static_cast<double>(k) / steps), k > 0 && k < steps, piece});
        }
        // Where it goes under an outline, a hair to either side.
        const std::size_t first = nodes_.size() - static_cast<std::size_t>(steps) - 1;
        std::vector<double> under;
        for (const Obstacle& o : t_.obstacles)
          for (const double cut : cutsOf(o.rings, a, a + d)) under.push_back(cut);
        for (const Toll& toll : t_.tolls)
          for (const double cut : cutsOf(toll.rings, a, a + d)) under.push_back(cut);
        for (const double cut : under)
          for (const double beside : {-1e-6, 1e-6}) {
            const double share = cut + beside / base::norm(d);
            if (share <= 0.0 || share >= 1.0) continue;
            along_.emplace_back(first + static_cast<std::size_t>(std::llround(share * steps)), nodes_.size());
            nodes_.push_back({a + d * share, false, piece});
          }
      }
    next_.resize(nodes_.size());
    const auto join = [&](std::size_t i, std::size_t j, double cost) {
      next_[i].emplace_back(j, cost);
      next_[j].emplace_back(i, cost);
    };
    for (std::size_t i = 0; i < nodes_.size(); ++i)
      for (std::size_t j = i + 1; j < nodes_.size(); ++j) {
        if (nodes_[i].trench && nodes_[j].trench) continue;
        const double cost = open(nodes_[i].at, nodes_[j].at);
        if (std::isfinite(cost)) join(i, j, cost);
      }
    for (const auto& [i, j] : along_) join(i, j, t_.trenchShare * base::distance(nodes_[i].at, nodes_[j].at));
    // Where two trenches cross, from the nearest place of one to that of the other.
    for (std::size_t i = 0; i < along_.size(); ++i)
      for (std::size_t j = i + 1; j < along_.size(); ++j) {
        const Vec2 a = nodes_[along_[i].first].at, d = nodes_[along_[i].second].at - a;
        const Vec2 c = nodes_[along_[j].first].at, e = nodes_[along_[j].second].at - c;
        const double det = base::cross(d, e);
        if (nodes_[along_[i].second].piece == nodes_[along_[j].second].piece || det == 0.0) continue;
        const double x = base::cross(c - a, e) / det, y = base::cross(c - a, d) / det;
        if (x >= 0.0 && x <= 1.0 && y >= 0.0 && y <= 1.0)
          join(along_[i].first, along_[j].first, base::distance(a, c));
      }
  }
  std::vector<double> from(std::size_t end) const {
    std::vector<double> cost(nodes_.size(), std::numeric_limits<double>::infinity());
    std::priority_queue<std::pair<double, std::size_t>> queue;
    cost[end] = 0.0;
    queue.emplace(0.0, end);
    while (!queue.empty()) {
      const auto [negative, i] = queue.top();
      queue.pop();
      if (-negative > cost[i]) continue;
      for (const auto& [j, more] : next_[i])
        if (cost[i] + more < cost[j]) {
          cost[j] = cost[i] + more;
          queue.emplace(-cost[j], j);
        }
    }
    return cost;
  }

 private:
  void take(const std::vector<std::vector<Spot>>& rings) {
    for (const auto& ring : rings)
      for (const Spot s : ring) nodes_.push_back({vecOf(s)});
  }
  double open(Vec2 p, Vec2 q) const {
    double cost = base::distance(p, q);
    if (cost < 1e-9) return 0.0;
    for (const Obstacle& o : t_.obstacles)
      if (through(o.rings, p, q).first > 1e-6) return std::numeric_limits<double>::infinity();
    for (const Toll& toll : t_.tolls) {
      // A place on the outline, a hair outside or inside, is outside: going in from there counts.
      const auto [inside, changes] = through(toll.rings, p, q);
      if (inside < 1e-6) continue;
      const auto onEdge = [&](Vec2 at, Vec2 to) {
        const Vec2 step = (to - at) * (1e-5 / base::distance(at, to));
        return !deepIn(toll.rings, at) && deepIn(toll.rings, at + step);
      };
      cost += toll.price * 0.5 * (changes + (onEdge(p, q) ? 1 : 0) + (onEdge(q, p) ? 1 : 0));
    }
    return cost;
  }

  const Terrain& t_;
  std::vector<Sampled> nodes_;
  std::vector<std::pair<std::size_t, std::size_t>> along_;
  std::vector<std::vector<std::pair<std::size_t, double>>> next_;
};

TEST(WeighedWay, EqualsADenseGraphOnRandomYards) {
  int compared = 0, dug = 0, tolled = 0;
  double worst = 0.0, sum = 0.0;
  for (unsigned seed = 1; seed <= 60; ++seed) {
    std::mt19937 random(seed);
    const auto draw = [&](double low, double high) { return low + (high - low) * (random() / 4294967296.0); };
    yard::Yard made;
    const auto put = [&](yard::Record record) {
      made.records.emplace(Id{made.nextId++}, std::make_shared<const yard::Record>(std::move(record)));
    };
    const auto feature = [&](FeatureKind kind, std::vector<Point> outline) {
      yard::GroundFeature f;
      f.kind = kind;
      f.outline = std::move(outline);
      put(f);
    };
    for (int i = 0; i < 2; ++i) {
      const double x = draw(0, 9), y = draw(0, 9);
      feature(FeatureKind::House, square(x, y, x + draw(0.5, 3), y + draw(0.5, 3)));
    }
    for (int i = 0; i < 2; ++i) {
      const double x = draw(0, 9), y = draw(0, 9), lean = draw(-1, 1), w = draw(0.5, 2), h = draw(2, 8);
      feature(i == 0 ? FeatureKind::Walk : FeatureKind::Drive,
              {at(x, y), at(x + w, y), at(x + w + lean, y + h), at(x + lean, y + h)});
    }
    const int trenches = static_cast<int>(seed % 3);
    for (int i = 0; i < trenches; ++i)
      feature(FeatureKind::Trench,
              {at(draw(0, 12), draw(0, 12)), at(draw(0, 12), draw(0, 12)), at(draw(0, 12), draw(0, 12))});
    yard::Settings settings;
    settings.walkCrossing = settings.driveCrossing = Crossing::AtAPrice;
    settings.walkCover = {nm(draw(0.2, 4)) / 100'000};
    settings.driveCover = {nm(draw(0.2, 4)) / 100'000};
    settings.trenchShare = {static_cast<std::int64_t>(draw(300'000, 950'000))};
    put(settings);
    const Terrain terrain = terrainOf(made);
    std::vector<Vec2> ends;
    while (ends.size() < 4) {
      const Vec2 p{draw(0, 12), draw(0, 12)};
      const bool out = std::none_of(terrain.obstacles.begin(), terrain.obstacles.end(),
                                    [&](const Obstacle& o) { return insideOf(o.rings, p); });
      if (out) ends.push_back(p);
    }
    const Ground ground(made);
    const Check check(terrain, ends);
    for (std::size_t i = 0; i < ends.size(); ++i) {
      const std::vector<double> expected = check.from(i);
      for (std::size_t j = 0; j < ends.size(); ++j) {
        if (i == j) continue;
        const Ground::Way way = ground.shortest(ends[i], ends[j]);
        ASSERT_EQ(way.blocked, !std::isfinite(expected[j])) << "seed " << seed;
        if (way.blocked) continue;
        // The dense graph has only places every 20 mm to enter a trench at: it may be that much dearer.
        ASSERT_LE(way.cost, expected[j] + 1e-6) << "seed " << seed << " ends " << i << ' ' << j;
        const double allowed = trenches == 0 ? 1e-6 : 0.04;
        ASSERT_GE(way.cost, expected[j] - allowed) << "seed " << seed << " ends " << i << ' ' << j;
        ASSERT_NEAR(way.cost, ground.shortest(ends[j], ends[i]).cost, 1e-8);
        double walked = 0.0;
        for (std::size_t k = 0; k + 1 < way.points.size(); ++k)
          walked += base::distance(way.points[k], way.points[k + 1]);
        ASSERT_NEAR(walked, way.length, 1e-9);
        worst = std::max(worst, expected[j] - way.cost);
        sum += expected[j] - way.cost;
        ++compared;
        dug += std::find(way.inTrench.begin(), way.inTrench.end(), true) != way.inTrench.end();
        tolled += way.points.size() > 2;
      }
    }
  }
  EXPECT_LT(sum / compared, 0.002);
  EXPECT_GT(dug, compared / 10) << "the yards must be worth the check; worst " << worst;
  EXPECT_GT(tolled, compared / 4);
}

}  // namespace
}  // namespace yw::routes
