#include <gtest/gtest.h>

#include "core/circuit/load_curve.h"
#include "core/circuit/power.h"

namespace yw::circuit {
namespace {

using yard::LoadModel;
using yard::Product;

double amps(const Product& p, const Levels& levels, double volts) {
  return evaluate(loadOf(p, levels), volts).amps;
}
double white(const Product& p, double level, double volts) { return evaluate(loadOf(p, level), volts).amps; }

Product node12() { return {}; }  // 12 V, 2 and 40 mA, 10.2 and 7 V
Product node5() {                // 5 V: 3.4 V and 0.6 V for green and blue, the chip's least supply 3.5 V
  Product p;
  p.voltage = {5'000'000};
  p.idle = {1'000};
  p.fullWhite = {55'000};
  p.lowestVolts = {4'000'000};
  p.darkVolts = {3'500'000};
  return p;
}

TEST(LoadOf, DrawsWhatTheLevelsAskFor) {
  const Product p = node12();
  EXPECT_NEAR(white(p, 1.0, 12.0), 0.040, 1e-12);
  EXPECT_NEAR(white(p, 0.3, 12.0), 0.0134, 1e-12);
  EXPECT_NEAR(white(p, 0.0, 12.0), 0.002, 1e-12);
  EXPECT_NEAR(amps(p, {1, 0, 0, 0}, 12.0), 0.002 + 0.038 / 3, 1e-12);
  EXPECT_NEAR(amps(p, {0, 0.5, 0, 0}, 12.0), 0.002 + 0.019 / 3, 1e-12);
  EXPECT_NEAR(amps(p, {0, 0, 0, 1}, 12.0), 0.002, 1e-12) << "it has no white";
  EXPECT_NEAR(amps(p, {9, 9, 9, 9}, 12.0), 0.040, 1e-12);
}

// Green and blue: 9.6 V and 0.6 V of knee; red 9.6 · 2.1 / 3.2 = 6.3 V, but the chip is dark below 7 V.
TEST(LoadOf, RedOutlastsGreenAndBlue) {
  const Product p = node12();
  EXPECT_NEAR(white(p, 1.0, 10.2), 0.040, 1e-12);
  EXPECT_NEAR(white(p, 1.0, 9.9), 0.002 + 0.038 * (1.0 + 0.5 + 0.5) / 3, 1e-12);
  EXPECT_NEAR(white(p, 1.0, 8.6), 0.002 + 0.038 / 3, 1e-12) << "red alone";
  EXPECT_NEAR(white(p, 1.0, 6.9), 0.002, 1e-12);
  EXPECT_NEAR(amps(p, {1, 0, 0, 0}, 8.6), amps(p, {1, 0, 0, 0}, 12.0), 1e-12);
  EXPECT_NEAR(amps(p, {0, 0, 1, 0}, 8.6), 0.002, 1e-12);
}

TEST(LoadOf, EnteredVoltsOfAColorCount) {
  Product p = node12();
  p.redLowest = {11'000'000};
  p.greenLowest = {9'800'000};
  EXPECT_NEAR(amps(p, {1, 0, 0, 0}, 10.7), 0.002 + 0.5 * 0.038 / 3, 1e-12);
  EXPECT_NEAR(amps(p, {0, 1, 0, 0}, 9.5), 0.002 + 0.5 * 0.038 / 3, 1e-12);
  EXPECT_NEAR(amps(p, {0, 0, 1, 0}, 9.9), 0.002 + 0.5 * 0.038 / 3, 1e-12);
}

TEST(LoadOf, FiveVoltWhiteLosesGreenAndBlueBeforeTheChipStops) {
  const Product p = node5();
  EXPECT_NEAR(white(p, 1.0, 4.0), 0.055, 1e-12);
  EXPECT_NEAR(amps(p, {1, 0, 0, 0}, 3.7), 0.001 + 0.018, 1e-12);
  EXPECT_NEAR(amps(p, {0, 0, 1, 0}, 3.75), 0.001 + 0.5 * 0.018, 1e-12);
  EXPECT_NEAR(white(p, 1.0, 3.5), 0.001, 1e-12);
}

// A public chip list rates white and a single color of such a part alike.
TEST(LoadOf, ColorsInSeriesDrawOneCurrent) {
  Product p;
  p.load = LoadModel::SeriesConstantCurrent;
  p.fullWhite = {15'000};
  EXPECT_NEAR(white(p, 1.0, 12.0), 0.015, 1e-12);
  EXPECT_NEAR(amps(p, {0, 1, 0, 0}, 12.0), 0.015, 1e-12);
  EXPECT_NEAR(amps(p, {0.2, 0.5, 0.1, 0}, 12.0), 0.002 + 0.5 * 0.013, 1e-12);
  EXPECT_EQ(tintOf(p, 8.0).whiteness(), 1.0);
}

TEST(LoadOf, ResistorColorsFollowTheirOwnForwardVolts) {
  Product p;
  p.load = LoadModel::Resistor;
  p.darkVolts = {6'300'000};  // three red LEDs; green and blue 9.6 V
  EXPECT_NEAR(white(p, 1.0, 12.0), 0.040, 1e-12);
  EXPECT_NEAR(white(p, 0.0, 12.0), 0.002, 1e-12);
  EXPECT_NEAR(white(p, 1.0, 10.8), 0.002 + 0.038 / 3 * (4.5 / 5.7 + 0.5 + 0.5), 1e-12);
  EXPECT_NEAR(tintOf(p, 10.8).whiteness(), 0.5 / (4.5 / 5.7), 1e-12);
}

TEST(LoadOf, RegulatedKeepsItsPower) {
  Product p;
  p.load = LoadModel::Regulated;
  EXPECT_NEAR(white(p, 1.0, 12.0), 0.040, 1e-12);
  EXPECT_NEAR(white(p, 1.0, 10.5), 0.002 + 12.0 * 0.038 / 10.5, 1e-12);
  EXPECT_NEAR(white(p, 1.0, 5.1), 0.002 + 12.0 * 0.038 / 10.2 / 2, 1e-12);
  EXPECT_NEAR(amps(p, {0, 0, 1, 0}, 12.0), 0.002 + 0.038 / 3, 1e-12);
}

TEST(LoadOf, FourColorsShareFullWhite) {
  Product p;
  p.channels = 4;
  EXPECT_NEAR(white(p, 1.0, 12.0), 0.040, 1e-12);
  EXPECT_NEAR(amps(p, {0, 0, 0, 1}, 12.0), 0.002 + 0.038 / 4, 1e-12);
  p.channels = 1;
  EXPECT_NEAR(amps(p, levelsOf(p, 1.0), 12.0), 0.040, 1e-12);
  EXPECT_NEAR(amps(p, {1, 1, 1, 0}, 12.0), 0.002, 1e-12);
}

TEST(Tint, WhiteTurnsPinkAsVoltsFall) {
  const Product p = node12();
  EXPECT_EQ(tintOf(p, 12.0).whiteness(), 1.0);
  EXPECT_EQ(tintOf(p, 10.2).whiteness(), 1.0);
  const Tint low = tintOf(p, 9.9);
  ASSERT_EQ(low.count, 3u);
  EXPECT_NEAR(low.share[0], 1.0, 1e-12);
  EXPECT_NEAR(low.share[1], 0.5, 1e-12);
  EXPECT_NEAR(low.whiteness(), 0.5, 1e-12);
  EXPECT_EQ(tintOf(p, 8.0).whiteness(), 0.0);
  EXPECT_EQ(tintOf(p, 5.0).whiteness(), 1.0) << "dark is no tint";
}

TEST(LoadCurve, EveryProductsCurveIsItsLoad) {
  for (Product p : {node12(), node5()})
    for (const auto model : {LoadModel::ConstantCurrent, LoadModel::SeriesConstantCurrent,
                             LoadModel::Resistor, LoadModel::Regulated})
      for (const Levels& levels : {Levels{1, 1, 1, 1}, Levels{0.3, 0.3, 0.3, 0.3}, Levels{0, 0.7, 0, 0}}) {
        p.load = model;
        const Load load = loadOf(p, levels);
        const LoadCurve curve(load);
        for (double volts = 0.03; volts < 13.0; volts += 0.07)
          EXPECT_NEAR(curve.amps(volts), evaluate(load, volts).amps, 1e-12);
      }
}

}  // namespace
}  // namespace yw::circuit
