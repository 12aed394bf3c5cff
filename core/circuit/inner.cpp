#include "core/circuit/inner.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace yw::circuit {

LoadLine straight(const LoadCurve& curve, int region, double volts, Slopes slopes, double factor) {
  LoadLine l{};
  if (!curve.regulated() || region < curve.lastRegion())
    l = curve.line(region);
  else if (slopes == Slopes::Raised)
    l = {0.0, curve.amps(volts)};
  else
    l = curve.tangent(region, std::max(volts, curve.cut()));
  return {l.slope * factor, l.start * factor};
}

bool follow(const LoadCurve& curve, double volts, std::uint8_t& region) {
  constexpr double kSameAmps = 1e-12;  // at a corner both pieces say the same
  const int target = curve.region(volts);
  if (target == region) return false;
  const LoadLine l = curve.tangent(region, volts);
  if (std::abs(l.slope * volts + l.start - curve.amps(volts)) < kSameAmps) return false;
  region = static_cast<std::uint8_t>(target > region ? region + 1 : region - 1);
  return true;
}

void Inner::lay(std::vector<Piece> pieces, const Network& network, const Topology& topology,
                std::span<const LoadCurve> curves) {
  curves_ = curves;
  std::vector<std::uint8_t> curved(pieces.size(), 0), kind(pieces.size(), 0);
  std::vector<std::size_t> order(pieces.size());
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    order[i] = i;
    const Stretch& s = topology.stretches[pieces[i].stretch];
    curved[i] = isCurved(network, s) ? 1 : 0;
    kind[i] = curved[i] != 0 ? 2 : isFlat(network, s) ? 0 : 1;
  }
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    if (kind[a] != kind[b]) return kind[a] < kind[b];
    if (pieces[a].count != pieces[b].count) return pieces[a].count > pieces[b].count;
    return a < b;
  });
  std::size_t size = 0;
  std::uint8_t last = 0;
  for (const std::size_t i : order) {
    if (groups_.empty() || groups_.back().pieces == kLanes || kind[i] != last) {
      Group group{};
      group.cut.fill(1.0);
      group.begin = size;
      group.rows = static_cast<std::size_t>(pieces[i].count);
      group.curved = curved[i] != 0;
      group.firstPiece = pieces_.size();
      groups_.push_back(group);
      size += group.rows * kLanes;
    }
    last = kind[i];
    Piece& piece = pieces_.emplace_back(pieces[i]);
    piece.group = groups_.size() - 1;
    piece.at = groups_.back().begin + groups_.back().pieces++;
  }
  curve_.assign(size, -1);
  last_.assign(size, 0);
  for (auto* values : {&ohms_, &slope_, &start_}) values->assign(size, 0.0);
  firstCurved_ = size;
  firstCurvedPiece_ = pieces_.size();
  const auto curvedGroup =
      std::find_if(groups_.begin(), groups_.end(), [](const Group& g) { return g.curved; });
  if (curvedGroup != groups_.end()) {  // these come last
    firstCurved_ = curvedGroup->begin;
    firstCurvedPiece_ = curvedGroup->firstPiece;
  }
  watts_.assign(size - firstCurved_, 0.0);
  inverse_ = watts_;
  tabulate();
  for (const Piece& piece : pieces_) put(piece, network, topology);
  for (Group& group : groups_) setGroup(group, Slopes::AllOn, 1.0, {}, last_);
}

bool Inner::isCurved(const Network& network, const Stretch& s) const {
  const std::vector<std::int32_t>& load = network.chains[s.chain].load;
  for (std::int32_t i = 0, k = s.pixel; i < s.count; ++i, k += s.step)
    if (curves_[load[k]].regulated()) return true;
  return false;
}

/// At ample volts its pixels draw the same whatever their volts.
bool Inner::isFlat(const Network& network, const Stretch& s) const {
  const std::vector<std::int32_t>& load = network.chains[s.chain].load;
  for (std::int32_t i = 0, k = s.pixel; i < s.count; ++i, k += s.step)
    if (curves_[load[k]].line(curves_[load[k]].lastRegion()).slope > 0.0) return false;
  return true;
}

bool Inner::renew(const Network& network, const Topology& topology, std::span<const std::uint8_t> chains,
                  bool loads) {
  if (loads) tabulate();
  std::vector<std::uint8_t> touched(groups_.size(), 0);
  for (Piece& piece : pieces_) {
    const Stretch& s = topology.stretches[piece.stretch];
    if (!loads && chains[s.chain] == 0) continue;
    if (isCurved(network, s) != groups_[piece.group].curved) return false;
    const Chain& chain = network.chains[s.chain];
    if (piece.from >= 0) piece.firstOhms = chain.positive[s.pixel] + chain.zero[s.pixel];
    put(piece, network, topology);
    touched[piece.group] = 1;
  }
  for (std::size_t g = 0; g < groups_.size(); ++g)
    if (touched[g] != 0) setGroup(groups_[g], Slopes::AllOn, 1.0, {}, last_);
  return true;
}

