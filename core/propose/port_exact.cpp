#include "core/propose/port_exact.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <unordered_map>

namespace yw::propose {

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kSame = 1e-9;

struct Column {
  std::uint32_t set;
  std::int32_t site;
  double cost;
  double bank;  ///< A it takes from its bank
  std::vector<std::int32_t> nodes;
};

class Exact {
 public:
  Exact(const PortJob& job, double limit, std::int64_t states) : job_(job), best_(limit), states_(states) {}

  ExactPorts run() {
    ExactPorts out;
    if (job_.parts.empty() || job_.parts.size() > 30 || job_.sites.size() > 12) return out;
    for (std::size_t s = 0; s < job_.sites.size(); ++s)
      if (!list(static_cast<std::int32_t>(s))) return out;
    prices();
    for (const Column& column : columns_) byLowest_[lowest(column.set)].push_back(&column);
    for (auto& list : byLowest_)
      std::stable_sort(list.begin(), list.end(), [&](const Column* x, const Column* y) {
        return x->cost - priceOf(x->set) < y->cost - priceOf(y->set);
      });
    left_.resize(job_.sites.size());
    for (std::size_t s = 0; s < left_.size(); ++s) left_[s] = job_.sites[s].ports;
    bank_.assign(job_.sites.size(), 0.0);
    all_ = job_.parts.size() == 32 ? ~0U : (1U << job_.parts.size()) - 1U;
    search(0, 0.0);
    out.complete = !givenUp_;
    out.found = !chosen_.empty();
    for (const Column* column : chosen_) out.chains.push_back({column->site, column->nodes});
    return out;
  }

 private:
  static std::size_t lowest(std::uint32_t set) { return static_cast<std::size_t>(__builtin_ctz(set)); }

  /// Every set of parts that can hang on one port of the site, in its cheapest order. False: too many.
  bool list(std::int32_t site) {
    const PortSite& s = job_.sites[static_cast<std::size_t>(site)];
    if (s.ports <= 0) return true;
    struct State {
      double cost;
      std::int32_t before;  ///< index into the same list, -1: the port
      std::uint32_t set;
      std::int32_t node;
    };
    std::vector<State> all;
    std::map<std::pair<std::uint32_t, std::int32_t>, std::size_t> known;
    const auto reach = [&](std::uint32_t set, std::int32_t node, double cost, std::int32_t before) {
      const auto [it, made] = known.emplace(std::pair{set, node}, all.size());
      if (made)
        all.push_back({cost, before, set, node});
      else if (cost < all[it->second].cost - kSame)
        all[it->second].cost = cost, all[it->second].before = before;
    };
    const auto n = static_cast<std::int32_t>(job_.parts.size());
    for (std::int32_t node = 0; node < 2 * n; ++node)
      if (std::isfinite(chainCost(job_, site, {node})))
        reach(1U << (node / 2), node,
              job_.lead[static_cast<std::size_t>(site)][static_cast<std::size_t>(node)], -1);
    std::map<std::uint32_t, bool> fits;
    // States come in the order of their number of parts, so a state is final when it is left.
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (static_cast<std::int64_t>(all.size() + columns_.size()) > states_ / 4) return false;
      const State state = all[i];
      for (std::int32_t next = 0; next < 2 * n; ++next) {
        if ((state.set >> (next / 2) & 1U) != 0) continue;
        const double jump = job_.jumper[static_cast<std::size_t>(state.node)][static_cast<std::size_t>(next)];
        if (!std::isfinite(jump)) continue;
        const std::uint32_t set = state.set | 1U << (next / 2);
        auto [it, made] = fits.emplace(set, false);
        if (made) it->second = holds(s, set);
        if (it->second) reach(set, next, state.cost + jump, static_cast<std::int32_t>(i));
      }
    }
    std::map<std::uint32_t, std::size_t> cheapest;
    for (std::size_t i = 0; i < all.size(); ++i) {
      const auto [it, made] = cheapest.emplace(all[i].set, i);
      if (!made && all[i].cost < all[it->second].cost - kSame) it->second = i;
    }
    for (const auto& [set, i] : cheapest) {
      Column column{set, site, 0.0, 0.0, {}};
      for (auto at = static_cast<std::int32_t>(i); at >= 0; at = all[static_cast<std::size_t>(at)].before)
        column.nodes.push_back(all[static_cast<std::size_t>(at)].node);
      std::reverse(column.nodes.begin(), column.nodes.end());
      column.cost = chainCost(job_, site, column.nodes);
      for (const std::int32_t node : column.nodes)
        column.bank += job_.parts[static_cast<std::size_t>(node / 2)].amps;
      if (job_.ampsCost >= 0 && !job_.bankTakesAll) column.bank = std::min(column.bank, s.amps);
      if (std::isfinite(column.cost)) columns_.push_back(std::move(column));
    }
    return true;
  }

  /// Pixels, amps and families of one port.
  bool holds(const PortSite& site, std::uint32_t set) const {
    std::int64_t pixels = 0;
    double amps = 0.0;
    std::int32_t family = -1;
    for (std::size_t p = 0; p < job_.parts.size(); ++p) {
      if ((set >> p & 1U) == 0) continue;
      if (family >= 0 && job_.parts[p].family != family) return false;
      family = job_.parts[p].family;
      pixels += job_.parts[p].pixels;
      amps += job_.parts[p].amps;
    }
    return pixels <= std::min(site.pixels, job_.familyPixels[static_cast<std::size_t>(family)]) &&
           (job_.ampsCost >= 0 || amps <= site.amps * (1 + 1e-12));
  }

