#include "core/base/rational.h"

#include <gtest/gtest.h>

namespace yw::base {
namespace {

std::int64_t rounded(Int128 num, Int128 den) { return Rational::make(num, den)->rounded().value_or(-1); }

TEST(Rational, IsKeptInLowestTermsWithAPositiveDenominator) {
  const Rational half = *Rational::make(-4, -8);
  EXPECT_TRUE(half.num == 1 && half.den == 2);
  const Rational minus = *Rational::make(4, -8);
  EXPECT_TRUE(minus.num == -1 && minus.den == 2);
  EXPECT_FALSE(Rational::make(1, 0));
}

TEST(Rational, CalculatesExactly) {
  const Rational third = *Rational::make(1, 3), sixth = *Rational::make(1, 6);
  const Rational half = *sum(third, sixth);
  EXPECT_TRUE(half.num == 1 && half.den == 2);
  EXPECT_TRUE(difference(third, sixth)->den == 6);
  EXPECT_TRUE(product(third, {3, 1})->den == 1);
  EXPECT_TRUE(quotient(third, {-1, 3})->num == -1);
  EXPECT_FALSE(quotient(third, {0, 1}));
}

TEST(Rational, RoundsHalvesAwayFromZero) {
  EXPECT_EQ(rounded(5, 2), 3);
  EXPECT_EQ(rounded(-5, 2), -3);
  EXPECT_EQ(rounded(7, 3), 2);
  EXPECT_EQ(rounded(-7, 3), -2);
  EXPECT_EQ(rounded(0, 3), 0);
}

TEST(Rational, GivesNothingRatherThanAWrongFigure) {
  const Rational large = *Rational::make(Int128{1} << 100, 3);
  EXPECT_FALSE(product(large, large));
  EXPECT_FALSE(sum(*Rational::make((Int128{1} << 126) + 1, 1), *Rational::make(Int128{1} << 126, 1)));
  EXPECT_FALSE(large.rounded());
  EXPECT_TRUE(product(large, *Rational::make(3, Int128{1} << 100))->num == 1);  // crosswise reduction first
}

}  // namespace
}  // namespace yw::base
