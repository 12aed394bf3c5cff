#include "core/circuit/parts.h"

#include <algorithm>
#include <cmath>

#include "core/base/side_by_side.h"
#include "core/circuit/fuse_curve.h"

namespace yw::circuit {

namespace {

constexpr double kOpen = std::numeric_limits<double>::infinity();
/// Amps that grew by less are the same.
constexpr double kGrown = 1e-3;

bool sameConductor(const Conductor& a, const Conductor& b) {
  return a.a == b.a && a.b == b.b && a.ohms == b.ohms;
}
bool sameSource(const Source& a, const Source& b) {
  return a.positive == b.positive && a.zero == b.zero && a.volts == b.volts && a.ohms == b.ohms;
}
bool sameChain(const Chain& a, const Chain& b) {
  return a.load == b.load && a.positive == b.positive && a.zero == b.zero;
}
template <class T, class F>
bool sameAll(const std::vector<T>& a, const std::vector<T>& b, F&& one) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), one);
}

/// V+ of a chain between two cuts, with the gates that come in there in the order of their places.
struct Section {
  std::int32_t chain = 0, first = 0, last = 0;
  std::vector<std::int32_t> gates;
};

std::vector<Section> sectionsOf(const Part& part) {
  std::vector<Section> all;
  std::vector<std::vector<std::int32_t>> entries(part.network.chains.size());
  for (std::size_t g = 0; g < part.gates.size(); ++g)
    if (part.gates[g].chain >= 0 && part.gates[g].place >= 0)
      entries[static_cast<std::size_t>(part.gates[g].chain)].push_back(static_cast<std::int32_t>(g));
  for (std::size_t c = 0; c < entries.size(); ++c) {
    std::stable_sort(entries[c].begin(), entries[c].end(), [&](std::int32_t a, std::int32_t b) {
      return part.gates[static_cast<std::size_t>(a)].place < part.gates[static_cast<std::size_t>(b)].place;
    });
    const auto& positive = part.network.chains[c].positive;
    Section section{static_cast<std::int32_t>(c), 0, 0, {}};
    auto entry = entries[c].begin();
    const auto close = [&](std::size_t last) {
      section.last = static_cast<std::int32_t>(last);
      for (; entry != entries[c].end() && part.gates[static_cast<std::size_t>(*entry)].place <= section.last;
           ++entry)
        section.gates.push_back(*entry);
      if (!section.gates.empty()) all.push_back(section);
    };
    for (std::size_t k = 1; k < positive.size(); ++k) {
      if (std::isfinite(positive[k])) continue;
      close(k - 1);
      section = {static_cast<std::int32_t>(c), static_cast<std::int32_t>(k), 0, {}};
    }
    if (!positive.empty()) close(positive.size() - 1);
  }
  return all;
}

class Losses {
 public:
  Losses(const Part& part, const std::vector<Section>& sections)
      : part_(part), sections_(sections), before_(solve(part.network)) {}

  const Solution& before() const { return before_; }
  bool worthThreads() const {
    constexpr std::int64_t kWorthThreads = 20'000;  // pixels solved: about a millisecond
    return part_.network.pixelCount() * static_cast<std::int64_t>(part_.gates.size()) > kWorthThreads;
  }

  void run(PartFaults& out) const {
    const std::size_t gates = part_.gates.size(), all = gates + part_.network.sources.size();
    std::vector<Found> found(all);
    base::sideBySide(all, worthThreads(),
                     [&](std::size_t i) { found[i] = i < gates ? gateLost(i) : sourceLost(i - gates); });
    out.most.resize(gates);
    grow(out.most, gateAmps(before_), -1);
    out.worst.resize(part_.network.chains.size());
    out.worstGate.assign(part_.network.chains.size(), -1);
    std::vector<std::int64_t> hurt(part_.network.chains.size(), -1);
    for (std::size_t i = 0; i < all; ++i) {
      grow(out.most, found[i].gateAmps, static_cast<std::int32_t>(i));
      (i < gates ? out.gates : out.sources).push_back(found[i].loss);
      if (found[i].hurt < 0) continue;
      const auto c = static_cast<std::size_t>(part_.gates[i].chain);
      if (found[i].hurt <= hurt[c]) continue;
      hurt[c] = found[i].hurt;
      out.worst[c] = std::move(found[i].volts);
      out.worstGate[c] = static_cast<std::int32_t>(i);
    }
  }

