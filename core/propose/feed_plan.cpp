// Feeds for one run. The run is walked once from its first pixel. A label stands for all that was decided to
// the left: what it costs, the straight line e·V + j that it draws, and the least V at which every pixel and
// fuse in it holds, since every voltage there rises and every feed's current falls with V. A label goes when
// another costs no more, needs no more and draws no more over the whole range of V, or when even the cheapest
// way on (zoneBound) costs too much. Passes with ever smaller tolerances find good plans first; a pass with
// none that runs to its end proves the plan the cheapest.
#include "core/propose/feed_plan.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <tuple>

#include "core/propose/feed_model.h"

namespace yw::propose {

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kSame = 1e-9;  ///< of a cost

using Chosen = std::vector<std::int32_t>;

struct Found {
  double cost = kInfinity;
  bool usesPort = true;
  Chosen chosen;
};

double costOf(const FeedRun& run, const Chosen& chosen, bool usesPort) {
  double cost = usesPort || !run.hasPort ? 0.0 : std::max(0.0, run.portOffCost);
  for (const std::int32_t o : chosen) cost += run.options[static_cast<std::size_t>(o)].cost;
  return cost;
}

class Search {
 public:
  Search(const FeedRun& run, const FeedModel& model, const ZoneBound& bound, const FeedEffort& effort,
         std::int64_t& work)
      : run_(run), model_(model), bound_(bound), effort_(effort), work_(work) {
    at_.resize(static_cast<std::size_t>(model.count));
    for (std::size_t o = 0; o < run.options.size(); ++o)
      at_[static_cast<std::size_t>(run.options[o].place)].push_back(static_cast<std::int32_t>(o));
  }

  /// Cheaper than `best` if there is one. True: it ran to its end with nothing left out but what the
  /// tolerances let go.
  bool pass(double volts, double amps, Found& best) {
    nodes_.clear();
    front_.clear();
    whole_ = true;
    if (run_.hasPort) start(true);
    if (!run_.hasPort || run_.portOffCost >= 0) start(false);
    for (std::int32_t k = 0; k < model_.count; ++k) {
      std::vector<FeedLabel> cutLabels;
      if (!at_[static_cast<std::size_t>(k)].empty() && k > 0) cutsBefore(k, cutLabels);
      for (FeedLabel& label : front_) {
        if (k > 0) crossSegment(model_, k, label);
        addLoad(model_, k, label);
      }
      work_ += static_cast<std::int64_t>(front_.size());
      if (!at_[static_cast<std::size_t>(k)].empty()) {
        widen(k, cutLabels);
        narrow(k, volts, amps, best.cost);
      }
      if (work_ > effort_.comparisons) return false;
    }
    for (const FeedLabel& label : front_)
      if (label.cost < best.cost - kSame && standsAlone(label) &&
          supplyHolds(model_, label, model_.count - 1))
        take(label, best);
    return whole_;
  }

 private:
  struct Node {
    std::int32_t before, option;
    bool usesPort;
  };

  void start(bool usesPort) {
    FeedLabel label = firstLabel(run_, model_, usesPort);
    nodes_.push_back({-1, -1, usesPort});
    label.node = static_cast<std::int32_t>(nodes_.size()) - 1;
    front_.push_back(label);
  }

  /// Labels that end just before pixel k and go on behind a cut there.
  void cutsBefore(std::int32_t k, std::vector<FeedLabel>& out) const {
    const auto& here = at_[static_cast<std::size_t>(k)];
    if (std::none_of(here.begin(), here.end(),
                     [&](std::int32_t o) { return run_.options[static_cast<std::size_t>(o)].cut; }))
      return;
    for (const FeedLabel& label : front_)
      if (standsAlone(label) && supplyHolds(model_, label, k - 1)) out.push_back(afterCut(model_, label, k));
    // Behind a cut only the cost counts, and what bounded supplies have given.
    std::stable_sort(out.begin(), out.end(),
                     [](const FeedLabel& x, const FeedLabel& y) { return x.cost < y.cost; });
    std::vector<FeedLabel> kept;
    for (const FeedLabel& label : out) {
      const bool beaten = std::any_of(kept.begin(), kept.end(), [&](const FeedLabel& other) {
        for (std::size_t s = 0; s < static_cast<std::size_t>(model_.boundedCount); ++s)
          if (other.given[s] > label.given[s] + 1e-9) return false;
        return true;
      });
      if (!beaten) kept.push_back(label);
    }
    out.swap(kept);
  }

