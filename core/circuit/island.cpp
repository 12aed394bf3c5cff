#include "core/circuit/island.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace yw::circuit {

Island::Island(const Network& network, const Topology& topology, std::span<const LoadCurve> curves,
               std::int32_t number, std::span<std::int32_t> localPair)
    : topology_(topology), parts_(topology.islands[number]), curves_(curves), system_(parts_.unknowns) {
  addPairs(network, localPair);
  addStretches(network, localPair);
  addLines();
  announceAll();
  findSlots();
  stampFixed();
  findMostVolts();
  now_.top.assign(parts_.unknowns, 0.0);
  now_.pairVolts.assign(pairs_.size(), 0.0);
  now_.pairRegion.assign(pairs_.size(), 0);
  now_.volts.assign(inner_.size(), 0.0);
  now_.region.assign(inner_.size(), 0);
  nextTop_ = now_.top;
  nextPairVolts_ = now_.pairVolts;
  right_ = fixedRight_;
}

/// A source without resistance shows in what its nodes are offset by.
void Island::findMostVolts() {
  mostVolts_ = 0.0;
  const auto note = [&](double volts) { mostVolts_ = std::max(mostVolts_, std::abs(volts)); };
  for (const std::int32_t index : parts_.feedings) note(topology_.feedings[index].volts);
  for (const PairPart& pair : pairs_) note(pair.fixed);
  for (const std::int32_t index : parts_.resistances)
    for (const std::int32_t node : {topology_.resistances[index].a, topology_.resistances[index].b})
      note(topology_.offset[node]);
}

bool Island::renew(const Network& network, std::span<const std::uint8_t> chains, bool loads) {
  for (PairPart& part : pairs_) {
    const bool before = part.regulated;
    takeCurve(part, network);
    if (part.regulated != before) return false;
  }
  lines_.clear();
  commons_.clear();
  addLines();
  for (const std::int32_t index : parts_.stretches)
    if (topology_.stretches[index].from >= 0) addCommon(topology_.stretches[index]);
  stampFixed();
  findMostVolts();
  return inner_.renew(network, topology_, chains, loads);
}

void Island::takeCurve(PairPart& part, const Network& network) const {
  const Pair& pair = topology_.pairs[part.pair];
  part.curve = network.chains[pair.chain].load[pair.pixel];
  part.regulated = curves_[part.curve].regulated();
}

void Island::addPairs(const Network& network, std::span<std::int32_t> localPair) {
  pairs_.reserve(parts_.pairs.size());
  for (const std::int32_t index : parts_.pairs) {
    localPair[index] = static_cast<std::int32_t>(pairs_.size());
    const std::int32_t p = topology_.positiveNode(index), z = p + 1;
    PairPart part{};
    part.pair = index;
    takeCurve(part, network);
    part.p = topology_.unknownOf(p);
    part.z = topology_.unknownOf(z);
    part.fixed = topology_.offset[p] - topology_.offset[z];
    pairs_.push_back(part);
  }
}

void Island::addStretches(const Network& network, std::span<const std::int32_t> localPair) {
  std::vector<Inner::Piece> pieces;
  pieces.reserve(parts_.stretches.size());
  for (const std::int32_t index : parts_.stretches) {
    const Stretch& s = topology_.stretches[index];
    const Chain& chain = network.chains[s.chain];
    Inner::Piece piece{};
    piece.stretch = index;
    piece.from = s.from < 0 ? -1 : localPair[s.from];
    piece.to = localPair[s.to];
    piece.count = s.count;
    if (s.from >= 0) {
      piece.firstOhms = chain.positive[s.pixel] + chain.zero[s.pixel];
      addCommon(s);
    }
    pieces.push_back(piece);
  }
  inner_.lay(std::move(pieces), network, topology_, curves_);
}

void Island::addCommon(const Stretch& s) {
  const std::int32_t a = topology_.positiveNode(s.from), b = topology_.positiveNode(s.to);
  const std::array<std::int32_t, 4> node{a, a + 1, b, b + 1};
  CommonPart common{{}, {s.share, 1.0 - s.share, -s.share, s.share - 1.0}, 1.0 / s.commonOhms(), 0.0};
  for (int k = 0; k < 4; ++k) {
    common.at[k] = topology_.unknownOf(node[k]);
    common.fixed += common.weight[k] * topology_.offset[node[k]];
  }
  commons_.push_back(common);
}

