#include <fmt/format.h>

#include <cmath>
#include <numeric>
#include <string>
#include <vector>

#include "core/circuit/load_curve.h"
#include "core/circuit/network.h"

namespace yw::circuit {

namespace {

/// Which nodes hang together through metal and sources; made here on its own, so that a deck checks the
/// solver.
class Groups {
 public:
  explicit Groups(std::int32_t count) : up_(count) { std::iota(up_.begin(), up_.end(), 0); }
  std::int32_t of(std::int32_t n) {
    while (up_[n] != n) n = up_[n] = up_[up_[n]];
    return n;
  }
  void join(std::int32_t a, std::int32_t b) { up_[of(a)] = of(b); }

 private:
  std::vector<std::int32_t> up_;
};

class Deck {
 public:
  explicit Deck(const Network& network)
      : network_(network),
        groups_(network.extraNodes + static_cast<std::int32_t>(2 * network.pixelCount())),
        bare_(groups_) {}

  std::string text() {
    out_ = "* operating point of a pixel network\n";
    group();
    for (std::size_t i = 0; i < network_.conductors.size(); ++i) {
      const Conductor& c = network_.conductors[i];
      resistor(fmt::format("c{}", i), c.a, c.b, c.ohms);
    }
    sources();
    std::int32_t first = network_.extraNodes;
    for (std::size_t c = 0; c < network_.chains.size(); ++c) {
      chain(c, first);
      first += static_cast<std::int32_t>(2 * network_.chains[c].load.size());
    }
    out_ += ".options reltol=1e-9 vntol=1e-9 abstol=1e-12 gmin=1e-12 itl1=500 rshunt=1e15\n";
    out_ += ".control\nset numdgt=15\nop\nprint all\n.endc\n.end\n";
    return out_;
  }

 private:
  void group() {
    for (const Conductor& c : network_.conductors)
      if (std::isfinite(c.ohms)) groups_.join(c.a, c.b);
    for (const Source& s : network_.sources) groups_.join(s.positive, s.zero);
    std::int32_t node = network_.extraNodes;
    for (const Chain& chain : network_.chains)
      for (std::size_t k = 0; k < chain.load.size(); ++k, node += 2) {
        if (k > 0 && std::isfinite(chain.positive[k])) groups_.join(node - 2, node);
        if (k > 0 && std::isfinite(chain.zero[k])) groups_.join(node - 1, node + 1);
      }
  }

  void resistor(const std::string& name, std::int32_t a, std::int32_t b, double ohms) {
    if (!std::isfinite(ohms)) return;
    if (ohms > 0.0) {
      out_ += fmt::format("r{} n{} n{} {:.17g}\n", name, a, b, ohms);
    } else if (bare_.of(a) != bare_.of(b)) {  // one that closes a loop would leave its current open
      out_ += fmt::format("v{} n{} n{} 0\n", name, a, b);
      bare_.join(a, b);
    }
  }

  void sources() {
    std::vector<std::uint8_t> grounded(nodeCount(), 0);
    for (std::size_t i = 0; i < network_.sources.size(); ++i) {
      const Source& s = network_.sources[i];
      std::uint8_t& done = grounded[groups_.of(s.zero)];
      if (!done) out_ += fmt::format("vg{} n{} 0 0\n", i, s.zero);
      done = 1;
      if (s.ohms > 0.0) {
        out_ += fmt::format("vs{} s{} n{} {:.17g}\n", i, i, s.zero, s.volts);
        out_ += fmt::format("rs{} s{} n{} {:.17g}\n", i, i, s.positive, s.ohms);
      } else {
        out_ += fmt::format("vs{} n{} n{} {:.17g}\n", i, s.positive, s.zero, s.volts);
      }
    }
    live_ = std::move(grounded);
  }

  std::size_t nodeCount() const {
    return static_cast<std::size_t>(network_.extraNodes + 2 * network_.pixelCount());
  }

  void chain(std::size_t c, std::int32_t first) {
    const Chain& chain = network_.chains[c];
    for (std::size_t k = 0; k < chain.load.size(); ++k) {
      const std::int32_t p = first + static_cast<std::int32_t>(2 * k), z = p + 1;
      if (k > 0) {
        resistor(fmt::format("p{}_{}", c, k), p - 2, p, chain.positive[k]);
        resistor(fmt::format("z{}_{}", c, k), z - 2, z, chain.zero[k]);
      }
      const bool fed = groups_.of(p) == groups_.of(z) && live_[groups_.of(p)];
      if (fed)
        out_ += fmt::format("b{}_{} n{} n{} i={}\n", c, k, p, z, amps(network_.loads[chain.load[k]], p, z));
    }
  }

  static std::string amps(const Load& load, std::int32_t p, std::int32_t z) {
    const Load m = mended(load);
    const std::string v = fmt::format("v(n{},n{})", p, z);
    std::string text = fmt::format("{:.17g}*min(max({},0),1)", m.idle, v);
    switch (m.kind) {
      case Load::Kind::ConstantCurrent:
        for (const Load::Channel& c : m.channels)
          if (c.amps > 0.0)
            text += fmt::format("+{:.17g}*min(max(({}-{:.17g})/{:.17g},0),1)", c.amps, v, c.dark,
                                c.full - c.dark);
        break;
      case Load::Kind::Resistor:
        for (const Load::Channel& c : m.channels)
          if (c.ohms > 0.0) text += fmt::format("+max({}-{:.17g},0)/{:.17g}", v, c.dark, c.ohms);
        break;
      case Load::Kind::Regulated:
        text += fmt::format("+({0}>={1:.17g} ? {2:.17g}/max({0},{1:.17g}) : {3:.17g}*max({0},0))", v, m.cut,
                            m.watts, m.watts / (m.cut * m.cut));
        break;
    }
    return text;
  }

  const Network& network_;
  Groups groups_;
  Groups bare_;                     ///< joined without resistance
  std::vector<std::uint8_t> live_;  ///< [group root] has a source
  std::string out_;
};

}  // namespace

std::string spiceDeck(const Network& network) { return Deck(network).text(); }

}  // namespace yw::circuit
