#include "core/circuit/fuse_curve.h"

#include <gtest/gtest.h>

#include <cmath>

namespace yw::circuit {
namespace {

// 287-series blade fuse data sheet, time-current characteristics.
TEST(FuseCurve, PassesThroughThePublishedPoints) {
  EXPECT_EQ(openingTime(1.1).least, 360'000.0);
  EXPECT_EQ(openingTime(1.35).least, 0.75);
  EXPECT_EQ(openingTime(1.35).most, 600.0);
  EXPECT_EQ(openingTime(1.6).least, 0.25);
  EXPECT_EQ(openingTime(1.6).most, 50.0);
  EXPECT_EQ(openingTime(2.0).least, 0.15);
  EXPECT_EQ(openingTime(2.0).most, 5.0);
  EXPECT_EQ(openingTime(3.5).least, 0.08);
  EXPECT_EQ(openingTime(3.5).most, 0.5);
  EXPECT_EQ(openingTime(6.0).most, 0.15);
  EXPECT_EQ(openingTime(20.0).most, 0.15);
}

TEST(FuseCurve, BelowItsCurveNothingIsCertain) {
  EXPECT_TRUE(std::isinf(openingTime(1.0).least));
  EXPECT_TRUE(std::isinf(openingTime(1.09).least));
  EXPECT_TRUE(std::isinf(openingTime(1.34).most));
  EXPECT_TRUE(std::isfinite(openingTime(1.2).least)) << "it may open";
}

TEST(FuseCurve, OpensSoonerTheMoreItCarries) {
  OpeningTime before = openingTime(1.35);
  for (double multiple = 1.36; multiple < 7.0; multiple += 0.01) {
    const OpeningTime now = openingTime(multiple);
    EXPECT_LE(now.most, before.most) << multiple;
    EXPECT_LE(now.least, before.least) << multiple;
    EXPECT_LT(now.least, now.most) << multiple;
    before = now;
  }
}

}  // namespace
}  // namespace yw::circuit
