// Feeds for one run. The run is walked once from its first pixel. A label stands for all that was decided to
// the left: what it costs, the straight line e·V + j that it draws, and the least V at which every pixel and
// fuse in it holds, since every voltage there rises and every feed's current falls with V. A label goes when
// another costs no more, needs no more and draws no more over the whole range of V, or when even the cheapest
// way on (zoneBound) costs too much. Passes with ever smaller tolerances find good plans first; a pass with
// none that runs to its end proves the plan the cheapest.
#include "core/propose/feed_search.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <tuple>

namespace yw::propose {

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

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
  bool pass(double volts, double amps, FoundFeeds& best) {
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
      if (label.cost < best.cost - kSameCost && standsAlone(label) &&
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
      return label.least > model_.top || label.cost + onward(k, label) >= limit - kSameCost ||
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

  void take(const FeedLabel& label, FoundFeeds& best) const {
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

/// Drops, retypes and moves feeds while that makes the plan cheaper and it holds in the model.
void polish(const FeedRun& run, const FeedModel& model, FoundFeeds& found, std::int64_t& work) {
  const auto attempt = [&](FeedSet chosen) {
    const double cost = costOfFeeds(run, chosen, found.usesPort);
    if (cost >= found.cost - kSameCost) return false;
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
      FeedSet without = found.chosen;
      without.erase(without.begin() + static_cast<std::ptrdiff_t>(i));
      if (attempt(without)) {
        better = true;
        break;
      }
      const std::int32_t low = i > 0 ? place(found.chosen[i - 1]) : -1;
      const std::int32_t high = i + 1 < found.chosen.size() ? place(found.chosen[i + 1]) : model.count;
      for (std::size_t o = 0; o < run.options.size(); ++o) {
        if (run.options[o].place <= low || run.options[o].place >= high) continue;
        FeedSet other = found.chosen;
        other[i] = static_cast<std::int32_t>(o);
        better = attempt(std::move(other)) || better;
      }
    }
  }
}

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
        FoundFeeds found;
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

  bool tryOrder(double fill, FoundFeeds& found) {
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
  bool piece(std::int32_t from, std::int32_t to, std::int32_t supply, FoundFeeds& found) {
    const auto [it, fresh] = pieces_.try_emplace({from, to, supply, from == 0 && found.usesPort});
    if (fresh) it->second = cheapest(from, to, supply, found.usesPort);
    found.chosen.insert(found.chosen.end(), it->second.chosen.begin(), it->second.chosen.end());
    return it->second.cost < kInfinity;
  }

  FoundFeeds cheapest(std::int32_t from, std::int32_t to, std::int32_t supply, bool usesPort) {
    FeedRun part;
    const auto cut = [&](auto& out, const auto& in) { out.assign(in.begin() + from, in.begin() + to); };
    cut(part.positiveOhms, run_.positiveOhms);
    cut(part.zeroOhms, run_.zeroOhms);
    cut(part.load, run_.load);
    cut(part.leastVolts, run_.leastVolts);
    part.loads = run_.loads;
    part.supplyVolts = run_.supplyVolts;
    FeedSet entries, options;
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
    FoundFeeds best, out;
    std::int32_t entry = -1;
    const auto attempt = [&](std::int32_t o) {
      FoundFeeds now;
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
  std::map<std::tuple<std::int32_t, std::int32_t, std::int32_t, bool>, FoundFeeds> pieces_;
};

}  // namespace

bool planInModel(const FeedRun& run, const FeedModel& model, const FeedEffort& effort, FoundFeeds& best,
                 ZoneBound& bound) {
  bound = zoneBound(run, model);
  std::int64_t work = 0;
  const auto consider = [&](const FeedSet& chosen, bool usesPort) {
    if (costOfFeeds(run, chosen, usesPort) >= best.cost - kSameCost ||
        !holdsInModel(run, model, chosen, usesPort))
      return false;
    FoundFeeds found{costOfFeeds(run, chosen, usesPort), usesPort, chosen};
    polish(run, model, found, work);
    if (found.cost < best.cost - kSameCost) best = std::move(found);
    return true;
  };
  std::vector<bool> starts;
  if (run.hasPort) starts.push_back(true);
  if (!run.hasPort || run.portOffCost >= 0) starts.push_back(false);
  // With supplies that may not give all, zones of any supply seldom hold: Sharing starts there.
  if (model.boundedCount == 0)
    for (const double share : {1.0, 0.9, 0.8, 0.7}) {
      const FeedSet zones = zonePlan(run, model, share);
      for (const bool usesPort : starts) consider(zones, usesPort);
    }
  for (const bool usesPort : starts) {
    eachSpread(run, [&](const FeedSet& chosen) { return consider(chosen, usesPort); });
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

}  // namespace yw::propose