 private:
  /// What one loss does, before it is compared with the others.
  struct Found {
    PartLoss loss;
    std::vector<double> gateAmps;
    std::int64_t hurt = -1;     ///< of the gate's own chain; -1: the chain has no other way in
    std::vector<double> volts;  ///< of that chain
  };

  Found gateLost(std::size_t g) const {
    const PartGate& gate = part_.gates[g];
    const Network lost = without(part_.network, gate.conductor);
    const Solution after = solve(lost);
    Found found{read(after), gateAmps(after), -1, {}};
    follow(found.loss, lost);
    if (gate.chain < 0 || waysIn(gate.chain) < 2) return found;
    found.hurt = worse(after, static_cast<std::size_t>(gate.chain));
    found.volts = after.volts[static_cast<std::size_t>(gate.chain)];
    return found;
  }

  Found sourceLost(std::size_t s) const {
    const Network lost = withoutSource(part_.network, static_cast<std::int32_t>(s));
    Solution after = solve(lost);
    after.sourceAmps.insert(after.sourceAmps.begin() + static_cast<std::ptrdiff_t>(s), 0.0);
    Found found{read(after), gateAmps(after), -1, {}};
    crossing(found.loss, after);
    follow(found.loss, lost);
    return found;
  }

  std::ptrdiff_t waysIn(std::int32_t chain) const {
    return std::count_if(part_.gates.begin(), part_.gates.end(),
                         [chain](const PartGate& gate) { return gate.chain == chain; });
  }

  std::vector<double> gateAmps(const Solution& s) const {
    std::vector<double> amps;
    for (const PartGate& gate : part_.gates)
      amps.push_back(std::abs(s.conductorAmps[static_cast<std::size_t>(gate.conductor)]));
    return amps;
  }

  const PixelNeed& need(std::size_t chain, std::size_t k) const {
    return part_.needs[static_cast<std::size_t>(part_.network.chains[chain].load[k])];
  }
  double volts(const Solution& s, std::size_t chain, std::size_t k) const {
    return s.fed[chain][k] ? s.volts[chain][k] : 0.0;
  }

  /// Pixels of one chain, dark counted double, so that dark hurts more than low.
  std::int64_t worse(const Solution& after, std::size_t c) const {
    std::int64_t count = 0;
    for (std::size_t k = 0; k < after.volts[c].size(); ++k) {
      const PixelNeed& n = need(c, k);
      if (!n.counts) continue;
      count += volts(after, c, k) < n.dark ? 2 : volts(after, c, k) < n.lowest ? 1 : 0;
    }
    return count;
  }

  void pixels(PartLoss& loss, const Solution& after) const {
    double worst = -kOpen;
    for (std::size_t c = 0; c < after.volts.size(); ++c)
      for (std::size_t k = 0; k < after.volts[c].size(); ++k) {
        const PixelNeed& n = need(c, k);
        if (!n.counts) continue;
        const double now = volts(after, c, k), was = volts(before_, c, k);
        const bool dark = now < n.dark && !(was < n.dark), low = !dark && now < n.lowest && !(was < n.lowest);
        if (!dark && !low) continue;
        ++(dark ? loss.dark : loss.low);
        if (n.lowest - now <= worst) continue;
        worst = n.lowest - now;
        loss.chain = static_cast<std::int32_t>(c);
        loss.pixel = static_cast<std::int32_t>(k);
        loss.volts = now;
        loss.lowest = n.lowest;
      }
  }

  void wire(PartLoss& loss, double amps, double was, double limit, std::int32_t gate, std::int32_t chain,
            std::int32_t segment) const {
    if (limit <= 0.0 || amps <= was + kGrown || amps / limit <= loss.wireShare) return;
    loss.wireShare = amps / limit;
    loss.wireAmps = amps;
    loss.wireLimit = limit;
    loss.wireGate = gate;
    loss.wireChain = chain;
    loss.wireSegment = segment;
  }

