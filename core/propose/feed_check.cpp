// Feeds in the true circuit, and evenly spread ones.
#include <algorithm>
#include <cmath>

#include "core/propose/feed_search.h"

namespace yw::propose {

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

/// V+ joined between two supplies?
bool joinsSupplies(const FeedRun& run, const FeedSet& chosen, bool usesPort) {
  std::int32_t supply = usesPort ? run.port.supply : -1;
  for (const std::int32_t o : chosen) {
    const FeedOption& option = run.options[static_cast<std::size_t>(o)];
    if (!option.cut && supply >= 0 && supply != option.supply) return true;
    supply = option.supply;
  }
  return false;
}
/// `count` of these options, spread evenly over the run; `toEnd`: the last one at the end.
FeedSet spread(const FeedRun& run, const FeedSet& kind, int count, bool toEnd) {
  const double n = static_cast<double>(run.load.size());
  FeedSet chosen;
  for (int i = 1; i <= count; ++i) {
    const double want =
        toEnd ? (n - 1) * i / count
              : n * (2.0 * i - (run.hasPort ? 0.0 : 1.0)) / (2.0 * count + (run.hasPort ? 1.0 : 0.0));
    const std::int32_t near =
        *std::min_element(kind.begin(), kind.end(), [&](std::int32_t x, std::int32_t y) {
          return std::abs(run.options[static_cast<std::size_t>(x)].place - want) <
                 std::abs(run.options[static_cast<std::size_t>(y)].place - want);
        });
    if (chosen.empty() || chosen.back() != near) chosen.push_back(near);
  }
  return chosen;
}

}  // namespace

double costOfFeeds(const FeedRun& run, const FeedSet& chosen, bool usesPort) {
  double cost = usesPort || !run.hasPort ? 0.0 : std::max(0.0, run.portOffCost);
  for (const std::int32_t o : chosen) cost += run.options[static_cast<std::size_t>(o)].cost;
  return cost;
}

