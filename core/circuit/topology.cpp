#include "core/circuit/topology.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace yw::circuit {

namespace {

/// Relative difference of rail ratios that still counts as one ratio (rounding of length × ohms per metre).
constexpr double kSameRatio = 1e-12;

/// Sets of nodes with fixed volts between the nodes of one set.
class OffsetSets {
 public:
  explicit OffsetSets(std::int32_t count) : parent_(count), offset_(count, 0.0), size_(count, 1) {
    std::iota(parent_.begin(), parent_.end(), 0);
  }
  /// Root of n and the volts of n above it.
  std::pair<std::int32_t, double> find(std::int32_t n) {
    std::int32_t root = n;
    double total = 0.0;
    while (parent_[root] != root) {
      total += offset_[root];
      root = parent_[root];
    }
    for (double left = total; parent_[n] != root && n != root;) {
      const std::int32_t up = parent_[n];
      const double step = offset_[n];
      parent_[n] = root;
      offset_[n] = left;
      left -= step;
      n = up;
    }
    return {root, total};
  }
  /// volts(a) = volts(b) + above; false if the two are joined already.
  bool join(std::int32_t a, std::int32_t b, double above) {
    const auto [ra, oa] = find(a);
    const auto [rb, ob] = find(b);
    if (ra == rb) return false;
    const double rise = ob + above - oa;  // volts(ra) - volts(rb)
    if (size_[ra] <= size_[rb]) {
      parent_[ra] = rb;
      offset_[ra] = rise;
      size_[rb] += size_[ra];
    } else {
      parent_[rb] = ra;
      offset_[rb] = -rise;
      size_[ra] += size_[rb];
    }
    return true;
  }

 private:
  std::vector<std::int32_t> parent_;
  std::vector<double> offset_;
  std::vector<std::int32_t> size_;
};

bool plain(const Chain& chain, std::size_t k) {
  const double p = chain.positive[k], z = chain.zero[k];
  return p > 0.0 && z > 0.0 && std::isfinite(p) && std::isfinite(z);
}

/// Marks the pixels at which the chain itself must be cut: open or bare segments, another ratio of the rails.
void markCuts(const Chain& chain, std::uint8_t* mark) {
  bool before = false;
  double p = 0.0, z = 0.0;
  for (std::size_t k = 1; k < chain.load.size(); ++k) {
    const bool now = plain(chain, k);
    const double p2 = chain.positive[k], z2 = chain.zero[k];
    if (!now) mark[k - 1] = mark[k] = 1;
    if (now && before && std::abs(p * z2 - p2 * z) > kSameRatio * (p * z2)) mark[k - 1] = 1;
    before = now;
    p = p2;
    z = z2;
  }
}

/// Ohms of a whole piece and the share of its 0 V.
void measure(Stretch& s, const Chain& chain) {
  s.positiveOhms = s.zeroOhms = 0.0;
  if (s.from >= 0)
    for (std::int32_t k = s.pixel; k <= s.pixel + s.count; ++k) {
      s.positiveOhms += chain.positive[k];
      s.zeroOhms += chain.zero[k];
    }
  const std::int32_t any = s.step > 0 ? std::max(s.pixel, 1) : s.pixel;
  s.share = chain.zero[any] / (chain.positive[any] + chain.zero[any]);
}

enum class Metal : std::uint8_t { Bare, Resistive, Open };
Metal metal(double ohms) {
  if (ohms <= 0.0) return Metal::Bare;
  return std::isfinite(ohms) ? Metal::Resistive : Metal::Open;
}

class Cutter {
 public:
  Cutter(const Network& network, Topology& t) : network_(network), t_(t) {}

  void run() {
    number();
    mark();
    makePairs();
    cutChains();
    conductorsAndSources();
    classes();
    islands();
    numberUnknowns();
    settleStretches();
    share();
  }

 private:
  void number() {
    t_.pixelBase.assign(1, 0);
    for (const Chain& chain : network_.chains)
      t_.pixelBase.push_back(t_.pixelBase.back() + static_cast<std::int64_t>(chain.load.size()));
  }

