#include "core/circuit/fit.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "core/circuit/normal.h"
#include "tests/core/circuit/power_yard.h"

namespace yw::circuit::test {
namespace {

/// 60 pixels on a lead with plug contacts.
struct FitYard : PowerYard {
  Id prop, run;
  FitYard() {
    change<Settings>(settings, [](Settings& s) {
      s.brightnessLimit = {300'000};
      s.jointResistance = {5'000};
    });
    prop = addProp(60);
    run = addRun(port, {stretch(prop)});
    lead(run, awg18, 10 * kFoot);
  }
  Id measured(Terminal at, double volts, double amps, double brightness = 1.0) {
    Measurement m;
    m.at = at;
    m.volts = base::toVoltage({volts});
    m.amps = base::toCurrent({amps});
    m.brightness = {base::roundedCount(1e6 * brightness)};
    return add(m);
  }
  Terminal pixel(std::int64_t k) const { return {TerminalKind::PropPixel, prop, k}; }
  Fit fitted() const { return fit(yard, shapes, routes, layouts(yard, shapes, routes)); }
  double variance(const Fit& f, const Unknown& u) const {
    for (std::size_t i = 0; i < f.belief.unknowns.size(); ++i)
      if (f.belief.unknowns[i] == u) return f.belief.covariance[i * f.belief.unknowns.size() + i];
    return 1.0;
  }
  Power powerOf(const Yard& of, double brightness) const {
    PowerYard copy = *this;
    copy.yard = of;
    copy.change<Settings>(settings,
                          [&](Settings& s) { s.brightnessLimit = {base::roundedCount(1e6 * brightness)}; });
    return copy.power(Condition::BrightnessLimit);
  }
};

TEST(Fit, WithoutMeasurementsNothingChanges) {
  const FitYard y;
  const Fit f = y.fitted();
  EXPECT_TRUE(f.readings.empty());
  const Yard same = taughtYard(y.yard, f);
  for (const auto& [id, record] : y.yard.records) EXPECT_EQ(same.records.at(id), record);
}

TEST(Fit, AmpsOfAStringTeachItsPixels) {
  FitYard y;
  y.measured({TerminalKind::Port, y.port}, 0.0, 60 * 0.036);
  const Fit f = y.fitted();
  ASSERT_EQ(f.readings.size(), 1U);
  EXPECT_EQ(f.readings[0].state, Reading::State::Used);
  EXPECT_NEAR(f.readings[0].planned, 2.4, 1e-9);
  const Unknown pixels{UnknownKind::PixelCurrent, y.product};
  EXPECT_TRUE(f.taught(pixels));
  EXPECT_FALSE(f.taught({UnknownKind::SupplyVolts, y.supply}));
  const auto taught = taughtYard(y.yard, f);
  const auto* product = find<Product>(taught, y.product);
  EXPECT_EQ(product->origin, Origin::Measured);
  EXPECT_NEAR(base::amps(product->fullWhite).si, 0.036, 3e-4);
  // Closed form in the logarithm: prior sigma s, reading sigma m of ln: weight s² / (s² + m²).
  const double s = std::log(1.15) / kNineteenInTwenty, m = 0.02 / kNineteenInTwenty;
  EXPECT_NEAR(y.variance(f, pixels), m * m / (s * s + m * m), 2e-3);
}

TEST(Fit, NamesTheReadingThatContradicts) {
  FitYard y;
  y.measured(y.pixel(60), 11.0, 0.0);
  const double truth = y.fitted().readings[0].planned;
  y.yard.records.erase(std::prev(y.yard.records.end()));
  y.measured(y.pixel(60), truth, 0.0);
  y.measured(y.pixel(50), truth + 0.01, 0.0);
  const Id wrong = y.measured(y.pixel(55), 8.0, 0.0);
  const Fit f = y.fitted();
  for (const Reading& r : f.readings)
    EXPECT_EQ(r.state == Reading::State::DoesNotFit, r.measurement == wrong) << r.measurement.value;
  EXPECT_LT(f.readings.back().off, -kDoesNotFit);
}

TEST(Fit, TellsWhatCannotBeUsed) {
  FitYard y;
  y.measured(y.pixel(60), 0.0, 0.0);
  y.measured(y.pixel(61), 11.0, 0.0);
  y.measured({TerminalKind::Box, y.box}, 11.0, 0.0);
  y.measured(y.pixel(3), 300.0, 0.0);
  const Fit f = y.fitted();
  ASSERT_EQ(f.readings.size(), 4U);
  EXPECT_EQ(f.readings[0].state, Reading::State::NoFigure);
  EXPECT_EQ(f.readings[1].state, Reading::State::NotWired);
  EXPECT_EQ(f.readings[2].state, Reading::State::NotWired);
  EXPECT_EQ(f.readings[3].state, Reading::State::DoesNotFit);
  EXPECT_TRUE(f.belief.unknowns.empty());
  y.change<yw::yard::Run>(y.run, [](yw::yard::Run& r) { r.portPower = false; });
  EXPECT_EQ(y.fitted().readings[3].state, Reading::State::NotFed);
}

/// A truth is drawn from the spreads, read with a meter's noise, and must be found again: over many cases the
/// normalized errors are as the posterior says.
TEST(Fit, RecoversPlantedValues) {
  std::mt19937_64 random(7);
  const auto normal = [&] {
    return normalQuantile((static_cast<double>(random() >> 11U) + 0.5) / 9007199254740992.0);
  };
  constexpr int kCases = 2000;
  double squares = 0.0, planned = 0.0, errors = 0.0;
  FitYard y;
  y.change<Product>(y.product, [](Product& p) { p.eachPercent = 0; });
  const Layouts l = layouts(y.yard, y.shapes, y.routes);
  y.change<Settings>(y.settings, [](Settings& s) { s.brightnessLimit = {1'000'000}; });
  const UncertainYard all = uncertain(y.yard, y.shapes, y.routes, l);
  const Yard clean = y.yard;
  for (int i = 0; i < kCases; ++i) {
    y.yard = clean;
    std::vector<double> z(all.unknowns.size());
    for (double& x : z) x = normal();
    const Solution s = solve(all.at(all.parts[0], z));
    const auto noisy = [&](double value, double spread) {
      return value * (1.0 + spread / kNineteenInTwenty * normal());
    };
    const double end = s.volts[0][59], start = s.volts[0][0];
    y.measured({TerminalKind::Supply, y.supply}, noisy(s.nodeVolts[0] - s.nodeVolts[1], 0.005),
               noisy(s.sourceAmps[0], 0.02));
    y.measured(y.pixel(60), noisy(end, 0.005), 0.0);
    y.measured(y.pixel(1), noisy(start, 0.005), 0.0);
    const Fit f = y.fitted();
    if (f.belief.unknowns.empty()) continue;
    const Unknown pixels{UnknownKind::PixelCurrent, y.product};
    for (std::size_t u = 0; u < f.belief.unknowns.size(); ++u) {
      if (f.belief.unknowns[u] != pixels) continue;
      const double error = f.z[u] - z[u];
      squares += error * error / y.variance(f, pixels) / kCases;
      planned += z[u] * z[u] / kCases;
      errors += error * error / kCases;
    }
  }
  EXPECT_NEAR(squares, 1.0, 0.12);  // chi-square over the cases
  EXPECT_NEAR(planned, 1.0, 0.1);
  EXPECT_LT(errors, 0.1 * planned);
}

TEST(Fit, AgreeingReadingsNeverWiden) {
  FitYard y;
  y.measured({TerminalKind::Port, y.port}, 0.0, 2.2);
  Fit before = y.fitted();
  for (const std::int64_t at : {60, 30, 1, 45}) {
    const Power now = y.powerOf(taughtYard(y.yard, before), 1.0);
    y.measured(y.pixel(at), now.runs.at(y.run).volts[static_cast<std::size_t>(at) - 1], 0.0);
    const Fit after = y.fitted();
    for (const Unknown& u : after.belief.unknowns) {
      EXPECT_LE(y.variance(after, u), y.variance(before, u) * (1.0 + 1e-4)) << at;
      EXPECT_LE(y.variance(after, u), 1.0 + 1e-12);
    }
    before = after;
  }
}

TEST(Fit, NarrowsTheMargin) {
  FitYard y;
  y.change<Settings>(y.settings, [](Settings& s) { s.brightnessLimit = {1'000'000}; });
  const Layouts l = layouts(y.yard, y.shapes, y.routes);
  const double wide = margins(y.yard, y.shapes, y.routes, l).runs.at(y.run).deviation;
  y.measured({TerminalKind::Supply, y.supply}, 12.0, 2.4);
  const Fit f = y.fitted();
  const double narrow =
      margins(taughtYard(y.yard, f), y.shapes, y.routes, l, f.belief).runs.at(y.run).deviation;
  EXPECT_LT(narrow, 0.5 * wide);
}

TEST(Fit, IsTheSameToTheBitEachTime) {
  FitYard y;
  y.measured(y.pixel(60), 11.2, 0.0, 0.5);
  y.measured({TerminalKind::Port, y.port}, 0.0, 2.2);
  EXPECT_EQ(y.fitted().z, y.fitted().z);
  EXPECT_EQ(y.fitted().belief.covariance, y.fitted().belief.covariance);
}

}  // namespace
}  // namespace yw::circuit::test
