#include "core/circuit/inner.h"

#include <algorithm>
#include <cmath>
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

bool follow(const LoadCurve& curve, Slopes slopes, double volts, double next, std::uint8_t& region,
            Move& move) {
  constexpr double kSameAmps = 1e-12;  // at a corner both pieces say the same
  const bool curved = curve.regulated() && region == curve.lastRegion();
  if (curved) move.curved = std::max(move.curved, std::abs(next - volts));
  if (curve.regulated() && slopes == Slopes::AllOn) return true;
  const int target = curve.region(next);
  if (target == region) return curved;
  const LoadLine l = curve.tangent(region, std::max(next, curved ? curve.cut() : next));
  if (std::abs(l.slope * next + l.start - curve.amps(next)) < kSameAmps) return curved;
  move.settled = false;
  region = static_cast<std::uint8_t>(target > region ? region + 1 : region - 1);
  return true;
}

void Inner::lay(std::vector<Piece> pieces, const Network& network, const Topology& topology,
                std::span<const LoadCurve> curves) {
  curves_ = curves;
  std::vector<std::uint8_t> curved(pieces.size(), 0);
  std::vector<std::size_t> order(pieces.size());
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    order[i] = i;
    const Stretch& s = topology.stretches[pieces[i].stretch];
    for (std::int32_t q = 0, k = s.pixel; q < s.count && !curved[i]; ++q, k += s.step)
      curved[i] = curves[network.chains[s.chain].load[k]].regulated() ? 1 : 0;
  }
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    if (curved[a] != curved[b]) return curved[a] < curved[b];
    if (pieces[a].count != pieces[b].count) return pieces[a].count > pieces[b].count;
    return a < b;
  });
  std::size_t size = 0;
  for (const std::size_t i : order) {
    if (groups_.empty() || groups_.back().pieces == kLanes || groups_.back().curved != (curved[i] != 0)) {
      Group group{};
      group.begin = size;
      group.rows = static_cast<std::size_t>(pieces[i].count);
      group.curved = curved[i] != 0;
      group.firstPiece = pieces_.size();
      groups_.push_back(group);
      size += group.rows * kLanes;
    }
    Piece& piece = pieces_.emplace_back(pieces[i]);
    piece.group = groups_.size() - 1;
    piece.at = groups_.back().begin + groups_.back().pieces++;
  }
  curve_.assign(size, -1);
  last_.assign(size, 0);
  for (auto* values : {&ohms_, &slope_, &start_, &shrink_, &offset_, &carry_}) values->assign(size, 0.0);
  if (!groups_.empty() && groups_.back().curved) {  // these come last
    firstCurved_ =
        std::find_if(groups_.begin(), groups_.end(), [](const Group& g) { return g.curved; })->begin;
    watts_.assign(size - firstCurved_, 0.0);
    idle_ = watts_;
    cut_.assign(watts_.size(), 1.0);
  }
  for (const Piece& piece : pieces_) put(piece, network, topology);
}

void Inner::put(const Piece& piece, const Network& network, const Topology& topology) {
  Group& group = groups_[piece.group];
  group.firstSiemens[piece.lane()] = piece.from < 0 ? 0.0 : 1.0 / piece.firstOhms;
  const Stretch& s = topology.stretches[piece.stretch];
  const Chain& chain = network.chains[s.chain];
  std::size_t q = piece.at;
  for (std::int32_t i = 0, pixel = s.pixel; i < s.count; ++i, pixel += s.step, q += kLanes) {
    const std::int32_t segment = s.step > 0 ? pixel + 1 : pixel;
    ohms_[q] = chain.positive[segment] + chain.zero[segment];
    curve_[q] = chain.load[pixel];
    last_[q] = static_cast<std::uint8_t>(curves_[curve_[q]].lastRegion());
    if (!group.curved) continue;
    const LoadCurve& curve = curves_[curve_[q]];
    if (!curve.regulated()) continue;
    watts_[q - firstCurved_] = curve.watts();
    idle_[q - firstCurved_] = curve.line(curve.lastRegion()).start;
    cut_[q - firstCurved_] = curve.cut();
  }
}

void Inner::setLine(std::size_t q, Slopes slopes, double factor, double volts, std::uint8_t region) {
  const LoadLine l = straight(curves_[curve_[q]], region, volts, slopes, factor);
  slope_[q] = l.slope;
  start_[q] = l.start;
}

void Inner::setBounds(Group& group, Slopes slopes, std::span<const std::uint8_t> region) const {
  group.low.fill(-std::numeric_limits<double>::infinity());
  group.high.fill(std::numeric_limits<double>::infinity());
  for (std::size_t q = group.begin; q < group.begin + group.rows * kLanes; ++q)
    if (curve_[q] >= 0 && !likeBefore(group, q, region)) narrow(group, q, slopes, region[q]);
}

