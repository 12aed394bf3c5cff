// The plain figures of port_plan.h from the props and ports of a yard.
#include "core/propose/port_figures.h"

#include <algorithm>
#include <cmath>

#include "core/findings/rule_help.h"
#include "core/propose/plan.h"
#include "core/routes/places.h"
#include "core/routes/plugs.h"
#include "core/yard/this_year.h"

namespace yw::propose {

using namespace yw::yard;

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
/// Below the rule's `close` (core/findings/rules/data_reach.cpp).
constexpr double kReachShare = 0.94;
constexpr std::size_t kMostBoosters = 2, kMostNulls = 1;
/// Ports left free: a tenth of a controller's (common practice, no source), from 8 ports on.
std::int32_t spareOf(std::size_t ports) {
  return ports >= 8 ? static_cast<std::int32_t>((ports + 9) / 10) : 0;
}

class Figures {
 public:
  explicit Figures(const assess::Assessment& a) : a_(a) {}

  PortFigures make() {
    findKept();
    findFamilies();
    findSites();
    findParts();
    if (!out_.parts.empty() && !out_.ports.empty()) makeGaps();
    return std::move(out_);
  }

 private:
  const Yard& yard() const { return a_.yard; }

  void findKept() {
    for (const auto& [id, run] : all<Run>(yard())) {
      bool kept = keptAsIs(yard(), id, "port") || (run->port && keptAsIs(yard(), run->port, "port"));
      for (const RunItem& item : run->items)
        kept = kept || (item.prop && keptAsIs(yard(), item.prop, "port"));
      if (!kept) continue;
      out_.keptRuns.insert(id);
      if (run->port) keptPorts_.insert(run->port);
      for (const RunItem& item : run->items) keptProps_.insert(item.prop);
    }
    for (const auto& [id, port] : all<Port>(yard()))
      if (keptAsIs(yard(), id, "port")) keptPorts_.insert(id);
  }

  /// Ends of whole strips and rows nearest below even pieces of at most `most` pixels.
  static std::vector<std::int64_t> cuts(const shapes::Shape& shape, std::int64_t most) {
    const auto count = static_cast<std::int64_t>(shape.pixels.size());
    std::vector<std::int64_t> ends;
    std::int64_t start = 0;
    while (count - start > most) {
      const std::int64_t pieces = (count - start + most - 1) / most;
      const std::int64_t even = start + (count - start + pieces - 1) / pieces;
      std::int64_t best = 0;
      for (const shapes::Joint& joint : shape.joints) {
        if (joint.afterPixel <= start || joint.afterPixel > start + most) continue;
        if (best == 0 || std::abs(joint.afterPixel - even) < std::abs(best - even)) best = joint.afterPixel;
      }
      start = best > 0 ? best : start + most;
      ends.push_back(start);
    }
    ends.push_back(count);
    return ends;
  }

  std::int64_t mostOnAPort() const {
    std::int64_t most = 0;
    for (const auto& [id, c] : all<Controller>(yard())) most = std::max(most, c->pixelsPerPort);
    for (const auto& [id, r] : all<Receiver>(yard())) most = std::max(most, r->pixelsPerPort);
    return most > 0 ? most : 1024;
  }

  /// Props that want a port, and the family of each.
  void findFamilies() {
    std::map<std::pair<std::string, Voltage>, std::int32_t> families;
    for (const auto& [id, prop] : all<Prop>(yard())) {
      const auto shape = a_.shapes.find(id);
      const Product* product = productOf(yard(), *prop);
      // Kept as it is and on no run: stays without a port.
      if (rests(*prop) || keptProps_.contains(id) || keptAsIs(yard(), id, "port") ||
          shape == a_.shapes.end() || !product || shape->second->pixels.empty())
        continue;
      const auto [family, made] = families.emplace(std::pair{product->chip, product->voltage},
                                                   static_cast<std::int32_t>(out_.job.familyPixels.size()));
      const std::int64_t byFrame = data::mostPixels(*product, settings(yard()).frameRate);
      if (made) {
        out_.job.familyPixels.push_back(byFrame);
        familyVolts_.push_back(product->voltage);
      }
      auto& most = out_.job.familyPixels[static_cast<std::size_t>(family->second)];
      most = std::min(most, byFrame);
      props_.emplace_back(id, family->second);
    }
  }

