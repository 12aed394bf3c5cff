#include "core/circuit/margin.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "core/circuit/normal.h"
#include "tests/core/circuit/power_yard.h"

namespace yw::circuit::test {
namespace {

Margins marginsOf(const PowerYard& y) {
  return margins(y.yard, y.shapes, y.routes, layouts(y.yard, y.shapes, y.routes));
}

/// 100 pixels on one lead; only what the test says is uncertain. White is the limit.
struct OneFeed : PowerYard {
  Id prop, run;
  OneFeed() {
    change<Settings>(settings, [](Settings& s) {
      s.brightnessLimit = {1'000'000};
      s.jointSpread = {0};
    });
    change<Product>(product, [](Product& p) { p.spreadPercent = p.eachPercent = 0; });
    for (const Id wire : {awg20, awg18, awg14}) change<Wire>(wire, [](Wire& w) { w.tolerance = {0}; });
    change<Supply>(supply, [](Supply& s) { s.voltageSpread = {0}; });
    prop = addProp(100);
    run = addRun(port, {stretch(prop)});
    lead(run, awg18, 5 * kFoot);
  }
  RunMargin margin() const { return marginsOf(*this).runs.at(run); }
};

TEST(Normal, AgreesWithTheLibraryFarOut) {
  for (double x = -37.0; x <= 8.0; x += 0.137) {
    EXPECT_NEAR(normalBelow(x), 0.5 * std::erfc(-x / std::sqrt(2.0)), 1e-12 * normalBelow(x) + 1e-300) << x;
    EXPECT_NEAR(seriesExp(x), std::exp(x), 4e-15 * std::exp(x));
  }
  for (const double p : {1e-200, 1e-12, 1e-3, 0.05, 0.3, 0.5, 0.77, 0.95, 1.0 - 1e-9})
    EXPECT_NEAR(normalBelow(normalQuantile(p)), p, 1e-12 * p);
  EXPECT_NEAR(normalQuantile(0.975), 1.959963984540054, 1e-12);
}

// Only the supply's volts vary: every pixel's volts vary by as much, so the chance is known exactly.
TEST(Margin, SupplyAloneIsLinearAndExact) {
  OneFeed y;
  const double planned = y.margin().volts;
  EXPECT_NEAR(planned, 10.404, 2e-3);
  for (const int spread : {10'000, 30'000, 60'000}) {
    y.change<Supply>(y.supply, [&](Supply& s) { s.voltageSpread = {spread}; });
    const double sigma = 12.0 * spread * 1e-6 / kNineteenInTwenty;
    const RunMargin m = y.margin();
    EXPECT_EQ(m.place, 100);
    EXPECT_NEAR(m.deviation, sigma, 1e-6);
    EXPECT_NEAR(m.chance, normalBelow((10.2 - planned) / sigma), 1e-4) << spread;
    const double likely = planned - 1.6448536 * sigma;
    // Below the limit the pixels draw less: true volts are a little above the straight line.
    EXPECT_NEAR(m.likely, likely, likely > 10.2 ? 1e-6 : 0.3);
    EXPECT_GE(m.likely, likely - 1e-6);
    ASSERT_FALSE(m.shares.empty());
    EXPECT_EQ(m.shares[0].unknown, (Unknown{UnknownKind::SupplyVolts, y.supply}));
    EXPECT_NEAR(m.shares[0].share, 1.0, 1e-6);
  }
}

// The drop is the current's factor times the planned one: exact by the logarithm's normal distribution.
TEST(Margin, CurrentAloneIsExact) {
  OneFeed y;
  y.change<Product>(y.product, [](Product& p) { p.spreadPercent = 15; });
  const RunMargin m = y.margin();
  const double sigma = std::log(1.15) / kNineteenInTwenty;
  EXPECT_NEAR(m.chance, normalBelow(-std::log(1.8 / (12.0 - m.volts)) / sigma), 1e-4);
  EXPECT_EQ(m.shares[0].unknown, (Unknown{UnknownKind::PixelCurrent, y.product}));
}

TEST(Margin, TwoUnknownsAgreeWithTheIntegral) {
  OneFeed y;
  y.change<Product>(y.product, [](Product& p) { p.spreadPercent = 15; });
  y.change<Supply>(y.supply, [](Supply& s) { s.voltageSpread = {20'000}; });
  const RunMargin m = y.margin();
  const double sigma = std::log(1.15) / kNineteenInTwenty, volts = 0.24 / kNineteenInTwenty;
  double chance = 0.0;
  for (int i = 0; i < 4000; ++i) {
    const double supply = 12.0 + volts * normalQuantile((i + 0.5) / 4000.0);
    chance += normalBelow(-std::log((supply - 10.2) / (12.0 - m.volts)) / sigma) / 4000.0;
  }
  EXPECT_NEAR(m.chance, chance, 0.01 * chance);
}

TEST(Margin, WithoutSpreadItIsCertain) {
  OneFeed y;
  EXPECT_EQ(y.margin().chance, 0.0);
  EXPECT_EQ(y.margin().likely, y.margin().volts);
  y.change<Product>(y.product, [](Product& p) { p.lowestVolts = {10'500'000}; });
  EXPECT_EQ(y.margin().chance, 1.0);
}

TEST(Margin, SmallChancesKeepTheirSize) {
  OneFeed y;
  y.change<Product>(y.product, [](Product& p) { p.lowestVolts = {9'900'000}; });
  y.change<Supply>(y.supply, [](Supply& s) { s.voltageSpread = {20'000}; });
  const double sigma = 0.24 / kNineteenInTwenty, chance = normalBelow((9.9 - y.margin().volts) / sigma);
  EXPECT_LT(chance, 1e-4);
  EXPECT_NEAR(y.margin().chance, chance, 0.02 * chance);
}

/// Every unknown, every pixel and contact drawn on its own, through the true solver.
struct Sampled {
  double chance = 0.0, likely = 0.0;
};
Sampled sampled(const PowerYard& y, Id run, int count) {
  const Layouts l = layouts(y.yard, y.shapes, y.routes);
  const UncertainYard all = uncertain(y.yard, y.shapes, y.routes, l);
  const auto [p, chain] = all.runPlace.at(run);
  const JoinedPart& part = all.parts[p];
  std::mt19937_64 random(20261125);
  const auto normal = [&] {
    return normalQuantile((static_cast<double>(random() >> 11U) + 0.5) / 9007199254740992.0);
  };
  const double limit = 10.2;
  std::vector<double> lowest;
  for (int i = 0; i < count; ++i) {
    std::vector<double> z(all.unknowns.size());
    for (double& x : z) x = normal();
    Network network = all.at(part, z);
    const std::vector<Load> shared = network.loads;
    for (Chain& c : network.chains)
      for (std::int32_t& load : c.load) {
        network.loads.push_back(scaled(shared[static_cast<std::size_t>(load)],
                                       seriesExp(part.eachSigma[static_cast<std::size_t>(load)] * normal())));
        load = static_cast<std::int32_t>(network.loads.size()) - 1;
      }
    const Solution s = solve(network);
    lowest.push_back(*std::min_element(s.volts[chain].begin(), s.volts[chain].end()));
  }
  std::sort(lowest.begin(), lowest.end());
  const auto below = std::lower_bound(lowest.begin(), lowest.end(), limit) - lowest.begin();
  return {static_cast<double>(below) / count, lowest[static_cast<std::size_t>(0.05 * count)]};
}

TEST(Margin, AgreesWithSamplingTheTrueNetwork) {
  OneFeed y;
  y.change<Settings>(y.settings, [](Settings& s) { s.brightnessLimit = {900'000}; });
  y.change<Product>(y.product, [](Product& p) {
    p.spreadPercent = 15;
    p.eachPercent = 3;
  });
  y.change<Supply>(y.supply, [](Supply& s) { s.voltageSpread = {20'000}; });
  for (const Id wire : {y.awg20, y.awg18}) y.change<Wire>(wire, [](Wire& w) { w.tolerance = {20'000}; });
  const RunMargin m = y.margin();
  const Sampled s = sampled(y, y.run, 4000);
  EXPECT_NEAR(m.chance, s.chance, 4.0 * std::sqrt(s.chance * (1.0 - s.chance) / 4000.0));
  EXPECT_NEAR(m.likely, s.likely, 0.01);
}

TEST(Margin, SlopesAgreeWithSmallSteps) {
  OneFeed y;
  y.change<Settings>(y.settings, [](Settings& s) {
    s.jointResistance = {5'000};
    s.jointSpread = {1'000'000};
  });
  y.change<Product>(y.product, [](Product& p) { p.spreadPercent = 15; });
  y.change<Supply>(y.supply, [](Supply& s) { s.voltageSpread = {20'000}; });
  for (const Id wire : {y.awg20, y.awg18, y.awg14})
    y.change<Wire>(wire, [](Wire& w) { w.tolerance = {20'000}; });
  y.feed(y.addFusePosition(y.supply, {4'000'000}), y.prop, 60, y.awg14, 3.0);
  for (const auto model : {LoadModel::ConstantCurrent, LoadModel::Resistor, LoadModel::Regulated}) {
    y.change<Product>(y.product, [&](Product& p) { p.load = model; });
    const Layouts l = layouts(y.yard, y.shapes, y.routes);
    const UncertainYard all = uncertain(y.yard, y.shapes, y.routes, l);
    ASSERT_EQ(all.parts.size(), 1U);
    const JoinedPart& part = all.parts[0];
    std::vector<double> z(all.unknowns.size(), 0.2);
    const Network network = all.at(part, z);
    const Solution s = solve(network);
    const Sensitivity of = sensitivity(all, part, z, network, s, 0, 30);
    EXPECT_EQ(all.unknowns.size(), 6U);  // product, joints, three wires, supply
    for (std::size_t i = 0; i < part.unknowns.size(); ++i) {
      constexpr double kStep = 1e-3;
      std::vector<double> up = z, down = z;
      up[part.unknowns[i]] += kStep;
      down[part.unknowns[i]] -= kStep;
      const double slope =
          (solve(all.at(part, up)).volts[0][30] - solve(all.at(part, down)).volts[0][30]) / (2.0 * kStep);
      EXPECT_NE(slope, 0.0) << i;
      EXPECT_NEAR(of.slope[i], slope, 2e-3 * std::abs(slope) + 1e-7) << i << " " << static_cast<int>(model);
    }
  }
}

TEST(Margin, IsTheSameToTheBitEachTime) {
  OneFeed y;
  y.change<Product>(y.product, [](Product& p) { p.spreadPercent = 15; });
  y.change<Supply>(y.supply, [](Supply& s) { s.voltageSpread = {20'000}; });
  const RunMargin a = y.margin(), b = y.margin();
  EXPECT_EQ(a.chance, b.chance);
  EXPECT_EQ(a.likely, b.likely);
  EXPECT_GT(a.chance, 0.0);
}

}  // namespace
}  // namespace yw::circuit::test
