#pragma once
// Networks that the unit tests, the outside checks and the benchmarks share.
#include <cmath>
#include <cstdint>
#include <limits>
#include <vector>

#include "core/circuit/network.h"

namespace yw::checks {

using circuit::Chain;
using circuit::Load;
using circuit::Network;

/// 20 °C, solid annealed copper, Ω/m: diameters by ASTM B258, resistivity by IEC 60028.
inline constexpr double kAwg14 = 8.286e-3, kAwg16 = 13.174e-3, kAwg18 = 20.948e-3, kAwg20 = 33.309e-3;
inline constexpr double kFoot = 0.3048, kInch = 0.0254;
inline constexpr double kCut = std::numeric_limits<double>::infinity();

/// The same current at any voltage above 1 V.
inline Load constantLoad(double amps) {
  Load load;
  load.idle = amps;
  return load;
}

inline Load kneeLoad(double idle, double set, double dark, double full) {
  Load load;
  load.idle = idle;
  load.channels[0] = {set, dark, full, 0.0};
  return load;
}

inline Load resistorLoad(double idle, double dark, double ohms) {
  Load load;
  load.kind = Load::Kind::Resistor;
  load.idle = idle;
  load.channels[0] = {0.0, dark, 0.0, ohms};
  return load;
}

inline Load regulatedLoad(double watts, double cut, double idle = 0.0) {
  Load load;
  load.kind = Load::Kind::Regulated;
  load.idle = idle;
  load.watts = watts;
  load.cut = cut;
  return load;
}

/// The load at another brightness, its idle current included.
inline Load times(Load load, double factor) {
  load.idle *= factor;
  for (Load::Channel& c : load.channels) {
    c.amps *= factor;
    c.ohms /= factor;
  }
  load.watts *= factor;
  return load;
}

/// Red that fades later than green and blue; amps of one color.
inline Load colorLoad(double idle, double amps, double redDark, double redFull, double dark, double full) {
  Load load;
  load.idle = idle;
  load.channels = {{{amps, redDark, redFull}, {amps, dark, full}, {amps, dark, full}}};
  return load;
}

/// A resistor strip's group: three LEDs and a resistor a color.
inline Load resistorGroup(double idle, double redVolts, double redOhms, double volts, double ohms) {
  Load load;
  load.kind = Load::Kind::Resistor;
  load.idle = idle;
  load.channels = {{{0.0, redVolts, 0.0, redOhms}, {0.0, volts, 0.0, ohms}, {0.0, volts, 0.0, ohms}}};
  return load;
}

/// Chain of `count` pixels of one load, every segment the same on both rails.
inline Chain evenChain(int count, std::int32_t load, double positive, double zero) {
  Chain chain;
  chain.load.assign(count, load);
  chain.positive.assign(count, positive);
  chain.zero.assign(count, zero);
  return chain;
}

/// Joins a supply's two nodes to a pixel.
inline void feed(Network& n, std::int32_t positive, std::int32_t zero, std::size_t chain, std::size_t pixel,
                 double positiveOhms, double zeroOhms) {
  n.conductors.push_back({positive, n.positiveNode(chain, pixel), positiveOhms});
  n.conductors.push_back({zero, n.zeroNode(chain, pixel), zeroOhms});
}

/// Numbers that are the same on every machine: a fixed generator and a fixed way to fractions.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed * 0x9E3779B97F4A7C15u + 0x1234567u) {}
  double unit() {
    state_ += 0x9E3779B97F4A7C15u;  // splitmix64
    std::uint64_t z = state_;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
    return static_cast<double>((z ^ (z >> 31)) >> 11) * 0x1.0p-53;
  }
  double between(double low, double high) { return low + (high - low) * unit(); }
  int below(int count) { return static_cast<int>(unit() * count); }

 private:
  std::uint64_t state_;
};

/// What a random yard is made of.
struct Wish {
  int chains = 4, pixels = 200;  ///< in all
  int supplies = 0;              ///< 0: one to three, each reaching everywhere; else neighbours share a few
  double stress = 0.6;           ///< 1: drops of about the headroom
  bool regulated = true, resistor = true, knee = true;
  bool colors = true;  ///< kinds whose colors fade one after another, as long as their own kind is wished
  bool cuts = true, ties = true;  ///< V+ cuts between supplies, 0 V ties between chains
  double sourceOhms = 0.005;      ///< 0: ideal
  bool mixedRatios = true;        ///< strings and jumpers whose V+ and 0 V differ
};