void Island::addLines() {
  const auto add = [&](std::int32_t a, std::int32_t b, double ohms, double volts) {
    const std::int32_t ua = topology_.unknownOf(a), ub = topology_.unknownOf(b);
    if (ua != ub) lines_.push_back({ua, ub, 1.0 / ohms, topology_.offset[a] - topology_.offset[b] - volts});
  };
  for (const std::int32_t index : parts_.resistances) {
    const Resistance& r = topology_.resistances[index];
    add(r.a, r.b, r.ohms, 0.0);
  }
  for (const std::int32_t index : parts_.feedings) {
    const Feeding& f = topology_.feedings[index];
    add(f.positive, f.zero, f.ohms, f.volts);
  }
}

void Island::announceAll() {
  const auto announce = [&](std::int32_t i, std::int32_t j) {
    if (i >= 0 && j >= 0 && i != j) system_.announce(i, j);
  };
  for (const PairPart& pair : pairs_) announce(pair.p, pair.z);
  for (const LinePart& line : lines_) announce(line.a, line.b);
  for (const CommonPart& common : commons_)
    for (int i = 0; i < 4; ++i)
      for (int j = 0; j < i; ++j) announce(common.at[i], common.at[j]);
  for (const PairPart& pair : pairs_)
    if (pair.p >= 0 && pair.z >= 0) system_.couple(pair.p, pair.z);
  std::vector<std::uint8_t> varies(pairs_.size(), 0);
  for (std::size_t i = 0; i < pairs_.size(); ++i) varies[i] = pairs_[i].regulated ? 1 : 0;
  for (std::size_t i = inner_.firstCurvedPiece(); i < inner_.pieces().size(); ++i) {
    const Inner::Piece& piece = inner_.pieces()[i];
    varies[piece.to] = 1;
    if (piece.from >= 0) varies[piece.from] = 1;
  }
  for (std::size_t i = 0; i < pairs_.size(); ++i) {
    if (varies[i] == 0) continue;
    varying_.push_back(static_cast<std::int32_t>(i));
    for (const std::int32_t unknown : {pairs_[i].p, pairs_[i].z})
      if (unknown >= 0) system_.vary(unknown);
  }
  system_.close();
  const auto slot = [&](std::int32_t i, std::int32_t j) { return i < 0 || j < 0 ? -1 : system_.slot(i, j); };
  for (PairPart& pair : pairs_) {
    const bool apart = pair.p != pair.z;
    pair.pp = apart ? slot(pair.p, pair.p) : -1;
    pair.zz = apart ? slot(pair.z, pair.z) : -1;
    pair.pz = apart ? slot(pair.p, pair.z) : -1;
  }
  crosses_.reserve(inner_.pieces().size());
  for (const Inner::Piece& piece : inner_.pieces()) {
    CrossPart cross{{-1, -1, -1, -1}, {}};
    if (piece.from >= 0) {
      const PairPart &a = pairs_[piece.from], &b = pairs_[piece.to];
      const std::array<std::pair<std::int32_t, std::int32_t>, 4> place{
          {{a.p, b.p}, {a.p, b.z}, {a.z, b.p}, {a.z, b.z}}};
      for (int k = 0; k < 4; ++k) {
        cross.slot[k] = slot(place[k].first, place[k].second);
        cross.factor[k] = (k == 0 || k == 3 ? 1.0 : -1.0) * (place[k].first == place[k].second ? 2.0 : 1.0);
      }
    }
    crosses_.push_back(cross);
  }
}

void Island::findSlots() {
  const auto slot = [&](std::int32_t i, std::int32_t j) { return i < 0 || j < 0 ? -1 : system_.slot(i, j); };
  for (const LinePart& line : lines_)
    lineSlots_.push_back({slot(line.a, line.a), slot(line.b, line.b), slot(line.a, line.b)});
  for (const CommonPart& common : commons_) {
    auto& slots = commonSlots_.emplace_back();
    std::size_t next = 0;
    for (int i = 0; i < 4; ++i)
      for (int j = 0; j <= i; ++j) slots[next++] = slot(common.at[i], common.at[j]);
  }
}