  void mark() {
    t_.attached.assign(static_cast<std::size_t>(t_.pixelBase.back()), 0);
    const auto attach = [&](std::int32_t node) {
      if (node >= network_.extraNodes)
        t_.attached[static_cast<std::size_t>((node - network_.extraNodes) / 2)] = 1;
    };
    for (const Conductor& c : network_.conductors) {
      attach(c.a);
      attach(c.b);
    }
    for (const Source& s : network_.sources) {
      attach(s.positive);
      attach(s.zero);
    }
    mark_ = t_.attached;
    for (std::size_t c = 0; c < network_.chains.size(); ++c)
      markCuts(network_.chains[c], mark_.data() + t_.pixelBase[c]);
  }

  void makePairs() {
    pairOf_.assign(mark_.size(), -1);
    for (std::size_t c = 0; c < network_.chains.size(); ++c)
      for (std::int64_t k = t_.pixelBase[c]; k < t_.pixelBase[c + 1]; ++k)
        if (mark_[k]) {
          pairOf_[k] = static_cast<std::int32_t>(t_.pairs.size());
          t_.pairs.push_back(
              {static_cast<std::int32_t>(c), static_cast<std::int32_t>(k - t_.pixelBase[c]), false});
        }
    t_.nodes = network_.extraNodes + 2 * static_cast<std::int32_t>(t_.pairs.size());
  }

  std::int32_t positive(std::int32_t pair) const { return network_.extraNodes + 2 * pair; }
  std::int32_t zero(std::int32_t pair) const { return positive(pair) + 1; }
  std::int32_t topNode(std::int32_t node) const {
    if (node < network_.extraNodes) return node;
    const std::int32_t pair = pairOf_[static_cast<std::size_t>((node - network_.extraNodes) / 2)];
    return positive(pair) + (node - network_.extraNodes) % 2;
  }

  void cutChains() {
    std::size_t next = 0;
    for (std::size_t c = 0; c < network_.chains.size(); ++c) {
      const auto count = static_cast<std::int32_t>(network_.chains[c].load.size());
      std::int32_t last = -1;
      for (; next < t_.pairs.size() && t_.pairs[next].chain == static_cast<std::int32_t>(c); ++next) {
        const auto pair = static_cast<std::int32_t>(next);
        const std::int32_t pixel = t_.pairs[next].pixel;
        if (last < 0 && pixel > 0) addStretch(-1, pair, static_cast<std::int32_t>(c), 0, 1, pixel);
        if (last >= 0) between(last, pair, static_cast<std::int32_t>(c));
        last = pair;
      }
      if (last >= 0 && t_.pairs[last].pixel + 1 < count)
        addStretch(-1, last, static_cast<std::int32_t>(c), count - 1, -1, count - 1 - t_.pairs[last].pixel);
    }
  }

  void between(std::int32_t from, std::int32_t to, std::int32_t c) {
    const std::int32_t a = t_.pairs[from].pixel, b = t_.pairs[to].pixel;
    if (b == a + 1)
      segment(from, to, network_.chains[c], b);
    else
      addStretch(from, to, c, a + 1, 1, b - a - 1);
  }

  void segment(std::int32_t from, std::int32_t to, const Chain& chain, std::int32_t k) {
    const auto rail = [&](std::int32_t a, std::int32_t b, double ohms, bool isPositive) {
      if (ohms <= 0.0)
        candidates_.push_back({a, b, isPositive ? Joint::Of::PositiveSegment : Joint::Of::ZeroSegment, to});
      else if (std::isfinite(ohms))
        t_.resistances.push_back(
            {a, b, ohms, isPositive ? Resistance::Of::PositiveSegment : Resistance::Of::ZeroSegment, to});
    };
    rail(positive(from), positive(to), chain.positive[k], true);
    rail(zero(from), zero(to), chain.zero[k], false);
  }

  void addStretch(std::int32_t from, std::int32_t to, std::int32_t c, std::int32_t pixel, std::int32_t step,
                  std::int32_t count) {
    Stretch s{from, to, c, pixel, step, count};
    measure(s, network_.chains[c]);
    t_.stretches.push_back(s);
  }

