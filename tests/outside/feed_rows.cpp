// Feeds on 1,000 small random runs against every choice tried. The runs are solved here by the node equations
// of both rails with Eigen's LU, each rail on its own: nothing of core/circuit or of the planner's loop model
// is used for that.
#include <fmt/format.h>

#include <Eigen/Dense>
#include <cmath>
#include <limits>

#include "core/propose/feed_plan.h"
#include "tests/draw.h"
#include "tests/outside/rows.h"

namespace yw::checks {

namespace {

using namespace yw::propose;

constexpr double kInfinity = std::numeric_limits<double>::infinity();

/// A pixel that draws `amps` whatever its volts, or one of resistors behind 7 V.
circuit::Load pixel(bool resistor, double amps) {
  circuit::Load load;
  if (resistor) {
    load.kind = circuit::Load::Kind::Resistor;
    load.channels[0] = {0.0, 7.0, 0.0, 5.0 / amps};
  } else {
    load.channels[0] = {amps, 3.0, 4.0, 0.0};
  }
  return load;
}

struct WireKind {
  double ohmsPerMetre, most, fixed, perMetre;
};
constexpr WireKind kWires[] = {{0.0132, 5.0, 3.0, 0.5}, {0.0083, 7.5, 4.0, 0.9}, {0.0052, 11.0, 5.0, 1.6}};

/// A quarter of the runs has one ratio of the rails everywhere, the others have fuses and unlike rails; half
/// may cut V+; a third may use a second supply, whose V+ never meets the first one's, and what a supply may
/// give is then short.
FeedRun smallRun(std::uint32_t seed) {
  Draw draw(seed);
  FeedRun run;
  const int pixels = draw.whole(8, 16), places = draw.whole(3, 5);
  const bool alike = draw.one(4), cuts = draw.one(2), two = draw.one(3);
  const int kinds = cuts || two ? draw.whole(1, 2) : draw.whole(1, 3);
  const double amps = draw.part(0.15, 0.9);
  run.loads = {pixel(draw.one(2), amps), pixel(draw.one(2), amps * draw.part(0.5, 1.5))};
  run.supplyVolts = {12.0};
  if (two) run.supplyVolts.push_back(12.0);
  if (two)
    for (int s = 0; s < 2; ++s) run.supplyRoom.push_back(amps * pixels * draw.part(0.45, 1.2));
  const double least = draw.part(9.6, 11.5), ohms = draw.part(0.01, 0.06);
  for (int k = 0; k < pixels; ++k) {
    run.load.push_back(draw.one(5) ? 1 : 0);
    run.zeroOhms.push_back(k == 0 ? 0.0 : ohms * draw.part(0.7, 1.5));
    run.positiveOhms.push_back(run.zeroOhms.back() * (alike ? 1.0 : draw.part(0.8, 1.6)));
    run.leastVolts.push_back(least);
  }
  const auto option = [&](int place, const WireKind& wire, int supply, bool cut) {
    FeedOption o;
    o.place = place;
    o.supply = supply;
    o.cut = cut;
    const double metres = draw.part(1.0, 12.0);
    o.zeroOhms = 0.01 + metres * wire.ohmsPerMetre;
    o.positiveOhms = o.zeroOhms + (alike ? 0.0 : 0.1 / wire.most);  // a fuse loses 0.1 V at its rating
    o.most = wire.most * 0.75;
    o.cost = wire.fixed + metres * wire.perMetre;
    return o;
  };
  if (!draw.one(3)) {
    run.hasPort = true;
    run.port = option(0, kWires[0], 0, false);
    run.port.cost = 0.0;
    if (draw.one(2)) run.portOffCost = 1.0;
  }
  for (int i = 0; i < places; ++i)
    for (int t = 0; t < kinds; ++t) {
      const int place = i * (pixels - 1) / (places - 1);
      run.options.push_back(option(place, kWires[t], 0, false));
      if (cuts && place > 0 && t == 0) run.options.push_back(option(place, kWires[t], 0, true));
      if (two && t == 0) run.options.push_back(option(place, kWires[t], 1, place > 0));
    }
  return run;
}

/// Both rails of a run with these feeds: volts of every pixel, amps of every feed.
class BothRails {
 public:
  BothRails(const FeedRun& run, const std::vector<const FeedOption*>& feeds, bool port)
      : run_(run), n_(static_cast<Eigen::Index>(run.load.size())) {
    equations_ = Eigen::MatrixXd::Zero(2 * n_, 2 * n_);
    right_ = Eigen::VectorXd::Zero(2 * n_);
    std::vector<bool> cut(run.load.size(), false);
    for (const FeedOption* feed : feeds)
      if (feed->cut) cut[static_cast<std::size_t>(feed->place)] = true;
    // A feed that is cut off at the first pixel leaves the port's V+ off.
    port = port && !cut[0];
    for (Eigen::Index k = 0; k < n_; ++k) {
      const auto i = static_cast<std::size_t>(k);
      if (k > 0 && !cut[i]) resistor(2 * k - 2, 2 * k, run.positiveOhms[i]);
      if (k > 0) resistor(2 * k - 1, 2 * k + 1, run.zeroOhms[i]);
      load(k, run.loads[static_cast<std::size_t>(run.load[i])].channels[0],
           run.loads[static_cast<std::size_t>(run.load[i])].kind == circuit::Load::Kind::Resistor);
    }
    if (run.hasPort) toSupply(run.port, port);
    if (run.hasPort && port) fed_.push_back(&run.port);
    for (const FeedOption* feed : feeds) {
      toSupply(*feed, true);
      fed_.push_back(feed);
    }
    // Each piece of V+ needs a feed: only then do the equations have one answer.
    bool fedHere = run.hasPort && port;
    for (std::size_t k = 0; k < cut.size(); ++k) {
      if (cut[k] && k > 0) solved_ = solved_ && fedHere, fedHere = false;
      for (const FeedOption* feed : feeds) fedHere = fedHere || feed->place == static_cast<int>(k);
    }
    solved_ = solved_ && fedHere;
    if (solved_) volts_ = equations_.partialPivLu().solve(right_);
  }