/// Chains of mixed loads on several supplies; feeds of random wires, cuts of V+ between supplies, jumpers of
/// other wire, 0 V ties that close meshes.
inline Network randomNetwork(std::uint64_t seed, const Wish& wish) {
  Dice dice(seed);
  Network n;
  const int supplies = wish.supplies > 0 ? wish.supplies : 1 + dice.below(3);
  n.extraNodes = 2 * supplies;
  std::vector<std::int32_t> kinds;
  const auto add = [&](const Load& load) {
    kinds.push_back(static_cast<std::int32_t>(n.loads.size()));
    n.loads.push_back(load);
  };
  if (wish.knee) add(kneeLoad(0.002, 0.038 * wish.stress, 7.0, 10.2));
  if (wish.knee) add(kneeLoad(0.001, 0.030 * wish.stress, 6.3, 9.9));
  if (wish.resistor) add(resistorLoad(0.001, 6.3, 200.0 / wish.stress));
  if (wish.regulated) add(regulatedLoad(0.30 * wish.stress, 6.5, 0.001));
  if (wish.knee && wish.colors) {
    add(colorLoad(0.002, 0.0127 * wish.stress, 7.0, 7.1, 9.6, 10.2));
    Load four = colorLoad(0.0025, 0.018 * wish.stress, 6.69, 7.29, 10.2, 10.8);
    four.channels[3] = {0.018 * wish.stress, 9.9, 10.5};
    add(four);
  }
  if (wish.resistor && wish.colors)
    add(resistorGroup(0.0, 6.3, 330.0 / wish.stress, 9.6, 150.0 / wish.stress));
  add(constantLoad(0.002));
  for (int c = 0; c < wish.chains; ++c) {
    const int count = std::max(1, wish.pixels / wish.chains);
    const double ohms = kAwg18 * dice.between(0.05, 0.15),
                 ratio = dice.unit() < 0.5 || !wish.mixedRatios ? 1.0 : 1.25;
    Chain chain = evenChain(count, kinds[dice.below(static_cast<int>(kinds.size()))], ohms, ohms * ratio);
    for (int k = 1; k < count; ++k) {
      if (dice.unit() < 0.02) chain.load[k] = kinds[dice.below(static_cast<int>(kinds.size()))];
      if (dice.unit() < 0.02) {  // a jumper
        chain.positive[k] = chain.zero[k] = kAwg18 * dice.between(0.3, 3.0);
        if (dice.unit() < 0.3 && wish.mixedRatios) chain.zero[k] *= 0.5;
      }
    }
    n.chains.push_back(chain);
  }
  for (int s = 0; s < supplies; ++s) {
    n.sources.push_back({2 * s, 2 * s + 1, 12.0 + 0.1 * s, wish.sourceOhms});
    if (s > 0) n.conductors.push_back({1, 2 * s + 1, dice.unit() < 0.5 ? 0.0 : 0.02});
  }
  for (int c = 0; c < wish.chains; ++c) {
    const int count = static_cast<int>(n.chains[c].load.size());
    const auto near = [&] {
      if (wish.supplies <= 0) return dice.below(supplies);
      const int home = static_cast<int>(static_cast<std::int64_t>(c) * supplies / wish.chains);
      return std::min(supplies - 1, home + dice.below(3));
    };
    int supply = near();
    const double keep = wish.supplies > 0 ? 0.7 : 0.0;  // neighbours on a run mostly share a supply
    for (int at = 0; at < count; at += 20 + dice.below(80)) {
      const int before = supply;
      if (at > 0 && wish.cuts && !(keep > 0.0 && dice.unit() < keep)) supply = near();
      if (supply != before) n.chains[c].positive[at] = kCut;
      const double ohms = kAwg16 * dice.between(0.5, 8.0);
      feed(n, 2 * supply, 2 * supply + 1, c, at, ohms, ohms);
    }
    if (wish.ties && c > 0 && dice.unit() < 0.5)
      n.conductors.push_back({n.zeroNode(c - 1, n.chains[c - 1].load.size() - 1),
                              n.zeroNode(c, dice.below(count)), dice.between(0.01, 0.2)});
  }
  return n;
}

}  // namespace yw::checks