void Inner::tabulate() {
  regions_.assign(curves_.size() * kRegions, {0.0, 0.0, 0.0, 0.0});
  for (std::size_t c = 0; c < curves_.size(); ++c)
    for (int r = 0; r <= curves_[c].lastRegion(); ++r) {
      const LoadLine& line = curves_[c].line(r);
      regions_[c * kRegions + static_cast<std::size_t>(r)] = {curves_[c].low(r), curves_[c].high(r),
                                                              line.slope, line.start};
    }
}

void Inner::put(const Piece& piece, const Network& network, const Topology& topology) {
  Group& group = groups_[piece.group];
  group.firstOhms[piece.lane()] = piece.from < 0 ? 0.0 : piece.firstOhms;
  const Stretch& s = topology.stretches[piece.stretch];
  const Chain& chain = network.chains[s.chain];
  std::size_t q = piece.at;
  double& cut = group.cut[piece.lane()];
  cut = std::numeric_limits<double>::infinity();
  for (std::int32_t i = 0, pixel = s.pixel; i < s.count; ++i, pixel += s.step, q += kLanes) {
    const std::int32_t segment = s.step > 0 ? pixel + 1 : pixel;
    ohms_[q] = chain.positive[segment] + chain.zero[segment];
    curve_[q] = chain.load[pixel];
    const LoadCurve& curve = curves_[curve_[q]];
    last_[q] = static_cast<std::uint8_t>(curve.lastRegion());
    if (!group.curved) continue;
    watts_[q - firstCurved_] = curve.regulated() ? curve.watts() : 0.0;
    if (curve.regulated()) cut = std::min(cut, curve.cut());
  }
  if (!std::isfinite(cut)) cut = 1.0;  // of no consequence where there are no watts
  setDip(piece);
}

/// Drops of unit currents, both ends held at one voltage.
void Inner::setDip(const Piece& piece) {
  double whole = piece.from < 0 ? 0.0 : piece.firstOhms, moment = 0.0, most = 0.0;
  if (piece.from >= 0)
    for (std::int32_t i = 0; i < piece.count; ++i) {
      moment += whole;  // Σ of ohms from the from end to each pixel
      whole += ohms_[piece.at + static_cast<std::size_t>(i) * kLanes];
    }
  double amps = piece.from < 0 ? 0.0 : piece.count - moment / whole, drop = 0.0;
  if (piece.from >= 0) {
    drop = amps * piece.firstOhms;
    for (std::int32_t i = 0; i < piece.count; ++i) {
      most = std::max(most, drop);
      amps -= 1.0;
      drop += amps * ohms_[piece.at + static_cast<std::size_t>(i) * kLanes];
    }
  } else {
    for (std::int32_t i = 0; i < piece.count; ++i)
      most += (i + 1) * ohms_[piece.at + static_cast<std::size_t>(i) * kLanes];
  }
  groups_[piece.group].dip[piece.lane()] = most;
  double all = piece.from < 0 ? 0.0 : piece.firstOhms;
  for (std::int32_t i = 0; i < piece.count; ++i)
    all += ohms_[piece.at + static_cast<std::size_t>(i) * kLanes];
  groups_[piece.group].counted[piece.lane()] = all * piece.count;
}

void Inner::setLine(const Group& group, std::size_t q, Slopes slopes, double factor, double volts,
                    std::uint8_t region) {
  const bool on = group.pinned && regulated(group, q);  // condensing adds the tangent of its power
  const LoadLine l = on ? LoadLine{0.0, curves_[curve_[q]].line(last_[q]).start * factor}
                        : straight(curves_[curve_[q]], region, volts, slopes, factor);
  slope_[q] = l.slope;
  start_[q] = l.start;
}

void Inner::openBounds(Group& group, std::size_t lane) const {
  group.reach.low[lane] = -std::numeric_limits<double>::infinity();
  group.reach.high[lane] = std::numeric_limits<double>::infinity();
  group.mostSlope[lane] = group.mostStart[lane] = 0.0;
}

