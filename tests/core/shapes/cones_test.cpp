#include "tests/core/shapes/shape_checks.h"

namespace yw::shapes {
namespace {

yard::Prop cone(double height, double base, double top, std::int64_t strips, double pitch, int arc = 360,
                const char* kind = "cone_tree") {
  return propOf(kind, {{"height", height}, {"base_diameter", base}, {"top_diameter", top}, {"pitch", pitch}},
                {{"strips", strips}, {"arc", arc * std::int64_t{1'000'000}}});
}

// Slant sqrt(H^2 + (Rb - Rt)^2), floor(slant / p) a strip, spacing 2 pi R arc/360 / gaps; common practice.
TEST(ConeTree, HasTheFiguresOfCommonPractice) {
  const Shape full = made(cone(144, 72, 8, 16, 3));
  EXPECT_EQ(full.pixels.size(), 784u);
  EXPECT_NEAR(factInches(full, "slant"), 147.5, 0.05);
  EXPECT_EQ(std::get<std::int64_t>(full.facts.at("pixels on a strip")), 49);
  EXPECT_NEAR(factInches(full, "bottom spacing"), 14.1, 0.05);

  const Shape big = made(cone(264, 132, 8, 40, 2.5));
  EXPECT_EQ(big.pixels.size(), 4320u);
  EXPECT_NEAR(factInches(big, "slant"), 271, 0.5);
  EXPECT_NEAR(factInches(big, "bottom spacing"), 10.4, 0.05);
}

TEST(ConeTree, OfHalfACircleHasOneGapLessThanStripsAndFlagsItsTopper) {
  const Shape half = made(cone(192, 108, 8, 17, 4, 180));
  EXPECT_EQ(half.pixels.size(), 833u);
  EXPECT_NEAR(factInches(half, "slant"), 198.4, 0.05);
  EXPECT_NEAR(factInches(half, "bottom spacing"), 10.6, 0.05);
  EXPECT_NEAR(factInches(half, "top spacing"), 0.8, 0.05);
  ASSERT_EQ(half.warnings.size(), 1u);
  EXPECT_EQ(half.warnings[0].key, "shape_topper_too_small");
  for (const Vec3& p : half.pixels) EXPECT_LT(p.y, 1e-9);        // a half tree faces the front
  EXPECT_NEAR(half.pixels[0].x, -half.pixels[16 * 49].x, 1e-9);  // the lowest of the first and the last strip
}

TEST(ConeTree, TopperAsLargeAsTheWarningAsksForIsLargeEnough) {
  const Shape tooSmall = made(cone(192, 108, 8, 17, 4, 180));
  yard::Prop cured = cone(192, 108, 8, 17, 4, 180);
  cured.sizes["top_diameter"] = std::get<Length>(tooSmall.warnings.at(0).facts.at("least")).count + 1;
  EXPECT_TRUE(made(cured).warnings.empty());
}

TEST(SmallConeTree, HasTheFiguresOfCommonPractice) {
  const Shape shape = made(cone(54, 24, 6, 10, 3, 360, "small_cone_tree"));
  EXPECT_EQ(shape.pixels.size(), 180u);
  EXPECT_NEAR(factInches(shape, "slant"), 54.7, 0.05);
  EXPECT_EQ(pixelsOf(cone(42, 20, 6, 8, 3, 360, "small_cone_tree")), 112);
  EXPECT_EQ(pixelsOf(cone(60, 28, 8, 12, 2.5, 360, "small_cone_tree")), 288);
  // 0.5 in of slack needs about 0.51 in of lift: slack x slant / height.
  EXPECT_NEAR(0.5 * base::fraction(std::get<base::Ratio>(shape.facts.at("lift for slack"))), 0.51, 0.005);
}

// 24 strips x 14 ft x 1.5 in show about 26.7 square feet: N s b 2/pi; common practice.
TEST(ConeTree, ShowsTheWindTwoOverPiOfItsStrips) {
  const Shape shape = made(cone(14 * 12, 10, 10, 24, 3));
  EXPECT_NEAR(shape.windArea / (0.3048 * 0.3048), 26.7, 0.05);
}

TEST(ConeTree, ZigZagBringsTheOutEndToTheBaseWithEvenStrips) {
  for (std::int64_t strips = 2; strips < 20; ++strips) {
    const Shape shape = made(cone(100, 60, 30, strips, 3));
    EXPECT_EQ(shape.out.at.z < 0.1, strips % 2 == 0) << strips;
    EXPECT_EQ(shape.rows[1].name, "strip 2, down");
    EXPECT_EQ(shape.joints[0].landmark, "strip 1, top");
    EXPECT_EQ(shape.joints[1].landmark, "strip 2, bottom");
  }
}

TEST(ConeTree, AllUpHasALongReturnWire) {
  const Shape zigzag = made(cone(144, 72, 8, 16, 3));
  yard::Prop prop = cone(144, 72, 8, 16, 3);
  prop.choices["order"] = "all_up";
  const Shape up = made(prop);
  EXPECT_EQ(up.out.landmark, "top of strip 16");
  EXPECT_LT(zigzag.hop[48], 3 * kInchMetres);
  EXPECT_GT(up.hop[48], 140 * kInchMetres);
}

TEST(ConeTree, GoesRoundByTheChosenSide) {
  EXPECT_LT(made(cone(144, 72, 8, 16, 3)).pixels.front().x, 0);
  yard::Prop prop = cone(144, 72, 8, 16, 3);
  prop.choices["first_strip"] = "right";
  EXPECT_GT(made(prop).pixels.front().x, 0);
}

TEST(ConeTree, RefusesATopWiderThanItsBase) {
  EXPECT_EQ(refusalOf(cone(144, 72, 80, 16, 3)), "shape_top_over_base at top_diameter");
}

}  // namespace
}  // namespace yw::shapes
