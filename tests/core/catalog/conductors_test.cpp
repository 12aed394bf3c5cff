#include "core/catalog/conductors.h"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

namespace yw::catalog {
namespace {

using base::Amps;
using base::Current;
using base::Temperature;

constexpr double kPerThousandFeet = 304.8;

void expectShare(double value, double wanted, double share) {
  EXPECT_NEAR(value, wanted, std::abs(wanted) * share);
}

// Figures worked out from ASTM B258 and IEC 60028 apart from this program, as printed to four digits or more.
struct GaugeRow {
  int awg;
  double diameterMm, areaMm2, milliohms, at0, atMinus10, at40, at75, clad;
};
constexpr GaugeRow kRows[] = {
    {10, 2.5882, 5.2612, 3.277, 3.020, 2.891, 3.535, 3.99, 5.21},
    {11, 2.3048, 4.1723, 4.132, 3.808, 3.645, 4.457, 5.03, 6.57},
    {12, 2.0525, 3.3088, 5.211, 4.801, 4.596, 5.620, 6.34, 8.28},
    {13, 1.8278, 2.6240, 6.571, 6.054, 5.796, 7.087, 7.99, 10.45},
    {14, 1.6277, 2.0809, 8.286, 7.634, 7.309, 8.937, 10.08, 13.17},
    {15, 1.4495, 1.6502, 10.448, 9.627, 9.216, 11.269, 12.71, 16.61},
    {16, 1.2908, 1.3087, 13.174, 12.139, 11.621, 14.210, 16.02, 20.95},
    {17, 1.1495, 1.0378, 16.613, 15.307, 14.654, 17.918, 20.20, 26.41},
    {18, 1.0237, 0.8230, 20.948, 19.302, 18.478, 22.595, 25.48, 33.30},
    {19, 0.9116, 0.6527, 26.415, 24.339, 23.301, 28.491, 32.12, 42.00},
    {20, 0.8118, 0.5176, 33.309, 30.691, 29.382, 35.927, 40.51, 52.96},
    {21, 0.7229, 0.4105, 42.002, 38.701, 37.050, 45.303, 51.08, 66.78},
    {22, 0.6438, 0.3255, 52.963, 48.800, 46.719, 57.126, 64.41, 84.20},
    {23, 0.5733, 0.2582, 66.786, 61.536, 58.912, 72.035, 81.22, 106.18},
    {24, 0.5106, 0.2047, 84.215, 77.596, 74.286, 90.834, 102.42, 133.89},
    {25, 0.4547, 0.1624, 106.193, 97.846, 93.673, 114.540, 129.15, 168.83},
    {26, 0.4049, 0.1288, 133.907, 123.382, 118.120, 144.432, 162.85, 212.89},
};

TEST(Conductors, GaugesAreAsAstmB258SaysThem) {
  for (const GaugeRow& row : kRows) {
    SCOPED_TRACE(row.awg);
    EXPECT_NEAR(conductorDiameter(row.awg).si * 1e3, row.diameterMm, 0.00006);
    EXPECT_NEAR(conductorArea(row.awg).si * 1e6, row.areaMm2, 0.00006);
  }
  // The two sizes that define the scale: 36 AWG is 0.005 in, 0000 (-3) is 0.460 in.
  expectShare(conductorDiameter(36).si, 0.005 * 0.0254, 1e-12);
  expectShare(conductorDiameter(-3).si, 0.460 * 0.0254, 1e-9);
}

TEST(Conductors, ResistanceFollowsGaugeTemperatureAndMaterial) {
  for (const GaugeRow& row : kRows) {
    SCOPED_TRACE(row.awg);
    const double at20 = copperResistance(row.awg).si * 1e3;
    expectShare(at20, row.milliohms, 0.0005);
    expectShare(at20 * temperatureFactor({0}), row.at0, 0.0005);
    expectShare(at20 * temperatureFactor({-10'000}), row.atMinus10, 0.0005);
    expectShare(at20 * temperatureFactor({40'000}), row.at40, 0.0005);
    EXPECT_NEAR(at20 * temperatureFactor({75'000}), row.at75, 0.0051);  // printed to the hundredth
    EXPECT_NEAR(at20 * kCopperCladFactor, row.clad, 0.0051);
  }
}

// Standard annealed-copper wire tables, Ω per 1000 ft at 20 °C, two public reprints.
TEST(Conductors, AgreeWithPrintedWireTables) {
  const std::pair<int, double> printed[] = {{12, 1.588}, {14, 2.525}, {16, 4.016}, {18, 6.385},
                                            {20, 10.15}, {22, 16.14}, {24, 25.67}, {26, 40.81}};
  for (const auto& [awg, ohms] : printed) {
    SCOPED_TRACE(awg);
    expectShare(copperResistance(awg).si * kPerThousandFeet, ohms, 0.0005);
  }
}

TEST(Conductors, ThreeGaugesHalveTheAreaAndSixTheDiameter) {
  for (int awg = 10; awg <= 20; ++awg) {
    expectShare(conductorArea(awg + 3).si * 2, conductorArea(awg).si, 0.003);
    expectShare(conductorDiameter(awg + 6).si * 2, conductorDiameter(awg).si, 0.003);
  }
}

// NEC Chapter 9 Table 8 with note 2: 12 AWG stranded, 1.98 Ω/kft at 75 °C, is 1.628 Ω/kft at 20 °C.
TEST(Conductors, TableEightGoesToAnotherTemperatureByItsNote) {
  ASSERT_TRUE(strandedResistanceAt75(12));
  const base::OhmsPerMetre at20 = table8At(*strandedResistanceAt75(12), {20'000});
  expectShare(at20.si * kPerThousandFeet, 1.628, 0.001);
  expectShare(at20.si * 1e3, 5.342, 0.001);
  EXPECT_FALSE(strandedResistanceAt75(13));
}

// Table 8 stranded against the formula: strands are 2.0 to 2.6 % longer than the cable.
TEST(Conductors, StrandedCopperIsTwoToThreePercentAboveSolid) {
  for (const int awg : {10, 12, 14, 16, 18}) {
    SCOPED_TRACE(awg);
    const double ratio =
        strandedResistanceAt75(awg)->si / (copperResistance(awg).si * temperatureFactor({75'000}));
    EXPECT_GT(ratio, 1.015);
    EXPECT_LT(ratio, 1.030);
  }
}

// ASTM B566: 62.9 % of the conductivity of copper.
TEST(Conductors, CopperCladIsOnePointFiveNineTimesCopper) {
  EXPECT_NEAR(kCopperCladFactor, 1.590, 0.0005);
  EXPECT_NEAR(copperResistance(18).si * kCopperCladFactor * 1e3, 33.30, 0.01);
  // Clad 12 AWG behaves like copper two gauges smaller.
  expectShare(copperResistance(12).si * kCopperCladFactor, copperResistance(14).si, 0.002);
}

TEST(UsualLimit, IsThePublishedFigureOfTheGauge) {
  const std::pair<int, double> wanted[] = {{22, 3}, {20, 4}, {18, 6}, {16, 8}, {14, 15}, {12, 20}};
  for (const auto& [awg, amps] : wanted) {
    SCOPED_TRACE(awg);
    ASSERT_TRUE(usualLimit(awg));
    EXPECT_EQ(usualLimit(awg)->si, amps);
    EXPECT_NE(std::string(usualLimitSource(awg)), "");
  }
}

TEST(UsualLimit, IsNeverAboveTheBreakerOrTheCordOfThatGauge) {
  for (const int awg : {10, 12, 14, 16, 18}) {
    SCOPED_TRACE(awg);
    EXPECT_LE(usualLimit(awg)->si, base::amps(*largestFuse(awg)).si);
    EXPECT_LE(usualLimit(awg)->si, base::amps(*cordLimit(awg)).si);
  }
}

TEST(UsualLimit, TakesTheThinnerNeighbourBetweenGauges) {
  EXPECT_EQ(usualLimit(17)->si, usualLimit(18)->si);
  EXPECT_EQ(usualLimit(23)->si, usualLimit(24)->si);
  for (int awg = 11; awg <= 24; ++awg) EXPECT_LE(usualLimit(awg)->si, usualLimit(awg - 1)->si) << awg;
}

TEST(UsualLimit, SaysNothingOfGaugesWithoutAFigure) {
  EXPECT_FALSE(usualLimit(26));
  EXPECT_FALSE(usualLimit(8));
  EXPECT_FALSE(usualLimit(0));
  EXPECT_EQ(std::string(usualLimitSource(26)), "");
}

// NEC 240.4(D), 2017 to 2023.
TEST(LargestFuse, IsTheSmallConductorRule) {
  EXPECT_EQ(largestFuse(18), Current{7'000'000});
  EXPECT_EQ(largestFuse(16), Current{10'000'000});
  EXPECT_EQ(largestFuse(14), Current{15'000'000});
  EXPECT_EQ(largestFuse(12), Current{20'000'000});
  EXPECT_EQ(largestFuse(10), Current{30'000'000});
  EXPECT_FALSE(largestFuse(20));
}

// UL 817 as quoted in a public trade forum.
TEST(CordSet, CarriesLessWhenLongerThanFiftyFeet) {
  EXPECT_EQ(cordSetLimit(16, base::feet(50)), Current{13'000'000});
  EXPECT_EQ(cordSetLimit(16, base::feet(51)), Current{10'000'000});
  EXPECT_EQ(cordSetLimit(14, base::feet(25)), Current{15'000'000});
  EXPECT_EQ(cordSetLimit(12, base::feet(100)), Current{15'000'000});
  EXPECT_EQ(cordSetLimit(12, base::feet(50)), Current{20'000'000});
  EXPECT_FALSE(cordSetLimit(18, base::feet(10)));
}

// ISO 8820-3; colors as in two public lists.
TEST(Fuse, SeriesRisesAndEachHasItsColor) {
  const auto& series = fuseSeries();
  ASSERT_EQ(series.size(), 12U);
  EXPECT_EQ(series.front(), Current{1'000'000});
  EXPECT_EQ(series.back(), Current{40'000'000});
  for (std::size_t i = 1; i < series.size(); ++i) EXPECT_LT(series[i - 1], series[i]);
  for (const Current& fuse : series) EXPECT_NE(std::string(fuseColor(fuse)), "");
  EXPECT_EQ(std::string(fuseColor({7'500'000})), "brown");
  EXPECT_EQ(std::string(fuseColor({10'000'000})), "red");
  EXPECT_EQ(std::string(fuseColor({6'000'000})), "");
}

// 4.2 A by the 75 % rule needs 5.6 A, so 7.5 A; that is above what 18 AWG carries by NEC 402.5 and below 16
// AWG's.
TEST(Fuse, ChoosesTheSmallestWhoseUsableShareCarriesTheLoad) {
  const Current fuse = smallestFuse(Amps{4.2}, 0.75);
  EXPECT_EQ(fuse, Current{7'500'000});
  EXPECT_GT(base::amps(fuse).si, usualLimit(18)->si);
  EXPECT_LE(base::amps(fuse).si, usualLimit(16)->si);
}

TEST(Fuse, ALoadAtTheVeryEdgeStillFits) {
  EXPECT_EQ(smallestFuse(Amps{5.625}, 0.75), Current{7'500'000});
  EXPECT_EQ(smallestFuse(Amps{5.625001}, 0.75), Current{10'000'000});
  EXPECT_EQ(smallestFuse(Amps{7.0}, 0.7), Current{10'000'000});
  EXPECT_EQ(smallestFuse(Amps{0.0}, 0.75), Current{1'000'000});
}

TEST(Fuse, TheLargestUpToALimitIsOneOfTheSeries) {
  EXPECT_EQ(largestFuseUpTo(Amps{3.98}), Current{3'000'000});
  EXPECT_EQ(largestFuseUpTo(Amps{4.0}), Current{4'000'000});
  EXPECT_EQ(largestFuseUpTo(Amps{0.999}), Current{0});
  EXPECT_EQ(largestFuseUpTo(Amps{1e9}), Current{40'000'000});
}

TEST(Fuse, IsNoneForALoadAboveTheWholeSeries) {
  EXPECT_EQ(smallestFuse(Amps{30.0}, 0.75), Current{40'000'000});
  EXPECT_EQ(smallestFuse(Amps{30.1}, 0.75), Current{0});
}

}  // namespace
}  // namespace yw::catalog