void Inner::narrow(Group& group, std::size_t lane, std::size_t q, std::uint8_t region) const {
  group.mostSlope[lane] = std::max(group.mostSlope[lane], slope_[q]);
  group.mostStart[lane] = std::max(group.mostStart[lane], start_[q]);
  if (group.pinned && regulated(group, q)) {  // so that lanes with a pixel that went dark are told
    group.reach.low[lane] = std::max(group.reach.low[lane], curves_[curve_[q]].cut() - kOnRounding);
    return;
  }
  const Region& r = regionOf(q, region);
  group.reach.low[lane] = std::max(group.reach.low[lane], r.low);
  group.reach.high[lane] = std::min(group.reach.high[lane], r.high);
}

void Inner::setGroup(Group& group, Slopes slopes, double factor, std::span<const double> volts,
                     std::span<const std::uint8_t> region) {
  group.pinned = group.curved && slopes == Slopes::AllOn;
  group.ample = volts.empty();
  group.changed = true;
  if (group.pinned && !volts.empty())
    for (std::size_t q = group.begin; q < group.begin + group.rows * kLanes; ++q)
      inverse_[q - firstCurved_] = 1.0 / std::max(volts[q], group.cut[q % kLanes]);
  for (std::size_t lane = 0; lane < kLanes; ++lane) {
    openBounds(group, lane);
    std::size_t q = group.begin + lane;
    for (std::size_t row = 0; row < group.rows && curve_[q] >= 0; ++row, q += kLanes) {
      if (group.pinned && regulated(group, q)) watts_[q - firstCurved_] = curves_[curve_[q]].watts() * factor;
      // The same straight line as the pixel before it needs no second look.
      if (row > 0 && curve_[q] == curve_[q - kLanes] && region[q] == region[q - kLanes] &&
          (group.pinned || !regulated(group, q))) {
        slope_[q] = slope_[q - kLanes];
        start_[q] = start_[q - kLanes];
        continue;
      }
      setLine(group, q, slopes, factor, volts.empty() ? 0.0 : volts[q], region[q]);
      narrow(group, lane, q, region[q]);
    }
  }
}

void Inner::setLines(Slopes slopes, double factor, std::span<const double> volts,
                     std::span<const std::uint8_t> region) {
  for (Group& group : groups_) setGroup(group, slopes, factor, volts, region);
}

void Inner::setAmple(double volts, std::span<double> all) {
  for (Group& group : groups_) {
    if (!group.ample) setGroup(group, Slopes::AllOn, 1.0, {}, last_);
    group.changed = group.changed || group.pinned;
    if (!group.pinned) continue;
    LaneValues inverse;
    for (std::size_t lane = 0; lane < kLanes; ++lane) inverse[lane] = 1.0 / std::max(volts, group.cut[lane]);
    for (std::size_t row = 0; row < group.rows; ++row)
      std::copy(inverse.begin(), inverse.end(), watts(group).inverse + row * kLanes);
  }
  std::fill(all.begin() + static_cast<std::ptrdiff_t>(firstCurved_), all.end(), volts);
}

bool Inner::allOn(std::span<const double> volts) const {
  for (const Group& group : groups_)
    for (std::size_t lane = 0; lane < group.pieces && group.curved; ++lane)
      if (!laneOn(group, lane, volts)) return false;
  return true;
}

bool Inner::allOnAfterAdvance(std::span<const double> volts) const {
  for (const Group& group : groups_)
    for (std::size_t lane = 0; group.curved && group.outside >> lane != 0; ++lane)
      if ((group.outside >> lane & 1u) != 0 && !laneOn(group, lane, volts)) return false;
  return true;
}

bool Inner::laneOn(const Group& group, std::size_t lane, std::span<const double> volts) const {
  std::size_t q = group.begin + lane;
  for (std::size_t row = 0; row < group.rows && curve_[q] >= 0; ++row, q += kLanes)
    if (regulated(group, q) && volts[q] < curves_[curve_[q]].cut() - kOnRounding) return false;
  return true;
}

bool Inner::condenseGroup(Group& group) {
  constexpr double kMostGrowth = 2.0;
  const LaneLoops& loops = bestLoops();
  group.changed = false;
  straightChanged_ = straightChanged_ || !group.curved;
  group.stiff = 0;
  double mostSlope = 0.0;
  for (std::size_t lane = 0; lane < group.pieces; ++lane) {
    mostSlope = std::max(mostSlope, group.mostSlope[lane]);
    if (group.mostSlope[lane] * group.counted[lane] > kMostGrowth) group.stiff |= 1u << lane;
  }
  group.flat = !group.curved && !(mostSlope > 0.0);
  LaneStart start;
  start.ohms = group.firstOhms;
  LaneWay way;
  if (group.pinned)
    loops.wayCurved(group.rows, start, pixels(group), watts(group), way);
  else if (group.flat)
    loops.wayFlat(group.rows, start, pixels(group), way);
  else
    loops.way(group.rows, start, pixels(group), way);
  return takeEnds(group, way) && (group.stiff == 0 || eliminateLanes(group));
}