void Inner::narrow(Group& group, std::size_t q, Slopes slopes, std::uint8_t region) const {
  const LoadCurve& curve = curves_[curve_[q]];
  if (slopes == Slopes::AllOn && curve.regulated()) return;
  const std::size_t lane = q % kLanes;
  group.low[lane] = std::max(group.low[lane], curve.low(region));
  group.high[lane] = std::min(group.high[lane], curve.high(region));
}

/// The same load in the same region as the pixel before it in its lane.
bool Inner::likeBefore(const Group& group, std::size_t q, std::span<const std::uint8_t> region) const {
  return q >= group.begin + kLanes && curve_[q] == curve_[q - kLanes] && region[q] == region[q - kLanes];
}

void Inner::setLines(Slopes slopes, double factor, std::span<const double> volts,
                     std::span<const std::uint8_t> region) {
  for (Group& group : groups_) {
    const bool pinned = group.curved && slopes == Slopes::AllOn;
    for (std::size_t q = group.begin; q < group.begin + group.rows * kLanes; ++q) {
      if (curve_[q] < 0) continue;
      const bool regulated = group.curved && watts_[q - firstCurved_] > 0.0;
      if (regulated && pinned) continue;
      if (!regulated && likeBefore(group, q, region)) {
        slope_[q] = slope_[q - kLanes];
        start_[q] = start_[q - kLanes];
      } else {
        setLine(q, slopes, factor, volts[q], region[q]);
      }
    }
    if (pinned) tangents(group, factor, volts, volts);
    setBounds(group, slopes, region);
    group.changed = true;
  }
}

/// Tangents of a group's regulated pixels at `next`; how far the farthest has moved from `volts`.
double Inner::tangents(const Group& group, double factor, std::span<const double> volts,
                       std::span<const double> next) {
  const std::size_t b = group.begin, c = b - firstCurved_;
  return tangentLanes(group.rows, factor, &watts_[c], &idle_[c], &cut_[c], &volts[b], &next[b], &slope_[b],
                      &start_[b]);
}

bool Inner::allOn(std::span<const double> volts) const {
  for (std::size_t c = 0; c < watts_.size(); ++c)
    if (watts_[c] > 0.0 && volts[firstCurved_ + c] < cut_[c] - kOnRounding) return false;
  return true;
}

bool Inner::condense() {
  for (Group& group : groups_) {
    if (!group.changed) continue;
    const std::size_t b = group.begin;
    if (!condenseLanes(group.rows, group.firstSiemens, &ohms_[b], &slope_[b], &start_[b], &shrink_[b],
                       &offset_[b], &carry_[b], group.ends))
      return false;
    group.changed = false;
  }
  return true;
}

void Inner::fill(std::span<const double> pairVolts, std::span<double> volts) {
  for (Group& group : groups_) {
    LaneValues from{}, to{};
    for (std::size_t lane = 0; lane < group.pieces; ++lane) {
      const Piece& piece = pieces_[group.firstPiece + lane];
      from[lane] = piece.from < 0 ? 0.0 : pairVolts[piece.from];
      to[lane] = pairVolts[piece.to];
    }
    const std::size_t b = group.begin;
    group.outside = fillLanes(group.rows, from, to, group.low, group.high, &shrink_[b], &offset_[b],
                              &carry_[b], &volts[b]);
  }
}

void Inner::followAll(Group& group, Slopes slopes, double factor, std::span<const double> volts,
                      std::span<const double> next, std::span<std::uint8_t> region, Move& move) {
  for (std::size_t q = group.begin; q < group.begin + group.rows * kLanes; ++q) {
    if ((group.outside >> (q % kLanes) & 1u) == 0 || curve_[q] < 0) continue;
    if (!follow(curves_[curve_[q]], slopes, volts[q], next[q], region[q], move)) continue;
    setLine(q, slopes, factor, next[q], region[q]);
    group.changed = true;
  }
  if (group.changed) setBounds(group, slopes, region);
}

void Inner::accept(Slopes slopes, double factor, std::span<const double> volts, std::span<const double> next,
                   std::span<std::uint8_t> region, Move& move) {
  for (Group& group : groups_) {
    const bool pinned = group.curved && slopes == Slopes::AllOn;
    if (group.curved && !pinned) group.outside = (1u << kLanes) - 1;
    if (group.outside != 0) followAll(group, slopes, factor, volts, next, region, move);
    if (!pinned) continue;
    move.curved = std::max(move.curved, tangents(group, factor, volts, next));
    group.changed = true;
  }
}

}  // namespace yw::circuit
