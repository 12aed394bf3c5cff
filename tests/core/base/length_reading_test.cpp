#include <gtest/gtest.h>

#include <cstdlib>
#include <string>

#include "core/base/number_text.h"
#include "core/base/quantity.h"

namespace yw::base {
namespace {

/// Nanometres, or the refusal's key.
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

TEST(LengthReading, ABareNumberTakesTheFieldsUnit) {
  EXPECT_EQ(read("2", LengthUnit::Feet), nm(0.6096));
  EXPECT_EQ(read("2", LengthUnit::Inches), nm(0.0508));
  EXPECT_EQ(read("2", LengthUnit::Metres), nm(2.0));
  EXPECT_EQ(read("2", LengthUnit::Centimetres), nm(0.02));
  EXPECT_EQ(read("2", LengthUnit::Millimetres), nm(0.002));
  EXPECT_EQ(read("2 1/2", LengthUnit::Inches), nm(0.0635));
  EXPECT_EQ(read("10/4", LengthUnit::Feet), nm(0.762));
  EXPECT_EQ(read("12' + 1", LengthUnit::Inches), nm(3.6830));
}

TEST(LengthReading, CommaAndDotAreBothDecimal) {
  EXPECT_EQ(read("12,5", LengthUnit::Feet), nm(3.81));
  EXPECT_EQ(read("0,125 m"), nm(0.125));
  EXPECT_EQ(read("3.125 m"), nm(3.125));
  EXPECT_EQ(read(".5 m"), nm(0.5));
  EXPECT_EQ(read(",5 m"), nm(0.5));
  EXPECT_EQ(read("1234,567 m"), nm(1234.567));
  EXPECT_EQ(read("1,0000 m"), nm(1.0));
}

TEST(LengthReading, AThousandsMarkIsRefusedWithBothReadings) {
  const Result<Length> refused = parseLength("1,000", LengthUnit::Feet);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().message.key, "number_comma_readings");
  EXPECT_EQ(refused.error().message.facts.at("first"), Fact{std::string("1")});
  EXPECT_EQ(refused.error().message.facts.at("second"), Fact{std::string("1000")});
  const std::string said = text(refused.error());
  EXPECT_NE(said.find("can mean 1 or 1000"), std::string::npos) << said;
  const Result<Length> decimals = parseLength("12,125 ft", LengthUnit::Feet);
  ASSERT_FALSE(decimals);
  EXPECT_EQ(decimals.error().message.facts.at("first"), Fact{std::string("12.125")});
  EXPECT_EQ(decimals.error().message.facts.at("second"), Fact{std::string("12125")});
  EXPECT_EQ(read("1,000,000"), "number_thousands_marks");
  EXPECT_EQ(read("1,000.5"), "number_thousands_marks");
  EXPECT_EQ(read("1.000,5"), "number_thousands_marks");
  EXPECT_EQ(read("1 000 mm"), "number_two_side_by_side");
}

TEST(LengthReading, ASpacedHyphenSubtractsAndOneBeforeAFractionJoins) {
  EXPECT_EQ(read("6-1/2\""), nm(0.1651));
  EXPECT_EQ(read("6\" - 1/2\""), nm(0.1397));
  EXPECT_EQ(read("6 - 1/2\"", LengthUnit::Inches), nm(0.1397));
  EXPECT_EQ(read("6 -1/2\"", LengthUnit::Inches), nm(0.1397));
  EXPECT_EQ(read("6-1/2", LengthUnit::Inches), nm(0.1651));
  EXPECT_EQ(read("12' - 6\""), nm(3.5052));
  EXPECT_EQ(read("10-2", LengthUnit::Feet), nm(2.4384));
  EXPECT_EQ(read("10'-2'"), nm(2.4384));
  EXPECT_EQ(read("3m-5cm"), nm(2.95));
  EXPECT_EQ(read("10-4/2", LengthUnit::Feet), nm(2.4384));          // 4/2 is no proper fraction
  EXPECT_EQ(read("6\u22121/2\"", LengthUnit::Inches), nm(0.1397));  // a true minus subtracts
}

TEST(LengthReading, WhatCanBeReadTwoWaysIsAskedBack) {
  for (const char* typed : {"12ft-6in", "12'-6", "6\"-1/2\"", "12'6/8", "12' 1/2"}) {
    SCOPED_TRACE(typed);
    const Result<Length> refused = parseLength(typed, LengthUnit::Inches);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().message.key, "number_two_readings");
  }
  const Result<Length> refused = parseLength("12ft-6in", LengthUnit::Feet);
  EXPECT_EQ(refused.error().message.facts.at("first"), Fact{feet(12) + inches(6)});
  EXPECT_EQ(refused.error().message.facts.at("second"), Fact{feet(11) + inches(6)});
  EXPECT_NE(text(refused.error()).find("12\u2032 6\u2033 or 11\u2032 6\u2033"), std::string::npos)
      << text(refused.error());
  const Result<Length> eighths = parseLength("12'6/8", LengthUnit::Feet);
  EXPECT_EQ(eighths.error().message.facts.at("first"), Fact{feet(12) + Length{kNanometresPerInch * 3 / 4}});
  EXPECT_EQ(eighths.error().message.facts.at("second"), Fact{Length{kNanometresPerInch * 150 / 8}});
}

