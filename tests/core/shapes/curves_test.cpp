#include "tests/core/shapes/shape_checks.h"

namespace yw::shapes {
namespace {

// Counts: floor(pi r / p) + 1, common practice.
TEST(Arch, HasTheCountsOfCommonPractice) {
  EXPECT_EQ(pixelsOf(propOf("arch", {{"radius", 30}, {"pitch", 2.5}})), 38);
  EXPECT_EQ(pixelsOf(propOf("arch", {{"radius", 36}, {"pitch", 2.5}})), 46);
  EXPECT_EQ(pixelsOf(propOf("arch", {{"radius", 42}, {"pitch", 3}})), 44);
  EXPECT_NEAR(factInches(made(propOf("arch", {{"radius", 30}, {"pitch", 2.5}})), "arc length"), 94.2, 0.05);
}

TEST(Arch, MatchesAPublishedBuildOfTwentyEightPixels) {
  // A hobbyist's published build: 28 pixels at 9 cm, 2.5 m of arc, 1.6 m wide, 0.8 m high.
  yard::Prop prop = usualProp("arch");
  prop.sizes["radius"] = 795'000'000;
  prop.sizes["pitch"] = 90'000'000;
  const Shape shape = made(prop);
  EXPECT_EQ(shape.pixels.size(), 28u);
  EXPECT_NEAR(base::metres(shape.width).si, 1.6, 0.05);
  EXPECT_NEAR(base::metres(shape.height).si, 0.8, 0.05);
}

// A straight pipe of length A on feet c apart: c / A = 2 sin(t/2) / t, rise = R (1 - cos(t/2)); closed form.
TEST(Arch, OfATenFootPipeRisesAsTheFeetAreSet) {
  const auto rise = [](double feet) {
    return factInches(made(propOf("arch", {{"pipe", 120}, {"feet", feet}}, {}, {{"curve", "pipe"}})), "rise");
  };
  EXPECT_NEAR(rise(9.0 * 12), 22.4, 0.05);
  EXPECT_NEAR(rise(8.0 * 12), 30.5, 0.05);
  EXPECT_NEAR(rise(2 * 120 / 3.14159265358979), 38.2, 0.05);
  EXPECT_NEAR(rise(9.0 * 12 - 1) - rise(9.0 * 12), 0.9, 0.1);  // 1 in of spacing moves the crown about 0.9 in
}

TEST(Arch, OfAPipeKeepsThePipesLengthAndItsFeet) {
  const Shape shape =
      made(propOf("arch", {{"pipe", 120}, {"feet", 108}, {"pitch", 2.5}}, {}, {{"curve", "pipe"}}));
  EXPECT_NEAR(factInches(shape, "arc length"), 120, 1e-6);
  EXPECT_NEAR(factInches(shape, "span"), 108, 1e-6);
  EXPECT_EQ(shape.pixels.size(), 49u);  // floor(120 / 2.5) + 1
  EXPECT_NEAR(shape.pixels.front().z, 0, 1e-6);
}

TEST(Arch, NestedHoopsAddTheirCounts) {
  // A published triple arch: 43 + 41 + 38 = 122 pixels at 2.5 in.
  const Shape shape =
      made(propOf("arch", {{"radius", 34}, {"pitch", 2.5}, {"hoop_step", 2}}, {{"hoops", 3}}));
  ASSERT_EQ(shape.rows.size(), 3u);
  EXPECT_EQ(shape.rows[0].last, 43);
  EXPECT_EQ(shape.rows[1].last - shape.rows[1].first + 1, 41);
  EXPECT_EQ(shape.rows[2].last - shape.rows[2].first + 1, 38);
  EXPECT_EQ(shape.pixels.size(), 122u);
  EXPECT_EQ(shape.out.landmark, "right foot of hoop 3");
  EXPECT_EQ(shape.joints[1].landmark, "hoop 2, left foot");
  EXPECT_LT(shape.hop[42], 4 * kInchMetres);  // foot to foot, not across the arch
}

TEST(Arch, RefusesWhatAPipeCannotDo) {
  EXPECT_EQ(refusalOf(propOf("arch", {{"pipe", 100}, {"feet", 100}}, {}, {{"curve", "pipe"}})),
            "shape_feet_wider_than_pipe at feet");
  EXPECT_EQ(refusalOf(propOf("arch", {{"pipe", 120}, {"feet", 60}}, {}, {{"curve", "pipe"}})),
            "shape_feet_too_close at feet");
  EXPECT_EQ(refusalOf(propOf("arch", {{"radius", 30}, {"hoop_step", 16}}, {{"hoops", 3}})),
            "shape_inner_hoop_vanishes at hoop_step");
}

TEST(Arch, IsMirroredWhenItStartsAtTheOtherFoot) {
  const Shape left = made(propOf("arch", {{"radius", 31}, {"pitch", 2.3}}));
  const Shape right = made(propOf("arch", {{"radius", 31}, {"pitch", 2.3}}, {}, {{"start", "right"}}));
  ASSERT_EQ(left.pixels.size(), right.pixels.size());
  for (std::size_t k = 0; k < left.pixels.size(); ++k) {
    EXPECT_NEAR(left.pixels[k].x, -right.pixels[k].x, 1e-9);
    EXPECT_NEAR(left.pixels[k].z, right.pixels[k].z, 1e-9);
  }
}

// Counts: floor(pi D / p), then even; true pitch pi D / N. Common practice.
TEST(Ring, HasTheCountsAndTruePitchOfCommonPractice) {
  const struct {
    double diameter, pitch;
    std::size_t pixels;
    double truePitch;
  } cases[] = {{30, 2, 46, 2.05}, {60, 2.5, 74, 2.55}, {72, 3, 74, 3.06}};
  for (const auto& c : cases) {
    const Shape shape = made(propOf("ring", {{"diameter", c.diameter}, {"pitch", c.pitch}}));
    EXPECT_EQ(shape.pixels.size(), c.pixels);
    EXPECT_NEAR(factInches(shape, "true pitch"), c.truePitch, 0.005);
  }
  EXPECT_EQ(pixelsOf(propOf("ring", {{"diameter", 30}, {"pitch", 2}}, {}, {{"count", "whole"}})), 47);
}

TEST(Ring, StartedAtSixHasALowerHalfOfTwoRanges) {
  for (const double diameter :
       {60.0, 61.6}) {  // 74 pixels (a pixel right at 6 o'clock) and 76 (half a pitch off)
    const Shape shape = made(propOf("ring", {{"diameter", diameter}, {"pitch", 2.5}}));
    const auto n = static_cast<std::int64_t>(shape.pixels.size());
    const NamedRanges* upper = partOf(shape, "upper half");
    const NamedRanges* lower = partOf(shape, "lower half");
    ASSERT_TRUE(upper && lower);
    EXPECT_EQ(upper->ranges.size(), 1u);
    ASSERT_EQ(lower->ranges.size(), 2u);
    EXPECT_EQ(lower->ranges[0].first, 1);
    EXPECT_EQ(lower->ranges[1].last, n);
    EXPECT_EQ(sizeOf(upper->ranges), n / 2);
    EXPECT_EQ(sizeOf(lower->ranges), n / 2);
    EXPECT_EQ(shape.in.landmark, "6 o'clock");
  }
}

TEST(Ring, StartedAtThreeOrNineHasHalvesOfOneRange) {
  for (const char* start : {"3", "9"})
    for (const char* direction : {"counterclockwise", "clockwise"}) {
      const Shape shape = made(propOf("ring", {{"diameter", 60}, {"pitch", 2.5}}, {},
                                      {{"start", start}, {"direction", direction}}));
      const bool upperFirst = (std::string(start) == "3") == (std::string(direction) == "counterclockwise");
      const yard::Range first{1, 37}, last{38, 74};
      EXPECT_EQ(partOf(shape, "upper half")->ranges, std::vector{upperFirst ? first : last});
      EXPECT_EQ(partOf(shape, "lower half")->ranges, std::vector{upperFirst ? last : first});
    }
}

TEST(Ring, StandsOnItsStakeAndGoesTheWayThatIsChosen) {
  const Shape left = made(propOf("ring", {{"diameter", 60}, {"pitch", 2.5}, {"stake", 24}}));
  EXPECT_NEAR(left.pixels.front().z, 24 * kInchMetres, 0.001);
  EXPECT_NEAR(factInches(left, "center height"), 54, 1e-6);
  EXPECT_GT(left.pixels[3].x, 0);  // counterclockwise from 6 o'clock: to the right
  EXPECT_EQ(left.rows.front().name, "6 to 3 o'clock");
  const Shape right =
      made(propOf("ring", {{"diameter", 60}, {"pitch", 2.5}}, {}, {{"direction", "clockwise"}}));
  EXPECT_LT(right.pixels[3].x, 0);
  EXPECT_EQ(right.rows.front().name, "6 to 9 o'clock");
  EXPECT_EQ(right.joints.front().landmark, "9 o'clock");
}

}  // namespace
}  // namespace yw::shapes
