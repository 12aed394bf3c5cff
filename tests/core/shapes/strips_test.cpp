#include "tests/core/shapes/shape_checks.h"

namespace yw::shapes {
namespace {

// Counts: floor((L - 2e) / p) + 1, common practice.
TEST(StraightStrip, HasTheCountsOfCommonPractice) {
  EXPECT_EQ(pixelsOf(propOf("straight_strip", {{"length", 48}, {"pitch", 3}})), 16);
  EXPECT_EQ(pixelsOf(propOf("straight_strip", {{"length", 72}, {"pitch", 2}})), 36);
  EXPECT_EQ(pixelsOf(propOf("straight_strip", {{"length", 96}, {"pitch", 4}})), 24);
}

TEST(StraightStrip, TakesTheFirstHoleWhereItIsSet) {
  EXPECT_EQ(pixelsOf(propOf("straight_strip", {{"length", 48}, {"pitch", 3}}, {}, {{"ends", "on_ends"}})),
            17);
  const Shape set = made(propOf("straight_strip", {{"length", 48}, {"pitch", 3}, {"end_gap", 2}, {"foot", 6}},
                                {}, {{"ends", "as_set"}}));
  EXPECT_EQ(set.pixels.size(), 15u);  // floor(44 / 3) + 1
  EXPECT_NEAR(set.pixels.front().z, 8 * kInchMetres, 1e-12);
}

TEST(StraightStrip, WithTwoFacesGoesUpOneAndDownTheOther) {
  const Shape shape = made(propOf("straight_strip", {{"length", 48}, {"pitch", 3}}, {}, {{"faces", "two"}}));
  ASSERT_EQ(shape.pixels.size(), 32u);
  EXPECT_DOUBLE_EQ(shape.pixels.front().z, shape.pixels.back().z);
  EXPECT_EQ(shape.in.landmark, "bottom of the front strip");
  EXPECT_EQ(shape.out.landmark, "bottom of the back strip");
  EXPECT_NEAR(shape.hop[15], 0.5 * kInchMetres, 1e-9);  // over the top, through the bar
  EXPECT_EQ(shape.rows[1].name, "back strip, down");
}

TEST(StraightStrip, LeansToTheRight) {
  yard::Prop prop = propOf("straight_strip", {{"length", 48}, {"pitch", 3}, {"foot", 0}});
  prop.sizes["lean"] = 30'000'000;
  const Shape shape = made(prop);
  EXPECT_NEAR(shape.pixels.back().x, 46.5 * kInchMetres / 2, 1e-9);
  EXPECT_NEAR(shape.pixels.back().z, 46.5 * kInchMetres * std::sqrt(0.75), 1e-9);
}

TEST(StraightStrip, RefusesEndsLongerThanItself) {
  EXPECT_EQ(refusalOf(propOf("straight_strip", {{"length", 8}, {"pitch", 3}, {"end_gap", 5}}, {},
                             {{"ends", "as_set"}})),
            "shape_end_gap_too_long at end_gap");
}

}  // namespace
}  // namespace yw::shapes