  void neighbours(PartLoss& loss, const Solution& after) const {
    double most = 0.0;
    for (std::size_t g = 0; g < part_.gates.size(); ++g) {
      const PartGate& gate = part_.gates[g];
      const auto i = static_cast<std::size_t>(gate.conductor);
      const double amps = std::abs(after.conductorAmps[i]), was = std::abs(before_.conductorAmps[i]);
      if (amps <= was + kGrown) continue;
      wire(loss, amps, was, gate.wireLimit, static_cast<std::int32_t>(g), -1, -1);
      const double share = gate.rating > 0.0      ? amps / gate.rating
                           : gate.wireLimit > 0.0 ? amps / gate.wireLimit
                                                  : 0.0;
      if (share <= most) continue;
      most = share;
      loss.gate = static_cast<std::int32_t>(g);
      loss.amps = amps;
      loss.before = was;
      loss.fuseShare = gate.rating > 0.0 ? share : 0.0;
    }
    for (std::size_t c = 0; c < after.positiveAmps.size(); ++c)
      for (std::size_t k = 1; k < after.positiveAmps[c].size(); ++k) {
        const auto larger = [&](const Solution& s) {
          return std::max(std::abs(s.positiveAmps[c][k]), std::abs(s.zeroAmps[c][k]));
        };
        wire(loss, larger(after), larger(before_), part_.wireLimits[c][k], -1, static_cast<std::int32_t>(c),
             static_cast<std::int32_t>(k));
      }
    double share = 0.0;
    for (std::size_t s = 0; s < after.sourceAmps.size(); ++s) {
      const double amps = after.sourceAmps[s], rated = part_.sourceRated[s];
      if (rated <= 0.0 || amps <= before_.sourceAmps[s] + kGrown || amps / rated <= share) continue;
      share = amps / rated;
      loss.source = static_cast<std::int32_t>(s);
      loss.sourceAmps = amps;
    }
  }

  static void grow(std::vector<PartFaults::Most>& most, const std::vector<double>& amps, std::int32_t lost) {
    for (std::size_t g = 0; g < most.size(); ++g)
      if (amps[g] > most[g].amps + (lost < 0 ? 0.0 : kGrown)) most[g] = {amps[g], lost};
  }

  PartLoss read(const Solution& after) const {
    PartLoss loss;
    pixels(loss, after);
    neighbours(loss, after);
    return loss;
  }

  /// Whether the next fuse may open too, and what then.
  void follow(PartLoss& loss, const Network& lost) const {
    loss.follows = loss.gate >= 0 && loss.fuseShare >= kMayOpenFrom;
    if (!loss.follows) return;
    PartLoss next;
    pixels(next, solve(without(lost, part_.gates[static_cast<std::size_t>(loss.gate)].conductor)));
    loss.afterwards = next.dark + next.low;
  }

  void crossing(PartLoss& loss, const Solution& after) const {
    for (const Section& section : sections_)
      for (std::size_t i = 1; i < section.gates.size(); ++i) {
        const PartGate &a = part_.gates[static_cast<std::size_t>(section.gates[i - 1])],
                       &b = part_.gates[static_cast<std::size_t>(section.gates[i])];
        if (a.source < 0 || b.source < 0 || a.source == b.source) continue;
        for (std::int32_t k = a.place + 1; k <= b.place; ++k) {
          const double amps = std::abs(
              after.positiveAmps[static_cast<std::size_t>(section.chain)][static_cast<std::size_t>(k)]);
          if (amps <= loss.crossing) continue;
          loss.crossing = amps;
          loss.crossingChain = section.chain;
          loss.crossingSegment = k;
        }
      }
  }

  const Part& part_;
  const std::vector<Section>& sections_;
  Solution before_;
};

/// Shorts at the ends of a section and half-way between its gates: fuses open one after another, the fastest
/// first, until the short is dead or what is left holds.
class Shorts {
 public:
  Shorts(const Part& part, const Section& section, const std::vector<std::uint8_t>& fed)
      : part_(part), section_(section), fed_(fed) {
    network_ = aloneWith(part.network, section.chain, conductorOf_);
    network_.loads = part.still;
  }

