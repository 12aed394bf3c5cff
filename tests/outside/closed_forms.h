#pragma once
// Published figures beside ours: one row a figure. The unit tests hold every row, outside_checks prints them.
#include <algorithm>
#include <string>

#include "core/circuit/network.h"
#include "tests/outside/networks.h"
#include "tests/outside/rows.h"

namespace yw::checks {

/// Two nodes of an ideal supply, before any chain.
inline Network withSupply(double volts, double ohms = 0.0) {
  Network n;
  n.extraNodes = 2;
  n.sources.push_back({0, 1, volts, ohms});
  return n;
}

/// One chain of equal constant loads behind a lead; `first` Ω before the first pixel, `last` Ω at the far end
/// if fed.
inline Network ladder(int count, double amps, double railOhms, double volts, double firstOhms,
                      double lastOhms = -1.0) {
  Network n = withSupply(volts);
  n.loads.push_back(constantLoad(amps));
  n.chains.push_back(evenChain(count, 0, railOhms, railOhms));
  feed(n, 0, 1, 0, 0, firstOhms, firstOhms);
  if (lastOhms >= 0.0) feed(n, 0, 1, 0, static_cast<std::size_t>(count) - 1, lastOhms, lastOhms);
  return n;
}

inline double lowest(const std::vector<double>& volts) {
  return *std::min_element(volts.begin(), volts.end());
}

// IEC 60028 copper, 18 AWG (ASTM B258), 75 mm between pixels.
inline constexpr double kSegment75 = 1.5711e-3;

inline Rows oneCable() {
  Rows rows;
  // NEC 2017 Chapter 9 Table 8: 16 AWG stranded 4.99 Ω/kft at 75 °C.
  const auto s = solve(ladder(1, 4.0, 0.0, 24.0, 0.499));
  rows.push_back({"16 AWG, 100 ft, 4 A, two-wire drop, V", "NEC Chapter 9 Table 8; published example 4.0 V",
                  3.992, 24.0 - s.volts[0][0], 1e-6});
  rows.push_back({"the same in percent of 24 V", "published electrician's example: 16.7", 16.6,
                  (24.0 - s.volts[0][0]) / 0.24, 0.05});
  return rows;
}

inline Rows distributor() {
  Network n = withSupply(300.0);
  Chain chain;
  for (const double amps : {100.0, 150.0, 200.0, 50.0}) {
    chain.load.push_back(static_cast<std::int32_t>(n.loads.size()));
    n.loads.push_back(constantLoad(amps));
  }
  chain.positive = chain.zero = {0.0, 0.005, 0.006, 0.004};
  n.chains.push_back(chain);
  feed(n, 0, 1, 0, 0, 0.005, 0.005);
  const auto s = solve(n);
  Rows rows;
  const double expected[] = {295.0, 291.0, 288.0, 287.6};
  for (int k = 0; k < 4; ++k)
    rows.push_back({"two-wire distributor, volts at load " + std::to_string(k + 1),
                    "Principles of Power System, ch. 13, Ex. 13.1", expected[k], s.volts[0][k], 0.05});
  return rows;
}

inline Rows singleConductor() {
  Network n = withSupply(600.0);
  n.loads.push_back(constantLoad(20.0));
  n.chains.push_back(evenChain(10, 0, 0.05, 0.0));
  n.conductors.push_back({0, n.positiveNode(0, 0), 0.05});
  n.conductors.push_back({1, n.zeroNode(0, 0), 0.0});
  const auto s = solve(n);
  Rows rows{{"10 sections of 0.05 ohm, 20 A after each, total drop, V",
             "Power Distribution for Electric Railroads, fig. 6", 55.0, 600.0 - s.volts[0][9], 1e-6}};
  rows.push_back({"the same, drop of the last section, V",
                  "Power Distribution for Electric Railroads, fig. 6", 1.0, s.volts[0][8] - s.volts[0][9],
                  1e-6});
  rows.push_back({"the same, return of the last section, A", "Kirchhoff", -20.0, s.zeroAmps[0][9], 1e-6});
  return rows;
}

inline Rows ladders() {
  Rows rows;
  const double r = kSegment75, lead = 6.0 * kAwg14;
  const auto one = solve(ladder(100, 0.05, r, 12.0, r));
  rows.push_back({"ladder of 100, fed at one end, drop at the last, V",
                  "distributor with equal loads, r·i·n(n+1)", 0.7934, 12.0 - one.volts[0][99], 1e-4});
  const auto both = solve(ladder(100, 0.05, r, 12.0, r, r));
  rows.push_back({"the same, fed at both ends, worst drop, V",
                  "distributor fed at both ends, r·i·floor((n+1)²/4)", 0.2003, 12.0 - lowest(both.volts[0]),
                  1e-4});
  rows.push_back(
      {"the same, loads 50 and 51 alike, V", "symmetry", 0.0, both.volts[0][49] - both.volts[0][50], 1e-9});
  const auto led = solve(ladder(100, 0.05, r, 12.0, r + lead));
  rows.push_back({"ladder of 100 behind 6 m of 14 AWG, drop at the last, V",
                  "2·R·n·i and distributor, r·i·n(n+1)", 1.2905, 12.0 - led.volts[0][99], 1e-4});
  return rows;
}

inline Rows unequalEnds() {
  Network n;
  n.extraNodes = 3;  // V_A+, V_B+, common 0 V
  n.sources = {{0, 2, 12.0, 0.0}, {1, 2, 11.8, 0.0}};
  n.loads.push_back(constantLoad(1.0));
  n.chains.push_back(evenChain(4, 0, 0.1, 0.0));
  n.conductors.push_back({0, n.positiveNode(0, 0), 0.1});
  n.conductors.push_back({1, n.positiveNode(0, 3), 0.1});
  n.conductors.push_back({2, n.zeroNode(0, 0), 0.0});
  const auto s = solve(n);
  const std::string source = "Kirchhoff round the loop from A to B, exact";
  Rows rows{{"fed at both ends 12.0 and 11.8 V, amps from A", source, 2.4, s.sourceAmps[0], 1e-9},
            {"the same, amps from B", source, 1.6, s.sourceAmps[1], 1e-9}};
  const double expected[] = {11.76, 11.62, 11.58, 11.64};
  for (int k = 0; k < 4; ++k)
    rows.push_back(
        {"the same, volts at load " + std::to_string(k + 1), source, expected[k], s.volts[0][k], 1e-9});
  return rows;
}

inline Rows loadModels() {
  using circuit::evaluate;
  Rows rows;
  const std::string ws = "WS2812B data sheet: 18.5 mA, 0.6 V knee, red 2.1 V, green and blue 3.2 V";
  const auto channels = [](double volts) {
    return 1e3 * evaluate(colorLoad(0.0007, 0.0185, 2.1, 2.7, 3.2, 3.8), volts).amps;
  };
  rows.push_back({"three constant-current channels at 3.5 V, mA", ws, 37.7, channels(3.5), 1e-9});
  rows.push_back({"the same at 5.0 V, mA", ws, 56.2, channels(5.0), 1e-9});
  const double strip = evaluate(resistorGroup(0.0, 6.3, 330.0, 9.6, 150.0), 11.0).amps;
  rows.push_back({"resistor strip group at 11 V, mA", "(V - 3·Vf)/R by branch, 330/150/150 ohm from memory",
                  32.91, 1e3 * strip, 0.01});
  const auto regulated = [](double watts) {
    Network n = withSupply(12.0);
    n.loads.push_back(regulatedLoad(watts, 5.0));
    n.chains.push_back(evenChain(1, 0, 0.0, 0.0));
    feed(n, 0, 1, 0, 0, 0.75, 0.75);
    return solve(n);
  };
  const std::string maximum = "V = (Vs + sqrt(Vs² - 4RP))/2; maximum power transfer";
  const auto s = regulated(15.0);
  rows.push_back({"15 W regulated behind 1.5 ohm at 12 V, V", maximum, 9.674, s.volts[0][0], 5e-4});
  rows.push_back({"the same, A", maximum, 1.5505, s.sourceAmps[0], 5e-5});
  rows.push_back({"30 W there: largest load factor", maximum, 24.0 / 30.0, regulated(30.0).loadFactor, 1e-4});
  return rows;
}

inline Rows stringEnds() {
  // 20 AWG string, 4 in between pixels, 5 ft of 18 AWG, the first pixel at the lead's end.
  const double r = 4 * kInch * kAwg20, lead = 5 * kFoot * kAwg18;
  const std::string source = "2·R·n·i and distributor, r·i·n(n-1)";
  return {{"100 px, 12 V, 40 mA, last pixel, V", source, 10.40,
           solve(ladder(100, 0.040, r, 12, lead)).volts[0][99], 5e-3},
          {"50 px, 5 V, 55 mA, last pixel, V", source, 4.37,
           solve(ladder(50, 0.055, r, 5, lead)).volts[0][49], 5e-3},
          {"100 px, 5 V, 17.2 mA, last pixel, V", source, 4.31,
           solve(ladder(100, 0.0172, r, 5, lead)).volts[0][99], 5e-3}};
}

inline Rows twoFeeds() {
  const double r = 4 * kInch * kAwg20;
  const auto s = solve(ladder(200, 0.0134, r, 12, 5 * kFoot * kAwg18, 20 * kFoot * kAwg14));
  const auto& v = s.volts[0];
  const std::string source = "independent two-rail calculation by node equations";
  return {{"200 px, 12 V at 30 %, two feeds, lowest V", source, 11.44, lowest(v), 5e-3},
          {"the same, lowest pixel", source, 103.0,
           1.0 + static_cast<double>(std::min_element(v.begin(), v.end()) - v.begin()), 0.0},
          {"the same, amps of feed 1", source, 1.37, s.conductorAmps[0], 5e-3},
          {"the same, amps of feed 2", source, 1.31, s.conductorAmps[2], 5e-3}};
}

/// 200 pixels on two supplies, V+ cut in the middle, 0 V never: the returns do not follow the V+ currents.
inline Network splitRun() {
  Network n;
  n.extraNodes = 3;
  n.sources = {{0, 2, 12.0, 0.0}, {1, 2, 12.0, 0.0}};
  n.loads.push_back(constantLoad(0.0128));
  n.chains.push_back(evenChain(200, 0, 4 * kInch * kAwg20, 4 * kInch * kAwg20));
  n.chains[0].positive[100] = kCut;
  const double thin = 40 * kFoot * kAwg18, fat = 10 * kFoot * kAwg14;
  feed(n, 0, 2, 0, 0, thin, thin);
  feed(n, 1, 2, 0, 199, fat, fat);
  return n;
}

inline Rows returns() {
  const auto s = solve(splitRun());
  const std::string source = "independent two-rail calculation by node equations";
  return {{"V+ cut in the middle, V+ amps of supply 1", source, 1.28, s.conductorAmps[0], 5e-3},
          {"the same, V+ amps of supply 2", source, 1.28, s.conductorAmps[2], 5e-3},
          {"the same, return to supply 1, A", source, 0.97, -s.conductorAmps[1], 5e-3},
          {"the same, return to supply 2, A", source, 1.59, -s.conductorAmps[3], 5e-3}};
}

// The published figures take both conductors of the lost feed away (its plug pulled); a blown fuse leaves the
// 0 V.
inline Rows survivingFuse() {
  const auto network = [](bool whole) {
    Network n = withSupply(5.0);
    n.loads.push_back(constantLoad(0.0172));
    n.chains.push_back(evenChain(400, 0, 4 * kInch * kAwg18, 4 * kInch * kAwg18));
    const double lead = 20 * kFoot * kAwg16;
    for (const int pixel : {1, 101, 201, 301, 400})
      if (whole || pixel != 201) feed(n, 0, 1, 0, static_cast<std::size_t>(pixel) - 1, lead, lead);
    return n;
  };
  const auto whole = solve(network(true)), lost = solve(network(false));
  const std::string source = "independent two-rail calculation by node equations";
  return {{"400 px, 5 feeds, middle feed, A", source, 1.65, whole.conductorAmps[4], 5e-3},
          {"the same, second feed, A", source, 1.56, whole.conductorAmps[2], 5e-3},
          {"the same, lowest V", source, 4.65, lowest(whole.volts[0]), 5e-3},
          {"middle feed lost, second feed, A", source, 2.21, lost.conductorAmps[2], 5e-3},
          {"the same, lowest V", source, 4.28, lowest(lost.volts[0]), 5e-3}};
}

inline Rows closedForms() {
  Rows rows;
  for (const auto& part : {oneCable(), distributor(), singleConductor(), ladders(), unequalEnds(),
                           loadModels(), stringEnds(), twoFeeds(), returns(), survivingFuse()})
    rows.insert(rows.end(), part.begin(), part.end());
  return rows;
}

}  // namespace yw::checks