  double priceOf(std::uint32_t set) const {
    double sum = 0.0;
    for (; set != 0; set &= set - 1) sum += price_[lowest(set)];
    return sum;
  }

  /// A price for each part such that no chain is worth more than it costs: then the parts that are left cost
  /// at least their prices. Raised one part at a time, from several starts.
  void prices() {
    const std::size_t n = job_.parts.size();
    price_.assign(n, kInfinity);
    std::vector<std::vector<std::size_t>> with(n);
    for (std::size_t c = 0; c < columns_.size(); ++c)
      for (std::uint32_t set = columns_[c].set; set != 0; set &= set - 1) {
        with[lowest(set)].push_back(c);
        double& price = price_[lowest(set)];
        price = std::min(price, columns_[c].cost / __builtin_popcount(columns_[c].set));
      }
    for (double& price : price_)
      if (!std::isfinite(price)) price = 0.0;
    std::vector<double> best;
    double bestSum = -1.0;
    for (int round = 0; round < 24; ++round) {
      std::vector<double> slack(columns_.size());
      for (std::size_t c = 0; c < columns_.size(); ++c)
        slack[c] = columns_[c].cost - priceOf(columns_[c].set);
      for (std::size_t k = 0; k < n; ++k) {
        const std::size_t p = (k * 7 + static_cast<std::size_t>(round) * 3) % n;
        double room = kInfinity;
        for (const std::size_t c : with[p]) room = std::min(room, slack[c]);
        if (!std::isfinite(room) || room <= 0.0) continue;
        price_[p] += room;
        for (const std::size_t c : with[p]) slack[c] -= room;
      }
      double sum = 0.0;
      for (const double price : price_) sum += price;
      if (sum > bestSum) bestSum = sum, best = price_;
      for (std::size_t p = 0; p < n; ++p)
        price_[p] *= (p + static_cast<std::size_t>(round)) % 3 == 0 ? 0.7 : 0.95;
    }
    price_ = best;
  }

  /// How the search came to a set of placed parts: ports left (packed), bank amps used, cost.
  struct Seen {
    std::uint32_t placed;
    std::uint64_t ports;
    std::vector<double> bank;
    double cost;
  };
  /// False where the same parts were placed before with no more cost and no more of any bank.
  bool firstOrBetter(std::vector<Seen>& seen, std::uint32_t placed, std::uint64_t ports, double cost) const {
    for (const Seen& entry : seen) {
      if (entry.placed != placed || entry.ports != ports || cost < entry.cost - kSame) continue;
      bool covers = true;
      for (std::size_t s = 0; s < bank_.size(); ++s) covers = covers && entry.bank[s] <= bank_[s] + 1e-12;
      if (covers) return false;
    }
    seen.push_back({placed, ports, bank_, cost});
    return true;
  }

  void search(std::uint32_t placed, double cost) {
    if (givenUp_) return;
    if (placed == all_) {
      if (cost >= best_ - kSame) return;
      best_ = cost;
      chosen_ = stack_;
      return;
    }
    if (cost + priceOf(all_ & ~placed) >= best_ - kSame) return;
    std::uint64_t used = 0;
    for (std::size_t s = 0; s < left_.size(); ++s)
      used = used * 32 + static_cast<std::uint64_t>(std::min(left_[s], 31));
    const std::uint64_t key =
        static_cast<std::uint64_t>(placed) * 0x9E3779B97F4A7C15ULL ^ used * 0xC2B2AE3D27D4EB4FULL;
    if (!firstOrBetter(seen_[key], placed, used, cost)) return;
    if (--states_ < 0) {
      givenUp_ = true;
      return;
    }
    for (const Column* column : byLowest_[lowest(all_ & ~placed)]) {
      if ((column->set & placed) != 0) continue;
      auto& left = left_[static_cast<std::size_t>(column->site)];
      if (left == 0) continue;
      if (cost + column->cost + priceOf(all_ & ~(placed | column->set)) >= best_ - kSame) continue;
      double& bank = bank_[static_cast<std::size_t>(column->site)];
      const double before = bank;
      if (before + column->bank > job_.sites[static_cast<std::size_t>(column->site)].bankAmps * (1 + 1e-9))
        continue;
      --left;
      bank = before + column->bank;
      stack_.push_back(column);
      search(placed | column->set, cost + column->cost);
      stack_.pop_back();
      bank = before;
      ++left;
    }
  }

  const PortJob& job_;
  double best_;
  std::int64_t states_;
  std::vector<Column> columns_;
  std::vector<double> price_;
  std::vector<const Column*> byLowest_[32];
  std::vector<std::int32_t> left_;  ///< ports of each site
  std::vector<double> bank_;        ///< A used of each site
  std::uint32_t all_ = 0;
  bool givenUp_ = false;
  std::vector<const Column*> stack_, chosen_;
  std::unordered_map<std::uint64_t, std::vector<Seen>> seen_;  ///< looked up only, never walked
};

}  // namespace

ExactPorts exactPorts(const PortJob& job, double limit, std::int64_t states) {
  return Exact(job, limit, states).run();
}

}  // namespace yw::propose
