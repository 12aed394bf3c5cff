#include "core/propose/port_anneal.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

namespace yw::propose {

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
using Nodes = std::vector<std::int32_t>;

class Anneal {
 public:
  /// `bankPrice`: of an ampere over a bank, in shares of a usual arc, at the least.
  Anneal(const PortJob& job, std::int64_t tries, std::uint32_t seed, double bankPrice)
      : job_(job), tries_(tries), engine_(seed), lowPrice_(bankPrice) {
    for (std::size_t s = 0; s < job.sites.size(); ++s)
      for (std::int32_t p = 0; p < job.sites[s].ports; ++p)
        slots_.push_back({static_cast<std::int32_t>(s), {}, 0.0, 0.0});
    bank_.assign(job.sites.size(), 0.0);
    open_.assign(job.opening.size(), 0);
    for (const PortPart& part : job.parts)
      if (job.groupCost > 0.0 && part.group >= static_cast<std::int32_t>(groups_.size()))
        groups_.resize(static_cast<std::size_t>(part.group) + 1, std::vector<int>(job.opening.size(), 0));
    used_.assign(groups_.size(), 0);
    slotOf_.assign(job.parts.size(), -1);
    double most = 0.0;
    for (const auto& row : job.lead)
      for (const double cost : row)
        if (std::isfinite(cost)) most = std::max(most, cost);
    for (const double cost : job.opening) most = std::max(most, cost);
    penalty_ = 4.0 * (most + job.portCost) + 100.0;
    neighbours();
  }

  void run() {
    if (slots_.empty() || job_.parts.empty()) return;
    fill();
    keep();
    double arcs = 0.0;
    for (const Slot& slot : slots_) arcs += slot.cost;
    const double share = std::max(0.1, arcs / static_cast<double>(job_.parts.size()));
    bankPrice_ = lowPrice_ *= share;
    double least = kInfinity;
    for (const PortPart& part : job_.parts)
      if (part.amps > 0) least = std::min(least, part.amps);
    highPrice_ = std::max(lowPrice_, 2.0 * penalty_ / least);
    const double hot = (tries_ > 2'000'000 ? 4.0 : 2.0) * share, cold = 0.03 * share;
    for (std::int64_t t = 0; t < tries_; ++t) {
      if (t % 256 == 0) {
        const double done = static_cast<double>(t) / static_cast<double>(tries_);
        heat_ = hot * power(cold / hot, done);
      }
      if (t % 64 == 0) reprice(t);
      step();
    }
  }

  std::vector<PortChain> best() const { return best_; }
  double bestCost() const { return bestCost_; }

 private:
  struct Slot {
    std::int32_t site;
    Nodes nodes;
    double cost, bank;
  };

  /// x to the y, 0 < x, by repeated square roots: the same bits on every machine.
  static double power(double x, double y) {
    double out = 1.0, root = x;
    for (int bit = 0; bit < 30; ++bit) {
      root = std::sqrt(root);
      y *= 2.0;
      if (y >= 1.0) {
        out *= root;
        y -= 1.0;
      }
    }
    return out;
  }

  std::size_t pick(std::size_t count) {
    return static_cast<std::size_t>((static_cast<std::uint64_t>(engine_()) * count) >> 32);
  }
  double chance() { return (engine_() + 0.5) / 4294967296.0; }

  /// For each part the dozen whose jumpers to it are cheapest, for aiming moves.
  void neighbours() {
    constexpr std::size_t kNear = 12;
    near_.resize(job_.parts.size());
    for (std::size_t p = 0; p < job_.parts.size(); ++p) {
      std::vector<std::pair<double, std::int32_t>> all;
      for (std::size_t q = 0; q < job_.parts.size(); ++q) {
        if (q == p) continue;
        double least = kInfinity;
        for (std::size_t dp = 0; dp < 2; ++dp)
          for (std::size_t dq = 0; dq < 2; ++dq)
            least =
                std::min({least, job_.jumper[q * 2 + dq][p * 2 + dp], job_.jumper[p * 2 + dp][q * 2 + dq]});
        if (std::isfinite(least)) all.emplace_back(least, static_cast<std::int32_t>(q));
      }
      std::sort(all.begin(), all.end());
      for (std::size_t i = 0; i < std::min(kNear, all.size()); ++i) near_[p].push_back(all[i].second);
    }
  }