/// Closes the march: what goes in at the `from` end, or the volts at a tail's free end, follow from the volts
/// at the `to` end.
bool Inner::takeEnds(Group& group, const LaneWay& way) const {
  bool good = true;
  for (std::size_t lane = 0; lane < kLanes; ++lane) {
    const double one = 1.0 / way.open[lane], ended = group.firstOhms[lane] > 0.0 ? 1.0 : 0.0;
    good = good && (way.worst[lane] < 0.0 || (group.stiff >> lane & 1u) != 0);
    group.sent[lane] = way.sent[lane];
    group.left[lane] = way.left[lane];
    group.perOpen[lane] = one;
    group.ends.self[lane] = -(way.openAmps[lane] * one);
    group.ends.start[lane] = way.openAmps[lane] * one * way.left[lane] - way.leftAmps[lane];
    group.ends.mutual[lane] = one * ended;
    group.ends.fromSelf[lane] = -(way.sent[lane] * one) * ended;
    group.ends.fromStart[lane] = -(way.left[lane] * one) * ended;
  }
  return good;
}

/// The stiff lanes' ends once more, by elimination.
bool Inner::eliminateLanes(Group& group) {
  if (shrink_.empty())
    for (auto* values : {&shrink_, &offset_, &carry_}) values->assign(size(), 0.0);
  LanePixels lines = pixels(group);
  const std::size_t count = group.rows * kLanes;
  if (group.pinned) {
    lineSlope_.assign(lines.slope, lines.slope + count);
    lineStart_.assign(lines.start, lines.start + count);
    const LaneWatts loads = watts(group);
    for (std::size_t q = 0; q < count; ++q) {
      const double amps = loads.watts[q] * loads.inverse[q];
      lineSlope_[q] -= amps * loads.inverse[q];
      lineStart_[q] += amps + amps;
    }
    lines.slope = lineSlope_.data();
    lines.start = lineStart_.data();
  }
  LaneValues siemens{};
  for (std::size_t lane = 0; lane < kLanes; ++lane)
    if (group.firstOhms[lane] > 0.0) siemens[lane] = 1.0 / group.firstOhms[lane];
  LaneEnds ends;
  const std::uint32_t lost = bestLoops().eliminate(group.rows, siemens, lines, shares(group), ends);
  for (std::size_t lane = 0; lane < group.pieces; ++lane) {
    if ((group.stiff >> lane & 1u) == 0) continue;
    group.ends.self[lane] = ends.self[lane];
    group.ends.start[lane] = ends.start[lane];
    group.ends.mutual[lane] = ends.mutual[lane];
    group.ends.fromSelf[lane] = ends.fromSelf[lane];
    group.ends.fromStart[lane] = ends.fromStart[lane];
  }
  return (lost & group.stiff) == 0;
}

bool Inner::condense() {
  for (Group& group : groups_)
    if (group.changed && !condenseGroup(group)) return false;
  return true;
}

void Inner::setReach(Group& group, std::span<const double> pairVolts) const {
  for (std::size_t lane = 0; lane < group.pieces; ++lane) {
    const Piece& piece = pieces_[group.firstPiece + lane];
    group.reach.from[lane] = piece.from < 0 ? 0.0 : pairVolts[piece.from];
    group.reach.to[lane] = pairVolts[piece.to];
  }
}

/// Between its ends a chain of pixels that draw current sags, but by no more than if each drew what the
/// hungriest draws at the higher end.
bool Inner::calm(const Group& group) const {
  constexpr double kRounding = 1e-9;  // V
  for (std::size_t lane = 0; lane < group.pieces; ++lane) {
    const Piece& piece = pieces_[group.firstPiece + lane];
    const double to = group.reach.to[lane], from = piece.from < 0 ? to : group.reach.from[lane];
    const double most = std::max(from, to), least = std::min(from, to);
    const double amps = std::max(0.0, group.mostSlope[lane] * most + group.mostStart[lane]);
    if (!(least - group.dip[lane] * amps > group.reach.low[lane] + kRounding)) return false;
    if (!(most < group.reach.high[lane] - kRounding)) return false;
  }
  return true;
}

