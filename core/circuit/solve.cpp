// From a network to its answer: topology, one Newton iteration an island, then every current from the volts
// and a check of Kirchhoff's law at every node with them.
#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

#include "core/circuit/engine.h"
#include "core/circuit/island.h"
#include "core/circuit/load_curve.h"
#include "core/circuit/network.h"
#include "core/circuit/topology.h"

namespace yw::circuit {

namespace {

/// A sum that keeps what rounding takes (Kahan, 1965), so that a stretch of any length ends where it must.
class Running {
 public:
  explicit Running(double first) : sum_(first) {}
  void add(double value) {
    const double exact = value - lost_, next = sum_ + exact;
    lost_ = (next - sum_) - exact;
    sum_ = next;
  }
  double sum() const { return sum_; }

 private:
  double sum_, lost_ = 0.0;
};

bool resistive(double ohms) { return ohms > 0.0 && std::isfinite(ohms); }

class Filler {
 public:
  Filler(const Network& network, const Topology& topology, std::span<const LoadCurve> curves,
         std::span<const double> pixelVolts, Solution& s)
      : network_(network),
        t_(topology),
        s_(s),
        curves_(curves),
        pixelVolts_(pixelVolts),
        nodeVolts_(t_.nodes, 0.0),
        drawn_(t_.nodes, 0.0) {}

  void run(std::span<const std::unique_ptr<Island>> islands) {
    sizeUp();
    takeIslands(islands);
    fillChains();
    lines();
    joints();
    check();
    states();
  }

 private:
  void sizeUp() {
    const std::size_t chains = network_.chains.size();
    s_.volts.resize(chains);
    for (std::size_t c = 0; c < chains; ++c) s_.volts[c].assign(network_.chains[c].load.size(), 0.0);
    s_.zeroVolts = s_.positiveAmps = s_.zeroAmps = s_.volts;
    s_.fed.resize(chains);
    for (std::size_t c = 0; c < chains; ++c) s_.fed[c].assign(network_.chains[c].load.size(), 0);
    s_.conductorAmps.assign(network_.conductors.size(), 0.0);
    s_.sourceAmps.assign(network_.sources.size(), 0.0);
    s_.chainStates.resize(chains);
  }

  void takeIslands(std::span<const std::unique_ptr<Island>> islands) {
    for (const auto& island : islands) {
      answers_.push_back(island->answer());
      s_.steps = std::max(s_.steps, answers_.back().steps);
    }
    for (std::int32_t n = 0; n < t_.nodes; ++n) {
      const std::int32_t island = t_.islandOf(n), unknown = t_.unknownOf(n);
      if (island < 0) continue;
      nodeVolts_[n] = t_.offset[n] + (unknown < 0 ? 0.0 : islands[island]->unknowns()[unknown]);
    }
    s_.nodeVolts.assign(nodeVolts_.begin(), nodeVolts_.begin() + network_.extraNodes);
  }

  /// Volts of every pixel's two rails, then currents of the stretches' segments.
  void fillChains() {
    positive_ = s_.volts;
    for (std::size_t i = 0; i < t_.pairs.size(); ++i) {
      const Pair& pair = t_.pairs[i];
      const std::int32_t p = t_.positiveNode(static_cast<std::int32_t>(i));
      setPixel(pair.chain, pair.pixel, nodeVolts_[p], nodeVolts_[p + 1], pair.fed);
    }
    for (const Stretch& s : t_.stretches) s.fed ? fillFed(s) : fillRails(s);
    for (const Stretch& s : t_.stretches) stretchAmps(s);
  }

  void setPixel(std::int32_t chain, std::int32_t pixel, double p, double z, bool fed) {
    positive_[chain][pixel] = p;
    s_.zeroVolts[chain][pixel] = z;
    s_.fed[chain][pixel] = fed ? 1 : 0;
    if (fed) s_.volts[chain][pixel] = pixelVolts_[t_.pixelBase[chain] + pixel];
  }

  double common(std::int32_t pair, double share) const {
    const std::int32_t p = t_.positiveNode(pair);
    return share * nodeVolts_[p] + (1.0 - share) * nodeVolts_[p + 1];
  }