  void findParts() {
    const std::int64_t byController = mostOnAPort();
    const double brightness = base::fraction(settings(yard()).brightnessLimit);
    for (const auto& [id, family] : props_) {
      const std::int64_t most = out_.job.familyPixels[static_cast<std::size_t>(family)];
      if (most <= 0) continue;
      const shapes::Shape& shape = *a_.shapes.at(id);
      const Product& product = *productOf(yard(), *find<Prop>(yard(), id));
      const double nominal = base::volts(product.voltage).si;
      const double amps = circuit::evaluate(circuit::loadOf(product, brightness), nominal).amps;
      const double bank = largestBank(family);
      std::int64_t byBank = most;
      if (amps > 0.0 && bank < amps * static_cast<double>(most))
        byBank = std::max<std::int64_t>(1, std::llround(std::floor(bank / amps)));
      std::int64_t first = 1;
      for (const std::int64_t last : cuts(shape, std::min({most, byController, byBank}))) {
        RunItem item;
        item.prop = id;
        item.first = first;
        item.last = last;
        out_.parts.push_back(item);
        out_.job.parts.push_back({last - first + 1, amps * static_cast<double>(last - first + 1), family,
                                  groupOf(find<Prop>(yard(), id)->group)});
        first = last + 1;
      }
    }
  }

  /// Props with the same word in `group` stay together; empty: with none.
  std::int32_t groupOf(const std::string& group) {
    if (group.empty()) return -1;
    return groups_.emplace(group, static_cast<std::int32_t>(groups_.size())).first->second;
  }

  void findSites() {
    std::map<Id, std::int32_t> owners;  // a receiver counts to the controller that feeds it
    const auto add = [&](Id owner, Id brain, Id box, const std::vector<PowerSection>& sections,
                         std::int64_t pixels) {
      const auto [place, made] = owners.emplace(brain, static_cast<std::int32_t>(owners.size()));
      if (made) out_.job.opening.push_back(0.0);  // it stands there already
      const auto ports = portsOf(yard(), owner);
      std::size_t first = out_.ports.size();
      for (std::size_t s = 0; s < sections.size(); ++s) addSite(ports, s, sections[s], pixels, place->second);
      siteBox_.resize(out_.ports.size(), box);
      std::int32_t spare = spareOf(ports.size());
      while (spare > 0 && first < out_.ports.size()) {
        std::size_t widest = first;
        for (std::size_t i = first; i < out_.ports.size(); ++i)
          if (out_.job.sites[i].ports > out_.job.sites[widest].ports) widest = i;
        if (out_.job.sites[widest].ports == 0) break;
        --out_.job.sites[widest].ports;
        --spare;
      }
    };
    for (const auto& [id, c] : all<Controller>(yard()))
      if (c->box) add(id, id, c->box, c->sections, c->pixelsPerPort);
    for (const auto& [id, r] : all<Receiver>(yard()))
      if (r->box) add(id, r->controller ? r->controller : id, r->box, r->sections, r->pixelsPerPort);
    out_.job.portCost = kPortCost;
    out_.job.groupCost = kPartedCost;
    out_.job.ampsCost = kFeedAmpsCost;
    out_.job.bankTakesAll = true;
    // A supply that several sections share is shared out evenly, and so is one that has no section: its feeds
    // go to the runs of the box's sections.
    std::map<Id, int> shared;
    for (const Id supply : siteSupply_) ++shared[supply];
    for (std::size_t i = 0; i < out_.ports.size(); ++i) out_.job.sites[i].bankAmps /= shared[siteSupply_[i]];
    for (const auto& [id, supply] : all<Supply>(yard())) {
      if (!supply->box || !isSpare(id)) continue;
      std::vector<std::size_t> helped;
      for (std::size_t i = 0; i < out_.ports.size(); ++i) {
        const Supply* own = find<Supply>(yard(), siteSupply_[i]);
        if (siteBox_[i] == supply->box && own && alike(own->voltage, supply->voltage)) helped.push_back(i);
      }
      for (const std::size_t i : helped)
        out_.job.sites[i].bankAmps += roomOf(*supply) / static_cast<double>(helped.size());
    }
  }

