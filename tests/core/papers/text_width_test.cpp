#include <gtest/gtest.h>

#include "core/papers/characters.h"
#include "core/papers/drawing.h"

namespace yw::papers {
namespace {

// B612 1.008 as packaged by Debian: 2000 units an em, `A` 1300 units, one advance for every Mono character.
TEST(TextWidth, IsTheSumOfTheFontsOwnAdvances) {
  EXPECT_DOUBLE_EQ(textWidth("A", 1.0), 0.65);
  EXPECT_DOUBLE_EQ(textWidth("\u2032\u2033", 2.0), (500 + 800) / 2000.0 * 2.0);
  EXPECT_DOUBLE_EQ(textWidth("il0O", 1.0, false, true), 4 * 0.65);
}

TEST(TextWidth, GrowsWithTheSizeAndIsZeroForNothing) {
  EXPECT_DOUBLE_EQ(textWidth("", 3.0), 0.0);
  EXPECT_DOUBLE_EQ(textWidth("Arch 1", 6.0), 2 * textWidth("Arch 1", 3.0));
}

TEST(TextWidth, CountsAWholeEmForWhatTheFontLacks) {
  EXPECT_FALSE(inFont("\u6728"));
  EXPECT_DOUBLE_EQ(textWidth("\u6728", 4.0), 4.0);
}

TEST(Characters, BrokenUtf8BecomesTheReplacementCharacter) {
  const std::vector<char32_t> codes = codePoints("a\xff\xc3");
  EXPECT_EQ(codes, (std::vector<char32_t>{U'a', 0xFFFD, 0xFFFD}));
  EXPECT_EQ(utf8Of(codePoints("12′ 6″ Ω 🎄")), "12′ 6″ Ω 🎄");
}

TEST(Characters, ThinSpacesBecomeOnesTheFontHas) {
  EXPECT_FALSE(inFont("12\u2009000"));
  EXPECT_EQ(printable("12\u2009000"), "12\u00a0000");
  EXPECT_TRUE(inFont(printable("12\u2009000")));
}

TEST(BrokenLines, AreNeverWiderThanAsked) {
  const std::string text =
      "Feed pixel 192 from K1, fuse position 4, 46 ft of 14 AWG; averyveryverylongwordindeed stops.";
  for (const double width : {8.0, 15.0, 40.0, 90.0})
    for (const std::string& line : brokenLines(text, width, 3.175, true))
      EXPECT_LE(textWidth(line, 3.175, true), width + 1e-9) << line;
}

TEST(BrokenLines, KeepEveryCharacterButTheSpacesAtTheBreaks) {
  const std::string text = "one two threefourfive six";
  std::string joined;
  for (const std::string& line : brokenLines(text, 9.0, 3.0)) joined += line;
  std::erase(joined, ' ');
  EXPECT_EQ(joined, "onetwothreefourfivesix");
}

TEST(BrokenLines, BreakWhereThePersonBroke) {
  EXPECT_EQ(brokenLines("a\nb", 50.0, 3.0), (std::vector<std::string>{"a", "b"}));
  EXPECT_EQ(brokenLines("", 50.0, 3.0), std::vector<std::string>{""});
}

TEST(BrokenLines, ACharacterWiderThanTheLineStandsAlone) {
  EXPECT_EQ(brokenLines("WWW", 1.0, 4.0), (std::vector<std::string>{"W", "W", "W"}));
}

}  // namespace
}  // namespace yw::papers