  void run(std::vector<PartShort>& out) const {
    for (const std::int32_t place : places()) {
      if (!fed_[static_cast<std::size_t>(place)]) continue;  // no way back: no current
      std::vector<std::uint8_t> seen(part_.gates.size(), 0);
      for (const std::int32_t gate : section_.gates) seen[static_cast<std::size_t>(gate)] = 1;
      at(place, seen, out);
    }
  }

 private:
  std::vector<std::int32_t> places() const {
    std::vector<std::int32_t> all{section_.first, section_.last};
    for (std::size_t i = 1; i < section_.gates.size(); ++i) all.push_back((place(i - 1) + place(i)) / 2);
    std::sort(all.begin(), all.end());
    all.erase(std::unique(all.begin(), all.end()), all.end());
    return all;
  }
  std::int32_t place(std::size_t i) const {
    return part_.gates[static_cast<std::size_t>(section_.gates[i])].place;
  }

  struct Flow {
    double amps = 0.0;  ///< through the gate, as far as its supply gives it
    bool held = false;  ///< the supply's own protection cuts in
  };
  Flow flow(const Solution& s, const PartGate& gate) const {
    const double amps = std::abs(s.conductorAmps[conductor(gate)]);
    if (gate.source < 0) return {amps, false};
    const double given = s.sourceAmps[static_cast<std::size_t>(gate.source)];
    const double most = kSupplyCutsOff * part_.sourceRated[static_cast<std::size_t>(gate.source)];
    if (most <= 0.0 || given <= most) return {amps, false};
    return {amps * most / given, true};
  }
  std::size_t conductor(const PartGate& gate) const {
    return static_cast<std::size_t>(conductorOf_[static_cast<std::size_t>(gate.conductor)]);
  }

  /// The string's and cable's piece that uses most of its limit.
  void wires(PartShort& found, const Solution& s, const PartGate& gate, double amps) const {
    double most = 0.0;
    const auto consider = [&](double carried, double limit, std::int32_t chain, std::int32_t segment) {
      if (limit <= 0.0 || carried / limit <= most) return;
      most = carried / limit;
      found.wireAmps = carried;
      found.wireLimit = limit;
      found.wireChain = chain;
      found.wireSegment = segment;
    };
    consider(amps, gate.wireLimit, -1, -1);
    const double full = std::abs(s.conductorAmps[conductor(gate)]), share = full > 0.0 ? amps / full : 1.0;
    for (std::int32_t k = std::min(gate.place, found.pixel) + 1; k <= std::max(gate.place, found.pixel); ++k)
      consider(std::abs(s.positiveAmps[0][static_cast<std::size_t>(k)]) * share,
               part_.wireLimits[static_cast<std::size_t>(section_.chain)][static_cast<std::size_t>(k)],
               section_.chain, k);
  }

  static bool graver(const PartShort& a, const PartShort& b, double ratingA) {
    if (b.chain < 0) return true;
    if (a.end != b.end) return a.end > b.end;
    return ratingA > 0.0 && a.amps < b.amps;
  }

  PartShort judged(const Solution& s, std::int32_t gate, std::int32_t pixel, double prospective) const {
    const PartGate& at = part_.gates[static_cast<std::size_t>(gate)];
    const Flow now = flow(s, at);
    PartShort found;
    found.chain = section_.chain;
    found.pixel = pixel;
    found.prospective = prospective;
    found.amps = now.amps;
    const double multiple = at.rating > 0.0 ? now.amps / at.rating : 0.0;
    if (multiple >= kOpensFrom) {
      const OpeningTime time = openingTime(multiple);
      found.least = time.least;
      found.most = time.most;
    } else {
      found.end = now.held ? PartShort::End::SupplyCutsOff : PartShort::End::Stays;
    }
    wires(found, s, at, now.amps);
    return found;
  }

