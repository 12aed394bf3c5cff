#include "tests/core/shapes/shape_checks.h"

namespace yw::shapes {
namespace {

std::vector<std::int64_t> rowCounts(const Shape& shape) {
  std::vector<std::int64_t> counts;
  for (const Row& row : shape.rows) counts.push_back(row.last - row.first + 1);
  return counts;
}

// Each side floor(side / p) with half-pitch ends, corners not shared; common practice.
TEST(WindowOutline, HasTheCountsOfCommonPractice) {
  const Shape shape = made(propOf("window_outline", {{"width", 36}, {"height", 60}, {"pitch", 3}}));
  EXPECT_EQ(rowCounts(shape), (std::vector<std::int64_t>{20, 12, 20, 12}));
  EXPECT_EQ(pixelsOf(propOf("window_outline", {{"width", 72}, {"height", 48}, {"pitch", 3}})), 80);
  EXPECT_EQ(pixelsOf(propOf("window_outline", {{"width", 24}, {"height", 60}, {"pitch", 2}})), 84);
}

TEST(WindowOutline, GoesRoundFromTheChosenCorner) {
  const struct {
    const char *corner, *direction, *firstSide, *lastSide;
  } cases[] = {{"bottom_left", "clockwise", "left side", "bottom"},
               {"bottom_left", "counterclockwise", "bottom", "left side"},
               {"top_right", "clockwise", "right side", "top"},
               {"top_right", "counterclockwise", "top", "right side"},
               {"bottom_right", "counterclockwise", "right side", "bottom"}};
  for (const auto& c : cases) {
    const Shape shape =
        made(propOf("window_outline", {}, {}, {{"corner", c.corner}, {"direction", c.direction}}));
    EXPECT_EQ(shape.rows.front().name, c.firstSide);
    EXPECT_EQ(shape.rows.back().name, c.lastSide);
    // Start and end lie half a pitch from the same corner.
    EXPECT_NEAR(base::distance(shape.in.at, shape.out.at), 1.5 * kInchMetres * std::sqrt(2.0), 1e-9);
  }
}

TEST(WindowOutline, WireGoesRoundTheCorner) {
  const Shape shape = made(propOf("window_outline", {{"width", 36}, {"height", 60}, {"pitch", 3}}));
  EXPECT_NEAR(shape.hop[19] / kInchMetres, 3, 1e-9);  // 1.5 in up to the corner, 1.5 in past it
}

TEST(DoorOutline, HasThreeSides) {
  const Shape shape = made(propOf("door_outline", {{"width", 36}, {"height", 84}, {"pitch", 3}}));
  EXPECT_EQ(rowCounts(shape), (std::vector<std::int64_t>{28, 12, 28}));
  EXPECT_EQ(shape.in.landmark, "bottom left");
  EXPECT_EQ(shape.out.landmark, "bottom right");
  const Shape right = made(propOf("door_outline", {}, {}, {{"start", "right"}}));
  EXPECT_EQ(right.rows.front().name, "right side");
}

// Rake = run sqrt(1 + (rise / run)^2), floor(rake / p) a rake; common practice.
TEST(Gable, HasTheCountsOfCommonPractice) {
  const struct {
    double run;
    std::int64_t rise;
    double pitch, rake;
    std::int64_t each;
  } cases[] = {{12, 6, 4, 13.42, 40}, {10, 4, 4, 10.54, 31}, {15, 8, 3, 18.03, 72}};
  for (const auto& c : cases) {
    const Shape shape =
        made(propOf("gable", {{"run", c.run * 12}, {"pitch", c.pitch}}, {{"pitch_rise", c.rise}}));
    EXPECT_EQ(rowCounts(shape), (std::vector<std::int64_t>{c.each, c.each}));
    EXPECT_NEAR(factInches(shape, "rake length") / 12, c.rake, 0.005);
  }
}

TEST(Gable, CanHaveOneRakeAndStartAtEitherEnd) {
  const Shape right = made(propOf("gable", {}, {}, {{"sides", "right"}}));
  EXPECT_EQ(right.in.landmark, "peak");
  EXPECT_EQ(right.rows.size(), 1u);
  EXPECT_GT(right.in.at.x, base::metres(base::feet(12)).si);
  const Shape back = made(propOf("gable", {}, {}, {{"start", "right"}}));
  EXPECT_EQ(back.in.landmark, "right foot");
  EXPECT_EQ(back.rows.front().name, "right rake");
}

TEST(EaveLine, CountsEachSegmentOnItsOwn) {
  yard::Prop prop = propOf("eave_line", {{"pitch", 4}});
  // A rake of run 12 ft at 6:12 (40 pixels), then 10.2 ft level (30), on the wall: x and up.
  prop.path = {{{0}, {0}},
               {base::feet(12), base::feet(6)},
               {{base::feet(12).count + base::inches(122).count}, base::feet(6)}};
  const Shape shape = made(prop);
  EXPECT_EQ(rowCounts(shape), (std::vector<std::int64_t>{40, 30}));
  EXPECT_EQ(shape.pixels.front().y, 0);
  EXPECT_GT(shape.pixels.back().z, base::metres(base::feet(6)).si - 1e-9);
  EXPECT_EQ(shape.joints[0].landmark, "end of side 1");
  // What is spare on the level part is shared by its ends: 122 - 29 x 4 = 6 in.
  EXPECT_NEAR(shape.pixels[40].x - base::metres(base::feet(12)).si, 3 * kInchMetres, 1e-9);
}

TEST(EaveLine, RefusesPathsThatSayNothing) {
  yard::Prop prop = usualProp("eave_line");
  prop.path.clear();
  EXPECT_EQ(refusalOf(prop), "shape_path_too_short at path");
  prop.path = {{{0}, {0}}};
  EXPECT_EQ(refusalOf(prop), "shape_path_too_short at path");
  prop.path = {{{0}, {0}}, {base::feet(2), {0}}, {base::feet(2), {0}}};
  EXPECT_EQ(refusalOf(prop), "shape_path_repeats at path");
  prop.path = {{{0}, {0}}, {base::inches(2), {0}}};
  EXPECT_EQ(refusalOf(prop), "shape_no_pixels at path");
  prop.path = {{{0}, {0}}, {{INT64_MAX}, {INT64_MIN}}};
  EXPECT_EQ(refusalOf(prop), "shape_path_too_far at path");
  prop.path = {{{0}, {0}}, {base::feet(30'000), {0}}};
  prop.sizes["pitch"] = 1'000'000;
  EXPECT_EQ(refusalOf(prop), "shape_too_many_pixels at pitch");
}

TEST(EaveLine, SaysWhichSideStaysDark) {
  yard::Prop prop = propOf("eave_line", {{"pitch", 4}});
  prop.path = {{{0}, {0}}, {base::feet(4), {0}}, {base::feet(4), base::inches(2)}};
  const Shape shape = made(prop);
  EXPECT_EQ(shape.pixels.size(), 12u);
  ASSERT_EQ(shape.warnings.size(), 1u);
  EXPECT_EQ(shape.warnings[0].key, "shape_side_without_pixel");
}

TEST(Figure, CanBeClosedOrOpen) {
  yard::Prop prop = propOf("figure", {{"pitch", 2}});  // 3 x 3 ft
  EXPECT_EQ(pixelsOf(prop), 72);
  prop.choices["ends"] = "open";
  EXPECT_EQ(pixelsOf(prop), 54);
  prop.choices["ends"] = "closed";
  prop.path.push_back(prop.path.front());
  EXPECT_EQ(refusalOf(prop), "shape_path_repeats at path");
}

}  // namespace
}  // namespace yw::shapes
