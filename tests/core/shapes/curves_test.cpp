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

// Counts: sum of floor(2 pi r / p), common practice.
TEST(ConcentricRings, HaveTheCountsOfCommonPractice) {
  const auto rings = [](double outer, double inner, std::int64_t n, double pitch) {
    return propOf("concentric_rings", {{"outer_radius", outer}, {"inner_radius", inner}, {"pitch", pitch}},
                  {{"rings", n}});
  };
  EXPECT_EQ(pixelsOf(rings(24, 6, 4, 2)), 18 + 37 + 56 + 75);
  EXPECT_EQ(pixelsOf(rings(15, 5, 3, 2.5)), 12 + 25 + 37);
  EXPECT_EQ(pixelsOf(rings(27, 9, 3, 3)), 18 + 37 + 56);
}

TEST(ConcentricRings, GoOutsideInOrInsideOut) {
  const Shape in = made(usualProp("concentric_rings"));
  const Shape out = made(propOf("concentric_rings", {}, {}, {{"order", "inside_out"}}));
  EXPECT_EQ(in.rows.front().last, 75);
  EXPECT_EQ(out.rows.front().last, 18);
  EXPECT_EQ(partOf(in, "ring 1")->ranges, (std::vector<yard::Range>{{1, 75}}));
  EXPECT_EQ(partOf(out, "ring 1")->ranges, (std::vector<yard::Range>{{112, 186}}));
  EXPECT_EQ(out.out.landmark, "6 o'clock of ring 1");
  EXPECT_GE(in.hop[74], 6 * kInchMetres);  // the step to the next ring is a longer hop
  EXPECT_LT(in.hop[74], 7 * kInchMetres);
}

TEST(ConcentricRings, RefuseAnInnerRadiusOverTheOuter) {
  EXPECT_EQ(refusalOf(propOf("concentric_rings", {{"outer_radius", 6}, {"inner_radius", 6}})),
            "shape_inner_over_outer at inner_radius");
  EXPECT_EQ(refusalOf(propOf("concentric_rings", {{"inner_radius", 0.2}})),
            "shape_no_pixels at inner_radius");
}

// Edge sqrt(R^2 + r^2 - 2 R r cos 36 deg), floor(perimeter / p) a level; k = 0.382. Common practice.
TEST(Star, HasTheCountsOfCommonPractice) {
  const auto star = [](double radius, double pitch) {
    return propOf("star", {{"radius", radius}, {"pitch", pitch}}, {{"levels", 1}});
  };
  EXPECT_EQ(pixelsOf(star(15, 2)), 54);
  EXPECT_NEAR(factInches(made(star(15, 2)), "perimeter"), 109, 0.5);
  EXPECT_EQ(pixelsOf(star(24, 2.5)), 69);
  EXPECT_NEAR(factInches(made(star(24, 2.5)), "perimeter"), 174, 0.5);
  const auto three = [](double pitch) {
    return propOf("star", {{"radius", 24}, {"inner_level_radius", 12}, {"pitch", pitch}}, {{"levels", 3}});
  };
  EXPECT_EQ(pixelsOf(three(3)), 58 + 43 + 29);
  EXPECT_EQ(pixelsOf(three(2)), 87 + 65 + 43);
}

TEST(Star, WithTwoFacesDoublesTheCountAndEndsWhereItBegan) {
  yard::Prop prop = usualProp("star");
  prop.choices["faces"] = "two";
  const Shape shape = made(prop);
  EXPECT_EQ(shape.pixels.size(), 260u);
  EXPECT_EQ(shape.in.landmark, "bottom of front level 1");
  EXPECT_EQ(shape.out.landmark, "bottom of back level 1");
  EXPECT_EQ(partOf(shape, "level 2")->ranges, (std::vector<yard::Range>{{59, 101}, {160, 202}}));
  EXPECT_LT(shape.hop[129], 4 * kInchMetres);  // through the star
}

