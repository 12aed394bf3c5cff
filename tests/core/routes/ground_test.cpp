#include <gtest/gtest.h>

#include <cmath>

#include "core/routes/routes.h"

namespace yw::routes {
namespace {

using base::Point;

std::int64_t nm(double metres) { return base::roundedCount(metres * 1e9); }
Point at(double x, double y) { return {{nm(x)}, {nm(y)}}; }

class GroundTest : public ::testing::Test {
 protected:
  Id add(yard::FeatureKind kind, std::vector<Point> outline) {
    yard::GroundFeature f;
    f.kind = kind;
    f.outline = std::move(outline);
    return add(f);
  }
  Id add(const yard::GroundFeature& feature) {
    const Id id{yard.nextId++};
    yard.records.emplace(id, std::make_shared<const yard::Record>(feature));
    return id;
  }
  std::vector<Point> square(double x0, double y0, double x1, double y1) {
    return {at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1)};
  }
  yard::Yard yard;
};

TEST_F(GroundTest, WithoutObstaclesTheWayIsStraight) {
  const Ground::Way way = Ground(yard).shortest({0, 0}, {3, 4});
  EXPECT_DOUBLE_EQ(way.length, 5.0);
  EXPECT_EQ(way.points.size(), 2u);
  EXPECT_FALSE(way.blocked);
}

TEST_F(GroundTest, GoesRoundAHouseByItsCorner) {
  add(yard::FeatureKind::House, square(0, 0, 4, 2));
  const Ground::Way way = Ground(yard).shortest({-3, 1}, {2, 2.5});
  EXPECT_NEAR(way.length, std::hypot(3, 1) + std::hypot(2, 0.5), 1e-9);
  ASSERT_EQ(way.points.size(), 3u);
  EXPECT_EQ(way.points[1], (Vec2{0, 2}));
}

TEST_F(GroundTest, TurnsTheOutlineEitherWay) {
  auto clockwise = square(0, 0, 4, 2);
  std::reverse(clockwise.begin(), clockwise.end());
  add(yard::FeatureKind::House, clockwise);
  EXPECT_NEAR(Ground(yard).shortest({-3, 1}, {2, 2.5}).length, std::hypot(3, 1) + std::hypot(2, 0.5), 1e-9);
}

TEST_F(GroundTest, GrazesAWallAndTouchesACorner) {
  add(yard::FeatureKind::House, square(0, 0, 4, 2));
  const Ground ground(yard);
  EXPECT_DOUBLE_EQ(ground.shortest({-1, 2}, {6, 2}).length, 7.0);
  EXPECT_DOUBLE_EQ(ground.shortest({-1, 1}, {1, 3}).length, std::sqrt(8.0));
  EXPECT_DOUBLE_EQ(ground.shortest({1, 2}, {3, 2}).length, 2.0);
}

TEST_F(GroundTest, ALeadOnTheWallGoesRoundTheHouse) {
  add(yard::FeatureKind::House, square(0, 0, 4, 2));
  EXPECT_NEAR(Ground(yard).shortest({1, 0}, {1, 2}).length, 1 + 2 + 1, 1e-9);
}

TEST_F(GroundTest, ATerminalInsideLeavesByTheShortestWay) {
  add(yard::FeatureKind::House, square(0, 0, 4, 2));
  // 5 mm inside the front wall, to a place behind the house.
  const Ground::Way way = Ground(yard).shortest({1, 0.005}, {1, 2});
  EXPECT_NEAR(way.length, 0.005 + 1 + 2 + 1, 1e-9);
}

TEST_F(GroundTest, BothInsideOneHouseGoStraight) {
  add(yard::FeatureKind::House, square(0, 0, 4, 2));
  EXPECT_DOUBLE_EQ(Ground(yard).shortest({1, 1}, {3, 1}).length, 2.0);
}

TEST_F(GroundTest, AFenceIsNotCrossedButItsEndIsPassed) {
  add(yard::FeatureKind::Fence, {at(0, -10), at(0, 3)});
  const Ground::Way way = Ground(yard).shortest({-4, 0}, {4, 0});
  EXPECT_NEAR(way.length, 10.0, 1e-9);
}

TEST_F(GroundTest, NoWaySlipsThroughABendOfAFence) {
  add(yard::FeatureKind::Fence, {at(-10, 5), at(0, 0), at(10, 5)});
  const Ground::Way way = Ground(yard).shortest({0, 4}, {0, -4});
  EXPECT_NEAR(way.length, std::hypot(10, 1) + std::hypot(10, 9), 1e-9);
}

TEST_F(GroundTest, InsideAClosedFenceIsBlocked) {
  add(yard::FeatureKind::Fence, {at(0, 0), at(4, 0), at(4, 4), at(0, 4), at(0, 0)});
  const Ground::Way way = Ground(yard).shortest({2, 2}, {6, 2});
  EXPECT_TRUE(way.blocked);
  EXPECT_DOUBLE_EQ(way.length, 4.0);
}

TEST_F(GroundTest, AKeepOutIsGrownByItsTolerance) {
  yard::GroundFeature keepOut;
  keepOut.kind = yard::FeatureKind::KeepOut;
  keepOut.outline = square(0, 0, 4, 2);
  keepOut.tolerance = {nm(0.5)};
  const Id id = add(keepOut);
  const Ground ground(yard);
  EXPECT_NEAR(ground.shortest({-0.5, 2.5}, {4.5, 2.5}).length, 5.0, 1e-9);
  EXPECT_NEAR(ground.shortest({1, -2}, {1, 4}).length, 2 * std::hypot(1.5, 1.5) + 3.0, 1e-8);
  EXPECT_EQ(ground.keepOutsAt({4.4, 1}), std::vector<Id>{id});
  EXPECT_TRUE(ground.keepOutsAt({4.6, 1}).empty());
}

// A line 4 m long with 0.6 m either side: the strip is 1.2 m wide and ends 0.6 m beyond the line.
TEST_F(GroundTest, ABuriedLineIsKeptFreeByItsToleranceButLeadsGoOverIt) {
  yard::GroundFeature line;
  line.kind = yard::FeatureKind::BuriedLine;
  line.outline = {at(0, 0), at(4, 0)};
  line.tolerance = {nm(0.6)};
  const Id id = add(line);
  const Ground ground(yard);
  for (const base::Vec2 inside : {base::Vec2{2, 0.59}, {2, -0.59}, {4.59, 0}, {-0.59, 0.59}})
    EXPECT_EQ(ground.keepOutsAt(inside), std::vector<Id>{id}) << inside.x << ' ' << inside.y;
  for (const base::Vec2 outside : {base::Vec2{2, 0.61}, {2, -0.61}, {4.61, 0}, {-0.61, 0}})
    EXPECT_TRUE(ground.keepOutsAt(outside).empty()) << outside.x << ' ' << outside.y;
  EXPECT_DOUBLE_EQ(ground.shortest({2, -3}, {2, 3}).length, 6.0);
}

TEST_F(GroundTest, NothingStandsOnThePublicStripButASightTriangleKeepsOnlyHeightsClear) {
  const Id strip = add(yard::FeatureKind::PublicStrip, square(0, 0, 4, 2));
  add(yard::FeatureKind::SightTriangle, square(10, 0, 14, 2));
  const Ground ground(yard);
  EXPECT_EQ(ground.keepOutsAt({2, 1}), std::vector<Id>{strip});
  EXPECT_TRUE(ground.keepOutsAt({12, 1}).empty());
  EXPECT_DOUBLE_EQ(ground.shortest({2, -3}, {2, 3}).length, 6.0);
}

TEST_F(GroundTest, PassesOverThePlacesGiven) {
  const Ground::Way way = Ground(yard).shortest({0, 0}, {4, 0}, {{0, 3}});
  EXPECT_DOUBLE_EQ(way.length, 8.0);
  EXPECT_EQ(way.points.size(), 3u);
}

TEST_F(GroundTest, TellsWhichWalksAreCrossed) {
  const Id walk = add(yard::FeatureKind::Walk, square(0, 0, 1, 10));
  yard::GroundFeature drive;
  drive.kind = yard::FeatureKind::Drive;
  drive.outline = square(2, 0, 5, 10);
  drive.crossingAllowed = true;
  add(drive);
  const Ground ground(yard);
  EXPECT_EQ(ground.crossed({{-1, 5}, {6, 5}}), std::vector<Id>{walk});
  EXPECT_TRUE(ground.crossed({{0, 0}, {0, 10}}).empty()) << "along its edge";
  EXPECT_TRUE(ground.crossed({{-1, 5}, {-3, 5}}).empty());
}

TEST_F(GroundTest, WhatDoesNotBlockIsWalkedThrough) {
  add(yard::FeatureKind::Bed, square(0, 0, 4, 2));
  yard::GroundFeature tree;
  tree.kind = yard::FeatureKind::Tree;
  tree.outline = square(0, 3, 4, 5);
  tree.blocksLeads = false;
  add(tree);
  EXPECT_DOUBLE_EQ(Ground(yard).shortest({1, -1}, {1, 6}).length, 7.0);
}

}  // namespace
}  // namespace yw::routes
