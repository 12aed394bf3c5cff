#include "core/circuit/island.h"

#include <algorithm>
#include <cmath>

namespace yw::circuit {

Island::Island(const Network& network, const Topology& topology, std::span<const LoadCurve> curves,
               std::int32_t number, std::span<std::int32_t> localPair)
    : topology_(topology), parts_(topology.islands[number]), curves_(curves), system_(parts_.unknowns) {
  addPairs(network, localPair);
  addStretches(network, localPair);
  addLines();
  announceAll();
  stampFixed();
  now_.top.assign(parts_.unknowns, 0.0);
  now_.pairVolts.assign(pairs_.size(), 0.0);
  now_.pairRegion.assign(pairs_.size(), 0);
  now_.volts.assign(curve_.size(), 0.0);
  now_.region.assign(curve_.size(), 0);
  nextTop_ = now_.top;
  nextPairVolts_ = now_.pairVolts;
  nextVolts_ = now_.volts;
  shrink_.assign(curve_.size(), 0.0);
  offset_ = carry_ = shrink_;
  eachLoad(
      [&](std::int32_t curve, double, double) { regulated_ = regulated_ || curves_[curve].regulated(); });
}

void Island::addPairs(const Network& network, std::span<std::int32_t> localPair) {
  pairs_.reserve(parts_.pairs.size());
  for (const std::int32_t index : parts_.pairs) {
    localPair[index] = static_cast<std::int32_t>(pairs_.size());
    const Pair& pair = topology_.pairs[index];
    const std::int32_t p = topology_.positiveNode(index), z = p + 1;
    PairPart part{};
    part.pair = index;
    part.curve = network.chains[pair.chain].load[pair.pixel];
    part.p = topology_.unknownOf(p);
    part.z = topology_.unknownOf(z);
    part.fixed = topology_.offset[p] - topology_.offset[z];
    pairs_.push_back(part);
  }
}

void Island::addStretches(const Network& network, std::span<const std::int32_t> localPair) {
  stretches_.reserve(parts_.stretches.size());
  for (const std::int32_t index : parts_.stretches) {
    const Stretch& s = topology_.stretches[index];
    StretchPart part{};
    part.stretch = index;
    part.from = s.from < 0 ? -1 : localPair[s.from];
    part.to = localPair[s.to];
    part.begin = static_cast<std::int32_t>(curve_.size());
    addInner(network.chains[s.chain], s);
    part.end = static_cast<std::int32_t>(curve_.size());
    if (s.from >= 0) {
      const Chain& chain = network.chains[s.chain];
      part.firstOhms = chain.positive[s.pixel] + chain.zero[s.pixel];
      addCommon(s);
    }
    stretches_.push_back(part);
  }
}

void Island::addInner(const Chain& chain, const Stretch& s) {
  for (std::int32_t q = 0, pixel = s.pixel; q < s.count; ++q, pixel += s.step) {
    const std::int32_t segment = s.step > 0 ? pixel + 1 : pixel;
    ohms_.push_back(chain.positive[segment] + chain.zero[segment]);
    curve_.push_back(chain.load[pixel]);
  }
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
  system_.close();
  const auto slot = [&](std::int32_t i, std::int32_t j) { return i < 0 || j < 0 ? -1 : system_.slot(i, j); };
  for (PairPart& pair : pairs_) {
    const bool apart = pair.p != pair.z;
    pair.pp = apart ? slot(pair.p, pair.p) : -1;
    pair.zz = apart ? slot(pair.z, pair.z) : -1;
    pair.pz = apart ? slot(pair.p, pair.z) : -1;
  }
  for (StretchPart& part : stretches_) {
    if (part.from < 0) continue;
    const PairPart &a = pairs_[part.from], &b = pairs_[part.to];
    const std::array<std::pair<std::int32_t, std::int32_t>, 4> place{
        {{a.p, b.p}, {a.p, b.z}, {a.z, b.p}, {a.z, b.z}}};
    for (int k = 0; k < 4; ++k) {
      part.cross[k] = slot(place[k].first, place[k].second);
      part.crossFactor[k] = (k == 0 || k == 3 ? 1.0 : -1.0) * (place[k].first == place[k].second ? 2.0 : 1.0);
    }
  }
}

void Island::addFixed(std::int32_t i, std::int32_t j, double value) {
  if (i < 0 || j < 0 || i < j) return;
  fixedValues_[system_.slot(i, j)] += value;
}

void Island::stampFixed() {
  fixedValues_.assign(system_.values().size(), 0.0);
  fixedRight_.assign(parts_.unknowns, 0.0);
  const auto right = [&](std::int32_t i, double amps) {
    if (i >= 0) fixedRight_[i] -= amps;
  };
  for (const LinePart& line : lines_) {
    addFixed(line.a, line.a, line.siemens);
    addFixed(line.b, line.b, line.siemens);
    addFixed(line.a, line.b, -line.siemens);
    addFixed(line.b, line.a, -line.siemens);
    right(line.a, line.siemens * line.fixed);
    right(line.b, -line.siemens * line.fixed);
  }
  for (const CommonPart& common : commons_)
    for (int i = 0; i < 4; ++i) {
      for (int j = 0; j < 4; ++j)
        addFixed(common.at[i], common.at[j], common.siemens * common.weight[i] * common.weight[j]);
      right(common.at[i], common.siemens * common.weight[i] * common.fixed);
    }
}

LoadLine Island::line(std::int32_t curve, std::uint8_t region, double volts, Slopes slopes,
                      double factor) const {
  const LoadCurve& c = curves_[curve];
  LoadLine l{};
  if (!c.regulated() || region < c.lastRegion())
    l = c.line(region);
  else if (slopes == Slopes::Raised)
    l = {0.0, c.amps(volts)};
  else
    l = c.tangent(region, std::max(volts, c.cut()));
  return {l.slope * factor, l.start * factor};
}

bool Island::condense(StretchPart& part, Slopes slopes, double factor) {
  const bool tail = part.from < 0;
  double e = tail ? 0.0 : 1.0 / part.firstOhms, j = 0.0, f = -e;
  double product = 1.0, sumF = 0.0, sumJ = 0.0;
  for (std::int32_t q = part.begin; q < part.end; ++q) {
    const LoadLine l = line(curve_[q], now_.region[q], now_.volts[q], slopes, factor);
    const double r = ohms_[q], self = e + l.slope, drawn = j + l.start;
    const double pivot = 1.0 + r * self;
    if (!(pivot > 0.0)) return false;
    const double t = 1.0 / pivot;
    shrink_[q] = t;
    offset_[q] = t * (r * drawn);
    carry_[q] = t * (r * f);
    product *= t;
    sumF += product * (r * f);
    sumJ += product * (r * drawn);
    e = self * t;
    j = drawn * t;
    f *= t;
  }
  pairs_[part.to].slope += e;
  pairs_[part.to].start += j;
  if (tail) return true;
  part.mutual = f;
  pairs_[part.from].slope += (1.0 + sumF) / part.firstOhms;
  pairs_[part.from].start += sumJ / part.firstOhms + f * pairs_[part.to].fixed;
  pairs_[part.to].start += f * pairs_[part.from].fixed;
  return true;
}

bool Island::step(Slopes slopes, double factor) {
  ++steps_;
  for (std::size_t i = 0; i < pairs_.size(); ++i) {
    const LoadLine l = line(pairs_[i].curve, now_.pairRegion[i], now_.pairVolts[i], slopes, factor);
    pairs_[i].slope = l.slope;
    pairs_[i].start = l.start;
  }
  for (StretchPart& part : stretches_)
    if (!condense(part, slopes, factor)) return false;
  const std::span<double> values = system_.values();
  std::copy(fixedValues_.begin(), fixedValues_.end(), values.begin());
  right_ = fixedRight_;
  for (const PairPart& pair : pairs_) {
    if (pair.p == pair.z) continue;
    if (pair.pp >= 0) values[pair.pp] += pair.slope;
    if (pair.zz >= 0) values[pair.zz] += pair.slope;
    if (pair.pz >= 0) values[pair.pz] -= pair.slope;
    const double drawn = pair.slope * pair.fixed + pair.start;
    if (pair.p >= 0) right_[pair.p] -= drawn;
    if (pair.z >= 0) right_[pair.z] += drawn;
  }
  for (const StretchPart& part : stretches_) {
    if (part.from < 0) continue;
    for (int k = 0; k < 4; ++k)
      if (part.cross[k] >= 0) values[part.cross[k]] += part.crossFactor[k] * part.mutual;
  }
  if (!system_.factor()) return false;
  system_.solve(right_, nextTop_);
  for (std::size_t i = 0; i < pairs_.size(); ++i) {
    const PairPart& pair = pairs_[i];
    nextPairVolts_[i] =
        pair.fixed + ((pair.p >= 0 ? nextTop_[pair.p] : 0.0) - (pair.z >= 0 ? nextTop_[pair.z] : 0.0));
  }
  for (const StretchPart& part : stretches_) fillIn(part);
  return true;
}

void Island::fillIn(const StretchPart& part) {
  double next = nextPairVolts_[part.to];
  const double from = part.from < 0 ? 0.0 : nextPairVolts_[part.from];
  for (std::int32_t q = part.end - 1; q >= part.begin; --q) {
    next = shrink_[q] * next - offset_[q] - carry_[q] * from;
    nextVolts_[q] = next;
  }
}

Island::Move Island::accept(Slopes slopes) {
  Move move;
  // A region follows its pixel one corner at a time, so that a pixel that jumps across its drop-out zone is
  // next taken on the slope in between and cannot leap to and fro for ever.
  const auto follow = [&](std::int32_t curve, std::uint8_t& region, double& volts, double next) {
    const LoadCurve& c = curves_[curve];
    const double moved = std::abs(next - volts);
    volts = next;
    move.all = std::max(move.all, moved);
    if (c.regulated() && region == c.lastRegion()) move.curved = std::max(move.curved, moved);
    if (slopes == Slopes::AllOn && c.regulated()) return;
    const int target = c.region(next);
    if (target == region) return;
    const LoadLine l = c.tangent(region, std::max(next, 1e-3));
    if (std::abs(l.slope * next + l.start - c.amps(next)) < 1e-12) return;
    move.settled = false;
    region = static_cast<std::uint8_t>(target > region ? region + 1 : region - 1);
  };
  for (std::size_t i = 0; i < pairs_.size(); ++i)
    follow(pairs_[i].curve, now_.pairRegion[i], now_.pairVolts[i], nextPairVolts_[i]);
  for (std::size_t q = 0; q < curve_.size(); ++q)
    follow(curve_[q], now_.region[q], now_.volts[q], nextVolts_[q]);
  now_.top = nextTop_;
  return move;
}

bool Island::newton(Slopes slopes, double factor, int most) {
  constexpr double kStill = 1e-9;  // V; the next step of a quadratic method is far below the rounding
  for (int i = 0; i < most; ++i) {
    if (!step(slopes, factor)) return false;
    const Move move = accept(slopes);
    if (move.settled && move.curved < kStill) return true;
  }
  return false;
}

void Island::freshRegions() {
  for (std::size_t i = 0; i < pairs_.size(); ++i)
    now_.pairRegion[i] = static_cast<std::uint8_t>(curves_[pairs_[i].curve].region(now_.pairVolts[i]));
  for (std::size_t q = 0; q < curve_.size(); ++q)
    now_.region[q] = static_cast<std::uint8_t>(curves_[curve_[q]].region(now_.volts[q]));
}

void Island::toNoLoad() {
  step(Slopes::True, 0.0);
  now_.top = nextTop_;
  now_.pairVolts = nextPairVolts_;
  now_.volts = nextVolts_;
  freshRegions();
}

bool Island::allOn() const {
  constexpr double kRounding = 1e-9;  // V
  bool on = true;
  eachLoad([&](std::int32_t curve, double volts, double) {
    const LoadCurve& c = curves_[curve];
    on = on && !(c.regulated() && volts < c.cut() - kRounding);
  });
  return on;
}

Island::Answer Island::solve() {
  constexpr int kQuick = 40;
  Answer answer;
  toNoLoad();
  const Point noLoad = now_;
  if (regulated_) {
    for (std::size_t i = 0; i < pairs_.size(); ++i)
      if (curves_[pairs_[i].curve].regulated())
        now_.pairRegion[i] = static_cast<std::uint8_t>(curves_[pairs_[i].curve].lastRegion());
    for (std::size_t q = 0; q < curve_.size(); ++q)
      if (curves_[curve_[q]].regulated())
        now_.region[q] = static_cast<std::uint8_t>(curves_[curve_[q]].lastRegion());
  }
  const Point start = now_;
  const bool quick = newton(regulated_ ? Slopes::AllOn : Slopes::True, 1.0, kQuick) && allOn();
  if (!quick) {
    now_ = noLoad;
    descend();
    answer.operating = allOn();
    if (!answer.operating) {
      const Point state = now_;
      now_ = start;
      findLoadFactor(answer);
      now_ = state;
    }
  }
  answer.steps = steps_;
  return answer;
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
    if (newton(Slopes::AllOn, middle, kMost) && allOn()) {
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
  for (const StretchPart& part : stretches_) {
    const Stretch& s = topology_.stretches[part.stretch];
    for (std::int32_t q = part.begin; q < part.end; ++q)
      look(curve_[q], now_.volts[q], s.chain, s.pixel + s.step * (q - part.begin));
  }
}

void Island::write(std::span<double> pixelVolts) const {
  for (std::size_t i = 0; i < pairs_.size(); ++i) {
    const Pair& pair = topology_.pairs[pairs_[i].pair];
    pixelVolts[topology_.pixelBase[pair.chain] + pair.pixel] = now_.pairVolts[i];
  }
  for (const StretchPart& part : stretches_) {
    const Stretch& s = topology_.stretches[part.stretch];
    std::int64_t pixel = topology_.pixelBase[s.chain] + s.pixel;
    for (std::int32_t q = part.begin; q < part.end; ++q, pixel += s.step) pixelVolts[pixel] = now_.volts[q];
  }
}

}  // namespace yw::circuit
