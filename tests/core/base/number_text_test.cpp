#include "core/base/number_text.h"

#include <gtest/gtest.h>

#include <cstdint>
#include <limits>

namespace yw::base {
namespace {

std::string imperial(Length length) { return lengthText(length, UnitSystem::FeetInches); }
std::string metric(Length length) { return lengthText(length, UnitSystem::Metric); }
Length sixteenths(std::int64_t n) { return {kNanometresPerInch * n / 16}; }

TEST(LengthText, ShowsFeetAndInchesWithTruePrimes) {
  EXPECT_EQ(imperial(feet(12) + inches(6)), "12\u2032 6\u2033");
  EXPECT_EQ(imperial(feet(12) + inches(6) + sixteenths(8)), "12\u2032 6 1/2\u2033");
  EXPECT_EQ(imperial(feet(12)), "12\u2032 0\u2033");
  EXPECT_EQ(imperial(inches(6)), "6\u2033");
  EXPECT_EQ(imperial(inches(6) + sixteenths(3)), "6 3/16\u2033");
  EXPECT_EQ(imperial(sixteenths(8)), "1/2\u2033");
  EXPECT_EQ(imperial(feet(1) + sixteenths(1)), "1\u2032 0 1/16\u2033");
  EXPECT_EQ(imperial({0}), "0\u2033");
}

TEST(LengthText, ReducesFractions) {
  const char* wanted[] = {"1/16", "1/8", "3/16",  "1/4", "5/16",  "3/8", "7/16", "1/2",
                          "9/16", "5/8", "11/16", "3/4", "13/16", "7/8", "15/16"};
  for (int n = 1; n < 16; ++n) EXPECT_EQ(imperial(sixteenths(n)), std::string(wanted[n - 1]) + "\u2033");
}

TEST(LengthText, RoundsToTheNearestSixteenthAndCarries) {
  EXPECT_EQ(imperial(inches(11) + Length{kNanometresPerInch * 31 / 32}), "1\u2032 0\u2033");
  EXPECT_EQ(imperial(feet(11) + inches(11) + Length{kNanometresPerInch * 31 / 32 - 1}),
            "11\u2032 11 15/16\u2033");
  EXPECT_EQ(imperial(feet(12) - Length{1}), "12\u2032 0\u2033");
  EXPECT_EQ(imperial(inches(1) - Length{1}), "1\u2033");
}

TEST(LengthText, ALengthBelowZeroHasATrueMinus) {
  EXPECT_EQ(imperial(-(feet(12) + inches(6))), "\u221212\u2032 6\u2033");
  EXPECT_EQ(imperial({-1}), "0\u2033");
  EXPECT_EQ(metric({-3'810'000'000}), "\u22123.81 m");
  EXPECT_EQ(metric({-1}), "0.00 m");
}

TEST(LengthText, ShowsMetersToTheMillimeter) {
  EXPECT_EQ(metric({3'810'000'000}), "3.81 m");
  EXPECT_EQ(metric({3'800'000'000}), "3.80 m");
  EXPECT_EQ(metric({3'822'700'000}), "3.823 m");
  EXPECT_EQ(metric({40'000'000}), "0.04 m");
  EXPECT_EQ(metric({999'999'999}), "1.00 m");
}

TEST(LengthText, StandsTheEndsOfItsRange) {
  EXPECT_EQ(metric({INT64_MAX}), "9\u2009223\u2009372\u2009036.855 m");
  EXPECT_EQ(imperial({INT64_MIN}).substr(0, 3), "\u2212");
}

TEST(LongLengthText, HasOneDecimal) {
  EXPECT_EQ(longLengthText({14'112'240'000}, UnitSystem::FeetInches), "46.3 ft");
  EXPECT_EQ(longLengthText({14'112'240'000}, UnitSystem::Metric), "14.1 m");
  EXPECT_EQ(longLengthText({0}, UnitSystem::Metric), "0.0 m");
}

TEST(NumberText, HasFixedDecimalsAndADot) {
  EXPECT_EQ(numberText(3.14159, 2), "3.14");
  EXPECT_EQ(numberText(3.0, 0), "3");
  EXPECT_EQ(numberText(-2.5, 1), "\u22122.5");
  EXPECT_EQ(numberText(0.0, 2), "0.00");
}

TEST(NumberText, ARoundedZeroHasNoSign) {
  EXPECT_EQ(numberText(-0.001, 2), "0.00");
  EXPECT_EQ(numberText(-0.0, 0), "0");
  EXPECT_EQ(numberText(-0.006, 2), "\u22120.01");
}

TEST(NumberText, GroupsThousandsFromTenThousandOn) {
  EXPECT_EQ(numberText(9999, 0), "9999");
  EXPECT_EQ(numberText(9999.96, 1), "10\u2009000.0");
  EXPECT_EQ(numberText(10000, 0), "10\u2009000");
  EXPECT_EQ(numberText(1234567.891, 2), "1\u2009234\u2009567.89");
  EXPECT_EQ(numberText(-123456, 0), "\u2212123\u2009456");
}

TEST(NumberText, SaysWhatIsNoNumber) {
  EXPECT_EQ(numberText(std::numeric_limits<double>::quiet_NaN(), 1), "?");
  EXPECT_EQ(numberText(std::numeric_limits<double>::infinity(), 1), "\u221e");
  EXPECT_EQ(numberText(-std::numeric_limits<double>::infinity(), 1), "\u2212\u221e");
}

}  // namespace
}  // namespace yw::base
