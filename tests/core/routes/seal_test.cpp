#include <gtest/gtest.h>

#include <cmath>

#include "core/routes/routes.h"

namespace yw::routes {
namespace {

using base::Point;

Point at(double x, double y) { return {{base::roundedCount(x * 1e9)}, {base::roundedCount(y * 1e9)}}; }

yard::Yard yardOf(std::vector<std::pair<yard::FeatureKind, std::vector<Point>>> features) {
  yard::Yard yard;
  for (auto& [kind, outline] : features) {
    yard::GroundFeature f;
    f.kind = kind;
    f.outline = std::move(outline);
    yard.records.emplace(Id{yard.nextId++}, std::make_shared<const yard::Record>(f));
  }
  return yard;
}

constexpr auto kHouse = yard::FeatureKind::House;
constexpr auto kFence = yard::FeatureKind::Fence;

TEST(Seal, NoWayRunsBetweenAHouseAndTheGarageBuiltOnToIt) {
  const Ground ground(yardOf({{kHouse, {at(0, 0), at(4, 0), at(4, 3), at(0, 3)}},
                              {kHouse, {at(4, 0), at(7, 0), at(7, 3), at(4, 3)}}}));
  // From the front, where the two meet, to the back: round the garage.
  EXPECT_NEAR(ground.shortest({4, -0.5}, {4, 3.5}).length, 2 * std::hypot(3, 0.5) + 3, 0.05);
}

TEST(Seal, NoWayRunsBetweenAFenceAndTheHouseItEndsAt) {
  const Ground ground(
      yardOf({{kHouse, {at(0, 0), at(4, 0), at(4, 3), at(0, 3)}}, {kFence, {at(4, 1), at(10, 1)}}}));
  EXPECT_NEAR(ground.shortest({4.5, 2}, {4.5, 0}).length, 2 * std::hypot(5.5, 1), 0.05);
  // Along the house wall, where the fence ends at it.
  EXPECT_GT(ground.shortest({4, 2}, {4, 0}).length, 10.0);
}

TEST(Seal, FencesWhoseEndsMeetAreOne) {
  const Ground ground(yardOf({{kFence, {at(0, 0), at(5, 0)}}, {kFence, {at(10, 0), at(5, 0)}}}));
  EXPECT_NEAR(ground.shortest({5, 1}, {5, -1}).length, 2 * std::hypot(5, 1), 1e-9);
}

TEST(Seal, FourFencesRoundALotCloseIt) {
  const Ground ground(yardOf({{kFence, {at(0, 0), at(5, 0)}},
                              {kFence, {at(5, 5), at(5, 0)}},
                              {kFence, {at(5, 5), at(0, 5)}},
                              {kFence, {at(0, 0), at(0, 5)}}}));
  EXPECT_TRUE(ground.shortest({2, 2}, {8, 2}).blocked);
}

TEST(Seal, AFenceThatEndsAtAnotherLeavesNoGap) {
  const Ground ground(yardOf({{kFence, {at(0, 0), at(10, 0)}}, {kFence, {at(5, 0), at(5, 8)}}}));
  EXPECT_NEAR(ground.shortest({4, 0.5}, {6, 0.5}).length, 2 * std::hypot(1, 7.5), 0.05);
  EXPECT_NEAR(ground.shortest({4, -0.5}, {6, -0.5}).length, 2.0, 1e-9);
}

TEST(Seal, ThreeFencesAtOnePostLeaveNoGap) {
  const Ground ground(yardOf(
      {{kFence, {at(0, 0), at(5, 0)}}, {kFence, {at(5, 0), at(10, 0)}}, {kFence, {at(5, 0), at(5, 8)}}}));
  EXPECT_NEAR(ground.shortest({4, 0.5}, {6, 0.5}).length, 2 * std::hypot(1, 7.5), 0.05);
  EXPECT_NEAR(ground.shortest({4, 0.5}, {4, -0.5}).length, 2 * std::hypot(4, 0.5), 0.05);
}

TEST(Seal, AGapALeadFitsThroughStaysOpen) {
  const Ground ground(yardOf({{kFence, {at(0, 0), at(4.98, 0)}}, {kFence, {at(10, 0), at(5.02, 0)}}}));
  EXPECT_NEAR(ground.shortest({5, 1}, {5, -1}).length, 2.0, 1e-9);
}

TEST(Seal, ABoxOnAWallThatTouchesAnotherBuildingStaysOutside) {
  const Ground ground(yardOf({{kHouse, {at(0, 0), at(4, 0), at(4, 3), at(0, 3)}},
                              {kHouse, {at(4, 0), at(7, 0), at(7, 3), at(4, 3)}}}));
  // Both on the garage's outline, front and side: round its corner, not through it.
  EXPECT_NEAR(ground.shortest({5, 0}, {7, 1}).length, 3.0, 0.05);
}

}  // namespace
}  // namespace yw::routes