  void fillFed(const Stretch& s) {
    const Chain& chain = network_.chains[s.chain];
    Running w(common(s.from >= 0 ? s.from : s.to, s.share));
    const double amps = s.from >= 0 ? (w.sum() - common(s.to, s.share)) / s.commonOhms() : 0.0;
    for (std::int32_t q = 0, k = s.pixel; q < s.count; ++q, k += s.step) {
      const double p = chain.positive[k], z = chain.zero[k];
      if (s.from >= 0) w.add(-amps * (p * z / (p + z)));
      const double v = pixelVolts_[t_.pixelBase[s.chain] + k];
      setPixel(s.chain, k, w.sum() + (1.0 - s.share) * v, w.sum() - s.share * v, true);
    }
  }

  /// Rails of a stretch whose pixels draw nothing.
  void fillRails(const Stretch& s) {
    const Chain& chain = network_.chains[s.chain];
    const std::int32_t from = t_.positiveNode(s.from >= 0 ? s.from : s.to), to = t_.positiveNode(s.to);
    Running p(nodeVolts_[from]), z(nodeVolts_[from + 1]);
    const double positiveAmps = s.from >= 0 ? (p.sum() - nodeVolts_[to]) / s.positiveOhms : 0.0;
    const double zeroAmps = s.from >= 0 ? (z.sum() - nodeVolts_[to + 1]) / s.zeroOhms : 0.0;
    for (std::int32_t q = 0, k = s.pixel; q < s.count; ++q, k += s.step) {
      if (s.from >= 0) {
        p.add(-positiveAmps * chain.positive[k]);
        z.add(-zeroAmps * chain.zero[k]);
      }
      setPixel(s.chain, k, p.sum(), z.sum(), false);
    }
  }

  void stretchAmps(const Stretch& s) {
    const Chain& chain = network_.chains[s.chain];
    const std::int32_t first = s.step > 0 ? (s.from >= 0 ? s.pixel : s.pixel + 1) : t_.pairs[s.to].pixel + 1;
    const std::int32_t last = s.step > 0 ? s.pixel + s.count : s.pixel;
    for (std::int32_t k = first; k <= last; ++k) {
      s_.positiveAmps[s.chain][k] = (positive_[s.chain][k - 1] - positive_[s.chain][k]) / chain.positive[k];
      s_.zeroAmps[s.chain][k] = (s_.zeroVolts[s.chain][k - 1] - s_.zeroVolts[s.chain][k]) / chain.zero[k];
    }
  }

  void line(std::int32_t a, std::int32_t b, double amps) {
    drawn_[a] += amps;
    drawn_[b] -= amps;
  }

  void lines() {
    for (const Resistance& r : t_.resistances) {
      if (r.of == Resistance::Of::PositiveStretch || r.of == Resistance::Of::ZeroStretch) continue;
      const double amps = t_.islandOf(r.a) < 0 ? 0.0 : (nodeVolts_[r.a] - nodeVolts_[r.b]) / r.ohms;
      line(r.a, r.b, amps);
      if (r.of == Resistance::Of::Conductor) s_.conductorAmps[r.index] = amps;
      if (r.of == Resistance::Of::PositiveSegment) segment(s_.positiveAmps, r.index) = amps;
      if (r.of == Resistance::Of::ZeroSegment) segment(s_.zeroAmps, r.index) = amps;
    }
    for (const Feeding& f : t_.feedings) {
      const double amps = (f.volts - (nodeVolts_[f.positive] - nodeVolts_[f.zero])) / f.ohms;
      line(f.zero, f.positive, amps);
      s_.sourceAmps[f.source] = amps;
    }
    for (const Stretch& s : t_.stretches) stretchEnds(s);
    for (std::size_t i = 0; i < t_.pairs.size(); ++i) {
      const Pair& pair = t_.pairs[i];
      if (!pair.fed) continue;
      const std::int32_t p = t_.positiveNode(static_cast<std::int32_t>(i));
      const double volts = nodeVolts_[p] - nodeVolts_[p + 1];
      line(p, p + 1, curves_[network_.chains[pair.chain].load[pair.pixel]].amps(volts));
    }
  }

