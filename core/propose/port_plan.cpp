#include "core/propose/port_plan.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "core/propose/port_exact.h"

namespace yw::propose {

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
using Nodes = std::vector<std::int32_t>;

double ampsOf(const PortJob& job, const Nodes& nodes) {
  double amps = 0.0;
  for (const std::int32_t node : nodes) amps += job.parts[static_cast<std::size_t>(node / 2)].amps;
  return amps;
}

/// What a chain takes from its bank.
double bankAmps(const PortJob& job, std::int32_t site, const Nodes& nodes) {
  const double amps = ampsOf(job, nodes);
  return job.ampsCost < 0 || job.bankTakesAll
             ? amps
             : std::min(amps, job.sites[static_cast<std::size_t>(site)].amps);
}

}  // namespace

double chainCost(const PortJob& job, std::int32_t site, const Nodes& nodes) {
  if (nodes.empty()) return 0.0;
  const PortSite& s = job.sites[static_cast<std::size_t>(site)];
  const std::int32_t family = job.parts[static_cast<std::size_t>(nodes.front() / 2)].family;
  if (!s.takes[static_cast<std::size_t>(family)]) return kInfinity;
  std::int64_t pixels = 0;
  double amps = 0.0;
  double cost =
      job.portCost + job.lead[static_cast<std::size_t>(site)][static_cast<std::size_t>(nodes.front())];
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    const PortPart& part = job.parts[static_cast<std::size_t>(nodes[i] / 2)];
    if (part.family != family) return kInfinity;
    pixels += part.pixels;
    amps += part.amps;
    if (i > 0) cost += job.jumper[static_cast<std::size_t>(nodes[i - 1])][static_cast<std::size_t>(nodes[i])];
  }
  if (pixels > std::min(s.pixels, job.familyPixels[static_cast<std::size_t>(family)])) return kInfinity;
  if (amps > s.amps * (1 + 1e-12)) {
    if (job.ampsCost < 0) return kInfinity;
    cost += job.ampsCost * (amps - s.amps);
  }
  return cost;
}

double portsCost(const PortJob& job, const std::vector<PortChain>& chains) {
  double cost = 0.0;
  std::vector<bool> open(job.opening.size(), false);
  for (const PortChain& chain : chains) {
    if (chain.nodes.empty()) continue;
    cost += chainCost(job, chain.site, chain.nodes);
    const auto owner = static_cast<std::size_t>(job.sites[static_cast<std::size_t>(chain.site)].owner);
    if (!open[owner]) cost += job.opening[owner];
    open[owner] = true;
  }
  return cost;
}

bool portsHold(const PortJob& job, const std::vector<PortChain>& chains) {
  std::vector<int> seen(job.parts.size(), 0);
  std::vector<std::int32_t> used(job.sites.size(), 0);
  std::vector<double> bank(job.sites.size(), 0.0);
  for (const PortChain& chain : chains) {
    if (!std::isfinite(chainCost(job, chain.site, chain.nodes))) return false;
    const auto site = static_cast<std::size_t>(chain.site);
    if (++used[site] > job.sites[site].ports) return false;
    bank[site] += bankAmps(job, chain.site, chain.nodes);
    if (bank[site] > job.sites[site].bankAmps * (1 + 1e-9)) return false;
    for (const std::int32_t node : chain.nodes)
      if (++seen[static_cast<std::size_t>(node / 2)] > 1) return false;
  }
  return true;
}

namespace {

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
          least = cost;
          where = s;
          nodes = trial;
        }
    }
    if (!std::isfinite(least)) return false;
    set(where, nodes);
    return true;
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
    const double delta = cost - slots_[s].cost + bankPrice_ * (over(site, bank) - over(site, bank_[site])) +
                         openingIf(s, !nodes.empty()) - openingIf(s, !slots_[s].nodes.empty()) -
                         placed * penalty_;
    if (!accept(delta)) return false;
    set(s, nodes);
    return true;
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
    set(a, {});
    set(b, nb);
    set(a, na);
    if (shift) delta += opened() - before;
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
  std::vector<std::int32_t> slotOf_;
  std::vector<std::vector<std::int32_t>> near_;
  double penalty_ = 0.0, bankPrice_ = 0.0, highPrice_ = 0.0, heat_ = 0.0, bestCost_ = kInfinity;
  int overFor_ = 0;  ///< of the last eight looks
  std::vector<PortChain> best_;
};

/// Fewest ports by pixels, each family on its own.
std::int64_t fewestPorts(const PortJob& job) {
  std::vector<std::int64_t> pixels(job.familyPixels.size(), 0);
  for (const PortPart& part : job.parts) pixels[static_cast<std::size_t>(part.family)] += part.pixels;
  std::int64_t ports = 0;
  for (std::size_t f = 0; f < pixels.size(); ++f) {
    std::int64_t most = 0;
    for (const PortSite& site : job.sites)
      if (site.takes[f]) most = std::max(most, std::min(site.pixels, job.familyPixels[f]));
    if (most > 0) ports += (pixels[f] + most - 1) / most;
  }
  return ports;
}