  void conductorsAndSources() {
    for (std::size_t i = 0; i < network_.conductors.size(); ++i) {
      const Conductor& c = network_.conductors[i];
      const std::int32_t a = topNode(c.a), b = topNode(c.b), index = static_cast<std::int32_t>(i);
      if (c.ohms <= 0.0)
        candidates_.push_back({a, b, Joint::Of::Conductor, index});
      else if (std::isfinite(c.ohms))
        t_.resistances.push_back({a, b, c.ohms, Resistance::Of::Conductor, index});
    }
    for (std::size_t i = 0; i < network_.sources.size(); ++i) {
      const Source& s = network_.sources[i];
      const std::int32_t p = topNode(s.positive), z = topNode(s.zero), index = static_cast<std::int32_t>(i);
      if (s.ohms <= 0.0)
        candidates_.push_back({z, p, Joint::Of::Source, index});
      else
        t_.feedings.push_back({p, z, s.volts, s.ohms, index});
    }
  }

  /// Joins what has no resistance: conductors and segments first, then ideal sources in their order.
  void classes() {
    OffsetSets sets(t_.nodes);
    for (const Joint& j : candidates_) {
      if (j.of == Joint::Of::Source) continue;
      if (sets.join(j.a, j.b, 0.0)) t_.joints.push_back(j);
    }
    for (const Joint& j : candidates_) {
      if (j.of != Joint::Of::Source) continue;
      const double volts = network_.sources[j.index].volts;
      if (sets.join(j.b, j.a, volts))
        t_.joints.push_back(j);
      else if (std::abs(sets.find(j.b).second - sets.find(j.a).second - volts) > 1e-9)
        t_.feedings.push_back({j.b, j.a, volts, kQuarrelOhms, j.index});
    }
    t_.classOf.assign(t_.nodes, -1);
    t_.offset.assign(t_.nodes, 0.0);
    std::vector<std::int32_t> number(t_.nodes, -1);
    for (std::int32_t n = 0; n < t_.nodes; ++n) {
      const auto [root, volts] = sets.find(n);
      if (number[root] < 0) number[root] = t_.classes++;
      t_.classOf[n] = number[root];
      t_.offset[n] = volts;
    }
  }

  void islands() {
    OffsetSets sets(t_.classes);
    const auto link = [&](std::int32_t a, std::int32_t b) { sets.join(t_.classOf[a], t_.classOf[b], 0.0); };
    for (const Resistance& r : t_.resistances) link(r.a, r.b);
    for (const Feeding& f : t_.feedings) link(f.positive, f.zero);
    for (const Stretch& s : t_.stretches)
      if (s.from >= 0) {
        link(positive(s.from), positive(s.to));
        link(zero(s.from), zero(s.to));
      }
    std::vector<std::int32_t> number(t_.classes, -1);
    for (const Source& s : network_.sources) {
      const std::int32_t z = topNode(s.zero);
      const std::int32_t root = sets.find(t_.classOf[z]).first;
      if (number[root] >= 0) continue;
      number[root] = static_cast<std::int32_t>(t_.islands.size());
      t_.islands.emplace_back().reference = z;
    }
    t_.island.resize(t_.classes);
    for (std::int32_t c = 0; c < t_.classes; ++c) t_.island[c] = number[sets.find(c).first];
  }

  void numberUnknowns() {
    std::vector<double> shift(t_.classes, 0.0);
    std::vector<std::uint8_t> known(t_.classes, 0);
    for (const IslandParts& island : t_.islands) {
      shift[t_.classOf[island.reference]] = t_.offset[island.reference];
      known[t_.classOf[island.reference]] = 1;
    }
    t_.unknown.assign(t_.classes, -1);
    for (std::int32_t c = 0; c < t_.classes; ++c)
      if (t_.island[c] >= 0 && !known[c]) t_.unknown[c] = t_.islands[t_.island[c]].unknowns++;
    for (std::int32_t n = 0; n < t_.nodes; ++n) t_.offset[n] -= shift[t_.classOf[n]];
  }