  double& segment(std::vector<std::vector<double>>& amps, std::int32_t pair) const {
    return amps[t_.pairs[pair].chain][t_.pairs[pair].pixel];
  }

  void stretchEnds(const Stretch& s) {
    const auto leave = [&](std::int32_t pair, std::int32_t seg, double sign) {
      const std::int32_t p = t_.positiveNode(pair);
      drawn_[p] += sign * s_.positiveAmps[s.chain][seg];
      drawn_[p + 1] += sign * s_.zeroAmps[s.chain][seg];
    };
    const std::int32_t to = t_.pairs[s.to].pixel;
    if (s.from >= 0) leave(s.from, s.pixel, 1.0);
    s.step > 0 ? leave(s.to, to, -1.0) : leave(s.to, to + 1, 1.0);
  }

  /// Currents of joints without resistance: from the leaves of each joined group inwards.
  void joints() {
    std::vector<std::vector<std::int32_t>> at(t_.nodes);
    for (std::size_t j = 0; j < t_.joints.size(); ++j) {
      at[t_.joints[j].a].push_back(static_cast<std::int32_t>(j));
      at[t_.joints[j].b].push_back(static_cast<std::int32_t>(j));
    }
    std::vector<std::size_t> left(t_.nodes);
    std::vector<std::uint8_t> done(t_.joints.size(), 0);
    std::vector<std::int32_t> leaves;
    for (std::int32_t n = 0; n < t_.nodes; ++n) {
      left[n] = at[n].size();
      if (left[n] == 1) leaves.push_back(n);
    }
    for (std::size_t next = 0; next < leaves.size(); ++next) {
      const std::int32_t n = leaves[next];
      for (const std::int32_t j : at[n]) {
        if (done[j]) continue;
        done[j] = 1;
        const Joint& joint = t_.joints[j];
        const double in = t_.islandOf(n) < 0 ? 0.0 : drawn_[n];
        setJoint(joint, joint.b == n ? in : -in);
        const std::int32_t other = joint.a == n ? joint.b : joint.a;
        drawn_[other] += in;
        drawn_[n] = 0.0;
        if (--left[other] == 1) leaves.push_back(other);
      }
    }
  }

  void setJoint(const Joint& joint, double amps) {
    switch (joint.of) {
      case Joint::Of::Conductor:
        s_.conductorAmps[joint.index] = amps;
        break;
      case Joint::Of::Source:
        s_.sourceAmps[joint.index] = amps;
        break;
      case Joint::Of::PositiveSegment:
        segment(s_.positiveAmps, joint.index) = amps;
        break;
      case Joint::Of::ZeroSegment:
        segment(s_.zeroAmps, joint.index) = amps;
        break;
    }
  }

  /// Largest current that Kirchhoff's law leaves over at any node.
  void check() {
    double worst = 0.0;
    for (std::int32_t n = 0; n < t_.nodes; ++n)
      if (t_.islandOf(n) >= 0) worst = std::max(worst, std::abs(drawn_[n]));
    for (const Stretch& s : t_.stretches) {
      const Chain& chain = network_.chains[s.chain];
      const auto &positive = s_.positiveAmps[s.chain], &zero = s_.zeroAmps[s.chain];
      for (std::int32_t q = 0, k = s.pixel; q < s.count; ++q, k += s.step) {
        const bool end = k + 1 == static_cast<std::int32_t>(chain.load.size());
        const double volts = positive_[s.chain][k] - s_.zeroVolts[s.chain][k];
        const double load = s.fed ? curves_[chain.load[k]].amps(volts) : 0.0;
        worst = std::max(worst, std::abs(positive[k] - (end ? 0.0 : positive[k + 1]) - load));
        worst = std::max(worst, std::abs(zero[k] - (end ? 0.0 : zero[k + 1]) + load));
      }
    }
    s_.residual = worst;
    assert(balanced());
  }