  bool keepsAllLimits() const {
    if (!solved_) return false;
    constexpr double kVolts = 1e-6, kAmps = 1e-6;
    for (Eigen::Index k = 0; k < n_; ++k)
      if (volts_[2 * k] - volts_[2 * k + 1] < run_.leastVolts[static_cast<std::size_t>(k)] - kVolts)
        return false;
    std::vector<double> given(run_.supplyVolts.size(), 0.0);
    for (const FeedOption* feed : fed_) {
      const auto supply = static_cast<std::size_t>(feed->supply);
      const double amps = (run_.supplyVolts[supply] - volts_[2 * feed->place]) / feed->positiveOhms;
      if (std::abs(amps) > feed->most + kAmps) return false;
      given[supply] += amps;
    }
    for (std::size_t s = 0; s < run_.supplyRoom.size(); ++s)
      if (given[s] > run_.supplyRoom[s] + kAmps) return false;
    return true;
  }

 private:
  void resistor(Eigen::Index a, Eigen::Index b, double ohms) {
    equations_(a, a) += 1.0 / ohms;
    equations_(b, b) += 1.0 / ohms;
    equations_(a, b) -= 1.0 / ohms;
    equations_(b, a) -= 1.0 / ohms;
  }
  /// Node 2k is V+ of pixel k, 2k + 1 its 0 V; every limit lies where a load is a straight line.
  void load(Eigen::Index k, const auto& channel, bool isResistor) {
    const double amps = isResistor ? -channel.dark / channel.ohms : channel.amps;
    if (isResistor) resistor(2 * k, 2 * k + 1, channel.ohms);
    right_[2 * k] -= amps;
    right_[2 * k + 1] += amps;
  }
  void toSupply(const FeedOption& feed, bool positive) {
    const Eigen::Index k = feed.place;
    equations_(2 * k + 1, 2 * k + 1) += 1.0 / feed.zeroOhms;
    if (!positive) return;
    equations_(2 * k, 2 * k) += 1.0 / feed.positiveOhms;
    right_[2 * k] += run_.supplyVolts[static_cast<std::size_t>(feed.supply)] / feed.positiveOhms;
  }

