// Shortest ways against an independent check: every pair of corners and ends, a different question for what
// is free (where does the line enter an inside?), and Floyd-Warshall over all of them.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "core/routes/obstacles.h"
#include "core/routes/routes.h"

namespace yw::routes {
namespace {

using base::Point;
using Real = long double;

struct Place {
  Real x, y;
};
Place operator-(Place a, Place b) { return {a.x - b.x, a.y - b.y}; }
Real crossed(Place a, Place b) { return a.x * b.y - a.y * b.x; }
Real dotted(Place a, Place b) { return a.x * b.x + a.y * b.y; }
Real length(Place a) { return std::sqrt(dotted(a, a)); }
Place placeOf(Spot s) { return {static_cast<Real>(s.x) * 1e-9L, static_cast<Real>(s.y) * 1e-9L}; }

constexpr Real kSkin = 1e-10L;  // m: shallower than that is not inside

Real fromEdge(Place p, Place a, Place b) {
  const Place d = b - a;
  const Real k = std::clamp(dotted(p - a, d) / dotted(d, d), 0.0L, 1.0L);
  return length(p - Place{a.x + k * d.x, a.y + k * d.y});
}

/// Deeper than the skin inside the rings, by counting crossings of a ray (even-odd).
bool deepInside(const Obstacle& o, Place p) {
  bool inside = false;
  for (const auto& ring : o.rings)
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Place a = placeOf(ring[i]), b = placeOf(ring[(i + 1) % ring.size()]);
      if (fromEdge(p, a, b) <= kSkin) return false;
      if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y)) inside = !inside;
    }
  return inside;
}

bool freeLine(const std::vector<Obstacle>& all, Place p, Place q) {
  const Place d = q - p;
  for (const Obstacle& o : all) {
    std::vector<Real> cuts{0.0L, 1.0L};
    for (const auto& ring : o.rings)
      for (std::size_t i = 0; i + (o.solid ? 0 : 1) < ring.size(); ++i) {
        const Place a = placeOf(ring[i]), b = placeOf(ring[(i + 1) % ring.size()]), e = b - a;
        const Real det = crossed(d, e);
        if (det == 0.0L) continue;
        const Real along = crossed(a - p, e) / det, beside = crossed(a - p, d) / det;
        if (along > 0.0L && along < 1.0L) cuts.push_back(along);
        // A fence of two places: crossed where the line meets it away from both its ends.
        const Real skin = kSkin / length(e), own = kSkin / length(d);
        if (!o.solid && along > own && along < 1.0L - own && beside > skin && beside < 1.0L - skin)
          return false;
      }
    if (!o.solid) continue;
    std::sort(cuts.begin(), cuts.end());
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
      const Real middle = (cuts[i] + cuts[i + 1]) / 2.0L;
      if (deepInside(o, {p.x + middle * d.x, p.y + middle * d.y})) return false;
    }
  }
  return true;
}

/// A corner that lies on a fence, not at its end: no way bends there, or it would slip to the other side.
bool onFence(const std::vector<Obstacle>& all, Spot s) {
  return std::any_of(all.begin(), all.end(), [&](const Obstacle& o) {
    return !o.solid && s != o.rings[0][0] && s != o.rings[0][1] &&
           fromEdge(placeOf(s), placeOf(o.rings[0][0]), placeOf(o.rings[0][1])) < kSkin;
  });
}

/// Lengths between all ends, straight where there is no way.
std::vector<std::vector<Real>> allLengths(const std::vector<Obstacle>& all, const std::vector<Vec2>& ends) {
  std::vector<Place> nodes;
  for (const Vec2 e : ends) nodes.push_back({e.x, e.y});
  for (const Obstacle& o : all)
    for (const auto& ring : o.rings)
      for (const Spot s : ring)
        if (!onFence(all, s)) nodes.push_back(placeOf(s));
  const std::size_t n = nodes.size();
  std::vector<std::vector<Real>> d(n, std::vector<Real>(n, std::numeric_limits<Real>::infinity()));
  for (std::size_t i = 0; i < n; ++i) {
    d[i][i] = 0.0L;
    for (std::size_t j = i + 1; j < n; ++j)
      if (freeLine(all, nodes[i], nodes[j])) d[i][j] = d[j][i] = length(nodes[j] - nodes[i]);
  }
  for (std::size_t k = 0; k < n; ++k)
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t j = 0; j < n; ++j) d[i][j] = std::min(d[i][j], d[i][k] + d[k][j]);
  return d;
}

struct RandomYard {
  yard::Yard yard;
  std::vector<Vec2> ends;
};

class Maker {
 public:
  Maker(unsigned seed, bool coarse) : random_(seed), coarse_(coarse) {}