  /// In debug builds: Kirchhoff's law to 1e-9 of the largest current, and what the sources give to 1e-9 of
  /// what metal and pixels take.
  [[maybe_unused]] bool balanced() const {
    double mostAmps = 1.0, given = 0.0, taken = 0.0;  // volts over milliohms round to 1e-12 A
    const auto heat = [&](double amps, double ohms) {
      mostAmps = std::max(mostAmps, std::abs(amps));
      if (ohms > 0.0 && std::isfinite(ohms)) taken += amps * amps * ohms;
    };
    for (std::size_t i = 0; i < network_.sources.size(); ++i) {
      const Source& source = network_.sources[i];
      given += s_.sourceAmps[i] * source.volts;
      heat(s_.sourceAmps[i], source.ohms);
    }
    for (const Feeding& f : t_.feedings)  // a shorted ideal source has got a resistance
      if (network_.sources[f.source].ohms <= 0.0) heat(s_.sourceAmps[f.source], f.ohms);
    for (std::size_t i = 0; i < network_.conductors.size(); ++i)
      heat(s_.conductorAmps[i], network_.conductors[i].ohms);
    for (std::size_t c = 0; c < network_.chains.size(); ++c)
      for (std::size_t k = 0; k < network_.chains[c].load.size(); ++k) {
        heat(s_.positiveAmps[c][k], network_.chains[c].positive[k]);
        heat(s_.zeroAmps[c][k], network_.chains[c].zero[k]);
        if (s_.fed[c][k]) taken += s_.volts[c][k] * curves_[network_.chains[c].load[k]].amps(s_.volts[c][k]);
      }
    constexpr double kRelative = 1e-9;
    return s_.residual <= kRelative * mostAmps && std::abs(given - taken) <= kRelative * std::max(1.0, taken);
  }

  void states() {
    using State = Solution::State;
    const auto worse = [](State a, State b) {
      return a == State::NoOperatingPoint || (a == State::Open && b == State::Solved);
    };
    std::vector<std::int32_t> islandOfChain(network_.chains.size(), -1);
    for (std::size_t i = 0; i < t_.pairs.size(); ++i) {
      if (!t_.pairs[i].fed) continue;
      std::int32_t& island = islandOfChain[t_.pairs[i].chain];
      if (island < 0 || answers_[island].operating)
        island = t_.islandOf(t_.positiveNode(static_cast<std::int32_t>(i)));
    }
    for (std::size_t c = 0; c < network_.chains.size(); ++c) {
      Solution::ChainState& chain = s_.chainStates[c];
      for (const std::uint8_t fed : s_.fed[c])
        if (!fed) chain.state = State::Open;
      if (islandOfChain[c] >= 0) sick(c, answers_[islandOfChain[c]]);
      if (worse(chain.state, s_.state)) s_.state = chain.state;
    }
    for (const Island::Answer& answer : answers_) {
      if (answer.operating || answer.loadFactor >= s_.loadFactor) continue;
      s_.state = State::NoOperatingPoint;
      s_.loadFactor = answer.loadFactor;
      s_.weakestChain = answer.weakestChain;
      s_.weakestPixel = answer.weakestPixel;
    }
  }

  void sick(std::size_t c, const Island::Answer& answer) {
    if (answer.operating) return;
    for (std::size_t k = 0; k < s_.volts[c].size(); ++k) {
      const LoadCurve& curve = curves_[network_.chains[c].load[k]];
      if (!s_.fed[c][k] || !curve.regulated() || s_.volts[c][k] >= curve.cut()) continue;
      s_.chainStates[c] = {Solution::State::NoOperatingPoint, answer.loadFactor,
                           static_cast<std::size_t>(answer.weakestChain),
                           static_cast<std::size_t>(answer.weakestPixel)};
      return;
    }
  }