  static bool alike(Voltage a, Voltage b) {
    const double ratio = base::volts(a).si / base::volts(b).si;
    return ratio > 0.86 && ratio < 1.14;
  }
  double roomOf(const Supply& supply) const {
    return base::amps(supply.ratedAmps).si * base::fraction(settings(yard()).supplyUsable) * 0.999;
  }
  /// Gives to no power section.
  bool isSpare(Id supply) const {
    const auto uses = [&](const auto& owners) {
      return std::any_of(owners.begin(), owners.end(), [&](const auto& entry) {
        return std::any_of(entry.second->sections.begin(), entry.second->sections.end(),
                           [&](const PowerSection& section) { return section.supply == supply; });
      });
    };
    return !uses(all<Controller>(yard())) && !uses(all<Receiver>(yard()));
  }
  /// Most that one section can have for that family, A: a prop that asks for more is cut at a joint.
  double largestBank(std::int32_t family) const {
    double most = 0.0;
    for (const PortSite& site : out_.job.sites)
      if (site.takes[static_cast<std::size_t>(family)]) most = std::max(most, site.bankAmps);
    return most > 0.0 ? most : kInfinity;
  }

  void addSite(const std::vector<std::pair<Id, const Port*>>& ports, std::size_t s,
               const PowerSection& section, std::int64_t pixels, std::int32_t owner) {
    const Settings& set = settings(yard());
    PortSite site;
    std::vector<Id> mine;
    double amps = kInfinity;
    for (const auto& [id, port] : ports) {
      if (port->section != static_cast<std::int64_t>(s) + 1 || keptPorts_.contains(id)) continue;
      mine.push_back(id);
      if (port->limit.count > 0) amps = std::min(amps, base::amps(port->limit).si * 0.89);
      if (port->fuse.count > 0)
        amps = std::min(amps, base::amps(port->fuse).si * base::fraction(set.fuseUsable) * 0.999);
    }
    if (mine.empty()) return;
    const Supply* supply = find<Supply>(yard(), section.supply);
    site.ports = static_cast<std::int32_t>(mine.size());
    site.pixels = pixels;
    site.amps = amps;
    site.bankAmps = supply ? roomOf(*supply) : kInfinity;
    site.owner = owner;
    for (const Voltage volts : familyVolts_) {
      site.takes.push_back(!supply || alike(supply->voltage, volts));
    }
    out_.job.sites.push_back(site);
    out_.ports.push_back(std::move(mine));
    siteSupply_.push_back(section.supply);
  }

  RunItem turned(std::size_t node) const { return turnedPart(out_, node); }
  routes::EndPlace entry(std::size_t node) const {
    return routes::endPlace(yard(), a_.shapes, routes::entryOf(turned(node), a_.shapes));
  }
  routes::EndPlace exit(std::size_t node) const {
    return routes::endPlace(yard(), a_.shapes, routes::exitOf(turned(node), a_.shapes));
  }

  PortGap gap(const routes::EndPlace& from, const routes::EndPlace& to, double limit, std::size_t mostExtra,
              double fixed, double each) const {
    PortGap g;
    g.limit = limit * kReachShare;
    const double straight = base::distance(from.at, to.at);
    g.length = straight;
    if (straight > g.limit * static_cast<double>(mostExtra + 1)) return g;
    const routes::Lie lie = routes::lie(yard(), *a_.ground, from, to, {}, g.limit);
    g.length = lie.planLength + lie.verticalLength;
    g.extra = g.length <= g.limit ? 0 : static_cast<std::size_t>(std::ceil(g.length / g.limit)) - 1;
    if (g.extra > mostExtra || lie.blocked) return g;
    const Wire* wire = find<Wire>(yard(), settings(yard()).usualLead);
    g.cost = fixed + each * static_cast<double>(g.extra) + g.length * (wire ? pricePerMetre(*wire) : 1.0) +
             coverCost(a_, lie);
    return g;
  }

  /// Of the usual lead, where it comes with plugs of its own.
  double adapterCost(const routes::Socket& from, const routes::Socket& to) const {
    return leadPlug_.empty()
               ? 0.0
               : kAdapterCost * static_cast<double>(routes::adaptersBetween(from, leadPlug_, to));
  }

  double jumperLimit(std::size_t part) const {
    const Product* product = productOf(yard(), *find<Prop>(yard(), out_.parts[part].prop));
    return base::metres(product->reach.count > 0 ? product->reach : settings(yard()).jumperReach).si;
  }