  RandomYard make() {
    RandomYard out;
    const int features = 1 + pick(4);
    for (int i = 0; i < features; ++i) {
      yard::GroundFeature f;
      const int kind = pick(5);
      f.kind = kind == 0   ? yard::FeatureKind::Fence
               : kind == 1 ? yard::FeatureKind::KeepOut
               : kind == 2 ? yard::FeatureKind::Tree
                           : yard::FeatureKind::House;
      if (f.kind == yard::FeatureKind::Fence)
        f.outline = {place(), place()};
      else
        f.outline = star();
      if (f.kind == yard::FeatureKind::KeepOut && pick(2) == 0) f.tolerance = {500'000'000};
      const Id id{out.yard.nextId++};
      out.yard.records.emplace(id, std::make_shared<const yard::Record>(f));
    }
    const std::vector<Obstacle> all = obstaclesOf(out.yard);
    for (int tries = 0; tries < 200 && out.ends.size() < 5; ++tries) {
      const Spot s = spotOf(base::vec(place()));
      const bool open = std::all_of(all.begin(), all.end(), [&](const Obstacle& o) {
        if (!o.solid) return fromEdge(placeOf(s), placeOf(o.rings[0][0]), placeOf(o.rings[0][1])) > 1e-6L;
        return sideOf(o.rings, s) != Side::Inside;
      });
      if (open) out.ends.push_back(vecOf(s));
    }
    return out;
  }