  const Network& network_;
  const Topology& t_;
  Solution& s_;
  std::span<const LoadCurve> curves_;
  std::span<const double> pixelVolts_;
  std::vector<double> nodeVolts_;
  std::vector<double> drawn_;  ///< A that leaves each node
  std::vector<std::vector<double>> positive_;
  std::vector<Island::Answer> answers_;
};

}  // namespace

Engine::Engine(Network network) : network_(std::move(network)) {}
Engine::~Engine() = default;
Engine::Engine(Engine&&) noexcept = default;
Engine& Engine::operator=(Engine&&) noexcept = default;

void Engine::setLoads(std::vector<Load> loads) {
  if (loads.size() != network_.loads.size()) rebuild_ = true;
  loadsStale_ = true;
  network_.loads = std::move(loads);
}

void Engine::setChain(std::size_t chain, Chain with) {
  rebuild_ = rebuild_ || !sameCuts(network_, *topology_, chain, with);
  network_.chains[chain] = std::move(with);
  valuesStale_ = true;
  if (!rebuild_) chainStale_[chain] = 1;
}

void Engine::setConductor(std::size_t conductor, double ohms) {
  Conductor& c = network_.conductors[conductor];
  rebuild_ = rebuild_ || !resistive(c.ohms) || !resistive(ohms);
  c.ohms = ohms;
  touch(c.a);
  touch(c.b);
}

void Engine::setSource(std::size_t source, double volts, double ohms) {
  Source& s = network_.sources[source];
  rebuild_ = rebuild_ || !resistive(s.ohms) || !resistive(ohms);
  s.volts = volts;
  s.ohms = ohms;
  touch(s.positive);
  touch(s.zero);
}

void Engine::makeCurves() {
  curves_.clear();
  curves_.reserve(network_.loads.size());
  for (const Load& load : network_.loads) curves_.emplace_back(load);
}

void Engine::build() {
  ++builds_;
  makeCurves();
  islands_.clear();
  topology_ = std::make_unique<Topology>(topologyOf(network_));
  std::vector<std::int32_t> localPair(topology_->pairs.size(), -1);
  for (std::size_t i = 0; i < topology_->islands.size(); ++i) {
    islands_.push_back(
        std::make_unique<Island>(network_, *topology_, curves_, static_cast<std::int32_t>(i), localPair));
    islands_.back()->solve();
  }
  pixelVolts_.assign(static_cast<std::size_t>(topology_->pixelBase.back()), 0.0);
  chainStale_.assign(network_.chains.size(), 0);
  islandStale_.assign(islands_.size(), 0);
}

/// What a change at this node may reach.
void Engine::touch(std::int32_t node) {
  valuesStale_ = true;
  if (rebuild_) return;
  if (node < network_.extraNodes) {
    if (const std::int32_t island = topology_->islandOf(node); island >= 0) islandStale_[island] = 1;
    return;
  }
  const std::int64_t pixel = (node - network_.extraNodes) / 2;
  const auto after = std::upper_bound(topology_->pixelBase.begin(), topology_->pixelBase.end(), pixel);
  chainStale_[static_cast<std::size_t>(after - topology_->pixelBase.begin()) - 1] = 1;
}

/// False if the structure does not fit any more.
bool Engine::renew() {
  if (loadsStale_) makeCurves();
  renewValues(network_, *topology_, chainStale_);
  for (std::size_t i = 0; i < topology_->pairs.size(); ++i) {
    if (chainStale_[topology_->pairs[i].chain] == 0) continue;
    const std::int32_t p = topology_->positiveNode(static_cast<std::int32_t>(i));
    for (const std::int32_t node : {p, p + 1})
      if (const std::int32_t island = topology_->islandOf(node); island >= 0) islandStale_[island] = 1;
  }
  for (std::size_t i = 0; i < islands_.size(); ++i) {
    if (islandStale_[i] == 0 && !loadsStale_) continue;
    if (!islands_[i]->renew(network_, chainStale_, loadsStale_)) return false;
    islands_[i]->solve();
  }
  return true;
}

void Engine::settle() {
  if (!rebuild_ && !valuesStale_ && !loadsStale_) return;
  if (rebuild_ || !renew()) build();
  for (const auto& island : islands_) island->write(pixelVolts_);
  std::fill(chainStale_.begin(), chainStale_.end(), std::uint8_t{0});
  std::fill(islandStale_.begin(), islandStale_.end(), std::uint8_t{0});
  rebuild_ = valuesStale_ = loadsStale_ = false;
}

std::span<const double> Engine::pixelVolts() {
  settle();
  return pixelVolts_;
}

Solution Engine::solution() {
  settle();
  Solution solution;
  Filler(network_, *topology_, curves_, pixelVolts_, solution).run(islands_);
  return solution;
}

Solution solve(const Network& network) { return Engine(network).solution(); }

}  // namespace yw::circuit