  void makeGaps() {
    const std::size_t nodes = out_.parts.size() * 2;
    std::vector<routes::EndPlace> in, end;
    std::vector<routes::Socket> inPlug, outPlug;
    if (const Wire* lead = find<Wire>(yard(), settings(yard()).usualLead)) leadPlug_ = lead->plug;
    for (std::size_t n = 0; n < nodes; ++n) {
      inPlug.push_back(routes::socketOf(yard(), routes::entryOf(turned(n), a_.shapes)));
      outPlug.push_back(routes::socketOf(yard(), routes::exitOf(turned(n), a_.shapes)));
      in.push_back(entry(n));
      end.push_back(exit(n));
    }
    const double reach = base::metres(settings(yard()).controllerReach).si;
    for (std::size_t s = 0; s < out_.ports.size(); ++s) {
      const auto from = routes::endPlace(yard(), a_.shapes, {TerminalKind::Port, out_.ports[s].front(), 0});
      const routes::Socket plug = routes::socketOf(yard(), {TerminalKind::Port, out_.ports[s].front(), 0});
      out_.leads.emplace_back();
      out_.job.lead.emplace_back();
      for (std::size_t n = 0; n < nodes; ++n) {
        out_.leads.back().push_back(gap(from, in[n], reach, kMostBoosters, kLeadCost, kBoosterCost));
        out_.leads.back().back().cost += adapterCost(plug, inPlug[n]);
        out_.job.lead.back().push_back(out_.leads.back().back().cost);
      }
    }
    out_.job.jumper.assign(nodes, std::vector<double>(nodes, kInfinity));
    for (std::size_t x = 0; x < nodes; ++x)
      for (std::size_t y = 0; y < nodes; ++y) {
        if (x / 2 == y / 2 || out_.job.parts[x / 2].family != out_.job.parts[y / 2].family) continue;
        const PortGap g = gap(end[x], in[y], jumperLimit(x / 2), kMostNulls, kJumperCost, kNullCost);
        if (!std::isfinite(g.cost)) continue;
        const bool onward = goesOn(out_, x, y);
        out_.job.jumper[x][y] = onward ? 0.0 : g.cost + adapterCost(outPlug[x], inPlug[y]);
        if (g.extra > 0 && !onward) out_.nulls[{x, y}] = g.extra;
      }
  }

  const assess::Assessment& a_;
  std::set<Id> keptPorts_, keptProps_;
  std::vector<std::pair<Id, std::int32_t>> props_;  ///< with their family
  std::vector<Voltage> familyVolts_;
  std::map<std::string, std::int32_t> groups_;
  std::string leadPlug_;
  std::vector<Id> siteSupply_, siteBox_;
  PortFigures out_;
};

}  // namespace

PortFigures portFigures(const assess::Assessment& a) { return Figures(a).make(); }

bool useSparePorts(PortFigures& figures) {
  bool more = false;
  for (std::size_t i = 0; i < figures.ports.size(); ++i) {
    const auto all = static_cast<std::int32_t>(figures.ports[i].size());
    more = more || figures.job.sites[i].ports < all;
    figures.job.sites[i].ports = all;
  }
  return more;
}

RunItem turnedPart(const PortFigures& figures, std::size_t node) {
  RunItem item = figures.parts[node / 2];
  item.reversed = node % 2 == 1;
  return item;
}

bool goesOn(const PortFigures& figures, std::size_t x, std::size_t y) {
  const RunItem a = turnedPart(figures, x), b = turnedPart(figures, y);
  if (a.prop != b.prop || a.reversed != b.reversed) return false;
  return a.reversed ? b.last + 1 == a.first : a.last + 1 == b.first;
}

std::vector<Unplaced> unplacedOf(const PortFigures& figures, const PortPlan& plan) {
  std::vector<Unplaced> found;
  for (const std::int32_t p : plan.unplaced) {
    const auto part = static_cast<std::size_t>(p);
    Unplaced one{figures.parts[part], figures.job.parts[part].amps, false, false, {}};
    one.nearest.length = kInfinity;
    for (std::size_t s = 0; s < figures.ports.size(); ++s) {
      if (!figures.job.sites[s].takes[static_cast<std::size_t>(figures.job.parts[part].family)]) continue;
      one.volts = true;
      for (std::size_t d = 0; d < 2; ++d) {
        const PortGap& lead = figures.leads[s][part * 2 + d];
        one.reached = one.reached || std::isfinite(lead.cost);
        if (lead.length < one.nearest.length) one.nearest = lead;
      }
    }
    found.push_back(one);
  }
  return found;
}

}  // namespace yw::propose