TEST(Star, HasItsPointsAsPartsThatAddUp) {
  const Shape shape = made(usualProp("star"));
  std::int64_t all = 0;
  for (int point = 1; point <= 5; ++point)
    all += sizeOf(partOf(shape, "point " + std::to_string(point))->ranges);
  EXPECT_EQ(all, 130);
  // Point 1 is the top one: its highest pixel is the star's highest.
  double top = 0, topOfPoint = 0;
  for (const Vec3& p : shape.pixels) top = std::max(top, p.z);
  for (const yard::Range& r : partOf(shape, "point 1")->ranges)
    for (std::int64_t k = r.first; k <= r.last; ++k)
      topOfPoint = std::max(topOfPoint, shape.pixels[static_cast<std::size_t>(k - 1)].z);
  EXPECT_EQ(top, topOfPoint);
}

// Six-fold: 6 (main + 2 sum of branches), common practice.
TEST(Snowflake, HasTheCountsOfCommonPractice) {
  const auto flake = [](std::int64_t main, std::int64_t pairs, std::int64_t first, std::int64_t growth) {
    return pixelsOf(propOf("snowflake", {},
                           {{"main_pixels", main},
                            {"branch_pairs", pairs},
                            {"branch_pixels", first},
                            {"branch_growth", growth}}));
  };
  EXPECT_EQ(flake(10, 2, 3, 1), 144);
  EXPECT_EQ(flake(8, 1, 3, 0), 84);
  EXPECT_EQ(flake(12, 3, 2, 2), 216);
}

TEST(Snowflake, WireOutOfABranchIsDoubled) {
  for (const char* order : {"way_back", "way_out"}) {
    const Shape shape = made(propOf("snowflake", {{"pitch", 2}}, {}, {{"order", order}}));
    const NamedRanges* arm = partOf(shape, "arm 1");
    ASSERT_TRUE(arm);
    EXPECT_EQ(arm->ranges, (std::vector<yard::Range>{{1, 24}}));
    for (std::size_t r = 0; r + 1 < shape.rows.size(); ++r)
      if (shape.rows[r].name == "arm 1, branch 2 right") {
        // Back through 4 pixels to the stem and one pitch into the left branch.
        EXPECT_NEAR(shape.hop[static_cast<std::size_t>(shape.rows[r].last - 1)] / kInchMetres, 10, 1e-6);
        EXPECT_EQ(shape.rows[r + 1].name, "arm 1, branch 2 left");
      }
  }
}

TEST(Snowflake, RefusesBranchesThatVanish) {
  EXPECT_EQ(
      refusalOf(propOf("snowflake", {}, {{"branch_pairs", 4}, {"branch_pixels", 3}, {"branch_growth", -1}})),
      "shape_branch_vanishes at branch_growth");
}

// N = arms x pixels on an arm, common practice.
TEST(Spinner, HasTheCountsOfCommonPractice) {
  EXPECT_EQ(pixelsOf(propOf("spinner", {}, {{"arms", 8}, {"arm_pixels", 18}})), 144);
  EXPECT_EQ(pixelsOf(propOf("spinner", {}, {{"arms", 12}, {"arm_pixels", 25}})), 300);
  EXPECT_EQ(pixelsOf(propOf("spinner", {}, {{"arms", 10}, {"arm_pixels", 14}, {"bent_pixels", 9}})), 230);
  EXPECT_EQ(pixelsOf(propOf("spinner", {}, {{"arms", 8}, {"arm_pixels", 18}, {"hub_pixels", 6}})), 150);
}

TEST(Spinner, GoesOutAndBackByTheChosenOrder) {
  const Shape zigzag = made(usualProp("spinner"));
  EXPECT_EQ(zigzag.rows[1].name, "arm 2, back");
  EXPECT_EQ(zigzag.out.landmark, "middle of arm 8");
  const Shape there = made(propOf("spinner", {}, {}, {{"order", "out_and_back"}}));
  EXPECT_EQ(there.rows.size(), 16u);
  EXPECT_EQ(there.rows[1].last, 18);
  EXPECT_EQ(there.out.landmark, "middle of arm 8");
  const Shape out = made(propOf("spinner", {{"pitch", 2}, {"hub_radius", 4}}, {}, {{"order", "all_out"}}));
  EXPECT_NEAR(out.hop[17] / kInchMetres, 4 + 17 * 2 + 4,
              1e-6);  // back to the middle and out to the next first pixel
  EXPECT_EQ(out.out.landmark, "tip of arm 8");
}

}  // namespace
}  // namespace yw::shapes