 private:
  int pick(int n) { return static_cast<int>(random_() % static_cast<unsigned>(n)); }
  std::int64_t coordinate() {
    if (coarse_) return static_cast<std::int64_t>(random_() % 13) * 1'000'000'000;
    return static_cast<std::int64_t>(random_() % 12'000'000) * 1'000 +
           static_cast<std::int64_t>(random_() % 1'000);
  }
  Point place() { return {{coordinate()}, {coordinate()}}; }
  /// A ring of corners round a middle, so that it never crosses itself.
  std::vector<Point> star() {
    if (coarse_ && pick(2) == 0) {  // a rectangle on the coarse lattice: many shared lines
      const Point a = place();
      const base::Length w{(1 + pick(4)) * 1'000'000'000LL}, h{(1 + pick(4)) * 1'000'000'000LL};
      return {a, {a.x + w, a.y}, {a.x + w, a.y + h}, {a.x, a.y + h}};
    }
    const Point middle = place();
    const int n = 3 + pick(4);
    std::vector<Point> out;
    for (int i = 0; i < n; ++i) {
      const double turn = (i + 0.8 * (random_() % 1000) / 1000.0) * 2.0 * 3.14159265358979 / n;
      const double far = 0.5 + (random_() % 3000) / 1000.0;
      out.push_back({middle.x + base::Length{base::roundedCount(far * std::cos(turn) * 1e9)},
                     middle.y + base::Length{base::roundedCount(far * std::sin(turn) * 1e9)}});
    }
    return out;
  }
  std::mt19937 random_;
  bool coarse_;
};

void expectExact(bool coarse, unsigned seeds) {
  int detours = 0, compared = 0;
  for (unsigned seed = 1; seed <= seeds; ++seed) {
    const RandomYard made = Maker(seed, coarse).make();
    const std::vector<Obstacle> all = obstaclesOf(made.yard);
    // Fences that met and became one bend; those are held against thin walls further down.
    if (std::any_of(all.begin(), all.end(),
                    [](const Obstacle& o) { return !o.solid && o.rings[0].size() > 2; }))
      continue;
    const auto expected = allLengths(all, made.ends);
    const Ground ground(made.yard);
    for (std::size_t i = 0; i < made.ends.size(); ++i)
      for (std::size_t j = 0; j < made.ends.size(); ++j) {
        const Ground::Way way = ground.shortest(made.ends[i], made.ends[j]);
        const double straight = base::distance(made.ends[i], made.ends[j]);
        const bool none = std::isinf(static_cast<double>(expected[i][j]));
        ASSERT_EQ(way.blocked, none) << "seed " << seed << " ends " << i << ' ' << j;
        ASSERT_NEAR(way.length, none ? straight : static_cast<double>(expected[i][j]), 1e-9)
            << "seed " << seed << " ends " << i << ' ' << j;
        double walked = 0.0;
        for (std::size_t k = 0; k + 1 < way.points.size(); ++k)
          walked += base::distance(way.points[k], way.points[k + 1]);
        ASSERT_NEAR(walked, way.length, 1e-9) << "seed " << seed;
        ++compared;
        detours += way.points.size() > 2;
      }
  }
  EXPECT_GT(detours, compared / 10) << "the yards must be worth the check";
}

TEST(ShortestWay, EqualsTheFullGraphOnRandomYards) { expectExact(false, 400); }

TEST(ShortestWay, EqualsTheFullGraphWhereLinesAndCornersCoincide) { expectExact(true, 600); }

TEST(ShortestWay, IsSymmetricNeverShorterThanStraightAndNoDetourWhenFree) {
  for (unsigned seed = 1000; seed < 1200; ++seed) {
    const RandomYard made = Maker(seed, seed % 2 == 0).make();
    const std::vector<Obstacle> all = obstaclesOf(made.yard);
    const Ground ground(made.yard);
    for (const Vec2 a : made.ends)
      for (const Vec2 b : made.ends) {
        const Ground::Way there = ground.shortest(a, b), back = ground.shortest(b, a);
        ASSERT_NEAR(there.length, back.length, 1e-9);
        ASSERT_EQ(there.blocked, back.blocked);
        ASSERT_GE(there.length, base::distance(a, b) - 1e-12);
        if (freeLine(all, {a.x, a.y}, {b.x, b.y})) {
          ASSERT_NEAR(there.length, base::distance(a, b), 1e-9) << "seed " << seed;
        }
      }
  }
}

TEST(ShortestWay, KeepsTheTriangleInequality) {
  for (unsigned seed = 2000; seed < 2200; ++seed) {
    const RandomYard made = Maker(seed, seed % 2 == 0).make();
    const Ground ground(made.yard);
    for (const Vec2 a : made.ends)
      for (const Vec2 b : made.ends)
        for (const Vec2 c : made.ends) {
          const Ground::Way ab = ground.shortest(a, b), bc = ground.shortest(b, c),
                            ac = ground.shortest(a, c);
          if (ab.blocked || bc.blocked) continue;
          ASSERT_FALSE(ac.blocked) << "seed " << seed;
          ASSERT_LE(ac.length, ab.length + bc.length + 1e-9) << "seed " << seed;
        }
  }
}

/// No free place is nearer to an end inside than the place where its lead comes out.
TEST(ShortestWay, OutOfAnInsideLeavesAtTheNearestFreePlace) {
  int checked = 0;
  for (unsigned seed = 3000; seed < 3300; ++seed) {
    const RandomYard made = Maker(seed, seed % 2 == 0).make();
    const std::vector<Obstacle> all = obstaclesOf(made.yard);
    const auto inside = [&](Vec2 p) {
      return std::any_of(all.begin(), all.end(), [&](const Obstacle& o) {
        return o.solid && sideOf(o.rings, spotOf(p)) == Side::Inside;
      });
    };
    std::mt19937 random(seed);
    const Ground ground(made.yard);
    for (int k = 0; k < 40 && !made.ends.empty(); ++k) {
      const Vec2 p{static_cast<double>(random() % 13'000) * 1e-3,
                   static_cast<double>(random() % 13'000) * 1e-3};
      if (!inside(p)) continue;
      const Ground::Way way = ground.shortest(p, made.ends[0]);
      if (way.blocked) continue;
      const Vec2 out = way.points[1];
      ASSERT_FALSE(inside(out)) << "seed " << seed;
      const double exit = base::distance(p, out);
      for (int i = 0; i < 360; ++i) {
        const double turn = i * 3.14159265358979 / 180.0,
                     far = (exit - 1e-6) * static_cast<double>(1 + i % 5) / 5.0;
        ASSERT_TRUE(inside({p.x + far * std::cos(turn), p.y + far * std::sin(turn)})) << "seed " << seed;
      }
      ++checked;
    }
  }
  EXPECT_GT(checked, 300);
}

/// A fence with bends against walls 2 mm thick in its place.
TEST(ShortestWay, RoundABentFenceIsAsRoundAThinWall) {
  std::mt19937 random(7);
  const auto coordinate = [&] { return static_cast<std::int64_t>(random() % 10'000) * 1'000'000; };
  for (int round = 0; round < 150; ++round) {
    std::vector<Point> chain;
    for (int i = 0; i < 4; ++i) chain.push_back({{coordinate()}, {coordinate()}});
    yard::Yard fenced, walled;
    yard::GroundFeature fence;
    fence.kind = yard::FeatureKind::Fence;
    fence.outline = chain;
    fenced.records.emplace(Id{1}, std::make_shared<const yard::Record>(fence));
    for (std::size_t i = 0; i + 1 < chain.size(); ++i) {
      yard::GroundFeature wall;
      wall.kind = yard::FeatureKind::House;
      const Vec2 a = base::vec(chain[i]), b = base::vec(chain[i + 1]),
                 d = (b - a) * (1e-3 / base::distance(a, b));
      const Vec2 left{-d.y, d.x};
      wall.outline = {base::point(a - d - left), base::point(b + d - left), base::point(b + d + left),
                      base::point(a - d + left)};
      walled.records.emplace(Id{static_cast<std::int64_t>(i) + 1},
                             std::make_shared<const yard::Record>(wall));
    }
    const Ground one(fenced), other(walled);
    for (int k = 0; k < 6; ++k) {
      const Vec2 a = base::vec({{coordinate()}, {coordinate()}}),
                 b = base::vec({{coordinate()}, {coordinate()}});
      const auto clear = [&](Vec2 p) {  // of the walls' thickness
        for (std::size_t i = 0; i + 1 < chain.size(); ++i)
          if (fromEdge({p.x, p.y}, placeOf(spotOf(base::vec(chain[i]))),
                       placeOf(spotOf(base::vec(chain[i + 1])))) < 0.1L)
            return false;
        return true;
      };
      if (!clear(a) || !clear(b)) continue;
      const Ground::Way x = one.shortest(a, b), y = other.shortest(a, b);
      ASSERT_EQ(x.blocked, y.blocked) << round;
      ASSERT_NEAR(x.length, y.length, 0.3) << round;  // walls that touch grow by 6 mm
    }
  }
}

}  // namespace
}  // namespace yw::routes
