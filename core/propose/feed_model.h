#pragma once
#include <array>
#include <vector>

#include "core/propose/feed_plan.h"

// What the search for feeds walks on: each load as a straight line, both conductors as one loop. Exact where
// V+ and 0 V have one ratio and loads are straight above the least volts; every answer is checked with
// circuit::solve, so elsewhere it only guides.
namespace yw::propose {

/// So many supplies of one run are held to what they may give; what is beyond is only seen in the circuit.
inline constexpr std::size_t kMostBounded = 3;

struct FeedModel {
  std::int32_t count = 0;
  std::vector<double> ohms;          ///< loop, before each pixel
  std::vector<double> slope, start;  ///< a pixel draws slope·V + start, slope >= 0
  std::vector<double> least;         ///< V
  std::vector<double> supplyVolts;
  double top = 0.0;          ///< highest supply, V
  double lowestLeast = 0.0;  ///< V
  bool exact = true;         ///< every load is a straight line above its least volts
  double raise = 0.0;        ///< V, that was added to all least volts
  double fuseShare = 1.0;    ///< of what may be planned on fuses; below 1 to stay clear of them
  /// Sums up to and with each pixel: least currents, ohms, and ohms · (current up to the pixel before).
  std::vector<double> amps, along, moment;
  std::vector<double> most;           ///< sum up to and with each pixel of the most it draws, A
  std::vector<std::int32_t> bounded;  ///< per supply: its number among those that could give too much; or -1
  std::array<double, kMostBounded> room{};  ///< A of each of those
  std::int32_t boundedCount = 0;
};

/// `raise` V are added to all least volts; `share` scales what fuses may carry; constant-power loads are
/// planned at `powerAt` V each (one figure a pixel; empty: at their least volts).
FeedModel feedModel(const FeedRun& run, double raise, double share, const std::vector<double>& powerAt = {});

/// All that lies to the left of a place: it draws e·V + j from there, and holds while V >= least.
struct FeedLabel {
  double cost = 0.0, e = 0.0, j = 0.0, least = 0.0;
  std::int32_t supply = -1;  ///< that feeds V+ here; -1: none so far
  std::int32_t from = 0;     ///< first pixel of this piece of V+
  std::int32_t node = -1;    ///< last feed put in, for walking back
  /// A that bounded supplies give to earlier pieces.
  std::array<double, kMostBounded> given{};
  double draws(double volts) const { return e * volts + j; }
};
inline constexpr double kNoLeast = -1e30;

/// Over the segment before pixel k and past the pixel itself.
void crossSegment(const FeedModel& model, std::int32_t k, FeedLabel& label);
void addLoad(const FeedModel& model, std::int32_t k, FeedLabel& label);
void addFeed(const FeedModel& model, const FeedOption& option, FeedLabel& label);
/// Can it stand alone, V+ ending here?
bool standsAlone(const FeedLabel& label);
/// Label before anything: with the port's V+ or without.
FeedLabel firstLabel(const FeedRun& run, const FeedModel& model, bool usesPort);
/// A from that bounded supply once pixel k is in.
inline double givenWith(const FeedModel& model, const FeedLabel& label, std::size_t slot, std::int32_t k) {
  double amps = label.given[slot];
  if (label.supply >= 0 && model.bounded[static_cast<std::size_t>(label.supply)] == static_cast<int>(slot))
    amps += model.most[static_cast<std::size_t>(k)] -
            (label.from > 0 ? model.most[static_cast<std::size_t>(label.from) - 1] : 0.0);
  return amps;
}
/// No supply gives more than it may, up to and with pixel k.
inline bool supplyHolds(const FeedModel& model, const FeedLabel& label, std::int32_t k) {
  for (std::size_t s = 0; s < static_cast<std::size_t>(model.boundedCount); ++s)
    if (givenWith(model, label, s, k) > model.room[s] + 1e-9) return false;
  return true;
}
/// The label after V+ is cut before pixel k.
FeedLabel afterCut(const FeedModel& model, const FeedLabel& label, std::int32_t k);
/// May this option follow here without joining the V+ of two supplies?
inline bool fits(const FeedLabel& label, const FeedOption& option) {
  return option.cut || label.supply < 0 || label.supply == option.supply;
}

/// Do these feeds (sorted by place) hold in the model?
bool holdsInModel(const FeedRun& run, const FeedModel& model, const std::vector<std::int32_t>& chosen,
                  bool usesPort);

/// Cheapest cover of the pixels by zones, one an option, in which superposition is left out: a lower bound.
/// Why it is one: on a line the flow from feeds to pixels splits into one stretch of pixels a feed, in order;
/// a feed that has only its own stretch keeps volts at least as high. A pixel shared by two feeds is counted
/// to the left one without its current. A feed may lie outside its stretch.
struct ZoneBound {
  std::vector<double> from;   ///< [k]: least cost of feeding pixels k..; [count] is 0
  std::int32_t stuckAt = -1;  ///< the last pixel that no option reaches; -1: none
};
ZoneBound zoneBound(const FeedRun& run, const FeedModel& model);
/// Last pixel that a source of `volts` behind `ohms` at pixel k can reach to its right with at most `most` A;
/// k: none.
std::int32_t reachRight(const FeedModel& model, std::int32_t k, double volts, double ohms, double most);

/// Plans made of zones that hold on their own, with fuses planned at `share`: a start for the search.
std::vector<std::int32_t> zonePlan(const FeedRun& run, const FeedModel& model, double share);

}  // namespace yw::propose