void Island::stampFixed() {
  fixedValues_.assign(system_.values().size(), 0.0);
  fixedRight_.assign(parts_.unknowns, 0.0);
  for (const std::int32_t one : system_.ones()) fixedValues_[one] = 1.0;
  const auto add = [&](std::int32_t slot, double value) {
    if (slot >= 0) fixedValues_[slot] += value;
  };
  const auto right = [&](std::int32_t i, double amps) {
    if (i >= 0) fixedRight_[i] -= amps;
  };
  for (std::size_t k = 0; k < lines_.size(); ++k) {
    const LinePart& line = lines_[k];
    add(lineSlots_[k][0], line.siemens);
    add(lineSlots_[k][1], line.siemens);
    add(lineSlots_[k][2], -line.siemens);
    right(line.a, line.siemens * line.fixed);
    right(line.b, -line.siemens * line.fixed);
  }
  for (std::size_t k = 0; k < commons_.size(); ++k) {
    const CommonPart& common = commons_[k];
    std::size_t next = 0;
    for (int i = 0; i < 4; ++i) {
      for (int j = 0; j <= i; ++j) {
        // Two ends that are one unknown meet twice on its diagonal.
        const double times = j < i && common.at[i] == common.at[j] ? 2.0 : 1.0;
        add(commonSlots_[k][next++], times * common.siemens * common.weight[i] * common.weight[j]);
      }
      right(common.at[i], common.siemens * common.weight[i] * common.fixed);
    }
  }
}

void Island::setRegion(std::size_t pair, std::uint8_t region) {
  const LoadCurve& curve = curves_[pairs_[pair].curve];
  now_.pairRegion[pair] = region;
  pairs_[pair].low = curve.low(region);
  pairs_[pair].high = curve.high(region);
}

void Island::setLines(Slopes slopes, double factor) {
  topStale_ = true;
  for (std::size_t i = 0; i < pairs_.size(); ++i) {
    setRegion(i, now_.pairRegion[i]);
    const LoadLine l =
        straight(curves_[pairs_[i].curve], now_.pairRegion[i], now_.pairVolts[i], slopes, factor);
    pairs_[i].lineSlope = l.slope;
    pairs_[i].lineStart = l.start;
  }
  inner_.setLines(slopes, factor, now_.volts, now_.region);
}

void Island::stampStretches(std::span<double> values, std::size_t begin, std::size_t end) {
  for (std::size_t i = begin; i < end; ++i) {
    const Inner::Piece& piece = inner_.pieces()[i];
    const LaneEnds& ends = inner_.ends(piece);
    const std::size_t lane = piece.lane();
    PairPart& to = pairs_[piece.to];
    to.slope += ends.self[lane];
    to.start += ends.start[lane];
    if (piece.from < 0) continue;
    PairPart& from = pairs_[piece.from];
    const double mutual = ends.mutual[lane];
    from.slope += ends.fromSelf[lane];
    from.start += ends.fromStart[lane] + mutual * to.fixed;
    to.start += mutual * from.fixed;
    for (int k = 0; k < 4; ++k)
      if (crosses_[i].slot[k] >= 0) values[crosses_[i].slot[k]] += crosses_[i].factor[k] * mutual;
  }
}

template <class Right>
void Island::stampPair(const PairPart& pair, std::span<double> values, Right&& right) {
  if (pair.p == pair.z) return;
  if (pair.pp >= 0) values[pair.pp] += pair.slope;
  if (pair.zz >= 0) values[pair.zz] += pair.slope;
  if (pair.pz >= 0) values[pair.pz] -= pair.slope;
  const double drawn = pair.slope * pair.fixed + pair.start;
  if (pair.p >= 0) right(pair.p) -= drawn;
  if (pair.z >= 0) right(pair.z) += drawn;
}

/// All that regulated loads have no part in.
bool Island::beginTop() {
  const std::span<double> values = system_.values();
  std::copy(fixedValues_.begin(), fixedValues_.end(), values.begin());
  right_ = fixedRight_;
  for (PairPart& pair : pairs_) {
    pair.slope = pair.regulated ? 0.0 : pair.lineSlope;
    pair.start = pair.regulated ? 0.0 : pair.lineStart;
  }
  stampStretches(values, 0, inner_.firstCurvedPiece());
  for (const PairPart& pair : pairs_)
    stampPair(pair, values, [this](std::int32_t i) -> double& { return right_[i]; });
  topStale_ = false;
  return system_.begin(right_);
}