TEST(LengthReading, Calculates) {
  EXPECT_EQ(read("2+3*4", LengthUnit::Metres), nm(14.0));
  EXPECT_EQ(read("(2+3)*4", LengthUnit::Metres), nm(20.0));
  EXPECT_EQ(read("(2+3) ft"), nm(1.524));
  EXPECT_EQ(read("20'/3"), std::to_string(20 * kNanometresPerFoot / 3));
  EXPECT_EQ(read("1/3", LengthUnit::Inches), std::to_string(8'466'667));               // nearest nanometre
  EXPECT_EQ(read("1/3 * 3", LengthUnit::Inches), std::to_string(kNanometresPerInch));  // exact in between
  EXPECT_EQ(read("0.1 + 0.2", LengthUnit::Metres), std::to_string(300'000'000));
  EXPECT_EQ(read("2 \u00d7 3ft"), nm(1.8288));
  EXPECT_EQ(read("9ft \u00f7 2"), nm(1.3716));
  EXPECT_EQ(read("12' 6\" / 2"), nm(1.905));
  EXPECT_EQ(read("100 / 3 in", LengthUnit::Feet), std::to_string(846'666'667));
  EXPECT_EQ(read("  ( ( 3 ) ) m "), nm(3.0));
  EXPECT_EQ(read("3m + 2ft"), nm(3.6096));
}

TEST(LengthReading, ALessThanNothingIsForTheCallerToJudge) {
  EXPECT_EQ(read("-3m"), nm(-3.0));
  EXPECT_EQ(read("2ft - 3ft"), nm(-0.3048));
  EXPECT_EQ(read("-12' 6\""), nm(-3.81));
  EXPECT_EQ(read("\u22126\u2033"), nm(-0.1524));
  EXPECT_EQ(read("+3m"), nm(3.0));
  EXPECT_EQ(read("0"), nm(0.0));
}

TEST(LengthReading, RefusesWithTheReason) {
  EXPECT_EQ(read(""), "number_empty");
  EXPECT_EQ(read("  "), "number_empty");
  EXPECT_EQ(read("abc"), "number_unit_unknown");
  EXPECT_EQ(read("3 furlongs"), "number_unit_unknown");
  EXPECT_EQ(read("3 mile"), "number_unit_unknown");
  EXPECT_EQ(read("3 A"), "number_unit_unknown");
  EXPECT_EQ(read("3m4"), "number_two_side_by_side");
  EXPECT_EQ(read("12' 6\" 5"), "number_two_side_by_side");
  EXPECT_EQ(read("6\" 12'"), "number_two_side_by_side");
  EXPECT_EQ(read("12' 6'"), "number_two_side_by_side");
  EXPECT_EQ(read("3 +"), "number_ends_early");
  EXPECT_EQ(read("3 *"), "number_ends_early");
  EXPECT_EQ(read("-"), "number_ends_early");
  EXPECT_EQ(read("(3"), "number_bracket_not_closed");
  EXPECT_EQ(read("3)"), "number_bracket_not_opened");
  EXPECT_EQ(read("()"), "number_does_not_fit");
  EXPECT_EQ(read("3 ft;"), "number_does_not_fit");
  EXPECT_EQ(read("12;6"), "number_does_not_fit");
  EXPECT_EQ(read("1e3"), "number_unit_unknown");
  EXPECT_EQ(read("2(3ft)"), "number_does_not_fit");
  EXPECT_EQ(read("3 * * 2"), "number_does_not_fit");
  EXPECT_EQ(read("="), "number_does_not_fit");
  EXPECT_EQ(read("3 \u03a9"), "number_does_not_fit");
  EXPECT_EQ(read("1/0 ft"), "number_divided_by_zero");
  EXPECT_EQ(read("1/(2-2)"), "number_divided_by_zero");
  EXPECT_EQ(read("3ft*2ft"), "number_unit_times_unit");
  EXPECT_EQ(read("(3ft)ft"), "number_unit_times_unit");
  EXPECT_EQ(read("3ft/2ft"), "number_divided_by_unit");
  EXPECT_EQ(read("3/(2ft)"), "number_divided_by_unit");
  EXPECT_EQ(read("12/4'6\""), "number_divided_by_unit");
  EXPECT_EQ(read("99999999999 m"), "number_too_large");
  EXPECT_EQ(read("1" + std::string(60, '0')), "number_too_large");
  EXPECT_EQ(read("0." + std::string(60, '1') + " m"), "number_too_large");
  EXPECT_EQ(read(std::string(150, '(') + "1" + std::string(150, ')')), "number_too_long");
}