std::vector<FeedSet> feedKinds(const FeedRun& run) {
  std::vector<FeedSet> kinds;
  std::vector<std::int32_t> order(run.options.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = static_cast<std::int32_t>(i);
  std::stable_sort(order.begin(), order.end(), [&](std::int32_t x, std::int32_t y) {
    return run.options[static_cast<std::size_t>(x)].place < run.options[static_cast<std::size_t>(y)].place;
  });
  std::int32_t place = -1;
  std::size_t rank = 0;
  for (const std::int32_t o : order) {
    const std::int32_t here = run.options[static_cast<std::size_t>(o)].place;
    rank = here == place ? rank + 1 : 0;
    place = here;
    if (rank == kinds.size()) kinds.emplace_back();
    kinds[rank].push_back(o);
  }
  return kinds;
}

void eachSpread(const FeedRun& run, const std::function<bool(const FeedSet&)>& attempt) {
  constexpr int kMostFeeds = 40;
  for (const FeedSet& kind : feedKinds(run))
    for (int count = 0; count <= std::min<int>(kMostFeeds, static_cast<int>(kind.size())); ++count)
      for (const bool toEnd : {false, true})
        if (attempt(spread(run, kind, count, toEnd))) {
          count = kMostFeeds;
          break;
        }
}

FeedCheck checkFeeds(const FeedRun& run, const FeedSet& chosen, bool usesPort) {
  FeedCheck check;
  if (joinsSupplies(run, chosen, usesPort)) return {false, kInfinity, kInfinity, kInfinity, 0, {}};
  circuit::Network net;
  const auto supplies = static_cast<std::int32_t>(run.supplyVolts.size());
  net.extraNodes = supplies + 1;  // one 0 V for all supplies, then each one's V+
  net.loads = run.loads;
  circuit::Chain chain;
  chain.load = run.load;
  chain.positive = run.positiveOhms;
  chain.zero = run.zeroOhms;
  chain.positive[0] = chain.zero[0] = 0.0;
  for (const std::int32_t o : chosen) {
    const FeedOption& option = run.options[static_cast<std::size_t>(o)];
    if (option.cut && option.place > 0) chain.positive[static_cast<std::size_t>(option.place)] = kInfinity;
    if (option.cut && option.place == 0) usesPort = false;
  }
  net.chains.push_back(std::move(chain));
  for (std::int32_t s = 0; s < supplies; ++s)
    net.sources.push_back({s + 1, 0, run.supplyVolts[static_cast<std::size_t>(s)], 0.0, s});
  const auto join = [&](const FeedOption& option, bool positive) {
    const auto k = static_cast<std::size_t>(option.place);
    net.conductors.push_back({0, net.zeroNode(0, k), option.zeroOhms});
    if (positive) net.conductors.push_back({option.supply + 1, net.positiveNode(0, k), option.positiveOhms});
  };
  std::vector<std::pair<std::size_t, const FeedOption*>> fuses;  // conductor, what it is of
  if (run.hasPort) {
    join(run.port, usesPort);
    if (usesPort) fuses.emplace_back(net.conductors.size() - 1, &run.port);
  }
  for (const std::int32_t o : chosen) {
    join(run.options[static_cast<std::size_t>(o)], true);
    fuses.emplace_back(net.conductors.size() - 1, &run.options[static_cast<std::size_t>(o)]);
  }
  const circuit::Solution solution = circuit::solve(net);
  check.worstShortfall = check.worstFuse = check.worstSupply = -kInfinity;
  for (std::size_t k = 0; k < run.load.size(); ++k) {
    const double shortfall = solution.fed[0][k] ? run.leastVolts[k] - solution.volts[0][k] : kInfinity;
    if (shortfall <= check.worstShortfall) continue;
    check.worstShortfall = shortfall;
    check.worstPixel = static_cast<std::int32_t>(k);
  }
  std::vector<double>& given = check.supplyAmps;
  given.assign(run.supplyVolts.size(), 0.0);
  for (const auto& [conductor, option] : fuses) {
    const double amps = solution.conductorAmps[conductor];
    check.worstFuse = std::max(check.worstFuse, std::abs(amps) - option->most);
    given[static_cast<std::size_t>(option->supply)] += amps;
  }
  for (std::size_t s = 0; s < run.supplyRoom.size(); ++s)
    check.worstSupply = std::max(check.worstSupply, given[s] - run.supplyRoom[s]);
  constexpr double kVolts = 1e-6, kAmps = 1e-6;
  check.holds = solution.state == circuit::Solution::State::Solved && check.worstShortfall <= kVolts &&
                check.worstFuse <= kAmps && check.worstSupply <= kAmps;
  return check;
}

FeedPlan equalSpacing(const FeedRun& run) {
  FeedPlan plan;
  plan.cost = kInfinity;
  eachSpread(run, [&](const FeedSet& chosen) {
    const double cost = costOfFeeds(run, chosen, run.hasPort);
    if (cost >= plan.cost || !checkFeeds(run, chosen, run.hasPort).holds) return false;
    plan.feasible = true;
    plan.usesPort = run.hasPort;
    plan.chosen = chosen;
    plan.cost = cost;
    return true;
  });
  return plan;
}

void dropNeedless(const FeedRun& run, FoundFeeds& found) {
  for (bool again = true; again;) {
    again = false;
    FeedSet order = found.chosen;
    std::stable_sort(order.begin(), order.end(), [&](std::int32_t x, std::int32_t y) {
      return run.options[static_cast<std::size_t>(x)].cost > run.options[static_cast<std::size_t>(y)].cost;
    });
    for (const std::int32_t o : order) {
      FeedSet without = found.chosen;
      without.erase(std::find(without.begin(), without.end(), o));
      if (!checkFeeds(run, without, found.usesPort).holds) continue;
      found.chosen = std::move(without);
      found.cost = costOfFeeds(run, found.chosen, found.usesPort);
      again = true;
      break;
    }
  }
}

}  // namespace yw::propose