/// Volts of the pairs from the condensed stretches: from now_ to next…; false if the straight network is not
/// stable.
bool Island::solveTop() {
  ++steps_;
  if (inner_.takeStraightChanged()) topStale_ = true;
  if (topStale_ && !beginTop()) {
    topStale_ = true;
    return false;
  }
  system_.resume();
  const std::span<double> values = system_.values();
  for (const std::int32_t i : varying_) {
    PairPart& pair = pairs_[i];
    pair.slope = pair.regulated ? pair.lineSlope : 0.0;
    pair.start = pair.regulated ? pair.lineStart : 0.0;
  }
  stampStretches(values, inner_.firstCurvedPiece(), inner_.pieces().size());
  for (const std::int32_t i : varying_)
    stampPair(pairs_[i], values, [this](std::int32_t k) -> double& { return system_.right(k); });
  if (!system_.finish(nextTop_)) return false;
  for (std::size_t i = 0; i < pairs_.size(); ++i) {
    const PairPart& pair = pairs_[i];
    nextPairVolts_[i] =
        pair.fixed + ((pair.p >= 0 ? nextTop_[pair.p] : 0.0) - (pair.z >= 0 ? nextTop_[pair.z] : 0.0));
  }
  return true;
}

/// One Newton step with the lines that stand, all pixels of it in next….
bool Island::step() {
  if (!inner_.condense() || !solveTop()) return false;
  nextVolts_.resize(inner_.size());
  inner_.fill(nextPairVolts_, nextVolts_);
  return true;
}

/// Goes to the solved pairs, all loads following, regulated ones taken as on; false if the straight network
/// is not stable.
bool Island::accept(double factor, bool condensed, Move& move) {
  for (std::size_t i = 0; i < pairs_.size(); ++i) {
    PairPart& pair = pairs_[i];
    const double volts = nextPairVolts_[i];
    if (pair.regulated) {
      move.curved = std::max(move.curved, std::abs(volts - now_.pairVolts[i]));
    } else {
      if (volts >= pair.low && volts < pair.high) continue;
      std::uint8_t region = now_.pairRegion[i];
      if (!follow(curves_[pair.curve], volts, region)) continue;
      setRegion(i, region);
      move.settled = false;
      topStale_ = true;
    }
    const LoadLine l = straight(curves_[pair.curve], now_.pairRegion[i], volts, Slopes::AllOn, factor);
    pair.lineSlope = l.slope;
    pair.lineStart = l.start;
  }
  std::swap(now_.top, nextTop_);
  std::swap(now_.pairVolts, nextPairVolts_);
  return inner_.advance(factor, now_.pairVolts, now_.volts, now_.region, condensed, move);
}

bool Island::newton(double factor, int most) {
  setLines(Slopes::AllOn, factor);
  return iterate(factor, most);
}

/// Newton's steps from the lines that stand. The error of each is about a constant times the square of the
/// one before it, so two moves tell how little the next would be, and whether the next will be the last.
bool Island::iterate(double factor, int most) {
  constexpr double kStill = 1e-9, kNear = 1e-3;  // V
  constexpr double kForetold = 0.1 * kStill;
  const auto next = [](double before, double move) {
    const double ratio = move / before;
    return ratio * ratio * move;
  };
  double before = 0.0;
  bool last = false;
  for (int i = 0; i < most; ++i) {
    Move move;
    if (!inner_.condense() || !solveTop() || !accept(factor, !last, move)) return false;
    const bool near = before > 0.0 && move.curved < kNear;
    if (move.settled && (move.curved < kStill || (near && next(before, move.curved) < kForetold))) {
      inner_.fillRest(now_.volts);
      return true;
    }
    const double coming = before > 0.0 ? next(before, move.curved) : kNear;
    last = move.settled && coming < kNear && next(move.curved, coming) < kForetold;
    before = move.curved;
  }
  return false;
}

/// Every pixel taken as if its volts were ample. No pixel's volts are more than the highest supply's, and
/// falling from there Newton's steps reach the upper answer where constant-power loads have two.
void Island::toAmple() {
  std::fill(now_.pairVolts.begin(), now_.pairVolts.end(), mostVolts_);
  topStale_ = true;
  now_.region = inner_.lastRegions();
  inner_.setAmple(mostVolts_, now_.volts);
  for (PairPart& pair : pairs_) {
    const LoadCurve& curve = curves_[pair.curve];
    const auto i = static_cast<std::size_t>(&pair - pairs_.data());
    setRegion(i, static_cast<std::uint8_t>(curve.lastRegion()));
    const LoadLine l = straight(curve, curve.lastRegion(), mostVolts_, Slopes::AllOn, 1.0);
    pair.lineSlope = l.slope;
    pair.lineStart = l.start;
  }
}