/// Each part is led to by a lead with its port or by a jumper. Whatever the number of ports, no fewer than
/// the pixels need, the cheapest parts have the leads, and amps that so many ports cannot give are paid for.
double weakBound(const PortJob& job) {
  double jumpers = 0.0, amps = 0.0, most = 0.0;
  std::vector<double> more;  // of a lead over a jumper
  std::int64_t forced = 0;
  for (std::size_t p = 0; p < job.parts.size(); ++p) {
    amps += job.parts[p].amps;
    double lead = kInfinity, jumper = kInfinity;
    for (std::size_t d = 0; d < 2; ++d) {
      for (const auto& row : job.lead) lead = std::min(lead, row[p * 2 + d] + job.portCost);
      for (std::size_t q = 0; q < job.jumper.size(); ++q)
        if (q / 2 != p) jumper = std::min(jumper, job.jumper[q][p * 2 + d]);
    }
    if (std::isfinite(jumper)) {
      jumpers += jumper;
      if (std::isfinite(lead)) more.push_back(lead - jumper);
    } else if (std::isfinite(lead)) {
      jumpers += lead;
      ++forced;
    }
  }
  for (const PortSite& site : job.sites) most = std::max(most, site.amps);
  std::sort(more.begin(), more.end());
  const auto bound = [&](std::int64_t ports, double leads) {
    return jumpers + leads +
           std::max(0.0, job.ampsCost) * std::max(0.0, amps - static_cast<double>(ports) * most);
  };
  double leads = 0.0, least = kInfinity;
  const std::int64_t fewest = std::max<std::int64_t>(1, fewestPorts(job));
  for (std::size_t k = 0; k <= more.size(); ++k) {
    const std::int64_t ports = forced + static_cast<std::int64_t>(k);
    if (ports >= fewest || k == more.size()) least = std::min(least, bound(ports, leads));
    if (k < more.size()) leads += more[k];
  }
  return least;
}

}  // namespace

PortPlan planPorts(const PortJob& job, const PortEffort& effort) {
  PortPlan plan;
  // Few parts: several short tries find more than one long one.
  const std::uint32_t starts = job.parts.size() <= 40 ? 4 : 1;
  double least = kInfinity;
  const auto start = [&](std::uint32_t seed, double bankPrice) {
    Anneal anneal(job, effort.tries / starts, seed, bankPrice);
    anneal.run();
    if (anneal.bestCost() >= least) return;
    least = anneal.bestCost();
    plan.chains = anneal.best();
  };
  for (std::uint32_t s = 0; s < starts; ++s) start(20'611 + s, 3.0);
  // Parts left out: banks may be what stops them, so going over is dear from the start.
  std::size_t parts = 0;
  for (const PortChain& chain : plan.chains) parts += chain.nodes.size();
  if (parts < job.parts.size())
    for (std::uint32_t s = 0; s < starts; ++s) start(30'611 + s, s % 2 == 0 ? 30.0 : 300.0);
  plan.bound = weakBound(job);
  const auto placed = [&] {
    std::vector<bool> in(job.parts.size(), false);
    for (const PortChain& chain : plan.chains)
      for (const std::int32_t node : chain.nodes) in[static_cast<std::size_t>(node / 2)] = true;
    return in;
  };
  const bool noOpening =
      std::all_of(job.opening.begin(), job.opening.end(), [](double c) { return c == 0.0; });
  if (noOpening && static_cast<std::int32_t>(job.parts.size()) <= effort.exactParts) {
    const std::vector<bool> in = placed();
    const bool whole = std::all_of(in.begin(), in.end(), [](bool b) { return b; });
    const ExactPorts exact =
        exactPorts(job, whole ? portsCost(job, plan.chains) : kInfinity, effort.exactStates);
    if (exact.complete) {
      if (exact.found) plan.chains = exact.chains;
      plan.optimal = exact.found || whole;  // or nothing is cheaper than the annealing's
      if (plan.optimal) plan.bound = portsCost(job, plan.chains);
    }
  }
  const std::vector<bool> in = placed();
  for (std::size_t p = 0; p < in.size(); ++p)
    if (!in[p]) plan.unplaced.push_back(static_cast<std::int32_t>(p));
  std::stable_sort(plan.chains.begin(), plan.chains.end(), [](const PortChain& x, const PortChain& y) {
    return x.site != y.site ? x.site < y.site : x.nodes.front() < y.nodes.front();
  });
  plan.cost = portsCost(job, plan.chains);
  plan.bound = plan.unplaced.empty() ? std::min(plan.bound, plan.cost) : plan.bound;
  return plan;
}

}  // namespace yw::propose
