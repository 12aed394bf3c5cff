// Feeds for one run: the search of feed_search.cpp in the loop model, checked in the circuit and tightened
// until it holds there, then what else few choices can better.
#include "core/propose/feed_plan.h"

#include <algorithm>
#include <cmath>

#include "core/propose/feed_search.h"

namespace yw::propose {

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

struct Trial {
  double raise = 0.0, share = 1.0;
};

/// Where even every feed at once leaves a pixel short.
void explain(const FeedRun& run, const ZoneBound& bound, FeedPlan& plan) {
  FeedSet all;
  std::int32_t place = -1;
  for (const FeedSet& kind : feedKinds(run))
    for (const std::int32_t o : kind)
      if (all.size() < run.options.size()) all.push_back(o);
  std::stable_sort(all.begin(), all.end(), [&](std::int32_t x, std::int32_t y) {
    const FeedOption &a = run.options[static_cast<std::size_t>(x)],
                     &b = run.options[static_cast<std::size_t>(y)];
    if (a.place != b.place) return a.place < b.place;
    return a.positiveOhms + a.zeroOhms < b.positiveOhms + b.zeroOhms;
  });
  FeedSet best;
  for (const std::int32_t o : all) {
    const std::int32_t here = run.options[static_cast<std::size_t>(o)].place;
    if (here != place && !run.options[static_cast<std::size_t>(o)].cut) best.push_back(o);
    place = here;
  }
  const FeedCheck check = checkFeeds(run, best, run.hasPort);
  plan.stuckAt = bound.stuckAt >= 0 || check.worstShortfall > 0 ? check.worstPixel : -1;
  if (plan.stuckAt < 0) return;
  const double least = run.leastVolts[static_cast<std::size_t>(check.worstPixel)];
  plan.stuckVolts = std::isfinite(check.worstShortfall) ? least - check.worstShortfall : 0.0;
}

/// Is the loop model the truth: straight loads, one ratio of V+ to 0 V everywhere, no cut that a return goes
/// across?
bool isTruth(const FeedRun& run, const FeedModel& model) {
  double ratio = -1.0;
  const auto other = [&](double positive, double zero) {
    if (positive + zero <= 0.0) return false;
    const double here = positive / (positive + zero);
    if (ratio < 0.0) ratio = here;
    return std::abs(here - ratio) > 1e-12;
  };
  if (!model.exact || (run.hasPort && other(run.port.positiveOhms, run.port.zeroOhms))) return false;
  for (std::size_t k = 1; k < run.load.size(); ++k)
    if (other(run.positiveOhms[k], run.zeroOhms[k])) return false;
  return std::none_of(run.options.begin(), run.options.end(), [&](const FeedOption& o) {
    return (o.cut && o.place > 0) || other(o.positiveOhms, o.zeroOhms);
  });
}

/// Every choice of at most one option a place that costs less than `limit`; false: more than `most` of them.
bool listCheaper(const FeedRun& run, double limit, std::size_t most, std::vector<FoundFeeds>& out) {
  std::vector<FeedSet> places;
  FeedSet order(run.options.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = static_cast<std::int32_t>(i);
  const auto placeOf = [&](std::int32_t o) { return run.options[static_cast<std::size_t>(o)].place; };
  std::stable_sort(order.begin(), order.end(),
                   [&](std::int32_t x, std::int32_t y) { return placeOf(x) < placeOf(y); });
  for (const std::int32_t o : order) {
    if (places.empty() || placeOf(places.back().front()) != placeOf(o)) places.emplace_back();
    places.back().push_back(o);
  }
  FoundFeeds now;
  const auto walk = [&](const auto& self, std::size_t place) -> bool {
    if (now.cost >= limit - kSameCost) return true;
    if (out.size() >= most) return false;
    if (place == places.size()) {
      out.push_back(now);
      return true;
    }
    if (!self(self, place + 1)) return false;
    for (const std::int32_t o : places[place]) {
      const double before = now.cost;
      now.chosen.push_back(o);
      now.cost += run.options[static_cast<std::size_t>(o)].cost;
      const bool all = self(self, place + 1);
      now.cost = before;
      now.chosen.pop_back();
      if (!all) return false;
    }
    return true;
  };
  for (const bool port : {true, false}) {
    if (port ? !run.hasPort : run.hasPort && run.portOffCost < 0) continue;
    now.usesPort = port;
    now.cost = costOfFeeds(run, {}, port);
    if (!walk(walk, 0)) return false;
  }
  return true;
}

/// Tries in the circuit all choices that would be cheaper, the cheapest first. False: they are too many for
/// so many pixels to be solved, and none was tried.
bool tryCheaper(const FeedRun& run, std::int64_t pixels, FoundFeeds& best) {
  std::vector<FoundFeeds> cheaper;
  const auto most = static_cast<std::size_t>(pixels / static_cast<std::int64_t>(run.load.size()));
  if (most == 0 || !listCheaper(run, best.cost, most, cheaper)) return false;
  std::stable_sort(cheaper.begin(), cheaper.end(),
                   [](const FoundFeeds& x, const FoundFeeds& y) { return x.cost < y.cost; });
  for (FoundFeeds& found : cheaper) {
    if (!checkFeeds(run, found.chosen, found.usesPort).holds) continue;
    best = std::move(found);
    dropNeedless(run, best);
    break;
  }
  return true;
}

}  // namespace

FeedPlan planFeeds(const FeedRun& run, const FeedEffort& effort) {
  FeedPlan plan;
  if (run.load.empty()) return plan;
  FoundFeeds best;
  if (const FeedPlan even = equalSpacing(run); even.feasible) {
    best = {even.cost, even.usesPort, even.chosen};
    dropNeedless(run, best);
  }
  ZoneBound trueBound;
  bool proved = false, truth = false;
  Trial trial;
  constexpr int kTrials = 6;
  for (int t = 0; t < kTrials; ++t) {
    const FeedModel model = feedModel(run, trial.raise, trial.share);
    FoundFeeds found;
    ZoneBound bound;
    FeedEffort part = effort;
    if (t > 0) part.comparisons /= 4;
    const bool whole = planInModel(run, model, part, found, bound);
    if (t == 0) {
      trueBound = bound;
      proved = whole && model.exact;
      truth = isTruth(run, model);
    }
    if (found.cost == kInfinity) break;
    const FeedCheck check = checkFeeds(run, found.chosen, found.usesPort);
    if (check.holds) {
      dropNeedless(run, found);
      if (found.cost < best.cost - kSameCost) best = std::move(found);
      proved = proved && t == 0;
      break;
    }
    proved = false;
    if (found.cost >= best.cost - kSameCost) break;  // tightening only makes it dearer
    if (check.worstShortfall > 0 && std::isfinite(check.worstShortfall))
      trial.raise += check.worstShortfall + 1e-3;
    if (check.worstFuse > 0 && std::isfinite(check.worstFuse)) trial.share *= 0.96;
  }
  constexpr std::int64_t kComparisonsAPixel = 40;  // of a pixel solved in the circuit, about
  if (!(proved && truth) && tryCheaper(run, effort.comparisons / kComparisonsAPixel, best)) proved = true;
  double first = kInfinity;  // the port reaches as far as it can for nothing
  if (run.hasPort) {
    const FeedModel model = feedModel(run, 0.0, 1.0);
    const double volts = run.supplyVolts[static_cast<std::size_t>(run.port.supply)];
    const double ohms = run.port.positiveOhms + run.port.zeroOhms;
    const std::int32_t b = reachRight(model, 0, volts, ohms, run.port.most);
    first = trueBound.from[static_cast<std::size_t>(b) + 1];
  }
  plan.bound = run.hasPort ? std::min(first, trueBound.from[0]) : trueBound.from[0];
  if (best.cost == kInfinity) {
    explain(run, trueBound, plan);
    return plan;
  }
  plan.feasible = true;
  plan.usesPort = best.usesPort;
  plan.chosen = best.chosen;
  plan.cost = best.cost;
  plan.optimal = proved || plan.cost <= plan.bound + kSameCost;
  if (proved) plan.bound = plan.cost;
  plan.bound = std::min(plan.bound, plan.cost);
  return plan;
}

}  // namespace yw::propose