  /// Every part where it costs least when it comes, the large ones first.
  void fill() {
    std::vector<std::int32_t> order(job_.parts.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = static_cast<std::int32_t>(i);
    std::stable_sort(order.begin(), order.end(), [&](std::int32_t x, std::int32_t y) {
      return job_.parts[static_cast<std::size_t>(x)].pixels > job_.parts[static_cast<std::size_t>(y)].pixels;
    });
    for (const std::int32_t part : order) insertBest(part);
  }

  bool insertBest(std::int32_t part) {
    double least = kInfinity;
    std::size_t where = 0;
    Nodes nodes;
    std::vector<bool> emptySeen(job_.sites.size(), false);
    for (std::size_t s = 0; s < slots_.size(); ++s) {
      const auto site = static_cast<std::size_t>(slots_[s].site);
      if (slots_[s].nodes.empty()) {
        if (emptySeen[site]) continue;
        emptySeen[site] = true;
      }
      for (std::size_t at = 0; at <= slots_[s].nodes.size(); ++at)
        for (std::int32_t turned = 0; turned < 2; ++turned) {
          Nodes trial = slots_[s].nodes;
          trial.insert(trial.begin() + static_cast<std::ptrdiff_t>(at), part * 2 + turned);
          const double cost = chainCost(job_, slots_[s].site, trial) - slots_[s].cost;
          if (cost >= least || !roomFor(slots_[s], trial)) continue;
          if (!groups_.empty() && cost + partedBy(part, slots_[s].site) >= least) continue;
          least = groups_.empty() ? cost : cost + partedBy(part, slots_[s].site);
          where = s;
          nodes = trial;
        }
    }
    if (!std::isfinite(least)) return false;
    set(where, nodes);
    return true;
  }

  /// What it costs that its group then hangs on one controller more.
  double partedBy(std::int32_t part, std::int32_t site) const {
    const std::int32_t group = job_.parts[static_cast<std::size_t>(part)].group;
    if (group < 0) return 0.0;
    const std::vector<int>& owners = groups_[static_cast<std::size_t>(group)];
    const auto owner = static_cast<std::size_t>(job_.sites[static_cast<std::size_t>(site)].owner);
    const bool any = std::any_of(owners.begin(), owners.end(), [](int n) { return n > 0; });
    return any && owners[owner] == 0 ? job_.groupCost : 0.0;
  }

  bool roomFor(const Slot& slot, const Nodes& nodes) const {
    const auto site = static_cast<std::size_t>(slot.site);
    return bank_[site] - slot.bank + bankAmps(job_, slot.site, nodes) <=
           job_.sites[site].bankAmps * (1 + 1e-9);
  }

  void set(std::size_t s, Nodes nodes) {
    Slot& slot = slots_[s];
    const auto site = static_cast<std::size_t>(slot.site);
    const auto owner = static_cast<std::size_t>(job_.sites[site].owner);
    open_[owner] += static_cast<int>(!nodes.empty()) - static_cast<int>(!slot.nodes.empty());
    if (!groups_.empty()) {
      count(slot.nodes, owner, -1);
      count(nodes, owner, 1);
    }
    bank_[site] -= slot.bank;
    for (const std::int32_t node : slot.nodes)
      if (slotOf_[static_cast<std::size_t>(node / 2)] == static_cast<std::int32_t>(s))
        slotOf_[static_cast<std::size_t>(node / 2)] = -1;
    slot.nodes = std::move(nodes);
    for (const std::int32_t node : slot.nodes)
      slotOf_[static_cast<std::size_t>(node / 2)] = static_cast<std::int32_t>(s);
    slot.cost = chainCost(job_, slot.site, slot.nodes);
    slot.bank = bankAmps(job_, slot.site, slot.nodes);
    bank_[site] += slot.bank;
  }

  void count(const Nodes& nodes, std::size_t owner, int by) {
    for (const std::int32_t node : nodes) {
      const std::int32_t group = job_.parts[static_cast<std::size_t>(node / 2)].group;
      if (group < 0) continue;
      int& here = groups_[static_cast<std::size_t>(group)][owner];
      int& used = used_[static_cast<std::size_t>(group)];
      const bool was = here > 0;
      here += by;
      if (was == (here > 0)) continue;
      const int before = std::max(0, used - 1);
      used += was ? -1 : 1;
      parted_ += std::max(0, used - 1) - before;
    }
  }
  /// Of the groups that hang on several controllers.
  double parted() const { return job_.groupCost * parted_; }

  double openingIf(std::size_t s, bool used) const {
    const auto owner = static_cast<std::size_t>(job_.sites[static_cast<std::size_t>(slots_[s].site)].owner);
    const int others = open_[owner] - static_cast<int>(!slots_[s].nodes.empty());
    return others == 0 && used ? job_.opening[owner] : 0.0;
  }

  /// Banks that stay over become dearer until leaving a part out is cheaper, and cheap again once they hold.
  void reprice(std::int64_t t) {
    bool any = false;
    for (std::size_t s = 0; s < bank_.size(); ++s) any = any || over(s, bank_[s]) > 0.0;
    if (any) ++overFor_;
    if (t % 512 != 0) return;
    constexpr double kStep = 1.3;
    bankPrice_ = overFor_ >= 7 ? bankPrice_ * kStep : overFor_ <= 2 ? bankPrice_ / kStep : bankPrice_;
    bankPrice_ = std::clamp(bankPrice_, lowPrice_, highPrice_);
    overFor_ = 0;
  }

  std::int64_t unplaced() const { return std::count(slotOf_.begin(), slotOf_.end(), -1); }

  bool accept(double delta) {
    return delta <= 0.0 || (heat_ > 0 && delta < heat_ * 20 && chance() < falling(delta / heat_));
  }
  /// e^-x by halving and squaring: the same bits on every machine.
  static double falling(double x) {
    const double y = x / 1024.0;
    double v = 1.0 - y + y * y / 2 - y * y * y / 6;
    for (int i = 0; i < 10; ++i) v *= v;
    return v;
  }

  /// One slot's chain becomes another, `placed` more parts being in (or fewer).
  bool tryOne(std::size_t s, const Nodes& nodes, int placed) {
    const double cost = chainCost(job_, slots_[s].site, nodes);
    if (!std::isfinite(cost)) return false;
    const auto site = static_cast<std::size_t>(slots_[s].site);
    const double bank = bank_[site] - slots_[s].bank + bankAmps(job_, slots_[s].site, nodes);
    double delta = cost - slots_[s].cost + bankPrice_ * (over(site, bank) - over(site, bank_[site])) +
                   openingIf(s, !nodes.empty()) - openingIf(s, !slots_[s].nodes.empty()) - placed * penalty_;
    if (groups_.empty()) {
      if (!accept(delta)) return false;
      set(s, nodes);
      return true;
    }
    const Nodes old = slots_[s].nodes;
    delta -= parted();
    set(s, nodes);
    delta += parted();
    if (accept(delta)) return true;
    set(s, old);
    return false;
  }

  /// A over what a bank may give. Allowed on the way, at a price.
  double over(std::size_t site, double bank) const {
    return std::max(0.0, bank - job_.sites[site].bankAmps * (1 + 1e-9));
  }
  double overOf(std::int32_t a, std::int32_t b) const {
    const auto x = static_cast<std::size_t>(a), y = static_cast<std::size_t>(b);
    return over(x, bank_[x]) + (x == y ? 0.0 : over(y, bank_[y]));
  }

  bool tryTwo(std::size_t a, const Nodes& na, std::size_t b, const Nodes& nb) {
    const double ca = chainCost(job_, slots_[a].site, na);
    if (!std::isfinite(ca)) return false;
    const double cb = chainCost(job_, slots_[b].site, nb);
    if (!std::isfinite(cb)) return false;
    double delta = ca + cb - slots_[a].cost - slots_[b].cost;
    const Slot oldA = slots_[a], oldB = slots_[b];
    const auto opened = [&] {
      double sum = 0.0;
      for (std::size_t o = 0; o < open_.size(); ++o) sum += open_[o] > 0 ? job_.opening[o] : 0.0;
      return sum;
    };
    const bool shift = oldA.nodes.empty() != na.empty() || oldB.nodes.empty() != nb.empty();
    const double before = shift ? opened() : 0.0;
    const double overBefore = overOf(oldA.site, oldB.site);
    delta -= parted();
    set(a, {});
    set(b, nb);
    set(a, na);
    if (shift) delta += opened() - before;
    delta += parted();
    delta += bankPrice_ * (overOf(oldA.site, oldB.site) - overBefore);
    if (accept(delta)) return true;
    set(a, {});
    set(b, oldB.nodes);
    set(a, oldA.nodes);
    return false;
  }

  void step() {
    const std::size_t part = pick(job_.parts.size());
    const std::int32_t here = slotOf_[part];
    bool changed = false;
    if (here < 0) {
      changed = pick(4) == 0 ? putInstead(static_cast<std::int32_t>(part))
                             : insertSomewhere(static_cast<std::int32_t>(part));
    } else if (bankPrice_ > lowPrice_ && pick(8) == 0) {
      changed = takeOut(part, static_cast<std::size_t>(here));
    } else {
      const std::size_t kind = pick(16);
      if (kind < 7)
        changed = moveChain(part, static_cast<std::size_t>(here));
      else if (kind < 10)
        changed = exchangeTails(part, static_cast<std::size_t>(here));
      else if (kind < 13)
        changed = swapParts(part, static_cast<std::size_t>(here));
      else if (kind < 15)
        changed = turnPiece(part, static_cast<std::size_t>(here));
      else
        changed = toOwnPort(part, static_cast<std::size_t>(here));
    }
    if (changed) keep();
  }

  std::size_t indexOf(std::size_t part, std::size_t s) const {
    const Nodes& nodes = slots_[s].nodes;
    return static_cast<std::size_t>(
        std::find_if(nodes.begin(), nodes.end(),
                     [&](std::int32_t n) { return n / 2 == static_cast<std::int32_t>(part); }) -
        nodes.begin());
  }

  /// A slot near the part: one of a neighbour, or any.
  std::size_t otherSlot(std::size_t part) {
    if (!near_[part].empty() && pick(8) != 0) {
      const std::int32_t s = slotOf_[static_cast<std::size_t>(near_[part][pick(near_[part].size())])];
      if (s >= 0) return static_cast<std::size_t>(s);
    }
    return pick(slots_.size());
  }

  bool insertSomewhere(std::int32_t part) {
    const std::size_t s = otherSlot(static_cast<std::size_t>(part));
    Nodes nodes = slots_[s].nodes;
    nodes.insert(nodes.begin() + static_cast<std::ptrdiff_t>(pick(nodes.size() + 1)),
                 part * 2 + static_cast<std::int32_t>(pick(2)));
    return tryOne(s, nodes, 1);
  }

  /// In the place of another part, which is then left out.
  bool putInstead(std::int32_t part) {
    const std::size_t s = otherSlot(static_cast<std::size_t>(part));
    if (slots_[s].nodes.empty()) return false;
    Nodes nodes = slots_[s].nodes;
    nodes[pick(nodes.size())] = part * 2 + static_cast<std::int32_t>(pick(2));
    return tryOne(s, nodes, 0);
  }

  bool takeOut(std::size_t part, std::size_t s) {
    const auto site = static_cast<std::size_t>(slots_[s].site);
    if (over(site, bank_[site]) <= 0.0) return false;
    Nodes nodes = slots_[s].nodes;
    nodes.erase(nodes.begin() + static_cast<std::ptrdiff_t>(indexOf(part, s)));
    return tryOne(s, nodes, -1);
  }

  static void turn(Nodes& nodes) {
    std::reverse(nodes.begin(), nodes.end());
    for (std::int32_t& node : nodes) node ^= 1;
  }

  bool moveChain(std::size_t part, std::size_t a) {
    const std::size_t i = indexOf(part, a), length = std::min(1 + pick(3), slots_[a].nodes.size() - i);
    Nodes from = slots_[a].nodes;
    Nodes piece(from.begin() + static_cast<std::ptrdiff_t>(i),
                from.begin() + static_cast<std::ptrdiff_t>(i + length));
    from.erase(from.begin() + static_cast<std::ptrdiff_t>(i),
               from.begin() + static_cast<std::ptrdiff_t>(i + length));
    if (pick(2) == 0) turn(piece);
    const std::size_t b = otherSlot(part);
    Nodes to = a == b ? from : slots_[b].nodes;
    to.insert(to.begin() + static_cast<std::ptrdiff_t>(pick(to.size() + 1)), piece.begin(), piece.end());
    return a == b ? tryOne(a, to, 0) : tryTwo(a, from, b, to);
  }

  bool exchangeTails(std::size_t part, std::size_t a) {
    const std::size_t b = otherSlot(part);
    if (a == b) return false;
    const Nodes &x = slots_[a].nodes, &y = slots_[b].nodes;
    const std::size_t i = indexOf(part, a), j = pick(y.size() + 1);
    Nodes na(x.begin(), x.begin() + static_cast<std::ptrdiff_t>(i)),
        nb(y.begin(), y.begin() + static_cast<std::ptrdiff_t>(j));
    na.insert(na.end(), y.begin() + static_cast<std::ptrdiff_t>(j), y.end());
    nb.insert(nb.end(), x.begin() + static_cast<std::ptrdiff_t>(i), x.end());
    return tryTwo(a, na, b, nb);
  }

  bool swapParts(std::size_t part, std::size_t a) {
    const std::size_t b = otherSlot(part);
    if (a == b || slots_[b].nodes.empty()) return false;
    Nodes na = slots_[a].nodes, nb = slots_[b].nodes;
    const std::size_t i = indexOf(part, a), j = pick(nb.size());
    std::swap(na[i], nb[j]);
    if (pick(2) == 0) na[i] ^= 1;
    if (pick(2) == 0) nb[j] ^= 1;
    return tryTwo(a, na, b, nb);
  }

  bool turnPiece(std::size_t part, std::size_t a) {
    Nodes nodes = slots_[a].nodes;
    const std::size_t i = indexOf(part, a), length = 1 + pick(nodes.size() - i);
    Nodes piece(nodes.begin() + static_cast<std::ptrdiff_t>(i),
                nodes.begin() + static_cast<std::ptrdiff_t>(i + length));
    turn(piece);
    std::copy(piece.begin(), piece.end(), nodes.begin() + static_cast<std::ptrdiff_t>(i));
    return tryOne(a, nodes, 0);
  }

  /// From a part on to a port of its own, turned or not.
  bool toOwnPort(std::size_t part, std::size_t a) {
    const std::size_t b = pick(slots_.size());
    if (a == b || !slots_[b].nodes.empty()) return false;
    const std::size_t i = indexOf(part, a);
    Nodes from = slots_[a].nodes;
    Nodes piece(from.begin() + static_cast<std::ptrdiff_t>(i), from.end());
    from.resize(i);
    if (pick(2) == 0) turn(piece);
    return tryTwo(a, from, b, piece);
  }

  void keep() {
    for (std::size_t s = 0; s < bank_.size(); ++s)
      if (over(s, bank_[s]) > 0.0) return;
    const std::int64_t missing = unplaced();
    double cost = static_cast<double>(missing) * penalty_;
    for (const Slot& slot : slots_) cost += slot.cost;
    for (std::size_t o = 0; o < open_.size(); ++o) cost += open_[o] > 0 ? job_.opening[o] : 0.0;
    cost += parted();
    if (!(cost < bestCost_ - 1e-9)) return;
    bestCost_ = cost;
    best_.clear();
    for (const Slot& slot : slots_)
      if (!slot.nodes.empty()) best_.push_back({slot.site, slot.nodes});
  }

  const PortJob& job_;
  std::int64_t tries_;
  std::mt19937 engine_;
  double lowPrice_;
  std::vector<Slot> slots_;
  std::vector<double> bank_;
  std::vector<int> open_;
  std::vector<std::vector<int>> groups_;  ///< parts of each group on each controller
  std::vector<int> used_;                 ///< controllers that each group hangs on
  int parted_ = 0;                        ///< of those more than one a group
  std::vector<std::int32_t> slotOf_;
  std::vector<std::vector<std::int32_t>> near_;
  double penalty_ = 0.0, bankPrice_ = 0.0, highPrice_ = 0.0, heat_ = 0.0, bestCost_ = kInfinity;
  int overFor_ = 0;  ///< of the last eight looks
  std::vector<PortChain> best_;
};

}  // namespace

AnnealedPorts annealPorts(const PortJob& job, std::int64_t tries, std::uint32_t seed, double bankPrice) {
  Anneal anneal(job, tries, seed, bankPrice);
  anneal.run();
  return {anneal.best(), anneal.bestCost()};
}

}  // namespace yw::propose
