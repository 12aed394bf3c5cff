#include "core/propose/plug_plan.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace yw::propose {

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kSame = 1e-9;

std::vector<std::size_t> byFalling(std::size_t count, const auto& figure) {
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t x, std::size_t y) { return figure(x) > figure(y); });
  return order;
}

class Plugging {
 public:
  Plugging(const PlugJob& job, std::int64_t states) : job_(job), states_(states) {
    outletAmps_.resize(job.outlets.size());
    worst_.resize(job.outlets.size());
    plugs_.resize(job.outlets.size());
    for (std::size_t o = 0; o < job.outlets.size(); ++o) {
      outletAmps_[o] = worst_[o] = job.outlets[o].takenAmps;
      plugs_[o] = job.outlets[o].taken;
    }
    amps_.assign(job.circuits.size(), 0.0);
    leakage_.assign(job.circuits.size(), 0.0);
    units_.assign(job.circuits.size(), 0);
    // Large units first: they fit in few places.
    order_ = byFalling(job.units.size(), [&](std::size_t u) { return job.units[u].amps; });
    const std::size_t n = job.units.size();
    rest_.assign(n + 1, 0.0);
    for (std::size_t i = n; i-- > 0;) {
      const auto& row = job.cost[order_[i]];
      const double least = row.empty() ? kInfinity : *std::min_element(row.begin(), row.end());
      rest_[i] = rest_[i + 1] + (std::isfinite(least) ? least : 0.0);
    }
    now_.assign(n, -1);
  }

  PlugPlan run() {
    best_.outlet.assign(job_.units.size(), -1);
    bestMissing_ = static_cast<int>(job_.units.size()) + 1;
    search(0, 0.0, 0);
    best_.bound = std::min(rest_[0], best_.cost);
    best_.optimal = states_ > 0;
    if (best_.optimal && bestMissing_ == 0) best_.bound = best_.cost;
    return best_;
  }

  bool fits(std::size_t u, std::size_t o) const {
    const PlugOutlet& outlet = job_.outlets[o];
    const auto c = static_cast<std::size_t>(outlet.circuit);
    const PlugUnit& unit = job_.units[u];
    const double onOne =
        plugs_[o] + 1 > outlet.places ? outletAmps_[o] + unit.amps : std::max(worst_[o], unit.amps);
    return onOne <= outlet.most + kSame && amps_[c] + unit.amps <= job_.circuits[c].amps + kSame &&
           leakage_[c] + unit.leakage <= job_.circuits[c].leakage + kSame &&
           units_[c] + 1 <= job_.circuits[c].units;
  }

  /// `way` 1: plugs in, -1: pulls out. Gives what the worst receptacle carried before.
  double plug(std::size_t u, std::size_t o, int way, double worst = 0.0) {
    const auto c = static_cast<std::size_t>(job_.outlets[o].circuit);
    const double before = worst_[o];
    outletAmps_[o] += way * job_.units[u].amps;
    worst_[o] = way > 0 ? std::max(worst_[o], job_.units[u].amps) : worst;
    plugs_[o] += way;
    amps_[c] += way * job_.units[u].amps;
    leakage_[c] += way * job_.units[u].leakage;
    units_[c] += way;
    return before;
  }

 private:
  void search(std::size_t i, double cost, int missing) {
    if (missing > bestMissing_ || (missing == bestMissing_ && cost + rest_[i] >= best_.cost - kSame)) return;
    if (i == order_.size()) {
      bestMissing_ = missing;
      best_.cost = cost;
      best_.outlet = now_;
      return;
    }
    if (--states_ <= 0) return;
    const std::size_t u = order_[i];
    std::vector<std::size_t> places;
    for (std::size_t o = 0; o < job_.outlets.size(); ++o)
      if (std::isfinite(job_.cost[u][o]) && fits(u, o)) places.push_back(o);
    std::stable_sort(places.begin(), places.end(),
                     [&](std::size_t x, std::size_t y) { return job_.cost[u][x] < job_.cost[u][y]; });
    for (const std::size_t o : places) {
      const double worst = plug(u, o, 1);
      now_[u] = static_cast<std::int32_t>(o);
      search(i + 1, cost + job_.cost[u][o], missing);
      now_[u] = -1;
      plug(u, o, -1, worst);
    }
    search(i + 1, cost, missing + 1);
  }

  const PlugJob& job_;
  std::int64_t states_;
  std::vector<double> outletAmps_, worst_, amps_, leakage_, rest_;
  std::vector<std::int32_t> plugs_, units_, now_;
  std::vector<std::size_t> order_;
  int bestMissing_ = 0;
  PlugPlan best_;
};

}  // namespace

PlugPlan planPlugs(const PlugJob& job, std::int64_t states) { return Plugging(job, states).run(); }