  FeedLabel with(const FeedLabel& label, std::int32_t o) {
    FeedLabel next = label;
    addFeed(model_, run_.options[static_cast<std::size_t>(o)], next);
    nodes_.push_back({label.node, o, nodes_[static_cast<std::size_t>(label.node)].usesPort});
    next.node = static_cast<std::int32_t>(nodes_.size()) - 1;
    return next;
  }

  void widen(std::int32_t k, std::vector<FeedLabel>& cutLabels) {
    for (FeedLabel& label : cutLabels) addLoad(model_, k, label);
    const std::size_t before = front_.size();
    for (const std::int32_t o : at_[static_cast<std::size_t>(k)]) {
      const FeedOption& option = run_.options[static_cast<std::size_t>(o)];
      if (option.cut && k > 0) {
        for (const FeedLabel& label : cutLabels) front_.push_back(with(label, o));
        continue;
      }
      for (std::size_t i = 0; i < before; ++i) {
        // Cut at the very first pixel: the same as without the port.
        if (option.cut && nodes_[static_cast<std::size_t>(front_[i].node)].usesPort) continue;
        if (fits(front_[i], option)) front_.push_back(with(front_[i], o));
      }
    }
  }

  /// Least cost that must still be added.
  double onward(std::int32_t k, const FeedLabel& label) {
    if (label.supply < 0) return bound_.from[static_cast<std::size_t>(label.from)];
    work_ += 8;
    if (k + 1 >= model_.count) return 0.0;
    const double most = std::max(0.0, -label.draws(label.least));
    const std::int32_t b = reachRight(model_, k, -label.j / label.e, 1.0 / label.e, most);
    return bound_.from[static_cast<std::size_t>(b) + 1];
  }

  bool beats(const FeedLabel& a, const FeedLabel& b, double volts, double amps, std::int32_t k) const {
    if (a.supply != b.supply || a.least > b.least + volts) return false;
    for (std::size_t s = 0; s < static_cast<std::size_t>(model_.boundedCount); ++s)
      if (givenWith(model_, a, s, k) > givenWith(model_, b, s, k) + amps + 1e-12) return false;
    if (model_.boundedCount > 0 && a.supply < 0 && a.from != b.from) return false;
    if (a.draws(model_.top) > b.draws(model_.top) + amps) return false;
    const double at = std::max(b.least, 0.0);
    return a.draws(at) <= b.draws(at) + amps;
  }

  void narrow(std::int32_t k, double volts, double amps, double limit) {
    std::erase_if(front_, [&](const FeedLabel& label) {
      return label.least > model_.top || label.cost + onward(k, label) >= limit - kSame ||
             !supplyHolds(model_, label, k);
    });
    std::sort(front_.begin(), front_.end(), [](const FeedLabel& x, const FeedLabel& y) {
      if (x.cost != y.cost) return x.cost < y.cost;
      return x.least != y.least ? x.least < y.least : x.node < y.node;
    });
    kept_.clear();
    for (const FeedLabel& label : front_) {
      bool beaten = false;
      for (std::size_t i = kept_.size(); i-- > 0 && !beaten;) {
        beaten = beats(kept_[i], label, volts, amps, k);
        ++work_;
      }
      if (beaten) continue;
      if (static_cast<std::int32_t>(kept_.size()) == effort_.front) {
        whole_ = false;
        break;
      }
      kept_.push_back(label);
      if (work_ > effort_.comparisons) break;
    }
    front_.swap(kept_);
  }

