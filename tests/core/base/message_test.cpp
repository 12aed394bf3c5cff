#include "core/base/message.h"

#include <gtest/gtest.h>

#include "core/base/result.h"

namespace yw::base {
namespace {

TEST(Message, FillsInItsFacts) {
  const Message message{"error_internal", {{"what", std::string("no light")}}};
  EXPECT_NE(text(message).find("no light"), std::string::npos);
  EXPECT_EQ(text(message).find('{'), std::string::npos);
}

TEST(Message, ShowsAnUnknownKeyOrFactInBrackets) {
  EXPECT_EQ(text(Message{"no_such_wording", {}}), "[no_such_wording]");
  EXPECT_NE(text(Message{"error_internal", {}}).find("[what]"), std::string::npos);
  EXPECT_FALSE(hasWording("no_such_wording"));
  EXPECT_TRUE(hasWording("error_internal"));
}

TEST(Message, TakesTheWordForOneOnlyForOne) {
  const auto said = [](std::int64_t count) {
    return text(Message{"papers_unused_pixels", {{"count", count}}});
  };
  EXPECT_EQ(said(1), "1 unused pixel");
  EXPECT_EQ(said(0), "0 unused pixels");
  EXPECT_EQ(said(21), "21 unused pixels");
  EXPECT_EQ(text(Message{"papers_unused_pixels", {}}), "[count] unused [count]");
}

TEST(Message, AnErrorNamesItsPlaceFirst) {
  const Error error{ErrorCode::BadInput, {"no_such_wording", {}}, "line 14"};
  EXPECT_EQ(text(error), "line 14: [no_such_wording]");
}

TEST(Fact, IsShownByItsTypeAndUnit) {
  EXPECT_EQ(text(Fact{std::int64_t{12345}}), "12\u2009345");
  EXPECT_EQ(text(Fact{std::string("K2")}), "K2");
  EXPECT_EQ(text(Fact{feet(12) + inches(6)}), "12\u2032 6\u2033");
  EXPECT_EQ(text(Fact{Length{3'810'000'000}}, UnitSystem::Metric), "3.81 m");
  EXPECT_EQ(text(Fact{Angle{45'500'000}}), "45.5\u00b0");
  EXPECT_EQ(text(Fact{Voltage{9'300'000}}), "9.30 V");
  EXPECT_EQ(text(Fact{Current{55'000}}), "55 mA");
  EXPECT_EQ(text(Fact{Current{2'600}}), "2.6 mA");
  EXPECT_EQ(text(Fact{Current{4'200'000}}), "4.20 A");
  EXPECT_EQ(text(Fact{Current{0}}), "0.00 A");
  EXPECT_EQ(text(Fact{Resistance{5'000}}), "5 m\u03a9");
  EXPECT_EQ(text(Fact{Resistance{1'500'000}}), "1.5 \u03a9");
  EXPECT_EQ(text(Fact{Power{350'000}}), "350 W");
  EXPECT_EQ(text(Fact{Ratio{300'000}}), "30 %");
  EXPECT_EQ(text(Fact{Ratio{-75'500}}), "\u22127.55 %");
  EXPECT_EQ(text(Fact{Money{125'000}}), "12.50");
  EXPECT_EQ(text(Fact{Duration{30'300'000}}), "30.3 ms");
  EXPECT_EQ(text(Fact{Duration{300'000}}), "0.3 ms");
  EXPECT_EQ(text(Fact{Duration{2'500'000'000}}), "2.5 s");
  EXPECT_EQ(text(Fact{Duration{18'000'000'000'000}}), "5 h");
  EXPECT_EQ(text(Fact{Frequency{40'000}}), "40 frames a second");
  EXPECT_EQ(text(Fact{Temperature{-10'000}}), "\u221210 \u00b0C");
  EXPECT_EQ(text(Fact{Mass{453'592}}), "1 lb");
  EXPECT_EQ(text(Fact{Mass{1'500'000}}, UnitSystem::Metric), "1.5 kg");
}

}  // namespace
}  // namespace yw::base