// No text may be half read: whatever follows a good length makes it a refusal or another whole reading.
TEST(LengthReading, NeverLeavesTheRestUnread) {
  for (const char* rest : {"x", " x", ";", " 7'", "..", " 1.2.3", "#", "\\", " to 5 m", " ft ft", "''"}) {
    SCOPED_TRACE(rest);
    EXPECT_FALSE(parseLength(std::string("12' 6\"") + rest, LengthUnit::Feet));
  }
}

TEST(LengthReading, EveryRefusalNamesWhatWasTyped) {
  for (const char* typed : {"3 furlongs", "3 +", "3ft*2ft", "1/0", "(3", "3)", "3 ft;"}) {
    SCOPED_TRACE(typed);
    const Result<Length> refused = parseLength(typed, LengthUnit::Feet);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().code, ErrorCode::BadInput);
    const std::string said = text(refused.error());
    EXPECT_NE(said.find(typed), std::string::npos) << said;
    EXPECT_EQ(said.find('['), std::string::npos) << said;
  }
}

// What is shown can be typed back: within half of a sixteenth of an inch, or half a millimetre.
TEST(LengthReading, ReadsBackWhatLengthTextShows) {
  for (std::int64_t nanometres = -4'000'000'000; nanometres <= 4'000'000'000; nanometres += 1'234'567) {
    const Length length{nanometres};
    const Result<Length> imperial =
        parseLength(lengthText(length, UnitSystem::FeetInches), LengthUnit::Metres);
    ASSERT_TRUE(imperial) << lengthText(length, UnitSystem::FeetInches) << " " << text(imperial.error());
    ASSERT_LE(std::abs((*imperial - length).count), kNanometresPerInch / 32 + 1);
    const Result<Length> metric = parseLength(lengthText(length, UnitSystem::Metric), LengthUnit::Feet);
    ASSERT_TRUE(metric) << lengthText(length, UnitSystem::Metric);
    ASSERT_LE(std::abs((*metric - length).count), 500'000);
  }
}

// A short fixed walk over texts of the grammar's own characters: always an answer, and the same one twice.
TEST(LengthReading, AnswersAnyText) {
  const std::string_view pieces[] = {"1",  "2/3", "0", "9",  ".",      ",",      "'", "\"",
                                     "-",  " - ", "+", "*",  "/",      "(",      ")", " ",
                                     "ft", "in",  "m", "cm", "\u00bd", "\u2212", "x", "\xff"};
  std::uint64_t state = 12345;
  for (int round = 0; round < 20'000; ++round) {
    std::string typed;
    for (int n = 0; n < 1 + round % 9; ++n) {
      state = state * 6364136223846793005ULL + 1442695040888963407ULL;
      typed += pieces[(state >> 33) % std::size(pieces)];
    }
    const Result<Length> once = parseLength(typed, LengthUnit::Feet);
    ASSERT_EQ(once, parseLength(typed, LengthUnit::Feet)) << typed;
    if (!once) {
      ASSERT_TRUE(hasWording(once.error().message.key)) << once.error().message.key;
    }
  }
}

}  // namespace
}  // namespace yw::base
