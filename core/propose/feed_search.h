#pragma once
#include <functional>
#include <limits>
#include <vector>

#include "core/propose/feed_model.h"

// What the files that plan feeds share; feed_plan.h is what others use.
namespace yw::propose {

inline constexpr double kSameCost = 1e-9;

/// Options of a run, into FeedRun::options, by place.
using FeedSet = std::vector<std::int32_t>;

struct FoundFeeds {
  double cost = std::numeric_limits<double>::infinity();
  bool usesPort = true;
  FeedSet chosen;
};

double costOfFeeds(const FeedRun& run, const FeedSet& chosen, bool usesPort);

/// Options of one kind: the r-th of each place, places rising.
std::vector<FeedSet> feedKinds(const FeedRun& run);
/// Sets of one kind, spread evenly over the run, more and more of them until `attempt` takes one.
void eachSpread(const FeedRun& run, const std::function<bool(const FeedSet&)>& attempt);
/// Leaves out, dearest first, every feed without which all limits are kept in the circuit.
void dropNeedless(const FeedRun& run, FoundFeeds& found);

/// The best plan of the model, and whether that was proved.
bool planInModel(const FeedRun& run, const FeedModel& model, const FeedEffort& effort, FoundFeeds& best,
                 ZoneBound& bound);

}  // namespace yw::propose