  const FeedRun& run_;
  Eigen::Index n_;
  Eigen::MatrixXd equations_;
  Eigen::VectorXd right_, volts_;
  std::vector<const FeedOption*> fed_;
  bool solved_ = true;
};

bool joinsSupplies(const FeedRun& run, const std::vector<const FeedOption*>& feeds, bool port) {
  std::int32_t supply = port && run.hasPort ? run.port.supply : -1;
  for (const FeedOption* feed : feeds) {
    if (!feed->cut && supply >= 0 && supply != feed->supply) return true;
    supply = feed->supply;
  }
  return false;
}

bool holds(const FeedRun& run, const std::vector<const FeedOption*>& feeds, bool port) {
  return !joinsSupplies(run, feeds, port) && BothRails(run, feeds, port).keepsAllLimits();
}

/// Least cost over every choice of at most one option a place, with the port's V+ and, where it may be, off.
double leastCost(const FeedRun& run) {
  std::vector<std::vector<const FeedOption*>> places;
  for (const FeedOption& option : run.options) {
    if (places.empty() || places.back().front()->place != option.place) places.emplace_back();
    places.back().push_back(&option);
  }
  double best = kInfinity;
  std::vector<const FeedOption*> chosen;
  const auto walk = [&](const auto& self, std::size_t i, double cost, bool port) -> void {
    if (cost >= best) return;
    if (i == places.size()) {
      if (holds(run, chosen, port)) best = cost;
      return;
    }
    self(self, i + 1, cost, port);
    for (const FeedOption* option : places[i]) {
      chosen.push_back(option);
      self(self, i + 1, cost + option->cost, port);
      chosen.pop_back();
    }
  };
  walk(walk, 0, 0.0, run.hasPort);
  if (run.hasPort && run.portOffCost >= 0) walk(walk, 0, run.portOffCost, false);
  return best;
}

std::vector<const FeedOption*> feedsOf(const FeedRun& run, const FeedPlan& plan) {
  std::vector<const FeedOption*> feeds;
  for (const std::int32_t o : plan.chosen) feeds.push_back(&run.options[static_cast<std::size_t>(o)]);
  return feeds;
}

}  // namespace

Rows feedRows() {
  constexpr int kCases = 1000;
  int feasible = 0, equal = 0, agreed = 0, holding = 0, proved = 0, needed = 0, feeds = 0, shared = 0,
      within = 0;
  for (std::uint32_t seed = 1; feasible < kCases && seed < 4 * kCases; ++seed) {
    const FeedRun run = smallRun(seed);
    const double best = leastCost(run);
    const FeedPlan plan = planFeeds(run);
    agreed += plan.feasible == std::isfinite(best) ? 0 : 1;
    if (!std::isfinite(best)) continue;
    ++feasible;
    if (!plan.feasible) continue;
    const auto chosen = feedsOf(run, plan);
    equal += std::abs(plan.cost - best) <= 1e-6 ? 1 : 0;
    proved += plan.optimal && std::abs(plan.bound - best) <= 1e-6 ? 1 : 0;
    holding += holds(run, chosen, plan.usesPort) ? 1 : 0;
    bool first = plan.usesPort && run.hasPort, second = false;
    for (std::size_t i = 0; i < chosen.size(); ++i) {
      auto without = chosen;
      without.erase(without.begin() + static_cast<std::ptrdiff_t>(i));
      needed += holds(run, without, plan.usesPort) ? 0 : 1;
      (chosen[i]->supply == 0 ? first : second) = true;
    }
    feeds += static_cast<int>(chosen.size());
    shared += first && second ? 1 : 0;
    within += first && second && holds(run, chosen, plan.usesPort) ? 1 : 0;
  }
  const std::string source = "every choice tried, both rails by Eigen's LU";
  return {{"feeds of small random runs: cases that can be fed", source, kCases, 1.0 * feasible, 0.0},
          {"feeds: cases of them with the least cost", source, kCases, 1.0 * equal, 0.0},
          {"feeds: cases told to be proved, with the right bound", source, kCases, 1.0 * proved, 0.0},
          {"feeds: cases that keep every limit", source, kCases, 1.0 * holding, 0.0},
          {"feeds: cases where it was not agreed that they can be fed", source, 0.0, 1.0 * agreed, 0.0},
          {fmt::format("feeds: of {} feeds, without which a limit is broken", feeds), source, 1.0 * feeds,
           1.0 * needed, 0.0},
          {fmt::format("feeds: of {} cases fed from two supplies, neither gives too much", shared), source,
           1.0 * shared, 1.0 * within, 0.0}};
}

}  // namespace yw::checks