/// Every regulated pixel taken so.
void Island::toRegulatedOn() {
  for (std::size_t i = 0; i < pairs_.size(); ++i)
    if (pairs_[i].regulated) setRegion(i, static_cast<std::uint8_t>(curves_[pairs_[i].curve].lastRegion()));
  for (std::size_t q = 0; q < inner_.size(); ++q)
    if (inner_.curve(q) >= 0 && curves_[inner_.curve(q)].regulated())
      now_.region[q] = inner_.lastRegions()[q];
}

void Island::freshRegions() {
  for (std::size_t i = 0; i < pairs_.size(); ++i)
    setRegion(i, static_cast<std::uint8_t>(curves_[pairs_[i].curve].region(now_.pairVolts[i])));
  for (std::size_t q = 0; q < inner_.size(); ++q)
    if (inner_.curve(q) >= 0)
      now_.region[q] = static_cast<std::uint8_t>(curves_[inner_.curve(q)].region(now_.volts[q]));
}

void Island::toNoLoad() {
  setLines(Slopes::True, 0.0);
  step();
  now_.top = nextTop_;
  now_.pairVolts = nextPairVolts_;
  now_.volts = nextVolts_;
  freshRegions();
}

bool Island::pairsOn() const {
  for (std::size_t i = 0; i < pairs_.size(); ++i) {
    const LoadCurve& curve = curves_[pairs_[i].curve];
    if (curve.regulated() && now_.pairVolts[i] < curve.cut() - kOnRounding) return false;
  }
  return true;
}

bool Island::allOn() const { return pairsOn() && inner_.allOn(now_.volts); }

Island::Answer Island::solve() {
  constexpr int kQuick = 40;
  Answer answer;
  steps_ = 0;
  toAmple();
  const bool quick = iterate(1.0, kQuick) && pairsOn() && inner_.allOnAfterAdvance(now_.volts);
  if (!quick) {
    toNoLoad();
    const Point noLoad = now_;
    descend();
    answer.operating = allOn();
    if (!answer.operating) {
      const Point state = now_;
      now_ = noLoad;
      toRegulatedOn();
      findLoadFactor(answer);
      now_ = state;
    }
  }
  answer.steps = steps_;
  return answer_ = answer;
}

void Island::findLoadFactor(Answer& answer) {
  constexpr int kHalvings = 20, kMost = 60;
  findWeakest(answer);
  if (!allOn()) {
    answer.loadFactor = 0.0;
    return;
  }
  double low = 0.0, high = 1.0;
  Point best = now_;
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = 0.5 * (low + high);
    now_ = best;
    if (newton(middle, kMost) && allOn()) {
      low = middle;
      best = now_;
    } else {
      high = middle;
    }
  }
  now_ = best;
  answer.loadFactor = low;
  findWeakest(answer);
}

void Island::findWeakest(Answer& answer) const {
  double least = INFINITY;
  const auto look = [&](std::int32_t curve, double volts, std::int32_t chain, std::int32_t pixel) {
    const LoadCurve& c = curves_[curve];
    if (!c.regulated() || volts / c.cut() >= least) return;
    least = volts / c.cut();
    answer.weakestChain = chain;
    answer.weakestPixel = pixel;
  };
  for (std::size_t i = 0; i < pairs_.size(); ++i) {
    const Pair& pair = topology_.pairs[pairs_[i].pair];
    look(pairs_[i].curve, now_.pairVolts[i], pair.chain, pair.pixel);
  }
  for (const Inner::Piece& piece : inner_.pieces()) {
    const Stretch& s = topology_.stretches[piece.stretch];
    std::size_t q = piece.at;
    for (std::int32_t i = 0; i < piece.count; ++i, q += kLanes)
      look(inner_.curve(q), now_.volts[q], s.chain, s.pixel + s.step * i);
  }
}

void Island::write(std::span<double> pixelVolts) const {
  for (std::size_t i = 0; i < pairs_.size(); ++i) {
    const Pair& pair = topology_.pairs[pairs_[i].pair];
    pixelVolts[topology_.pixelBase[pair.chain] + pair.pixel] = now_.pairVolts[i];
  }
  for (const Inner::Piece& piece : inner_.pieces()) {
    const Stretch& s = topology_.stretches[piece.stretch];
    std::int64_t pixel = topology_.pixelBase[s.chain] + s.pixel;
    std::size_t q = piece.at;
    for (std::int32_t i = 0; i < piece.count; ++i, pixel += s.step, q += kLanes)
      pixelVolts[pixel] = now_.volts[q];
  }
}

}  // namespace yw::circuit
