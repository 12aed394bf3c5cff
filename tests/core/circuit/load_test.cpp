#include <gtest/gtest.h>

#include <cmath>

#include "core/circuit/load_curve.h"
#include "tests/outside/networks.h"

namespace yw::checks {
namespace {

using circuit::evaluate;
using circuit::LoadCurve;

const std::vector<Load>& kinds() {
  static const std::vector<Load> all{constantLoad(0.02),
                                     kneeLoad(0.002, 0.038, 7.0, 10.2),
                                     kneeLoad(0.002, 0.038, 0.4, 0.9),
                                     kneeLoad(0.0, 0.038, 7.0, 7.0),
                                     colorLoad(0.0007, 0.0185, 2.1, 2.7, 3.2, 3.8),
                                     colorLoad(0.002, 0.0127, 7.0, 7.1, 9.6, 10.2),
                                     resistorGroup(0.0, 6.3, 330.0, 9.6, 150.0),
                                     resistorGroup(0.001, 0.5, 330.0, 0.5, 150.0),
                                     resistorLoad(0.001, 6.3, 150.0),
                                     resistorLoad(0.001, 6.3, 0.0),
                                     regulatedLoad(0.3, 6.5, 0.001),
                                     regulatedLoad(0.3, 0.2, 0.001)};
  return all;
}

TEST(Load, DrawsNothingFromADeadRail) {
  for (const Load& load : kinds())
    for (const double volts : {0.0, -3.0}) {
      EXPECT_EQ(evaluate(load, volts).amps, 0.0);
      EXPECT_EQ(LoadCurve(load).amps(volts), 0.0);
      EXPECT_EQ(LoadCurve(load).integral(volts), 0.0);
    }
}

TEST(Load, CurveSaysWhatTheFormulaSays) {
  for (const Load& load : kinds()) {
    const LoadCurve curve(load);
    for (double volts = 0.05; volts < 15.0; volts += 0.1) {
      const auto point = evaluate(load, volts);
      const auto line = curve.tangent(curve.region(volts), volts);
      EXPECT_NEAR(curve.amps(volts), point.amps, 1e-12);
      EXPECT_NEAR(line.slope * volts + line.start, point.amps, 1e-12);
      EXPECT_NEAR(line.slope, point.slope, 1e-9);
    }
  }
}

TEST(Load, IntegralIsTheAreaUnderTheCurve) {
  for (const Load& load : kinds()) {
    const LoadCurve curve(load);
    double area = 0.0;
    constexpr double kStep = 1e-3;
    for (int i = 0; i < 14'000; ++i) area += kStep * curve.amps((i + 0.5) * kStep);
    EXPECT_NEAR(curve.integral(14.0), area, 2e-6);
  }
}

TEST(Load, SeriesLogIsTheLogarithm) {
  for (double x = 1e-3; x < 1e4; x *= 1.37)
    EXPECT_NEAR(circuit::seriesLog(x), std::log(x), 4e-15 * (1 + std::abs(std::log(x))));
  EXPECT_EQ(circuit::seriesLog(1.0), 0.0);
}

TEST(Network, NumbersNodesChainByChain) {
  Network n;
  n.extraNodes = 3;
  n.chains = {evenChain(4, 0, 0.1, 0.1), evenChain(2, 0, 0.1, 0.1)};
  EXPECT_EQ(n.positiveNode(0, 0), 3);
  EXPECT_EQ(n.zeroNode(0, 3), 10);
  EXPECT_EQ(n.positiveNode(1, 0), 11);
  EXPECT_EQ(n.pixelCount(), 6);
}

}  // namespace
}  // namespace yw::checks