  void at(std::int32_t pixel, std::vector<std::uint8_t> closed, std::vector<PartShort>& out) const {
    Network network = shorted(network_, 0, pixel);
    double prospective = -1.0;
    for (std::size_t left = section_.gates.size(); left > 0; --left) {
      const Solution s = solve(network);
      if (prospective < 0.0) prospective = std::abs(s.conductorAmps.back());
      std::int32_t fastest = -1;
      double soonest = kOpen;
      for (const std::int32_t gate : section_.gates) {
        if (!closed[static_cast<std::size_t>(gate)]) continue;
        const PartShort found = judged(s, gate, pixel, prospective);
        if (found.end == PartShort::End::Clears && found.most < soonest) {
          soonest = found.most;
          fastest = gate;
        }
      }
      for (const std::int32_t gate : section_.gates) {
        const bool decided = gate == fastest || (fastest < 0 && closed[static_cast<std::size_t>(gate)]);
        if (!decided) continue;
        const PartShort found = judged(s, gate, pixel, prospective);
        PartShort& kept = out[static_cast<std::size_t>(gate)];
        if (graver(found, kept, part_.gates[static_cast<std::size_t>(gate)].rating)) kept = found;
      }
      if (fastest < 0) return;
      closed[static_cast<std::size_t>(fastest)] = 0;
      network.conductors[conductor(part_.gates[static_cast<std::size_t>(fastest)])].ohms = kOpen;
    }
  }

  const Part& part_;
  const Section& section_;
  const std::vector<std::uint8_t>& fed_;  ///< pixels of the chain that a supply reaches
  Network network_;
  std::vector<std::int32_t> conductorOf_;
};

}  // namespace

bool same(const Part& a, const Part& b) {
  return a.network.loads == b.network.loads && a.network.extraNodes == b.network.extraNodes &&
         sameAll(a.network.chains, b.network.chains, sameChain) &&
         sameAll(a.network.conductors, b.network.conductors, sameConductor) &&
         sameAll(a.network.sources, b.network.sources, sameSource) && a.still == b.still &&
         a.needs == b.needs && a.wireLimits == b.wireLimits && a.gates == b.gates &&
         a.sourceRated == b.sourceRated;
}

Network without(Network network, std::int32_t conductor) {
  network.conductors[static_cast<std::size_t>(conductor)].ohms = kOpen;
  return network;
}

Network withoutSource(Network network, std::int32_t source) {
  network.sources.erase(network.sources.begin() + source);
  return network;
}

Network shorted(Network network, std::int32_t chain, std::int32_t pixel) {
  const auto c = static_cast<std::size_t>(chain), k = static_cast<std::size_t>(pixel);
  network.conductors.push_back({network.positiveNode(c, k), network.zeroNode(c, k), kShortOhms});
  return network;
}

Network aloneWith(const Network& network, std::int32_t chain, std::vector<std::int32_t>& conductorOf) {
  Network alone;
  alone.loads = network.loads;
  alone.extraNodes = network.extraNodes;
  alone.sources = network.sources;
  const auto c = static_cast<std::size_t>(chain);
  alone.chains.push_back(network.chains[c]);
  const std::int32_t first = network.positiveNode(c, 0),
                     end = first + 2 * static_cast<std::int32_t>(network.chains[c].load.size());
  const auto number = [&](std::int32_t node) {
    if (node < network.extraNodes) return node;
    return node >= first && node < end ? node - first + network.extraNodes : -1;
  };
  conductorOf.assign(network.conductors.size(), -1);
  for (std::size_t i = 0; i < network.conductors.size(); ++i) {
    Conductor conductor = network.conductors[i];
    conductor.a = number(conductor.a);
    conductor.b = number(conductor.b);
    if (conductor.a < 0 || conductor.b < 0) continue;
    conductorOf[i] = static_cast<std::int32_t>(alone.conductors.size());
    alone.conductors.push_back(conductor);
  }
  return alone;
}

PartFaults faultsOf(const Part& part) {
  PartFaults out;
  const std::vector<Section> sections = sectionsOf(part);
  Losses losses(part, sections);
  losses.run(out);
  out.shorts.resize(part.gates.size());
  base::sideBySide(sections.size(), losses.worthThreads(), [&](std::size_t i) {
    const Section& section = sections[i];  // no gate is of two sections
    Shorts(part, section, losses.before().fed[static_cast<std::size_t>(section.chain)]).run(out.shorts);
  });
  return out;
}

}  // namespace yw::circuit
