#include <gtest/gtest.h>

#include "core/data/data.h"
#include "core/data/frame.h"

namespace yw::data {
namespace {

yard::Product oneWire(std::int64_t channels, std::int64_t bits, std::int64_t bitRate,
                      std::int64_t resetMicros) {
  yard::Product p;
  p.chip = "WS2811";
  p.channels = channels;
  p.bits = bits;
  p.bitRate = bitRate;
  p.reset = {resetMicros * 1'000};
  return p;
}

yard::Product clocked(const char* chip) {
  yard::Product p = oneWire(3, 8, 2'000'000, 0);
  p.chip = chip;
  return p;
}

base::Frequency fps(std::int64_t whole) { return {whole * 1'000}; }

// Expected values are worked from the chips' data sheets (bit time and reset) with
// t = (H + N·C·B)·t_bit + t_reset.
TEST(FrameTime, FiveHundredRgbPixelsTake15300Microseconds) {
  EXPECT_EQ(frameTime(oneWire(3, 8, 800'000, 300), 500).count, 15'300'000);
}
TEST(FrameTime, AThousandRgbwPixelsTake40300Microseconds) {
  EXPECT_EQ(frameTime(oneWire(4, 8, 800'000, 300), 1000).count, 40'300'000);
}
TEST(FrameTime, OfAFractionOfANanosecondIsRoundedUp) {
  EXPECT_EQ(frameTime(oneWire(1, 1, 3'000'000, 0), 1).count, 334);
}
TEST(FrameTime, OfAnApa102CountsItsStartAndEndBits) {
  EXPECT_EQ(frameBits(clocked("APA102"), 300), 9'784);
  EXPECT_EQ(frameTime(clocked("APA102"), 300).count, 4'892'000);
  EXPECT_EQ(frameBits(clocked("SK9822"), 300), 9'816);
}
TEST(FrameTime, OfAnLpd8806EndsWithAByteForEach32Pixels) {
  EXPECT_EQ(frameBits(clocked("LPD8806"), 32), 32 * 24 + 8);
  EXPECT_EQ(frameBits(clocked("LPD8806"), 33), 33 * 24 + 16);
}

TEST(MostPixels, OfTheDataSheetParts) {
  EXPECT_EQ(mostPixels(oneWire(3, 8, 800'000, 300), fps(40)), 823);
  EXPECT_EQ(mostPixels(oneWire(4, 8, 800'000, 300), fps(50)), 492);
  EXPECT_EQ(mostPixels(oneWire(3, 8, 400'000, 50), fps(30)), 554);
  EXPECT_EQ(mostPixels(oneWire(4, 16, 800'000, 300), fps(60)), 204);
  yard::Product tm1814 = oneWire(4, 8, 800'000, 200);
  tm1814.headerBits = 64;
  EXPECT_EQ(mostPixels(tm1814, fps(40)), 618);
  tm1814.headerBits = 0;
  tm1814.chip = "TM1814";
  EXPECT_EQ(mostPixels(tm1814, fps(40)), 618) << "the chip's own header is known";
}

struct Row {
  std::int64_t bitRate, channels, bits;
  std::int64_t most[6];
};
constexpr std::int64_t kRates[] = {20, 25, 30, 40, 50, 60};

void expectRows(const std::vector<Row>& rows, std::int64_t resetMicros) {
  for (const Row& row : rows)
    for (int i = 0; i < 6; ++i)
      EXPECT_EQ(mostPixels(oneWire(row.channels, row.bits, row.bitRate, resetMicros), fps(kRates[i])),
                row.most[i])
          << row.bitRate << ' ' << row.channels << "x" << row.bits << " at " << kRates[i];
}

TEST(MostPixels, OfTheWholeTableAt300MicrosecondsReset) {
  expectRows({{800'000, 3, 8, {1656, 1323, 1101, 823, 656, 545}},
              {800'000, 4, 8, {1242, 992, 825, 617, 492, 409}},
              {800'000, 3, 16, {828, 661, 550, 411, 328, 272}},
              {800'000, 4, 16, {621, 496, 412, 308, 246, 204}},
              {400'000, 3, 8, {828, 661, 550, 411, 328, 272}},
              {400'000, 4, 8, {621, 496, 412, 308, 246, 204}},
              {400'000, 3, 16, {414, 330, 275, 205, 164, 136}},
              {400'000, 4, 16, {310, 248, 206, 154, 123, 102}}},
             300);
}

TEST(MostPixels, OfTheWholeTableAt50MicrosecondsReset) {
  expectRows({{800'000, 3, 8, {1665, 1331, 1109, 831, 665, 553}},
              {800'000, 4, 8, {1248, 998, 832, 623, 498, 415}},
              {800'000, 3, 16, {832, 665, 554, 415, 332, 276}},
              {800'000, 4, 16, {624, 499, 416, 311, 249, 207}},
              {400'000, 3, 8, {832, 665, 554, 415, 332, 276}},
              {400'000, 4, 8, {624, 499, 416, 311, 249, 207}},
              {400'000, 3, 16, {416, 332, 277, 207, 166, 138}},
              {400'000, 4, 16, {312, 249, 208, 155, 124, 103}}},
             50);
}

TEST(MostPixels, KeepTheFrameRateAndOneMoreDoesNot) {
  for (const std::int64_t rate : {20, 25, 30, 40, 44, 50, 60}) {
    for (const char* chip : {"WS2811", "APA102", "SK9822", "LPD8806", "SM16716"}) {
      yard::Product p = oneWire(3, 8, 800'000, 300);
      p.chip = chip;
      const std::int64_t most = mostPixels(p, fps(rate));
      EXPECT_LE(frameTime(p, most).count * rate, 1'000'000'000) << chip << ' ' << rate;
      EXPECT_GT(frameTime(p, most + 1).count * rate, 1'000'000'000) << chip << ' ' << rate;
    }
  }
}

TEST(MostPixels, IsZeroWhenTheResetAloneIsTooLong) {
  EXPECT_EQ(mostPixels(oneWire(3, 8, 800'000, 30'000), fps(40)), 0);
}

TEST(Slots, OfAPixelAreTwoAChannelAboveEightBits) {
  EXPECT_EQ(slotsPerPixel(oneWire(3, 8, 800'000, 300)), 3);
  EXPECT_EQ(slotsPerPixel(oneWire(3, 12, 800'000, 300)), 6);
  EXPECT_EQ(slotsPerPixel(oneWire(4, 16, 800'000, 300)), 8);
}

}  // namespace
}  // namespace yw::data
