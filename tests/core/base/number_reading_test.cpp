#include <gtest/gtest.h>

#include <clocale>
#include <string>

#include "core/base/number_text.h"

namespace yw::base {
namespace {

double read(std::string_view typed, std::string_view unit) {
  return parseNumber(typed, unit).value_or(-999.0);
}
std::string refusal(std::string_view typed, std::string_view unit) {
  const Result<double> number = parseNumber(typed, unit);
  return number ? "read" : number.error().message.key;
}

TEST(NumberReading, ReadsANumberWithOrWithoutItsUnit) {
  EXPECT_EQ(read("4.5 A", "A"), 4.5);
  EXPECT_EQ(read("4,5A", "A"), 4.5);
  EXPECT_EQ(read("12V", "V"), 12.0);
  EXPECT_EQ(read("12", "V"), 12.0);
  EXPECT_EQ(read("30 %", "%"), 30.0);
  EXPECT_EQ(read("12.5", ""), 12.5);
  EXPECT_EQ(read("-4", ""), -4.0);
  EXPECT_EQ(read("40 frames a second", "frames a second"), 40.0);
  EXPECT_EQ(read("5 m/s", "m/s"), 5.0);
  EXPECT_EQ(read("20 \u00b0C", "\u00b0C"), 20.0);
  EXPECT_EQ(read("5 \u03a9", "\u03a9"), 5.0);
}

TEST(NumberReading, ReadsMilliAndKilo) {
  EXPECT_EQ(read("55 mA", "A"), 0.055);
  EXPECT_EQ(read("1.2 kW", "W"), 1200.0);
  EXPECT_EQ(read("5 m\u03a9", "\u03a9"), 0.005);
  EXPECT_EQ(read("2 v", "V"), 2.0);
  EXPECT_EQ(refusal("2 MA", "A"), "number_unit_unknown");  // mega or milli: not guessed
  EXPECT_EQ(refusal("2 m%", "%"), "number_unit_unknown");
}

TEST(NumberReading, Calculates) {
  EXPECT_EQ(read("3*40 mA", "A"), 0.12);
  EXPECT_EQ(read("1/4", ""), 0.25);
  EXPECT_EQ(read("2 1/2", ""), 2.5);
  EXPECT_EQ(read("350/12 A", "A"), 350.0 / 12.0);
}

TEST(NumberReading, RefusesOtherUnitsAndJunk) {
  EXPECT_EQ(refusal("4.5 V", "A"), "number_unit_unknown");
  EXPECT_EQ(refusal("4.5 Ah", "A"), "number_unit_unknown");
  EXPECT_EQ(refusal("4.5 A", ""), "number_unit_unknown");
  EXPECT_EQ(refusal("4'", ""), "number_does_not_fit");
  EXPECT_EQ(refusal("", "A"), "number_empty");
  EXPECT_EQ(refusal("4 5", "A"), "number_two_side_by_side");
  EXPECT_EQ(refusal("1,000", "A"), "number_comma_readings");
  EXPECT_EQ(refusal("A", "A"), "number_missing");
  EXPECT_EQ(refusal("nan", ""), "number_unit_unknown");
  EXPECT_EQ(refusal("inf", ""), "number_unit_unknown");
  EXPECT_EQ(refusal("1e5", ""), "number_unit_unknown");
}

TEST(NumberReading, TheNearestDoubleIsGiven) {
  EXPECT_EQ(read("0.1", ""), 0.1);
  EXPECT_EQ(read("0.055", ""), 0.055);
  EXPECT_EQ(read("123456789.125", ""), 123456789.125);
}

// A locale with a decimal comma changes nothing.
TEST(NumberReading, IsTheSameOnEveryLocale) {
  const std::string before = std::setlocale(LC_ALL, nullptr);
  for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8", "C.UTF-8", "C"}) {
    if (!std::setlocale(LC_ALL, name)) continue;
    EXPECT_EQ(read("3.8", ""), 3.8) << name;
    EXPECT_EQ(numberText(3.8, 1), "3.8") << name;
  }
  std::setlocale(LC_ALL, before.c_str());
}

}  // namespace
}  // namespace yw::base
