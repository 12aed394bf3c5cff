#include "core/shapes/ground_level.h"

#include "tests/core/shapes/random_props.h"
#include "tests/core/shapes/shape_checks.h"

namespace yw::shapes {
namespace {

constexpr double kFoot = 0.3048;

/// A yard that rises by `slope` towards plan +x, measured at four spots.
yard::Yard slopedYard(double slope) {
  yard::Yard yard;
  std::int64_t id = 100;
  for (const double x : {-20.0, 20.0})
    for (const double y : {-20.0, 20.0}) {
      yard::SpotHeight spot;
      spot.at = base::point({x * kFoot, y * kFoot});
      spot.height = base::toLength({x * kFoot * slope});
      yard.records[yard::Id{id++}] = std::make_shared<const yard::Record>(spot);
    }
  return yard;
}

TEST(GroundHeight, MeetsAnEvenSlopeExactlyAndKeepsItsSpots) {
  const yard::Yard yard = slopedYard(0.06);
  Dice dice(3);
  for (int i = 0; i < 200; ++i) {
    const double x = static_cast<double>(dice.between(-3000, 3000)) / 100,
                 y = static_cast<double>(dice.between(-3000, 3000)) / 100;
    EXPECT_NEAR(groundHeight(yard, {x, y}), 0.06 * x, 1e-6);
  }
  EXPECT_EQ(groundHeight({}, {1, 2}), 0);
}

// reveal = top - height - ground. Over a 2 ft base on a 5 % slope legs differ by 1.2 in; common practice.
TEST(Reveals, OfASmallTreesLegsDifferAsTheSlopeSays) {
  const Reveals r = levelLegs(slopedYard(0.05), usualProp("small_cone_tree"), 4, kFoot, 0.05);
  ASSERT_EQ(r.each.size(), 4u);
  EXPECT_NEAR((r.each[3] - r.each[1]) / kInchMetres, 1.2, 1e-6);  // low side, high side
  EXPECT_NEAR(*std::min_element(r.each.begin(), r.each.end()), 0.05, 1e-9);
}

TEST(Reveals, BringTheTopsOfARowLevel) {
  yard::Yard yard = slopedYard(0.08);
  std::vector<yard::Id> ids;
  for (std::int64_t k = 0; k < 5; ++k) {
    yard::Prop prop = propOf("small_cone_tree", {{"height", 40.0 + 3 * static_cast<double>(k % 3)}});
    prop.at = base::point({static_cast<double>(k) * 4 * kFoot, 0});
    ids.push_back(yard::Id{k + 1});
    yard.records[ids.back()] = std::make_shared<const yard::Record>(prop);
  }
  const RowReveals row = levelRow(yard, ids, 0.1);
  ASSERT_EQ(row.props, ids);
  double least = 1e9;
  for (std::size_t k = 0; k < 5; ++k) {
    const double ground = 0.08 * static_cast<double>(k) * 4 * kFoot;
    const double height = (40.0 + 3 * static_cast<double>(k % 3)) * kInchMetres;
    EXPECT_NEAR(ground + row.reveals.each[k] + height, row.reveals.top, 1e-6);
    least = std::min(least, row.reveals.each[k]);
  }
  EXPECT_NEAR(least, 0.1, 1e-9);
  EXPECT_TRUE(levelRow(yard, {yard::Id{999}}, 0.1).props.empty());
}

// An 8 ft ring on 6 %: 5.8 in from its high side to its low side; common practice.
TEST(BaseRing, LevelOnASlopeHasStakesOfDifferentHeight) {
  const Reveals r = levelLegs(slopedYard(0.06), usualProp("cone_tree"), 8, 4 * kFoot, 0);
  const auto [low, high] = std::minmax_element(r.each.begin(), r.each.end());
  EXPECT_NEAR((*high - *low) / kInchMetres, 5.76, 1e-5);
}

TEST(BaseRing, ParallelToTheGroundHasStripsOfDifferentLength) {
  const yard::Prop prop = propOf("cone_tree", {{"height", 144}, {"base_diameter", 96}, {"top_diameter", 8}});
  const auto flat = stripsOnSlope({}, prop), slope = stripsOnSlope(slopedYard(0.06), prop);
  ASSERT_TRUE(flat && slope);
  const Shape shape = made(prop);
  for (const StripOnSlope& s : *flat) {
    EXPECT_NEAR(s.length, base::metres(std::get<Length>(shape.facts.at("slant"))).si, 1e-8);
    EXPECT_EQ(s.pixels, std::get<std::int64_t>(shape.facts.at("pixels on a strip")));
  }
  for (const StripOnSlope& s : *slope)
    EXPECT_NEAR(s.length, std::hypot(144 * kInchMetres - s.ground, 44 * kInchMetres), 1e-8);
  EXPECT_GT((*slope)[0].length, 0);
  EXPECT_NE((*slope)[4].pixels, (*slope)[12].pixels);  // left is low and long, right is high and short
  EXPECT_EQ(stripsOnSlope({}, usualProp("ring")).error().message.key, "level_not_a_cone");
}

}  // namespace
}  // namespace yw::shapes