  /// Hands every fed part to its island.
  void share() {
    const auto give = [&](std::int32_t node, auto list, std::size_t index) {
      const std::int32_t island = t_.islandOf(node);
      if (island >= 0) (t_.islands[island].*list).push_back(static_cast<std::int32_t>(index));
    };
    for (std::size_t i = 0; i < t_.pairs.size(); ++i)
      if (t_.pairs[i].fed) give(positive(static_cast<std::int32_t>(i)), &IslandParts::pairs, i);
    for (std::size_t i = 0; i < t_.stretches.size(); ++i)
      if (t_.stretches[i].fed) give(positive(t_.stretches[i].to), &IslandParts::stretches, i);
    for (std::size_t i = 0; i < t_.resistances.size(); ++i)
      give(t_.resistances[i].a, &IslandParts::resistances, i);
    for (std::size_t i = 0; i < t_.feedings.size(); ++i) give(t_.feedings[i].zero, &IslandParts::feedings, i);
  }

  bool fed(std::int32_t pair) const {
    const std::int32_t island = t_.islandOf(positive(pair));
    return island >= 0 && island == t_.islandOf(zero(pair));
  }

  /// Marks what is fed; rails of a stretch whose pixels are not fed still carry current on their own.
  void settleStretches() {
    for (std::size_t i = 0; i < t_.pairs.size(); ++i) t_.pairs[i].fed = fed(static_cast<std::int32_t>(i));
    for (std::size_t i = 0; i < t_.stretches.size(); ++i) {
      Stretch& s = t_.stretches[i];
      s.fed = t_.pairs[s.to].fed;
      if (s.fed || s.from < 0) continue;
      const auto index = static_cast<std::int32_t>(i);
      t_.resistances.push_back(
          {positive(s.from), positive(s.to), s.positiveOhms, Resistance::Of::PositiveStretch, index});
      t_.resistances.push_back({zero(s.from), zero(s.to), s.zeroOhms, Resistance::Of::ZeroStretch, index});
    }
  }

  const Network& network_;
  Topology& t_;
  std::vector<std::uint8_t> mark_;
  std::vector<std::int32_t> pairOf_;
  std::vector<Joint> candidates_;
};

}  // namespace

Topology topologyOf(const Network& network) {
  Topology t;
  Cutter(network, t).run();
  return t;
}

bool sameCuts(const Network& network, const Topology& t, std::size_t chain, const Chain& with) {
  const Chain& old = network.chains[chain];
  if (old.load.size() != with.load.size()) return false;
  for (std::size_t k = 1; k < old.load.size(); ++k)
    if (metal(old.positive[k]) != metal(with.positive[k]) || metal(old.zero[k]) != metal(with.zero[k]))
      return false;
  const auto from = t.attached.begin() + t.pixelBase[chain], to = t.attached.begin() + t.pixelBase[chain + 1];
  std::vector<std::uint8_t> before(from, to), after = before;
  markCuts(old, before.data());
  markCuts(with, after.data());
  return before == after;
}

void renewValues(const Network& network, Topology& t, std::span<const std::uint8_t> chains) {
  for (Stretch& s : t.stretches)
    if (chains[static_cast<std::size_t>(s.chain)] != 0) measure(s, network.chains[s.chain]);
  const auto segment = [&](std::int32_t pair, bool positive) {
    const Chain& chain = network.chains[t.pairs[pair].chain];
    return (positive ? chain.positive : chain.zero)[t.pairs[pair].pixel];
  };
  for (Resistance& r : t.resistances) switch (r.of) {
      case Resistance::Of::Conductor:
        r.ohms = network.conductors[r.index].ohms;
        break;
      case Resistance::Of::PositiveSegment:
        r.ohms = segment(r.index, true);
        break;
      case Resistance::Of::ZeroSegment:
        r.ohms = segment(r.index, false);
        break;
      case Resistance::Of::PositiveStretch:
        r.ohms = t.stretches[r.index].positiveOhms;
        break;
      case Resistance::Of::ZeroStretch:
        r.ohms = t.stretches[r.index].zeroOhms;
        break;
    }
  for (Feeding& f : t.feedings) {
    const Source& source = network.sources[f.source];
    f.volts = source.volts;
    if (source.ohms > 0.0) f.ohms = source.ohms;
  }
}

}  // namespace yw::circuit