/// Which lanes have a pixel outside their bounds, by bit.
std::uint32_t Inner::march(const Group& group, const LaneStart& start, double* volts, LaneValues& moved) {
  const LaneLoops& loops = bestLoops();
  if (group.pinned)
    return loops.fillCurved(group.rows, start, pixels(group), group.reach, watts(group), group.cut, volts,
                            moved);
  return (group.flat ? loops.fillFlat : loops.fill)(group.rows, start, pixels(group), group.reach, volts);
}

/// Puts the restored volts in the stiff lanes' places.
void Inner::takeRestored(Group& group, double* volts) {
  for (std::size_t lane = 0; lane < group.pieces; ++lane) {
    if ((group.stiff >> lane & 1u) == 0) continue;
    double least = group.reach.to[lane], most = least;
    for (std::size_t q = lane; q < group.rows * kLanes; q += kLanes) {
      volts[q] = restored_[q];
      least = std::min(least, volts[q]);
      most = std::max(most, volts[q]);
      if (group.pinned) inverse_[group.begin - firstCurved_ + q] = 1.0 / std::max(volts[q], group.cut[lane]);
    }
    const bool inside = least >= group.reach.low[lane] && most < group.reach.high[lane];
    if (inside)
      group.outside &= ~(1u << lane);
    else
      group.outside |= 1u << lane;
  }
}

void Inner::fillGroup(Group& group, std::span<double> volts) {
  LaneStart start;
  start.ohms = group.firstOhms;
  for (std::size_t lane = 0; lane < kLanes; ++lane) {
    const double open =
        (group.reach.to[lane] - group.sent[lane] * group.reach.from[lane] - group.left[lane]) *
        group.perOpen[lane];
    const bool ended = group.firstOhms[lane] > 0.0;
    start.volts[lane] = ended ? group.reach.from[lane] : -open;
    start.amps[lane] = ended ? open : 0.0;
  }
  LaneValues moved{};
  double* const at = &volts[group.begin];
  LaneValues restored{};
  if (group.stiff != 0) {
    restored_.resize(group.rows * kLanes);
    bestLoops().restore(group.rows, group.reach, shares(group), restored_.data());
    for (std::size_t q = 0; q < group.rows * kLanes; ++q)
      if (regulated(group, group.begin + q))
        restored[q % kLanes] = std::max(restored[q % kLanes], std::abs(restored_[q] - at[q]));
  }
  group.outside = march(group, start, at, moved);
  if (group.stiff != 0) takeRestored(group, at);
  group.curvedMove = 0.0;
  for (std::size_t lane = 0; lane < group.pieces && group.pinned; ++lane)
    group.curvedMove =
        std::max(group.curvedMove, (group.stiff >> lane & 1u) != 0 ? restored[lane] : moved[lane]);
}

void Inner::fill(std::span<const double> pairVolts, std::span<double> volts) {
  for (Group& group : groups_) {
    setReach(group, pairVolts);
    fillGroup(group, volts);
  }
}

void Inner::fillRest(std::span<double> volts) {
  for (Group& group : groups_) {
    if (group.rest) fillGroup(group, volts);
    group.rest = false;
  }
}

void Inner::followLane(Group& group, std::size_t lane, double factor, std::span<const double> volts,
                       std::span<std::uint8_t> region, Move& move) {
  openBounds(group, lane);
  std::size_t q = group.begin + lane;
  for (std::size_t row = 0; row < group.rows && curve_[q] >= 0; ++row, q += kLanes) {
    const Region& r = regionOf(q, region[q]);
    const bool inside = volts[q] >= r.low && volts[q] < r.high;
    if (!inside && !regulated(group, q) && follow(curves_[curve_[q]], volts[q], region[q])) {
      setLine(group, q, Slopes::AllOn, factor, volts[q], region[q]);
      group.changed = true;
      move.settled = false;
    }
    narrow(group, lane, q, region[q]);
  }
}

bool Inner::advance(double factor, std::span<const double> pairVolts, std::span<double> volts,
                    std::span<std::uint8_t> region, bool condensed, Move& move) {
  for (Group& group : groups_) {
    setReach(group, pairVolts);
    group.rest = !group.curved && calm(group);
    if (group.rest) continue;
    fillGroup(group, volts);
    if (group.outside != 0) group.ample = false;
    for (std::size_t lane = 0; lane < group.pieces; ++lane)
      if ((group.outside >> lane & 1u) != 0) followLane(group, lane, factor, volts, region, move);
    move.curved = std::max(move.curved, group.curvedMove);
    group.changed = group.changed || group.pinned;
    if (condensed && group.changed && !condenseGroup(group)) return false;
  }
  return true;
}

}  // namespace yw::circuit
