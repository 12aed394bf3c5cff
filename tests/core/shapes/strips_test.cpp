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

// Counts: strips x floor(length / p), common practice.
TEST(StripPole, HasTheCountsOfCommonPractice) {
  EXPECT_EQ(pixelsOf(propOf("strip_pole", {{"length", 84}, {"pitch", 3}}, {{"strips", 4}})), 112);
  EXPECT_EQ(pixelsOf(propOf("strip_pole", {{"length", 60}, {"pitch", 2}}, {{"strips", 6}})), 180);
  EXPECT_EQ(pixelsOf(propOf("strip_pole", {{"length", 108}, {"pitch", 2}}, {{"strips", 2}})), 108);
}

TEST(StripPole, BringsTheOutEndBackToTheGroundWithEvenStrips) {
  for (std::int64_t strips = 1; strips <= 9; ++strips) {
    const Shape shape = made(propOf("strip_pole", {{"length", 84}, {"pitch", 3}}, {{"strips", strips}}));
    const std::string n = std::to_string(strips);
    EXPECT_EQ(shape.out.landmark, (strips % 2 == 0 ? "bottom of strip " : "top of strip ") + n);
    EXPECT_EQ(std::abs(shape.out.at.z - shape.in.at.z) < 1e-9, strips % 2 == 0);
    EXPECT_EQ(shape.joints[0].landmark, "strip 1, top");
  }
}

// Seen from far away on an opaque pole: N/2 strips of an even N, (N-1)/2 or (N+1)/2 of an odd one; closed
// form.
TEST(StripPole, SaysHowManyStripsAreSeen) {
  const auto seen = [](std::int64_t strips) {
    const Shape shape = made(propOf("strip_pole", {}, {{"strips", strips}}));
    return std::pair(std::get<std::int64_t>(shape.facts.at("strips seen at least")),
                     std::get<std::int64_t>(shape.facts.at("strips seen at most")));
  };
  EXPECT_EQ(seen(3), std::pair(std::int64_t{1}, std::int64_t{2}));
  EXPECT_EQ(seen(4), std::pair(std::int64_t{2}, std::int64_t{2}));
  EXPECT_EQ(seen(6), std::pair(std::int64_t{3}, std::int64_t{3}));
}

TEST(HookedCane, CountsAlongStemAndHook) {
  // 36 + 8 pi = 61.13 in; floor(61.13 / 2) = 30 (open line, half-pitch ends; common practice).
  const Shape shape =
      made(propOf("hooked_cane", {{"stem", 36}, {"hook_radius", 8}, {"pitch", 2}, {"foot", 3}}));
  EXPECT_EQ(shape.pixels.size(), 30u);
  EXPECT_EQ(partOf(shape, "stem")->ranges, (std::vector<yard::Range>{{1, 18}}));
  EXPECT_EQ(partOf(shape, "hook")->ranges, (std::vector<yard::Range>{{19, 30}}));
  EXPECT_NEAR(base::metres(shape.height).si, (3 + 36 + 8) * kInchMetres, 1e-6);
  EXPECT_NEAR(base::metres(shape.width).si, 16 * kInchMetres, 1e-6);
  const Shape down = made(propOf("hooked_cane", {{"stem", 36}, {"hook_radius", 8}, {"pitch", 2}}, {},
                                 {{"in_end", "hook"}, {"hook", "left"}}));
  EXPECT_EQ(down.in.landmark, "end of the hook");
  EXPECT_LT(down.in.at.x, -15 * kInchMetres);
}

TEST(TrunkWrap, IsAsLongAsTheSpiral) {
  // sqrt((turns 2 pi r)^2 + H^2), closed form: 9 turns on 12 in, 72 in high: 346.85 in.
  const Shape shape =
      made(propOf("trunk_wrap", {{"trunk_diameter", 12}, {"height", 72}, {"pitch", 3}}, {{"turns", 9}}));
  EXPECT_NEAR(factInches(shape, "whole length"), 346.85, 0.01);
  EXPECT_EQ(shape.pixels.size(), 115u);
  EXPECT_EQ(shape.rows.size(), 9u);
  for (const Vec3& p : shape.pixels) EXPECT_NEAR(std::hypot(p.x, p.y), 6 * kInchMetres, 1e-9);
}

// Published builds give no counts; the formula is count x pixels on each (common practice).
TEST(PathStakes, HaveTheCountsOfCommonPractice) {
  EXPECT_EQ(pixelsOf(propOf("path_stakes", {}, {{"stakes", 14}, {"pixels", 8}})), 112);
  EXPECT_EQ(pixelsOf(propOf("path_stakes", {}, {{"stakes", 9}, {"pixels", 7}})), 63);
}

TEST(PathStakes, WireRunsDownAlongThePathAndUp) {
  yard::Prop prop =
      propOf("path_stakes", {{"pitch", 3}, {"foot", 6}, {"extra", 4}}, {{"stakes", 5}, {"pixels", 7}});
  prop.path = {{{0}, {0}}, {base::feet(6), {0}}, {base::feet(6), base::feet(6)}};
  const Shape shape = made(prop);
  // Stakes every 36 in along the path; down 24, along 36, up 6, 4 of drip loop.
  EXPECT_NEAR(shape.hop[6] / kInchMetres, 70, 1e-6);
  EXPECT_NEAR(shape.hop[0] / kInchMetres, 3, 1e-6);
  EXPECT_NEAR(shape.pixels[14].x, 72 * kInchMetres, 1e-9);  // stake 3 at the corner
  EXPECT_NEAR(shape.pixels[28].y, 72 * kInchMetres, 1e-9);  // stake 5 at the end
  EXPECT_EQ(shape.out.landmark, "top of stake 5");
}

}  // namespace
}  // namespace yw::shapes
