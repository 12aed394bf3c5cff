#include <algorithm>
#include <numeric>
#include <set>

#include "core/shapes/chain.h"
#include "tests/core/shapes/random_props.h"
#include "tests/core/shapes/shape_checks.h"

namespace yw::shapes {
namespace {

Point inchPoint(double x, double y) {
  return {{std::llround(x * base::kNanometresPerInch)}, {std::llround(y * base::kNanometresPerInch)}};
}

yard::Prop own(std::vector<yard::OwnLine> lines, double pitch = 2) {
  yard::Prop prop = propOf("own", {{"pitch", pitch}});
  prop.lines = std::move(lines);
  return prop;
}

// An open line of 20 in at 2 in has floor(20 / 2) + 1 pixels, a closed one of 40 in floor(40 / 2).
TEST(OwnShape, LaysItsLinesAtThePitch) {
  const Shape open = made(own({{{inchPoint(0, 0), inchPoint(20, 0)}, false, false}}));
  ASSERT_EQ(open.pixels.size(), 11u);
  EXPECT_NEAR(open.pixels.back().x / kInchMetres, 20, 1e-9);
  EXPECT_NEAR(open.pixels.front().z / kInchMetres, 12, 1e-9);  // its lowest point at its foot
  const Shape closed =
      made(own({{{inchPoint(0, 0), inchPoint(10, 0), inchPoint(10, 10), inchPoint(0, 10)}, true, false}}));
  EXPECT_EQ(closed.pixels.size(), 20u);
  for (const double hop : closed.hop) EXPECT_LT(hop / kInchMetres, 2 + 1e-9);
  const Shape dots = made(own({{{inchPoint(0, 0), inchPoint(7, 1), inchPoint(3, 9)}, false, true}}));
  EXPECT_EQ(dots.pixels.size(), 3u);
}

TEST(OwnShape, SnapsToTheHolesOfAGridWithoutTakingOneTwice) {
  yard::Prop prop = own({{{inchPoint(0.3, 0.2), inchPoint(9.7, 5.3)}, false, false},
                         {{inchPoint(0.3, 0.2), inchPoint(9.7, 5.3)}, false, false}});
  prop.choices["holes"] = "grid";
  const Shape shape = made(prop);
  std::set<std::pair<long, long>> places;
  for (const Vec3& p : shape.pixels) {
    EXPECT_NEAR(std::remainder(p.x, 2 * kInchMetres), 0, 1e-9);
    EXPECT_TRUE(places.insert({std::lround(p.x * 1e5), std::lround(p.z * 1e5)}).second);
  }
}

TEST(OwnShape, IsStrungAsTheOrderSaysOrAsDrawnWhenItIsOutOfDate) {
  yard::Prop prop = own({{{inchPoint(0, 0), inchPoint(6, 0)}, false, false}});
  prop.stringOrder = {4, 3, 2, 1};
  EXPECT_NEAR(made(prop).pixels.front().x / kInchMetres, 6, 1e-9);
  for (const std::vector<std::int64_t>& bad :
       {std::vector<std::int64_t>{1, 2, 3}, {1, 2, 3, 3}, {1, 2, 3, 5}, {0, 1, 2, 3}}) {
    prop.stringOrder = bad;
    const Shape shape = made(prop);
    EXPECT_NEAR(shape.pixels.front().x, 0, 1e-9);
    ASSERT_EQ(shape.warnings.size(), 1u);
    EXPECT_EQ(shape.warnings[0].key, "own_order_out_of_date");
  }
}

TEST(OwnShape, RefusesInWordsAtItsLines) {
  EXPECT_EQ(refusalOf(own({})), "own_no_lines at lines");
  EXPECT_EQ(refusalOf(own({{{inchPoint(0, 0)}, false, false}})), "own_line_too_short at lines");
  EXPECT_EQ(refusalOf(own({{{inchPoint(0, 0), inchPoint(0, 0)}, false, false}})),
            "own_line_too_short at lines");
  EXPECT_EQ(refusalOf(own({{{inchPoint(0, 0), inchPoint(1e6, 0)}, false, false}})),
            "own_point_too_far at lines");
  EXPECT_EQ(refusalOf(own({{{inchPoint(0, 0), inchPoint(11'000, 0)}, false, false}}, 0.04)),
            "shape_too_many_pixels at pitch");
}

TEST(OwnShape, WarnsOfHopsThatTheWireCannotTake) {
  const Shape shape = made(own({{{inchPoint(0, 0), inchPoint(4, 0)}, false, false},
                                {{inchPoint(60, 0), inchPoint(64, 0)}, false, false}}));
  ASSERT_EQ(shape.warnings.size(), 1u);
  EXPECT_EQ(shape.warnings[0].key, "own_jumpers_too_long");
  EXPECT_EQ(std::get<std::int64_t>(shape.warnings[0].facts.at("count")), 1);
}

std::vector<Vec3> anyPoints(Dice& dice, std::size_t count) {
  std::vector<Vec3> points;
  for (std::size_t k = 0; k < count; ++k)
    points.push_back(
        {static_cast<double>(dice.roll(1000)) / 1e3, 0, static_cast<double>(dice.roll(1000)) / 1e3});
  return points;
}

bool isPermutation(std::vector<std::size_t> order, std::size_t count) {
  std::sort(order.begin(), order.end());
  std::vector<std::size_t> all(count);
  std::iota(all.begin(), all.end(), std::size_t{0});
  return order == all;
}

// Against every order there is, up to nine points.
TEST(ShortChain, IsTheShortestOfAllOrders) {
  Dice dice(21);
  for (int i = 0; i < 60; ++i) {
    const auto count = static_cast<std::size_t>(dice.between(2, i < 50 ? 7 : 9));
    const double reach = i % 3 == 0 ? 0.0 : 0.3;
    const std::vector<Vec3> points = anyPoints(dice, count);
    const std::vector<std::size_t> order = shortChain(points, reach);
    ASSERT_TRUE(isPermutation(order, count));
    EXPECT_EQ(order.front(), 0u);
    std::vector<std::size_t> any(count);
    std::iota(any.begin(), any.end(), std::size_t{0});
    ChainCost best = chainCost(points, any, reach);
    do best = std::min(best, chainCost(points, any, reach));
    while (std::next_permutation(any.begin() + 1, any.end()));
    ASSERT_EQ(chainCost(points, order, reach), best) << count;
  }
}

TEST(ShortChain, OfManyPointsIsNoLongerThanAsDrawnAndHasNoCrossing) {
  Dice dice(22);
  for (int i = 0; i < 12; ++i) {
    const auto count = static_cast<std::size_t>(dice.between(20, 150));
    const std::vector<Vec3> points = anyPoints(dice, count);
    const std::vector<std::size_t> order = shortChain(points, 0);
    ASSERT_TRUE(isPermutation(order, count));
    std::vector<std::size_t> drawn(count);
    std::iota(drawn.begin(), drawn.end(), std::size_t{0});
    EXPECT_LE(chainCost(points, order, 0), chainCost(points, drawn, 0));
    EXPECT_EQ(order, shortChain(points, 0));
    // Turning any piece round does not make it shorter: the chain does not cross itself.
    for (std::size_t a = 0; a + 1 < count; ++a)
      for (std::size_t b = a + 2; b < count; ++b) {
        std::vector<std::size_t> turned = order;
        std::reverse(turned.begin() + static_cast<std::ptrdiff_t>(a) + 1,
                     turned.begin() + static_cast<std::ptrdiff_t>(b));
        ASSERT_GE(chainCost(points, turned, 0), chainCost(points, order, 0));
      }
  }
}

TEST(ShortChain, GoesRoundAHopThatIsOutOfReach) {
  // Two clusters 0.5 apart with a stepping stone between them: by length alone it could be left for last.
  const std::vector<Vec3> points = {{0, 0, 0}, {0.1, 0, 0}, {0.5, 0, 0.1}, {0.3, 0, 0.15}, {0.6, 0, 0}};
  EXPECT_EQ(chainCost(points, shortChain(points, 0.25), 0.25).tooLong, 0);
}

TEST(ShortOrder, GivesAnOrderThatThePropTakes) {
  yard::Prop prop =
      own({{{inchPoint(0, 0), inchPoint(10, 10), inchPoint(2, 1), inchPoint(9, 9)}, false, true}});
  const auto order = shortOrder(prop);
  ASSERT_TRUE(order.has_value());
  EXPECT_EQ(*order, (std::vector<std::int64_t>{1, 3, 4, 2}));
  prop.stringOrder = *order;
  EXPECT_TRUE(made(prop).warnings.empty());
  EXPECT_EQ(shortOrder(usualProp("ring")).error().message.key, "own_only");
}

TEST(OwnShape, LiesFlatAsDrawnFromAboveOrStandsUprightFromTheSameLines) {
  yard::Prop prop = usualProp("own");
  prop.lines = {{{{{0}, {0}}, {base::feet(4), {0}}}, false, false},
                {{{{0}, base::feet(1)}, {base::feet(4), base::feet(3)}}, false, false}};
  prop.sizes["foot"] = base::inches(2).count;
  const auto upright = shapes::make(prop);
  prop.choices["lies"] = "flat";
  const auto flat = shapes::make(prop);
  ASSERT_TRUE(upright && flat);
  ASSERT_EQ(flat->pixels.size(), upright->pixels.size());
  const double foot = base::metres(base::inches(2)).si;
  for (std::size_t k = 0; k < flat->pixels.size(); ++k) {
    EXPECT_NEAR(flat->pixels[k].x, upright->pixels[k].x, 1e-12);
    EXPECT_NEAR(flat->pixels[k].y, upright->pixels[k].z - foot, 1e-12);
    EXPECT_NEAR(flat->pixels[k].z, foot, 1e-12);
    EXPECT_EQ(upright->pixels[k].y, 0.0);
  }
  double depth = 0;
  for (const Vec2 corner : flat->footprint) depth = std::max(depth, corner.y);
  EXPECT_GT(depth, base::metres(base::feet(3)).si) << "its outline on the ground holds all of it";
}

}  // namespace
}  // namespace yw::shapes
