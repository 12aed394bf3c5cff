#pragma once
#include <cstdint>
#include <vector>

#include "core/circuit/network.h"

// The cheapest set of feeds for one run, on plain figures; feeds_for_run.h makes these from a yard.
namespace yw::propose {

/// One feed that could be put in: a place with a wire, a fuse and a supply.
struct FeedOption {
  std::int32_t place = 0;     ///< 0-based pixel along the run it lands at
  std::int32_t supply = 0;    ///< index into FeedRun::supplyVolts
  bool cut = false;           ///< V+ is cut just before `place`
  double positiveOhms = 0.0;  ///< supply to pixel: fuse, contacts, wire
  double zeroOhms = 0.0;      ///< pixel back to supply; the sum of both must be > 0
  double most = 0.0;          ///< A that may be planned on its fuse
  double cost = 0.0;          ///< in any one unit, >= 0
};

/// A run of pixels that wants feeds.
struct FeedRun {
  std::vector<double> positiveOhms, zeroOhms;  ///< before each pixel; [0] is not used
  std::vector<circuit::Load> loads;            ///< kinds of pixel
  std::vector<std::int32_t> load;              ///< per pixel, into loads
  std::vector<double> leastVolts;              ///< per pixel: the volts it must keep, margin included
  std::vector<double> supplyVolts;
  std::vector<double> supplyRoom;  ///< A that each supply may give this run in all; empty: no limit
  bool hasPort = false;            ///< V+ comes in from the port as well
  FeedOption port;                 ///< its lead: place 0, costs nothing
  /// Cost of leaving the port's V+ off, where that is a choice; < 0: it must stay as it is.
  double portOffCost = -1.0;
  std::vector<FeedOption> options;
};

/// How much work to put in; the same work gives the same answer on any machine.
struct FeedEffort {
  std::int64_t comparisons = 40'000'000;  ///< of labels, over all passes
  std::int32_t front = 4'000;             ///< labels kept at one pixel
};

struct FeedPlan {
  bool feasible = false;
  bool usesPort = true;
  std::vector<std::int32_t> chosen;  ///< into FeedRun::options, by place
  double cost = 0.0;
  /// No plan of the loop model (feed_model.h) can cost less. Unlike ratios of the two rails and returns
  /// that go on across a cut are left out of it.
  double bound = 0.0;
  /// Proved in that model, and it holds in the circuit, or every cheaper choice was tried in the circuit:
  /// cost and bound are equal.
  bool optimal = false;
  /// Not feasible: the first pixel that no option can feed well enough, and the volts it has with every
  /// option in (-1: each pixel can be fed, but not all at once).
  std::int32_t stuckAt = -1;
  double stuckVolts = 0.0;
};

/// Cheapest feeds that keep every pixel at its least volts, every fuse within what may be planned on it and
/// every supply within what it may give. Method: labels (cost, current drawn as a straight line in V, least
/// V) walked along the run once; see feed_plan.cpp. Where that is no proof and the choices are few, those
/// that would be cheaper are tried in the circuit one by one. Loads must not fall with rising volts above
/// leastVolts; constant-power loads are planned at the current they have at their least volts. The answer is
/// checked with circuit::solve, is never dearer than equally spaced feeds of one kind, and has no feed that
/// could be left out.
FeedPlan planFeeds(const FeedRun& run, const FeedEffort& effort = {});

/// What the true circuit does with these feeds in.
struct FeedCheck {
  bool holds = false;         ///< every limit is kept
  double worstShortfall = 0;  ///< V, most that a pixel is below its least volts; negative: headroom
  double worstFuse = 0;       ///< A over what may be planned, of the worst fuse; negative: room
  double worstSupply = 0;     ///< A over FeedRun::supplyRoom, of the worst supply; negative: room
  std::int32_t worstPixel = 0;
  std::vector<double> supplyAmps;  ///< A that each supply gives; empty: V+ of two supplies is joined
};
FeedCheck checkFeeds(const FeedRun& run, const std::vector<std::int32_t>& chosen, bool usesPort);

/// Equally spaced feeds of the cheapest kind that holds: `nothing` when none does.
FeedPlan equalSpacing(const FeedRun& run);

}  // namespace yw::propose
