#include <gtest/gtest.h>

#include "core/base/number_text.h"
#include "core/base/quantity.h"

namespace yw::base {
namespace {

/// Metres, or the refusal's key.
std::string read(std::string_view typed, LengthUnit bare = LengthUnit::Feet) {
  const Result<Length> length = parseLength(typed, bare);
  if (!length) return length.error().message.key;
  return std::to_string(length->count);
}
std::string nm(double metres) { return std::to_string(toLength(Metres{metres}).count); }

TEST(LengthReading, ReadsEveryFormPeopleType) {
  EXPECT_EQ(read("12' 6\""), nm(3.81));
  EXPECT_EQ(read("12'6 1/2\""), nm(3.8227));
  EXPECT_EQ(read("6-1/2\""), nm(0.1651));
  EXPECT_EQ(read("12ft 6in"), nm(3.81));
  EXPECT_EQ(read("12.5ft"), nm(3.81));
  EXPECT_EQ(read("3.8m"), nm(3.8));
  EXPECT_EQ(read("3,8m"), nm(3.8));
  EXPECT_EQ(read("380cm"), nm(3.8));
  EXPECT_EQ(read("150/4ft"), nm(11.43));
  EXPECT_EQ(read("2*(4'+6\")"), nm(2.7432));
}

TEST(LengthReading, ReadsMoreWaysToWriteFeetAndInches) {
  EXPECT_EQ(read("1/2in"), nm(0.0127));
  EXPECT_EQ(read("1/2 in"), nm(0.0127));
  EXPECT_EQ(read("3 1/2\""), nm(0.0889));
  EXPECT_EQ(read("12' 6-1/2\""), nm(3.8227));
  EXPECT_EQ(read("12'6"), nm(3.81));
  EXPECT_EQ(read("12' 6"), nm(3.81));
  EXPECT_EQ(read("12 ft 6"), nm(3.81));
  EXPECT_EQ(read("12' 1/2\""), nm(3.6703));
  EXPECT_EQ(read("12'-6\""), nm(3.81));
  EXPECT_EQ(read("12'-6 1/2\""), nm(3.8227));
  EXPECT_EQ(read("12\u2032 6\u2033"), nm(3.81));
  EXPECT_EQ(read("12\u2019 6\u201d"), nm(3.81));
  EXPECT_EQ(read("12' 6''"), nm(3.81));
  EXPECT_EQ(read("6\u00bd\""), nm(0.1651));
  EXPECT_EQ(read("\u00bd\""), nm(0.0127));
  EXPECT_EQ(read("12 feet 6 inches"), nm(3.81));
  EXPECT_EQ(read("1 foot 1 inch"), nm(0.3302));
  EXPECT_EQ(read("6 in."), nm(0.1524));
  EXPECT_EQ(read("1 yd 2 ft 3 in"), nm(1.6002));
  EXPECT_EQ(read("12 FT"), nm(3.6576));
}

TEST(LengthReading, ReadsMetricCompounds) {
  EXPECT_EQ(read("3m 80cm"), nm(3.8));
  EXPECT_EQ(read("3 m 80 cm 5 mm"), nm(3.805));
  EXPECT_EQ(read("40mm"), nm(0.04));
  EXPECT_EQ(read("3 m 6 in"), "number_two_side_by_side");
  EXPECT_EQ(read("3 m 5"), "number_two_side_by_side");
}

}  // namespace
}  // namespace yw::base
