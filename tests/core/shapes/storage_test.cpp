// How a prop goes into the shed once it is taken apart.
#include "core/shapes/stock.h"

#include <cmath>

#include "tests/core/shapes/random_props.h"
#include "tests/core/shapes/shape_checks.h"

namespace yw::shapes {
namespace {

const Stored& part(const Shape& shape, const std::string& what) {
  for (const Stored& one : shape.stored)
    if (one.what == what) return one;
  ADD_FAILURE() << what << " is not there";
  return shape.stored.front();
}

double inches(Length length) { return static_cast<double>(length.count) / 25.4e6; }

// Half of a 60 in ring of 0.84 in pipe: 60 in across and 30 in deep along its middle, the pipe on top. The
// pipe of a 12 ft ring, 37.7 ft, comes in 10 ft: four quarters, each 12 sin 45 ft across.
TEST(Storage, OfARingIsItsPiecesBetweenCouplings) {
  const Shape ring = made(propOf("ring", {{"diameter", 60}}));
  const Stored& half = part(ring, "part of the ring");
  EXPECT_EQ(half.pieces, 2);
  EXPECT_NEAR(inches(half.length), 60.84, 0.001);
  EXPECT_NEAR(inches(half.width), 30.84, 0.001);
  EXPECT_NEAR(inches(half.depth), 2 * 0.84, 0.001);
  const Stored quarter = part(made(propOf("ring", {{"diameter", 144}})), "part of the ring");
  EXPECT_EQ(quarter.pieces, 4);
  EXPECT_NEAR(inches(quarter.length), 144 * std::sqrt(0.5) + 0.84, 0.001);
}

// 16 ft of pole comes apart into two lengths of 10 ft at most; 40 strips lie in a square of 7 x 6.
TEST(Storage, OfAConeTreeIsBundledNoLongerThanItsStock) {
  const Shape tree = made(propOf("cone_tree", {{"height", 168}}, {{"strips", 40}}));
  const Stored& pole = part(tree, "pole, bundled");
  EXPECT_EQ(pole.pieces, 2);
  EXPECT_EQ(pole.length, base::feet(10));
  EXPECT_NEAR(inches(pole.width), 2 * 1.74, 0.001);
  const Stored& strips = part(tree, "pixel strip, bundled");
  EXPECT_EQ(strips.pieces, 80);  // each of 171 in in two
  EXPECT_EQ(strips.length, base::feet(8));
  EXPECT_NEAR(inches(strips.width), 9, 0.001);
}

TEST(Storage, FoldsAPanelOnALineAtHalfItsHeight) {
  const Shape panel = made(propOf("mesh_panel", {{"width", 48}, {"height", 96}, {"foot", 12}}));
  ASSERT_EQ(panel.stored.size(), 1U);
  EXPECT_NEAR(inches(panel.stored[0].length), 60, 0.001);
  EXPECT_NEAR(inches(panel.stored[0].width), 48, 0.001);
}

// Every stock that is cut is stored, in a kept part or by itself; the longest side comes first, and nothing
// straight is longer than its stock.
TEST(Storage, HoldsEveryPartOfEveryKind) {
  for (const Kind& kind : kinds()) {
    Dice dice(31);
    for (int i = 0; i < 100; ++i) {
      const auto shape = make(randomProp(kind, dice));
      if (!shape) continue;
      ASSERT_FALSE(shape->stored.empty()) << kind.name;
      for (const Stored& one : shape->stored) {
        ASSERT_GE(one.pieces, 1) << kind.name << ": " << one.what;
        ASSERT_GE(one.length, one.width) << kind.name << ": " << one.what;
        ASSERT_GE(one.width, one.depth) << kind.name << ": " << one.what;
        ASSERT_GE(one.depth.count, 0) << kind.name << ": " << one.what;
      }
      for (const Stored& one : storedByStock(shape->cuts, {})) {
        if (!one.what.ends_with(", bundled") || one.pieces > 16) continue;  // many short ones may be wider
        const std::string stock = one.what.substr(0, one.what.size() - 9);
        ASSERT_LE(one.length, findStock(stock)->length) << kind.name << ": " << stock;
      }
      for (const Cut& cut : shape->cuts) {
        const bool byItself = std::any_of(shape->stored.begin(), shape->stored.end(),
                                          [&](const Stored& one) { return one.what.starts_with(cut.stock); });
        const bool kept = std::any_of(shape->stored.begin(), shape->stored.end(), [&](const Stored& one) {
          return !findStock(one.what.substr(0, one.what.find(',')));
        });
        ASSERT_TRUE(byItself || kept) << kind.name << ": " << cut.stock;
      }
    }
  }
}

}  // namespace
}  // namespace yw::shapes
