// Trenches that cables share: against every choice of branch places, and what is then to be dug.
#include "core/routes/shared_trench.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

namespace yw::routes {
namespace {

using base::Point;
using yard::FeatureKind;

std::int64_t nm(double metres) { return base::roundedCount(metres * 1e9); }
Point at(double x, double y) { return {{nm(x)}, {nm(y)}}; }

yard::Yard randomYard(std::mt19937& random, int houses) {
  const auto draw = [&](double low, double high) { return low + (high - low) * (random() / 4294967296.0); };
  yard::Yard made;
  for (int i = 0; i < houses; ++i) {
    const double x = draw(0, 16), y = draw(0, 16), w = draw(1, 5), h = draw(1, 5);
    yard::GroundFeature f;
    f.kind = FeatureKind::House;
    f.outline = {at(x, y), at(x + w, y), at(x + w, y + h), at(x, y + h)};
    made.records.emplace(Id{made.nextId++}, std::make_shared<const yard::Record>(f));
  }
  return made;
}

std::vector<Vec2> randomEnds(std::mt19937& random, int count) {
  std::vector<Vec2> ends;
  for (int i = 0; i < count; ++i) ends.push_back({(random() % 2000) * 0.01, (random() % 2000) * 0.01});
  return ends;
}

/// Kruskal over these places.
double spanningLength(const Ground& ground, const std::vector<Vec2>& places) {
  struct Link {
    double length;
    std::size_t i, j;
  };
  std::vector<Link> links;
  for (std::size_t i = 0; i < places.size(); ++i)
    for (std::size_t j = i + 1; j < places.size(); ++j)
      links.push_back({ground.shortest(places[i], places[j]).length, i, j});
  std::sort(links.begin(), links.end(), [](const Link& a, const Link& b) { return a.length < b.length; });
  std::vector<std::size_t> part(places.size());
  for (std::size_t i = 0; i < part.size(); ++i) part[i] = i;
  double sum = 0.0;
  for (const Link& link : links) {
    const std::size_t from = part[link.i], to = part[link.j];
    if (from == to) continue;
    for (std::size_t& p : part)
      if (p == from) p = to;
    sum += link.length;
  }
  return sum;
}

double lengthOf(const SharedTrench& trench) {
  double sum = 0.0;
  for (const auto& line : trench.lines)
    for (std::size_t i = 0; i + 1 < line.size(); ++i) sum += base::distance(line[i], line[i + 1]);
  return sum;
}

TEST(SharedTrench, EqualsEveryChoiceOfBranchPlaces) {
  int branched = 0;
  for (unsigned seed = 1; seed <= 60; ++seed) {
    std::mt19937 random(seed);
    const yard::Yard yard = randomYard(random, 3);
    const Ground ground(yard);
    const std::vector<Vec2> corners = ground.corners();
    const std::vector<Vec2> ends = randomEnds(random, 3 + static_cast<int>(seed % 3));
    const SharedTrench found = sharedTrench(ground, ends);
    ASSERT_TRUE(found.exact);
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t choice = 0; choice < std::size_t{1} << corners.size(); ++choice) {
      std::vector<Vec2> places = ends;
      for (std::size_t c = 0; c < corners.size(); ++c)
        if (choice >> c & 1) places.push_back(corners[c]);
      if (places.size() > 2 * ends.size() - 2) continue;  // more branch places never help
      least = std::min(least, spanningLength(ground, places));
    }
    ASSERT_NEAR(found.length, least, 1e-9) << "seed " << seed;
    ASSERT_LE(lengthOf(found), found.length + 1e-6) << "seed " << seed;
    branched += least < spanningLength(ground, ends) - 1e-6;
  }
  EXPECT_GT(branched, 5) << "the yards must be worth the check";
}

TEST(SharedTrench, BeyondEightEndsIsOnAverageWithinOnePercent) {
  double sum = 0.0, worst = 0.0;
  int cases = 0;
  for (unsigned seed = 100; seed < 140; ++seed) {
    std::mt19937 random(seed);
    const yard::Yard yard = randomYard(random, 6);
    const Ground ground(yard);
    const std::vector<Vec2> ends = randomEnds(random, 7 + static_cast<int>(seed % 2));
    const SharedTrench exact = sharedTrench(ground, ends), quick = sharedTrench(ground, ends, 0);
    ASSERT_FALSE(quick.exact);
    ASSERT_GE(quick.length, exact.length - 1e-9);
    ASSERT_LE(quick.bound, exact.length + 1e-9);
    sum += quick.length / exact.length - 1.0;
    worst = std::max(worst, quick.length / exact.length - 1.0);
    ++cases;
  }
  RecordProperty("mean", std::to_string(sum / cases));
  RecordProperty("worst", std::to_string(worst));
  EXPECT_LE(sum / cases, 0.01) << "worst " << worst;
}

TEST(SharedTrench, OneTrenchServesTwoThatLieOnOneWay) {
  yard::Yard yard;
  const Ground ground(yard);
  const SharedTrench found = sharedTrench(ground, {{0, 0}, {5, 0}, {9, 0}});
  EXPECT_DOUBLE_EQ(found.length, 9.0);
  EXPECT_DOUBLE_EQ(lengthOf(found), 9.0);
}

TEST(SharedTrench, SaysWhenAnEndCannotBeReached) {
  yard::Yard yard;
  yard::GroundFeature fence;
  fence.kind = FeatureKind::Fence;
  fence.outline = {at(-1, -1), at(1, -1), at(1, 1), at(-1, 1), at(-1, -1)};
  yard.records.emplace(Id{1}, std::make_shared<const yard::Record>(fence));
  EXPECT_TRUE(sharedTrench(Ground(yard), {{0, 0}, {5, 0}, {9, 0}}).blocked);
}

RoutedCable onGround(std::vector<Vec3> path) {
  RoutedCable cable;
  cable.lays.assign(path.size() - 1, Lay::Ground);
  cable.path = std::move(path);
  return cable;
}

TEST(Digging, CountsEachPlaceOnce) {
  Routes routes;
  routes.cables[{CableRole::Lead, Id{1}, 0}] = onGround({{0, 0, 0}, {6, 0, 0}});
  routes.cables[{CableRole::Lead, Id{2}, 0}] = onGround({{9, 0, 0}, {4, 0, 0}, {4, 3, 0}});
  RoutedCable high = onGround({{0, 5, 2}, {6, 5, 2}});
  high.lays = {Lay::Above};
  routes.cables[{CableRole::Lead, Id{3}, 0}] = high;
  const Digging digging = diggingOf(yard::Yard{}, routes);
  EXPECT_DOUBLE_EQ(digging.length, 9.0 + 3.0);
  EXPECT_DOUBLE_EQ(digging.oneEach, 6.0 + 5.0 + 3.0);
}

TEST(Digging, ADrawnTrenchIsDugOnceAndOneThatIsThereNotAtAll) {
  yard::Yard yard;
  yard::GroundFeature trench;
  trench.kind = FeatureKind::Trench;
  trench.outline = {at(0, 0), at(8, 0)};
  yard.records.emplace(Id{1}, std::make_shared<const yard::Record>(trench));
  Routes routes;
  RoutedCable cable = onGround({{0, 0, 0}, {8, 0, 0}});
  cable.lays = {Lay::Trench};
  routes.cables[{CableRole::Lead, Id{1}, 0}] = cable;
  EXPECT_DOUBLE_EQ(diggingOf(yard, routes).length, 8.0);
  trench.dug = true;
  yard.records[Id{1}] = std::make_shared<const yard::Record>(trench);
  EXPECT_DOUBLE_EQ(diggingOf(yard, routes).length, 0.0);
}

}  // namespace
}  // namespace yw::routes