  void take(const FeedLabel& label, Found& best) const {
    best.cost = label.cost;
    best.chosen.clear();
    std::int32_t at = label.node;
    best.usesPort = nodes_[static_cast<std::size_t>(at)].usesPort;
    for (; nodes_[static_cast<std::size_t>(at)].before >= 0; at = nodes_[static_cast<std::size_t>(at)].before)
      best.chosen.push_back(nodes_[static_cast<std::size_t>(at)].option);
    std::reverse(best.chosen.begin(), best.chosen.end());
  }

  const FeedRun& run_;
  const FeedModel& model_;
  const ZoneBound& bound_;
  const FeedEffort& effort_;
  std::int64_t& work_;
  std::vector<std::vector<std::int32_t>> at_;  ///< options of each pixel
  std::vector<FeedLabel> front_, kept_;
  std::vector<Node> nodes_;
  bool whole_ = true;
};

/// Options of one kind: the r-th of each place, places rising.
std::vector<Chosen> kindsOf(const FeedRun& run) {
  std::vector<Chosen> kinds;
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

/// `count` of these options, spread evenly over the run; `toEnd`: the last one at the end.
Chosen spread(const FeedRun& run, const Chosen& kind, int count, bool toEnd) {
  const double n = static_cast<double>(run.load.size());
  Chosen chosen;
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

template <class Try>
void eachSpread(const FeedRun& run, Try&& attempt) {
  constexpr int kMostFeeds = 40;
  for (const Chosen& kind : kindsOf(run))
    for (int count = 0; count <= std::min<int>(kMostFeeds, static_cast<int>(kind.size())); ++count)
      for (const bool toEnd : {false, true})
        if (attempt(spread(run, kind, count, toEnd))) {
          count = kMostFeeds;
          break;
        }
}

/// Drops, retypes and moves feeds while that makes the plan cheaper and it holds in the model.
void polish(const FeedRun& run, const FeedModel& model, Found& found, std::int64_t& work) {
  const auto attempt = [&](Chosen chosen) {
    const double cost = costOf(run, chosen, found.usesPort);
    if (cost >= found.cost - kSame) return false;
    work += model.count / 4;
    if (!holdsInModel(run, model, chosen, found.usesPort)) return false;
    found.cost = cost;
    found.chosen = std::move(chosen);
    return true;
  };
  const auto place = [&](std::int32_t o) { return run.options[static_cast<std::size_t>(o)].place; };
  bool better = true;
  for (int round = 0; better && round < 12; ++round) {
    better = false;
    for (std::size_t i = 0; i < found.chosen.size(); ++i) {
      Chosen without = found.chosen;
      without.erase(without.begin() + static_cast<std::ptrdiff_t>(i));
      if (attempt(without)) {
        better = true;
        break;
      }
      const std::int32_t low = i > 0 ? place(found.chosen[i - 1]) : -1;
      const std::int32_t high = i + 1 < found.chosen.size() ? place(found.chosen[i + 1]) : model.count;
      for (std::size_t o = 0; o < run.options.size(); ++o) {
        if (run.options[o].place <= low || run.options[o].place >= high) continue;
        Chosen other = found.chosen;
        other[i] = static_cast<std::int32_t>(o);
        better = attempt(std::move(other)) || better;
      }
    }
  }
}

struct Trial {
  double raise = 0.0, share = 1.0;
};

bool planInModel(const FeedRun& run, const FeedModel& model, const FeedEffort& effort, Found& best,
                 ZoneBound& bound);

/// A start where no supply can give all: the supplies in every order, each as far along the run as it can,
/// piece after piece with a cut of V+ between.
class Sharing {
 public:
  Sharing(const FeedRun& run, const FeedModel& model) : run_(run), model_(model) {
    for (std::size_t s = 0; s < run.supplyVolts.size(); ++s) {
      order_.push_back(static_cast<std::int32_t>(s));
      all_ += roomOf(order_.back());
    }
  }

  /// More than all supplies together may give.
  bool tooMuch() const { return model_.most.back() > all_ + 1e-9; }

  template <class Consider>
  void eachStart(Consider&& consider) {
    constexpr std::size_t kMostOrdered = 4;
    if (order_.size() > kMostOrdered || tooMuch()) return;
    const double even = std::min(1.0, 1.03 * model_.most.back() / all_);
    do {
      for (const double fill : {1.0, (1.0 + even) / 2, even}) {
        Found found;
        if (!tryOrder(fill, found)) continue;
        consider(found.chosen, found.usesPort);
        break;
      }
    } while (std::next_permutation(order_.begin(), order_.end()));
  }

 private:
  double roomOf(std::int32_t supply) const {
    const std::int32_t slot = model_.bounded[static_cast<std::size_t>(supply)];
    return slot < 0 ? model_.most.back() : model_.room[static_cast<std::size_t>(slot)];
  }
  double ampsOf(std::int32_t from, std::int32_t to) const {
    return model_.most[static_cast<std::size_t>(to) - 1] -
           (from > 0 ? model_.most[static_cast<std::size_t>(from) - 1] : 0.0);
  }

  /// Farthest end of a piece from `from` on: the end of the run or where the next supply may cut.
  std::int32_t reach(std::int32_t from, std::size_t turn, double fill) const {
    const double room = fill * roomOf(order_[turn]);
    if (ampsOf(from, model_.count) <= room) return model_.count;
    std::int32_t best = from;
    for (const FeedOption& o : run_.options)
      if (turn + 1 < order_.size() && o.cut && o.supply == order_[turn + 1] && o.place > best &&
          ampsOf(from, o.place) <= room)
        best = o.place;
    return best;
  }

  bool tryOrder(double fill, Found& found) {
    found.usesPort = run_.hasPort && run_.port.supply == order_.front();
    if (run_.hasPort && !found.usesPort && run_.portOffCost < 0) return false;
    std::int32_t from = 0;
    for (std::size_t turn = 0; turn < order_.size() && from < model_.count; ++turn) {
      const std::int32_t to = reach(from, turn, fill);
      if (to == from || !piece(from, to, order_[turn], found)) return false;
      from = to;
    }
    return from == model_.count;
  }

  /// Adds the cheapest feeds found for pixels from..to-1 from that supply alone.
  bool piece(std::int32_t from, std::int32_t to, std::int32_t supply, Found& found) {
    const auto [it, fresh] = pieces_.try_emplace({from, to, supply, from == 0 && found.usesPort});
    if (fresh) it->second = cheapest(from, to, supply, found.usesPort);
    found.chosen.insert(found.chosen.end(), it->second.chosen.begin(), it->second.chosen.end());
    return it->second.cost < kInfinity;
  }

  Found cheapest(std::int32_t from, std::int32_t to, std::int32_t supply, bool usesPort) {
    FeedRun part;
    const auto cut = [&](auto& out, const auto& in) { out.assign(in.begin() + from, in.begin() + to); };
    cut(part.positiveOhms, run_.positiveOhms);
    cut(part.zeroOhms, run_.zeroOhms);
    cut(part.load, run_.load);
    cut(part.leastVolts, run_.leastVolts);
    part.loads = run_.loads;
    part.supplyVolts = run_.supplyVolts;
    Chosen entries, options;
    for (std::size_t o = 0; o < run_.options.size(); ++o) {
      const FeedOption& option = run_.options[o];
      if (option.supply != supply || option.place < from || option.place >= to) continue;
      if (from > 0 && option.place == from) {
        if (option.cut) entries.push_back(static_cast<std::int32_t>(o));
        continue;
      }
      options.push_back(static_cast<std::int32_t>(o));
      part.options.push_back(option);
      part.options.back().place -= from;
    }
    FeedEffort effort;
    effort.comparisons = 100'000;
    Found best, out;
    std::int32_t entry = -1;
    const auto attempt = [&](std::int32_t o) {
      Found now;
      ZoneBound bound;
      planInModel(part, feedModel(part, model_.raise, model_.fuseShare), effort, now, bound);
      now.cost += o >= 0 ? run_.options[static_cast<std::size_t>(o)].cost : 0.0;
      if (now.cost < best.cost) best = std::move(now), entry = o;
    };
    part.hasPort = from > 0 || usesPort;
    if (from == 0) {
      part.port = run_.port;
      attempt(-1);
    }
    for (const std::int32_t o : entries) {
      part.port = run_.options[static_cast<std::size_t>(o)];
      part.port.place = 0;
      attempt(o);
    }
    if (best.cost == kInfinity) return out;
    out.cost = best.cost;
    if (entry >= 0) out.chosen.push_back(entry);
    for (const std::int32_t o : best.chosen) out.chosen.push_back(options[static_cast<std::size_t>(o)]);
    return out;
  }

  const FeedRun& run_;
  const FeedModel& model_;
  std::vector<std::int32_t> order_;
  double all_ = 0.0;  ///< A of all supplies together
  std::map<std::tuple<std::int32_t, std::int32_t, std::int32_t, bool>, Found> pieces_;
};

/// The best plan of the model, and whether that was proved.
bool planInModel(const FeedRun& run, const FeedModel& model, const FeedEffort& effort, Found& best,
                 ZoneBound& bound) {
  bound = zoneBound(run, model);
  std::int64_t work = 0;
  const auto consider = [&](const Chosen& chosen, bool usesPort) {
    if (costOf(run, chosen, usesPort) >= best.cost - kSame || !holdsInModel(run, model, chosen, usesPort))
      return false;
    Found found{costOf(run, chosen, usesPort), usesPort, chosen};
    polish(run, model, found, work);
    if (found.cost < best.cost - kSame) best = std::move(found);
    return true;
  };
  std::vector<bool> starts;
  if (run.hasPort) starts.push_back(true);
  if (!run.hasPort || run.portOffCost >= 0) starts.push_back(false);
  // With supplies that may not give all, zones of any supply seldom hold: Sharing starts there.
  if (model.boundedCount == 0)
    for (const double share : {1.0, 0.9, 0.8, 0.7}) {
      const Chosen zones = zonePlan(run, model, share);
      for (const bool usesPort : starts) consider(zones, usesPort);
    }
  for (const bool usesPort : starts) {
    eachSpread(run, [&](const Chosen& chosen) { return consider(chosen, usesPort); });
  }
  if (model.boundedCount > 0) {
    Sharing sharing(run, model);
    if (sharing.tooMuch()) return false;
    sharing.eachStart(consider);
  }
  work = 0;
  Search search(run, model, bound, effort, work);
  constexpr std::array<std::array<double, 2>, 7> kTolerances{{{0.08, 0.4},
                                                              {0.03, 0.15},
                                                              {0.012, 0.06},
                                                              {0.005, 0.025},
                                                              {0.002, 0.01},
                                                              {0.0005, 0.0025},
                                                              {0.0, 0.0}}};
  bool proved = false;
  for (const auto& [volts, amps] : kTolerances) {
    const bool whole = search.pass(volts, amps, best);
    proved = whole && volts == 0.0;
    if (work > effort.comparisons) break;
  }
  return proved;
}

/// Leaves out, dearest first, every feed without which all limits are kept.
void dropNeedless(const FeedRun& run, Found& found) {
  for (bool again = true; again;) {
    again = false;
    Chosen order = found.chosen;
    std::stable_sort(order.begin(), order.end(), [&](std::int32_t x, std::int32_t y) {
      return run.options[static_cast<std::size_t>(x)].cost > run.options[static_cast<std::size_t>(y)].cost;
    });
    for (const std::int32_t o : order) {
      Chosen without = found.chosen;
      without.erase(std::find(without.begin(), without.end(), o));
      if (!checkFeeds(run, without, found.usesPort).holds) continue;
      found.chosen = std::move(without);
      found.cost = costOf(run, found.chosen, found.usesPort);
      again = true;
      break;
    }
  }
}

/// V+ joined between two supplies?
bool joinsSupplies(const FeedRun& run, const Chosen& chosen, bool usesPort) {
  std::int32_t supply = usesPort ? run.port.supply : -1;
  for (const std::int32_t o : chosen) {
    const FeedOption& option = run.options[static_cast<std::size_t>(o)];
    if (!option.cut && supply >= 0 && supply != option.supply) return true;
    supply = option.supply;
  }
  return false;
}

}  // namespace

FeedCheck checkFeeds(const FeedRun& run, const Chosen& chosen, bool usesPort) {
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
  eachSpread(run, [&](const Chosen& chosen) {
    const double cost = costOf(run, chosen, run.hasPort);
    if (cost >= plan.cost || !checkFeeds(run, chosen, run.hasPort).holds) return false;
    plan.feasible = true;
    plan.usesPort = run.hasPort;
    plan.chosen = chosen;
    plan.cost = cost;
    return true;
  });
  return plan;
}

namespace {

/// Where even every feed at once leaves a pixel short.
void explain(const FeedRun& run, const ZoneBound& bound, FeedPlan& plan) {
  Chosen all;
  std::int32_t place = -1;
  for (const Chosen& kind : kindsOf(run))
    for (const std::int32_t o : kind)
      if (all.size() < run.options.size()) all.push_back(o);
  std::stable_sort(all.begin(), all.end(), [&](std::int32_t x, std::int32_t y) {
    const FeedOption &a = run.options[static_cast<std::size_t>(x)],
                     &b = run.options[static_cast<std::size_t>(y)];
    if (a.place != b.place) return a.place < b.place;
    return a.positiveOhms + a.zeroOhms < b.positiveOhms + b.zeroOhms;
  });
  Chosen best;
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
bool listCheaper(const FeedRun& run, double limit, std::size_t most, std::vector<Found>& out) {
  std::vector<Chosen> places;
  Chosen order(run.options.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = static_cast<std::int32_t>(i);
  const auto placeOf = [&](std::int32_t o) { return run.options[static_cast<std::size_t>(o)].place; };
  std::stable_sort(order.begin(), order.end(),
                   [&](std::int32_t x, std::int32_t y) { return placeOf(x) < placeOf(y); });
  for (const std::int32_t o : order) {
    if (places.empty() || placeOf(places.back().front()) != placeOf(o)) places.emplace_back();
    places.back().push_back(o);
  }
  Found now;
  const auto walk = [&](const auto& self, std::size_t place) -> bool {
    if (now.cost >= limit - kSame) return true;
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
    now.cost = costOf(run, {}, port);
    if (!walk(walk, 0)) return false;
  }
  return true;
}

/// Tries in the circuit all choices that would be cheaper, the cheapest first. False: they are too many for
/// so many pixels to be solved, and none was tried.
bool tryCheaper(const FeedRun& run, std::int64_t pixels, Found& best) {
  std::vector<Found> cheaper;
  const auto most = static_cast<std::size_t>(pixels / static_cast<std::int64_t>(run.load.size()));
  if (most == 0 || !listCheaper(run, best.cost, most, cheaper)) return false;
  std::stable_sort(cheaper.begin(), cheaper.end(),
                   [](const Found& x, const Found& y) { return x.cost < y.cost; });
  for (Found& found : cheaper) {
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
  Found best;
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
    Found found;
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
      if (found.cost < best.cost - kSame) best = std::move(found);
      proved = proved && t == 0;
      break;
    }
    proved = false;
    if (found.cost >= best.cost - kSame) break;  // tightening only makes it dearer
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
  plan.optimal = proved || plan.cost <= plan.bound + kSame;
  if (proved) plan.bound = plan.cost;
  plan.bound = std::min(plan.bound, plan.cost);
  return plan;
}

}  // namespace yw::propose
