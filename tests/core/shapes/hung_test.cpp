#include <algorithm>

#include "core/shapes/hang.h"
#include "tests/core/shapes/shape_checks.h"

namespace yw::shapes {
namespace {

constexpr double kFoot = 0.3048;

// floor(L / s) - 1 inside: 24 ft at 18 in are 15, each a 12 in ring at 2.5 in of 15 pixels; common practice.
TEST(HungLine, HasTheCountsOfCommonPractice) {
  const Shape shape = made(usualProp("hung_line"));
  EXPECT_EQ(shape.pixels.size(), 225u);
  EXPECT_EQ(shape.rows.size(), 15u);
  EXPECT_EQ(pixelsOf(propOf("hung_line", {}, {}, {{"ends", "with"}})), 255);
}

TEST(HungLine, BringsItsBottomsLevelForItsSag) {
  const Shape shape = made(propOf("hung_line", {{"sag", 18}}));
  double low = 1e9, high = -1e9;
  for (const Row& row : shape.rows) {
    double bottom = 1e9;
    for (std::int64_t k = row.first; k <= row.last; ++k)
      bottom = std::min(bottom, shape.pixels[static_cast<std::size_t>(k - 1)].z);
    low = std::min(low, bottom);
    high = std::max(high, bottom);
  }
  EXPECT_NEAR(low, high, 1e-9);
  const Shape alike = made(propOf("hung_line", {{"sag", 18}}, {}, {{"bottoms", "alike"}}));
  EXPECT_GT(alike.pixels.front().z - alike.pixels[7 * 15].z, 12 * kInchMetres);
}

TEST(HungLine, RefusesToHangInTheGround) {
  EXPECT_EQ(refusalOf(propOf("hung_line", {{"height", 20}})), "shape_hangs_in_the_ground at height");
  EXPECT_EQ(refusalOf(propOf("hung_line", {{"span", 20}, {"spacing", 18}})), "shape_no_ornament at spacing");
}

// T = w L^2 / (8 d): 30 ft, 0.4 lb/ft, 6 in of sag pull 90 lb; 40 ft 160 lb; 60 ft at 0.5 lb/ft and 18 in
// 150 lb. Parabola of the engineer's handbooks.
TEST(Hang, PullsAsTheParabolaSays) {
  EXPECT_NEAR(endPull(0.4 * 30, 30, 0.5), 90, 1e-9);
  EXPECT_NEAR(endPull(0.4 * 40, 40, 0.5), 160, 1e-9);
  EXPECT_NEAR(endPull(0.5 * 60, 60, 1.5), 150, 1e-9);
}

// Sag L sqrt(3 e / 8): 1 % over 40 ft gives 2.45 ft, 0.1 % 0.77 ft; 8/(3L)(d1^2 - d2^2): 2 ft to 0.5 ft takes
// 3.0 in.
TEST(Hang, StretchesAndIsTakenUpAsTheParabolaSays) {
  EXPECT_NEAR(stretchSag(40, 0.01), 2.45, 0.005);
  EXPECT_NEAR(stretchSag(40, 0.001), 0.77, 0.006);
  EXPECT_NEAR(takeUpTravel(40, 2, 0.5) * 12, 3.0, 0.005);
}

// Against many short straight pieces.
TEST(Hang, IsAsLongAsItsParabola) {
  for (const double sag : {0.1, 1.0, 3.0}) {
    const double span = 20;
    double pieces = 0;
    for (int i = 0; i < 20'000; ++i)
      pieces += std::hypot(span / 20'000,
                           lineHeight(0, sag, (i + 1) / 20'000.0) - lineHeight(0, sag, i / 20'000.0));
    EXPECT_NEAR(lineLength(span, sag), pieces, 1e-6) << sag;
  }
  EXPECT_DOUBLE_EQ(lineHeight(3, 0.5, 0.5), 2.5);
  EXPECT_DOUBLE_EQ(lineHeight(3, 0.5, 1.0), 3);
}

// 3-5-2-4 every 8 in: 20 ft are 30 drops, seven patterns (98) + 3 + 5 = 106; common practice.
TEST(DropLine, HasTheCountOfCommonPractice) {
  const Shape shape = made(usualProp("drop_line"));
  EXPECT_EQ(shape.pixels.size(), 106u);
  EXPECT_EQ(shape.rows.size(), 30u);
  EXPECT_EQ(sizeOf(partOf(shape, "drops of 5")->ranges), 8 * 5);
}

TEST(DropLine, DoublesTheWireOrFoldsTheDrop) {
  const Shape doubled = made(usualProp("drop_line"));
  // Up 3 x 3 in, along 8 in, down 3 in.
  EXPECT_NEAR(doubled.hop[2] / kInchMetres, 9 + 8 + 3, 1e-9);
  EXPECT_NEAR(doubled.out.at.z / kInchMetres, -15, 1e-9);
  const Shape folded = made(propOf("drop_line", {}, {}, {{"order", "folded"}}));
  EXPECT_EQ(folded.pixels.size(), doubled.pixels.size());
  const double steps[] = {1, 3, 5, 4, 2};  // the second drop: every other one down, the others up
  for (std::size_t k = 0; k < 5; ++k) EXPECT_NEAR(folded.pixels[3 + k].z / kInchMetres, -3 * steps[k], 1e-9);
  std::vector<double> a, b;
  for (std::size_t k = 0; k < doubled.pixels.size(); ++k) {
    a.push_back(doubled.pixels[k].z);
    b.push_back(folded.pixels[k].z);
  }
  std::sort(a.begin(), a.end());
  std::sort(b.begin(), b.end());
  for (std::size_t k = 0; k < a.size(); ++k) EXPECT_NEAR(a[k], b[k], 1e-12);
}

// floor((2 leg + pi r) / p) + 1 a hoop, closed form: (72 + 150.80) / 3 = 74.27.
TEST(HoopTunnel, CountsLegsAndArc) {
  const Shape shape = made(usualProp("hoop_tunnel"));
  EXPECT_EQ(std::get<std::int64_t>(shape.facts.at("pixels on a hoop")), 75);
  EXPECT_EQ(shape.pixels.size(), 450u);
  EXPECT_EQ(shape.out.landmark, "left foot of hoop 6");
  EXPECT_NEAR(base::metres(shape.height).si / kInchMetres, 84, 1e-6);
  EXPECT_LT(shape.hop[74] / kInchMetres, 49);  // from foot to foot along the walk
}

TEST(Sphere, KeepsItsPixelsOnTheBall) {
  const Shape shape = made(usualProp("sphere"));
  const double radius = 12 * kInchMetres;
  for (const Vec3& p : shape.pixels)
    EXPECT_NEAR(std::hypot(std::hypot(p.x, p.y), p.z - 36 * kInchMetres), radius, 1e-9);
  EXPECT_EQ(sizeOf(partOf(shape, "upper half")->ranges), sizeOf(partOf(shape, "lower half")->ranges));
}

TEST(Flood, IsOnePixelEach) {
  const Shape shape = made(propOf("flood", {}, {{"units", 3}}));
  EXPECT_EQ(shape.pixels.size(), 3u);
  EXPECT_NEAR(shape.hop[0], 4 * kFoot, 1e-9);
  // A cone of 90 degrees lights twice its distance across.
  EXPECT_NEAR(factInches(shape, "lit across at that distance"), 2 * 96, 1e-6);
}

TEST(Snowflake, HungTurnsInTheWindAndNeedsRoomAllRound) {
  const Shape stake = made(usualProp("snowflake")),
              hung = made(propOf("snowflake", {}, {}, {{"mount", "hung"}}));
  EXPECT_EQ(stake.swept.radius, 0);
  EXPECT_TRUE(hung.swept.level);
  EXPECT_GT(hung.swept.radius, 10 * kInchMetres);
}

TEST(Spinner, SweepsTheCircleThatItsArmsReach) {
  const Shape shape = made(usualProp("spinner"));
  EXPECT_NEAR(shape.swept.radius / kInchMetres, 4 + 17 * 2, 1e-6);
  EXPECT_FALSE(shape.swept.level);
}

// Two half rings of pi D / 2 from 10 ft pipe; 3/8 in bar weighs 0.376 lb a foot (7,850 kg a cubic metre).
TEST(Weight, IsThatOfItsCuts) {
  const Shape shape = made(usualProp("ring"));
  double pipe = 0;
  for (const Cut& cut : shape.cuts)
    if (cut.stock == "pipe") pipe += base::metres(cut.length).si * static_cast<double>(cut.pieces);
  EXPECT_NEAR(pipe, 3.14159265 * 60 * kInchMetres, 1e-6);
  EXPECT_NEAR(shape.weight / 0.45359237, 3.14159 * 5 * 0.16 + 2 * 0.02 / 0.45359 + 3 * 0.3759, 0.01);
}

}  // namespace
}  // namespace yw::shapes
