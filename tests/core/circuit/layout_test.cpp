#include <gtest/gtest.h>

#include "tests/core/circuit/power_yard.h"

namespace yw::circuit::test {
namespace {

using routes::CableRole;

std::vector<std::int64_t> pixels(const RunLayout& layout) {
  std::vector<std::int64_t> numbers;
  for (const RunPixel& pixel : layout.pixels) numbers.push_back(pixel.pixel);
  return numbers;
}

TEST(RunLayout, GoesThroughStretchesInTheOrderOfTheData) {
  PowerYard y;
  const Id a = y.addProp(5), b = y.addProp(4);
  const Id run = y.addRun(y.port, {PowerYard::stretch(a, 2, 4), PowerYard::stretch(b, 0, 0, true)});
  y.lead(run, y.awg18, 3.0);
  y.jumper(run, 1, y.awg18, 0.7);
  const RunLayout layout = layoutOf(y.yard, y.shapes, y.routes, run);
  EXPECT_EQ(pixels(layout), (std::vector<std::int64_t>{2, 3, 4, 4, 3, 2, 1}));
  EXPECT_EQ(layout.pixels[2].prop, a);
  EXPECT_EQ(layout.pixels[3].prop, b);
  EXPECT_EQ(layout.pixels[3].item, 1);
  const double gap = 4 * kInch;
  const std::vector<double> before{0.0, gap, gap, 0.7, gap, gap, gap};
  ASSERT_EQ(layout.wireBefore.size(), before.size());
  for (std::size_t k = 0; k < before.size(); ++k) EXPECT_DOUBLE_EQ(layout.wireBefore[k], before[k]);
  EXPECT_NEAR(layout.along.back(), 5 * gap + 0.7, 1e-12);
  EXPECT_EQ(layout.wire[3], y.awg18);
  EXPECT_EQ(layout.wire[4], y.awg20);
  EXPECT_EQ(layout.cablesBefore.at(0), (std::vector<CableKey>{{CableRole::Lead, run, 0}}));
  EXPECT_EQ(layout.cablesBefore.at(3), (std::vector<CableKey>{{CableRole::Jumper, run, 1}}));
}

TEST(RunLayout, TakesTheLongerOfSpacingAndWay) {
  PowerYard y;
  const Id prop = y.addProp(4);
  y.setHop(prop, 0, 0.5);  // between pixels 1 and 2
  const Id forward = y.addRun({}, {PowerYard::stretch(prop)});
  const Id back = y.addRun({}, {PowerYard::stretch(prop, 0, 0, true)});
  EXPECT_DOUBLE_EQ(layoutOf(y.yard, y.shapes, y.routes, forward).wireBefore[1], 0.5);
  EXPECT_DOUBLE_EQ(layoutOf(y.yard, y.shapes, y.routes, back).wireBefore[3], 0.5);
  EXPECT_DOUBLE_EQ(layoutOf(y.yard, y.shapes, y.routes, back).wireBefore[1], 4 * kInch);
}

TEST(RunLayout, PutsNullPixelsInTheirGapAndGoesThroughBoosters) {
  PowerYard y;
  const Id a = y.addProp(2), b = y.addProp(2);
  const Id run = y.addRun(y.port, {PowerYard::stretch(a), PowerYard::other(RunItemKind::NullPixel),
                                   PowerYard::other(RunItemKind::Unused, 9),
                                   PowerYard::other(RunItemKind::Booster), PowerYard::stretch(b)});
  y.lead(run, y.awg18, 1.0);
  y.jumper(run, 1, y.awg18, 2.0);
  y.jumper(run, 3, y.awg18, 2.5);
  y.jumper(run, 4, y.awg18, 3.0);
  const RunLayout layout = layoutOf(y.yard, y.shapes, y.routes, run);
  EXPECT_EQ(pixels(layout), (std::vector<std::int64_t>{1, 2, 0, 1, 2}));
  EXPECT_FALSE(layout.pixels[2].prop);
  EXPECT_DOUBLE_EQ(layout.wireBefore[2], 2.0);
  EXPECT_DOUBLE_EQ(layout.wireBefore[3], 5.5) << "through the booster";
  EXPECT_EQ(layout.cablesBefore.at(3).size(), 2u);
  const Power p = y.power();
  EXPECT_NEAR(p.runs.at(run).totalAmps, 4 * 0.04 + 0.002, 1e-9) << "a null pixel draws its idle current";
  EXPECT_NEAR(p.cables.at({CableRole::Jumper, run, 3}).positiveAmps, 0.08, 1e-9);
  EXPECT_NEAR(p.cables.at({CableRole::Jumper, run, 1}).zeroAmps, 0.082, 1e-9);
  EXPECT_LE(p.runs.at(run).lowestPixel, 5);
  EXPECT_GT(p.runs.at(run).lowestPixel, 3);
}

TEST(RunLayout, LeavesOutPropsWithoutAShapeAndPixelsThatAreNotThere) {
  PowerYard y;
  const Id a = y.addProp(3), lost = y.add(Prop{});
  const Id run =
      y.addRun(y.port, {PowerYard::stretch(lost), PowerYard::stretch(a, 2, 9), PowerYard::stretch(a, 7, 9)});
  EXPECT_EQ(pixels(layoutOf(y.yard, y.shapes, y.routes, run)), (std::vector<std::int64_t>{2, 3}));
  EXPECT_TRUE(layoutOf(y.yard, y.shapes, y.routes, Id{9999}).pixels.empty());
}

}  // namespace
}  // namespace yw::circuit::test
