#include "core/propose/port_plan.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "core/propose/port_anneal.h"
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

}  // namespace

double bankAmps(const PortJob& job, std::int32_t site, const Nodes& nodes) {
  const double amps = ampsOf(job, nodes);
  return job.ampsCost < 0 || job.bankTakesAll
             ? amps
             : std::min(amps, job.sites[static_cast<std::size_t>(site)].amps);
}

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

namespace {

/// Of the groups that hang on several controllers.
double partedCost(const PortJob& job, const std::vector<PortChain>& chains) {
  std::set<std::pair<std::int32_t, std::int32_t>> hung;  // group, controller
  for (const PortChain& chain : chains)
    for (const std::int32_t node : chain.nodes)
      if (const std::int32_t group = job.parts[static_cast<std::size_t>(node / 2)].group; group >= 0)
        hung.emplace(group, job.sites[static_cast<std::size_t>(chain.site)].owner);
  double cost = 0.0;
  std::int32_t last = -1;
  for (const auto& [group, owner] : hung) {
    if (group == last) cost += job.groupCost;
    last = group;
  }
  return cost;
}

}  // namespace

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
  return cost + partedCost(job, chains);
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
    AnnealedPorts found = annealPorts(job, effort.tries / starts, seed, bankPrice);
    if (found.cost >= least) return;
    least = found.cost;
    plan.chains = std::move(found.chains);
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
      // The search sees no groups: what it finds is a bound, and the best plan where it parts none.
      const double bare = exact.found ? portsCost(job, exact.chains) - partedCost(job, exact.chains)
                                      : portsCost(job, plan.chains);
      if (exact.found && (!whole || portsCost(job, exact.chains) <= portsCost(job, plan.chains)))
        plan.chains = exact.chains;
      const double reached = portsCost(job, plan.chains);
      plan.optimal = (exact.found || whole) && reached <= bare + 1e-9;
      if (plan.optimal)
        plan.bound = reached;
      else if (exact.found)
        plan.bound = std::max(plan.bound, bare);
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
