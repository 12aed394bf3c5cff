#include "tests/core/shapes/shape_checks.h"

namespace yw::shapes {
namespace {

constexpr yard::Id kWall{7};

yard::Yard yardWithWall(Point from, Point to) {
  yard::Yard yard;
  yard::Wall wall;
  wall.from = from;
  wall.to = to;
  yard.records[kWall] = std::make_shared<const yard::Record>(wall);
  return yard;
}

yard::Prop onWall(Length along, Length up) {
  yard::Prop prop = usualProp("window_outline");
  prop.wall = kWall;
  prop.at = {along, up};
  return prop;
}

void expectNear(Vec3 a, Vec3 b) {
  EXPECT_NEAR(a.x, b.x, 1e-9);
  EXPECT_NEAR(a.y, b.y, 1e-9);
  EXPECT_NEAR(a.z, b.z, 1e-9);
}

TEST(Placement, OnTheGroundFacesDownThePlanAndTurnsCounterclockwise) {
  yard::Prop prop = usualProp("arch");
  prop.at = {base::millimetres(3000), base::millimetres(4000)};
  prop.base = base::millimetres(500);
  expectNear(placementOf({}, prop).toYard({1, 0, 2}), {4, 4, 2.5});
  expectNear(placementOf({}, prop).toYard({0, -1, 0}), {3, 3, 0.5});  // what is in front lies to plan -y
  prop.heading = {90'000'000};
  expectNear(placementOf({}, prop).toYard({1, 0, 0}), {3, 5, 0.5});
  expectNear(placementOf({}, prop).toYard({0, -1, 0}), {4, 4, 0.5});  // turned left: faces plan +x
}

TEST(Placement, OfQuarterTurnsIsExact) {
  yard::Prop prop = usualProp("arch");
  for (std::int64_t turn = -8; turn <= 8; ++turn) {
    prop.heading = {turn * 90'000'000};
    const Placement at = placementOf({}, prop);
    EXPECT_EQ(std::abs(at.cosHeading) + std::abs(at.sinHeading), 1.0) << turn;
    EXPECT_EQ(at.cosHeading, turn % 2 != 0 ? 0.0 : turn % 4 == 0 ? 1.0 : -1.0) << turn;
  }
}

TEST(Placement, OnAWallMeasuresFromItsFirstEndAndUp) {
  const yard::Yard yard =
      yardWithWall({{0}, base::millimetres(10'000)}, {base::millimetres(8000), base::millimetres(10'000)});
  const Placement at = placementOf(yard, onWall(base::millimetres(2000), base::millimetres(1000)));
  expectNear(at.toYard({0, 0, 0}), {2, 10, 1});
  expectNear(at.toYard({1.5, 0, 0.5}), {3.5, 10, 1.5});
}

// The outside lies on the right hand looking from the wall's first end to its second; somebody who stands
// there and looks at the wall has the first end on the left.
TEST(Placement, OnAWallFacesOutsideOnTheRightHand) {
  for (const int degrees : {0, 37, 90, 145, 180, 250, 270, 333}) {
    const double turn = degrees * 3.14159265358979323846 / 180;
    const Vec2 along{std::cos(turn), std::sin(turn)};
    const yard::Yard yard = yardWithWall(base::point({5, 5}), base::point(Vec2{5, 5} + along * 9));
    const yard::Wall& wall = *yard::find<yard::Wall>(yard, kWall);
    const Placement at = placementOf(yard, onWall(base::millimetres(3000), {0}));
    const Vec3 here = at.toYard({0, 0, 0}), viewer = at.toYard({0, -4, 0}), right = at.toYard({1, 0, 0});
    const Vec2 from = base::vec(wall.from), to = base::vec(wall.to);
    EXPECT_NEAR(base::distance(base::plan(here), from), 3, 1e-6);
    EXPECT_LT(base::cross(to - from, base::plan(viewer) - from), 0)
        << "the viewer is outside, on the right hand";
    const Vec2 looks = base::plan(here) - base::plan(viewer);
    EXPECT_GT(base::cross(looks, from - base::plan(viewer)), 0) << "the first end is on the viewer's left";
    EXPECT_LT(base::cross(looks, base::plan(right) - base::plan(here)), 0)
        << "own x runs to the viewer's right";
  }
}

TEST(Placement, ThereAndBackIsTheSamePlace) {
  yard::Prop prop = usualProp("arch");
  prop.at = {base::millimetres(-3210), base::millimetres(4567)};
  prop.base = base::millimetres(89);
  for (std::int64_t heading = 0; heading < 360'000'000; heading += 17'654'321) {
    prop.heading = {heading};
    const Placement at = placementOf({}, prop);
    expectNear(at.toOwn(at.toYard({1.25, -0.5, 3})), {1.25, -0.5, 3});
  }
}

TEST(Placement, OnAWallWithoutLengthOrWithoutItsWallStaysFinite) {
  const yard::Yard yard = yardWithWall({{0}, {0}}, {{0}, {0}});
  const Vec3 p = placementOf(yard, onWall(base::millimetres(1000), {0})).toYard({1, 1, 1});
  EXPECT_TRUE(std::isfinite(p.x) && std::isfinite(p.y) && std::isfinite(p.z));
  expectNear(placementOf({}, onWall(base::millimetres(1000), base::millimetres(2000))).toYard({0, 0, 0}),
             {1, 2, 0});
}

}  // namespace
}  // namespace yw::shapes