bool plugsHold(const PlugJob& job, const std::vector<std::int32_t>& outlet) {
  for (std::size_t o = 0; o < job.outlets.size(); ++o) {
    double all = job.outlets[o].takenAmps, worst = all;
    std::int32_t plugs = job.outlets[o].taken;
    for (std::size_t u = 0; u < outlet.size(); ++u) {
      if (outlet[u] != static_cast<std::int32_t>(o)) continue;
      if (!std::isfinite(job.cost[u][o])) return false;
      all += job.units[u].amps;
      worst = std::max(worst, job.units[u].amps);
      ++plugs;
    }
    const bool mine = plugs > job.outlets[o].taken;
    if (mine && (plugs > job.outlets[o].places ? all : worst) > job.outlets[o].most + 1e-6) return false;
  }
  for (std::size_t c = 0; c < job.circuits.size(); ++c) {
    double amps = 0.0, leakage = 0.0;
    std::int32_t units = 0;
    for (std::size_t u = 0; u < outlet.size(); ++u) {
      if (outlet[u] < 0 || job.outlets[static_cast<std::size_t>(outlet[u])].circuit != static_cast<int>(c))
        continue;
      amps += job.units[u].amps;
      leakage += job.units[u].leakage;
      ++units;
    }
    if (units > 0 && (amps > job.circuits[c].amps + 1e-6 || leakage > job.circuits[c].leakage + 1e-9 ||
                      units > job.circuits[c].units))
      return false;
  }
  return true;
}

namespace {

class Packing {
 public:
  Packing(const PackJob& job, std::int64_t states) : job_(job), states_(states), room_(job.room) {
    order_ = byFalling(job.loads.size(), [&](std::size_t i) { return job.loads[i]; });
    now_.assign(job.loads.size(), -1);
    largest_ = job.newRoom;
    for (const double room : job.room) largest_ = std::max(largest_, room);
  }

  PackPlan run() {
    PackPlan out;
    double all = 0.0, there = 0.0;
    for (const double load : job_.loads)
      if (load <= largest_ + kSame) all += load;
    for (const double room : job_.room) there += room;
    if (job_.newRoom > 0.0)
      out.bound = static_cast<std::int32_t>(std::max(0.0, std::ceil((all - there) / job_.newRoom - 1e-9)));
    best_.added = std::numeric_limits<std::int32_t>::max();
    best_.supply = now_;
    for (std::int32_t most = out.bound; most <= out.bound + static_cast<std::int32_t>(job_.loads.size());
         ++most) {
      found_ = false;
      left_ = states_;
      room_ = job_.room;
      room_.insert(room_.end(), static_cast<std::size_t>(most), job_.newRoom);
      best_.moved = std::numeric_limits<std::int32_t>::max();
      search(0, 0);
      if (!found_) continue;
      best_.added = most;
      best_.bound = left_ > 0 && most > out.bound ? most : out.bound;
      return best_;
    }
    best_.added = 0;
    best_.moved = 0;
    best_.bound = out.bound;
    return best_;
  }

 private:
  void search(std::size_t i, std::int32_t moved) {
    if (found_ && moved >= best_.moved) return;
    if (i == order_.size()) {
      found_ = true;
      best_.moved = moved;
      best_.supply = now_;
      return;
    }
    if (--left_ <= 0) return;
    const std::size_t load = order_[i];
    if (job_.loads[load] > largest_ + kSame) {
      search(i + 1, moved);  // stays without a supply
      return;
    }
    const auto attempt = [&](std::size_t s) {
      if (job_.loads[load] > room_[s] + kSame) return;
      room_[s] -= job_.loads[load];
      now_[load] = static_cast<std::int32_t>(s);
      search(i + 1, moved + (job_.now[load] == static_cast<std::int32_t>(s) ? 0 : 1));
      now_[load] = -1;
      room_[s] += job_.loads[load];
    };
    if (job_.now[load] >= 0) attempt(static_cast<std::size_t>(job_.now[load]));
    bool emptySeen = false;  // new supplies are alike: only the first empty one is tried
    for (std::size_t s = 0; s < room_.size(); ++s) {
      if (static_cast<std::int32_t>(s) == job_.now[load]) continue;
      const bool empty = s >= job_.room.size() && room_[s] >= job_.newRoom - kSame;
      if (empty && emptySeen) continue;
      emptySeen = emptySeen || empty;
      attempt(s);
    }
  }

  const PackJob& job_;
  std::int64_t states_, left_ = 0;
  double largest_ = 0.0;  ///< A of the largest supply while empty
  std::vector<double> room_;
  std::vector<std::size_t> order_;
  std::vector<std::int32_t> now_;
  bool found_ = false;
  PackPlan best_;
};

}  // namespace

PackPlan packLoads(const PackJob& job, std::int64_t states) { return Packing(job, states).run(); }

}  // namespace yw::propose
