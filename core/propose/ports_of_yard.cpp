// Ports for the props of a yard: makes the plain figures of port_plan.h from it and a change from the answer.
#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "core/findings/rule_help.h"
#include "core/propose/plan.h"
#include "core/propose/port_plan.h"
#include "core/routes/places.h"
#include "core/yard/labels.h"
#include "core/yard/this_year.h"

namespace yw::propose {

using namespace yw::yard;

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
/// Our own judgement, no source: two plugs of a lead, of a jumper; a port's fuse and label; a null pixel and
/// a booster with their joints; feeds for each ampere that a port does not give.
constexpr double kLead = 3.0, kJumper = 2.0, kPort = 2.0, kNull = 2.0, kBooster = 10.0, kFeedAmps = 3.0;
/// Below the rule's `close` (core/findings/rules/data_reach.cpp).
constexpr double kReachShare = 0.94;
constexpr std::size_t kMostBoosters = 2, kMostNulls = 1;
/// Ports left free: a tenth of a controller's (common practice, no source), from 8 ports on.
std::int32_t spareOf(std::size_t ports) {
  return ports >= 8 ? static_cast<std::int32_t>((ports + 9) / 10) : 0;
}
constexpr double kWorthChanging = 0.05;

struct Gap {
  double cost = kInfinity, length = 0.0, limit = 0.0;
  std::size_t extra = 0;  ///< boosters before a lead's end, null pixels before a jumper's
};

class PortsPlanner {
 public:
  explicit PortsPlanner(const assess::AssessmentPtr& assessment) : a_(*assessment), before_(assessment) {}

  YardPlan plan() {
    findKept();
    findParts();
    findSites();
    if (parts_.empty()) return std::move(out_);
    if (sites_.empty()) {
      for (const RunItem& part : parts_)
        cannot(part, {"plan_cannot_port", {{"prop", labelOf(yard(), part.prop)}}});
      return std::move(out_);
    }
    makeGaps();
    PortPlan best = planPorts(job_);
    if (!best.unplaced.empty() && useSpares()) best = planPorts(job_);
    report(best);
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
      keptRuns_.insert(id);
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

  void findParts() {
    const std::int64_t byController = mostOnAPort();
    const double brightness = base::fraction(settings(yard()).brightnessLimit);
    std::map<std::pair<std::string, Voltage>, std::int32_t> families;
    for (const auto& [id, prop] : all<Prop>(yard())) {
      const auto shape = a_.shapes.find(id);
      const Product* product = productOf(yard(), *prop);
      if (rests(*prop) || keptProps_.contains(id) || shape == a_.shapes.end() || !product ||
          shape->second->pixels.empty())
        continue;
      const auto [family, made] = families.emplace(std::pair{product->chip, product->voltage},
                                                   static_cast<std::int32_t>(job_.familyPixels.size()));
      const std::int64_t byFrame = data::mostPixels(*product, settings(yard()).frameRate);
      if (made) {
        job_.familyPixels.push_back(byFrame);
        familyVolts_.push_back(product->voltage);
      }
      auto& most = job_.familyPixels[static_cast<std::size_t>(family->second)];
      most = std::min(most, byFrame);
      if (most <= 0) continue;
      const double nominal = base::volts(product->voltage).si;
      const double amps = circuit::evaluate(circuit::loadOf(*product, brightness), nominal).amps;
      std::int64_t first = 1;
      for (const std::int64_t last : cuts(*shape->second, std::min(most, byController))) {
        RunItem item;
        item.prop = id;
        item.first = first;
        item.last = last;
        parts_.push_back(item);
        job_.parts.push_back(
            {last - first + 1, amps * static_cast<double>(last - first + 1), family->second});
        first = last + 1;
      }
    }
  }

  void findSites() {
    std::int32_t owners = 0;
    const auto add = [&](Id owner, const std::vector<PowerSection>& sections, std::int64_t pixels) {
      const auto ports = portsOf(yard(), owner);
      std::size_t first = sites_.size();
      for (std::size_t s = 0; s < sections.size(); ++s) addSite(ports, s, sections[s], pixels, owners);
      std::int32_t spare = spareOf(ports.size());
      while (spare > 0 && first < sites_.size()) {
        std::size_t widest = first;
        for (std::size_t i = first; i < sites_.size(); ++i)
          if (job_.sites[i].ports > job_.sites[widest].ports) widest = i;
        if (job_.sites[widest].ports == 0) break;
        --job_.sites[widest].ports;
        --spare;
      }
      job_.opening.push_back(0.0);  // it stands there already
      ++owners;
    };
    for (const auto& [id, c] : all<Controller>(yard()))
      if (c->box) add(id, c->sections, c->pixelsPerPort);
    for (const auto& [id, r] : all<Receiver>(yard()))
      if (r->box) add(id, r->sections, r->pixelsPerPort);
    job_.portCost = kPort;
    job_.ampsCost = kFeedAmps;
    job_.bankTakesAll = true;
    // A supply that several sections share is shared out evenly.
    std::map<Id, int> shared;
    for (const Id supply : siteSupply_) ++shared[supply];
    for (std::size_t i = 0; i < sites_.size(); ++i) job_.sites[i].bankAmps /= shared[siteSupply_[i]];
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
    site.bankAmps =
        supply ? base::amps(supply->ratedAmps).si * base::fraction(set.supplyUsable) * 0.999 : kInfinity;
    site.owner = owner;
    for (const Voltage volts : familyVolts_) {
      const double ratio = supply ? base::volts(supply->voltage).si / base::volts(volts).si : 1.0;
      site.takes.push_back(ratio > 0.86 && ratio < 1.14);
    }
    job_.sites.push_back(site);
    sites_.push_back(std::move(mine));
    siteSupply_.push_back(section.supply);
  }

  bool useSpares() {
    bool more = false;
    for (std::size_t i = 0; i < sites_.size(); ++i) {
      more = more || job_.sites[i].ports < static_cast<std::int32_t>(sites_[i].size());
      job_.sites[i].ports = static_cast<std::int32_t>(sites_[i].size());
    }
    if (more) out_.steps.push_back({{}, {"plan_spare_ports_used", {}}});
    return more;
  }

  RunItem turned(std::size_t node) const {
    RunItem item = parts_[node / 2];
    item.reversed = node % 2 == 1;
    return item;
  }
  routes::EndPlace entry(std::size_t node) const {
    return routes::endPlace(yard(), a_.shapes, routes::entryOf(turned(node), a_.shapes));
  }
  routes::EndPlace exit(std::size_t node) const {
    return routes::endPlace(yard(), a_.shapes, routes::exitOf(turned(node), a_.shapes));
  }

  Gap gap(const routes::EndPlace& from, const routes::EndPlace& to, double limit, std::size_t mostExtra,
          double fixed, double each) const {
    Gap g;
    g.limit = limit * kReachShare;
    const double straight = base::distance(from.at, to.at);
    g.length = straight;
    if (straight > g.limit * static_cast<double>(mostExtra + 1)) return g;
    const routes::Lie lie = routes::lie(yard(), *a_.ground, from, to, {});
    g.length = lie.planLength + lie.verticalLength;
    g.extra = g.length <= g.limit ? 0 : static_cast<std::size_t>(std::ceil(g.length / g.limit)) - 1;
    if (g.extra > mostExtra || lie.blocked) return g;
    const Wire* wire = find<Wire>(yard(), settings(yard()).usualLead);
    g.cost = fixed + each * static_cast<double>(g.extra) + g.length * (wire ? pricePerMetre(*wire) : 1.0) +
             coverCost(a_, lie);
    return g;
  }

  double jumperLimit(std::size_t part) const {
    const Product* product = productOf(yard(), *find<Prop>(yard(), parts_[part].prop));
    return base::metres(product->reach.count > 0 ? product->reach : settings(yard()).jumperReach).si;
  }

  void makeGaps() {
    const std::size_t nodes = parts_.size() * 2;
    std::vector<routes::EndPlace> in, end;
    for (std::size_t n = 0; n < nodes; ++n) {
      in.push_back(entry(n));
      end.push_back(exit(n));
    }
    const double reach = base::metres(settings(yard()).controllerReach).si;
    for (std::size_t s = 0; s < sites_.size(); ++s) {
      const auto from = routes::endPlace(yard(), a_.shapes, {TerminalKind::Port, sites_[s].front(), 0});
      leads_.emplace_back();
      job_.lead.emplace_back();
      for (std::size_t n = 0; n < nodes; ++n) {
        leads_.back().push_back(gap(from, in[n], reach, kMostBoosters, kLead, kBooster));
        job_.lead.back().push_back(leads_.back().back().cost);
      }
    }
    job_.jumper.assign(nodes, std::vector<double>(nodes, kInfinity));
    for (std::size_t x = 0; x < nodes; ++x)
      for (std::size_t y = 0; y < nodes; ++y) {
        if (x / 2 == y / 2 || job_.parts[x / 2].family != job_.parts[y / 2].family) continue;
        const Gap g = gap(end[x], in[y], jumperLimit(x / 2), kMostNulls, kJumper, kNull);
        if (!std::isfinite(g.cost)) continue;
        const bool onward = follows(x, y);
        job_.jumper[x][y] = onward ? 0.0 : g.cost;
        if (g.extra > 0 && !onward) jumperExtra_[{x, y}] = g.extra;
      }
  }

  /// y goes on where x ends on the same string, so that both are one stretch.
  bool follows(std::size_t x, std::size_t y) const {
    const RunItem a = turned(x), b = turned(y);
    if (a.prop != b.prop || a.reversed != b.reversed) return false;
    return a.reversed ? b.last + 1 == a.first : a.last + 1 == b.first;
  }

  std::vector<RunItem> itemsOf(const PortChain& chain) const {
    std::vector<RunItem> items;
    for (std::size_t i = 0; i < chain.nodes.size(); ++i) {
      const auto node = static_cast<std::size_t>(chain.nodes[i]);
      const RunItem item = turned(node);
      if (i > 0 && follows(static_cast<std::size_t>(chain.nodes[i - 1]), node)) {
        items.back().first = std::min(items.back().first, item.first);
        items.back().last = std::max(items.back().last, item.last);
        continue;
      }
      RunItem between;
      between.kind = i == 0 ? RunItemKind::Booster : RunItemKind::NullPixel;
      std::size_t extra = 0;
      if (i == 0) {
        extra = leads_[static_cast<std::size_t>(chain.site)][node].extra;
      } else if (const auto it = jumperExtra_.find({static_cast<std::size_t>(chain.nodes[i - 1]), node});
                 it != jumperExtra_.end()) {
        extra = it->second;
      }
      items.insert(items.end(), extra, between);
      items.push_back(item);
    }
    for (RunItem& item : items) {
      const auto shape = a_.shapes.find(item.prop);
      if (shape != a_.shapes.end() && item.first == 1 &&
          item.last == static_cast<std::int64_t>(shape->second->pixels.size()))
        item.first = item.last = 0;
    }
    return items;
  }

  std::int64_t shared(const std::vector<RunItem>& items, Id port) const {
    const Run* run = find<Run>(yard(), runOnPort(yard(), port));
    if (!run) return 0;
    std::int64_t pixels = 0;
    for (const RunItem& x : items)
      for (const RunItem& y : run->items) {
        if (!x.prop || x.prop != y.prop) continue;
        const Range a = routes::rangeOf(x, a_.shapes), b = routes::rangeOf(y, a_.shapes);
        pixels += std::max<std::int64_t>(0, std::min(a.last, b.last) - std::max(a.first, b.first) + 1);
      }
    return pixels;
  }

  /// Chains keep the port that feeds most of their pixels now; the others take the lowest free one.
  std::vector<Id> portsFor(const PortPlan& plan, const std::vector<std::vector<RunItem>>& items) const {
    struct Wish {
      std::int64_t pixels;
      std::size_t chain, place;
    };
    std::vector<Wish> wishes;
    for (std::size_t c = 0; c < plan.chains.size(); ++c) {
      const auto& ports = sites_[static_cast<std::size_t>(plan.chains[c].site)];
      for (std::size_t p = 0; p < ports.size(); ++p) wishes.push_back({shared(items[c], ports[p]), c, p});
    }
    std::stable_sort(wishes.begin(), wishes.end(),
                     [](const Wish& x, const Wish& y) { return x.pixels > y.pixels; });
    std::vector<Id> given(plan.chains.size());
    std::set<Id> taken;
    for (const Wish& wish : wishes) {
      const Id port = sites_[static_cast<std::size_t>(plan.chains[wish.chain].site)][wish.place];
      if (given[wish.chain] || taken.contains(port)) continue;
      given[wish.chain] = port;
      taken.insert(port);
    }
    return given;
  }

  /// Leads, jumpers, ports, nulls and boosters of the runs that are not kept.
  double wiringCost(const assess::Assessment& a) const {
    double cost = 0.0;
    for (const auto& [key, cable] : a.routes.cables) {
      if ((key.role != routes::CableRole::Lead && key.role != routes::CableRole::Jumper) ||
          keptRuns_.contains(key.of))
        continue;
      const Wire* wire = find<Wire>(a.yard, cable.wire);
      cost += (key.role == routes::CableRole::Lead ? kLead + kPort : kJumper) +
              cable.length() * (wire ? pricePerMetre(*wire) : 1.0) +
              kCoverCost * static_cast<double>(cable.crosses.size());
    }
    for (const auto& [id, run] : all<Run>(a.yard))
      for (const RunItem& item : run->items) {
        // The cable on either side of a null pixel or booster has been counted with its plugs.
        if (keptRuns_.contains(id)) continue;
        if (item.kind == RunItemKind::NullPixel) cost += kNull - kJumper;
        if (item.kind == RunItemKind::Booster) cost += kBooster - kJumper;
      }
    return cost;
  }

  /// Nothing about ports is wrong now.
  bool soundNow() const {
    for (const findings::Finding& f : findings::report(a_).findings)
      if (f.severity <= findings::Severity::WontWork && (f.rule == "data_reach" || f.rule == "port_pixels" ||
                                                         f.rule == "mixed_volts" || f.rule == "mixed_chips"))
        return false;
    return a_.unwired.empty();
  }

  edit::Editor write(const PortPlan& plan, std::vector<Id>& runs) const {
    edit::Editor editor(yard());
    std::vector<std::vector<RunItem>> items;
    for (const PortChain& chain : plan.chains) items.push_back(itemsOf(chain));
    const std::vector<Id> ports = portsFor(plan, items);
    std::set<Id> used;
    for (std::size_t c = 0; c < plan.chains.size(); ++c) {
      const Id old = runOnPort(yard(), ports[c]);
      Run run = old ? *find<Run>(yard(), old) : Run{};
      keepLeads(run.items, items[c]);
      run.port = ports[c];
      run.items = items[c];
      if (old)
        editor.replace(old, run);
      else
        runs.push_back(editor.add(run));
      if (old) runs.push_back(old);
      used.insert(old);
    }
    std::vector<Id> gone;
    for (const auto& [id, run] : all<Run>(yard()))
      if (!used.contains(id) && !keptRuns_.contains(id)) gone.push_back(id);
    editor.remove(gone);
    return editor;
  }

  /// What a person said of a lead stays where the same two things follow each other.
  static void keepLeads(const std::vector<RunItem>& before, std::vector<RunItem>& after) {
    const auto same = [](const RunItem& x, const RunItem& y) {
      return x.kind == y.kind && x.prop == y.prop && x.first == y.first && x.last == y.last &&
             x.reversed == y.reversed;
    };
    for (std::size_t i = 0; i < after.size(); ++i)
      for (std::size_t j = 0; j < before.size(); ++j) {
        const bool sameBefore = i == 0 ? j == 0 : j > 0 && same(before[j - 1], after[i - 1]);
        if (sameBefore && same(before[j], after[i])) after[i].lead = before[j].lead;
      }
  }

  void cannot(const RunItem& part, base::Message message) {
    out_.cannot.push_back({part.prop, std::move(message)});
  }

  void explain(const PortPlan& plan) {
    for (const std::int32_t p : plan.unplaced) {
      const auto part = static_cast<std::size_t>(p);
      const std::string prop = labelOf(yard(), parts_[part].prop);
      Gap least;
      bool any = false, reached = false;
      least.length = kInfinity;
      for (std::size_t s = 0; s < sites_.size(); ++s) {
        if (!job_.sites[s].takes[static_cast<std::size_t>(job_.parts[part].family)]) continue;
        any = true;
        for (std::size_t d = 0; d < 2; ++d) {
          reached = reached || std::isfinite(leads_[s][part * 2 + d].cost);
          if (leads_[s][part * 2 + d].length < least.length) least = leads_[s][part * 2 + d];
        }
      }
      if (!any)
        cannot(parts_[part], {"plan_cannot_port_volts", {{"prop", prop}}});
      else if (!reached)
        cannot(parts_[part], {"plan_cannot_reach",
                              {{"prop", prop},
                               {"length", findings::said(a_, least.length)},
                               {"limit", findings::said(a_, least.limit)},
                               {"over", findings::said(a_, least.length - least.limit)}}});
      else
        cannot(parts_[part], {"plan_cannot_port_room",
                              {{"prop", prop},
                               {"pixels", job_.parts[part].pixels},
                               {"amps", base::toCurrent({job_.parts[part].amps})}}});
    }
  }

  void report(const PortPlan& plan) {
    explain(plan);
    out_.costBefore = wiringCost(a_);
    std::vector<Id> runs;
    const edit::Editor editor = write(plan, runs);
    const assess::AssessmentPtr after = assess::assess(editor.yard(), before_);
    out_.costAfter = wiringCost(*after);
    out_.bound = plan.cost > 0 ? out_.costAfter * std::min(1.0, plan.bound / plan.cost) : 0.0;
    if (soundNow() && out_.costAfter > out_.costBefore * (1.0 - kWorthChanging)) {
      out_.costAfter = out_.costBefore;
      out_.bound = std::min(out_.bound, out_.costAfter);
      return;
    }
    for (const Id id : runs) {
      const Run& run = *find<Run>(after->yard, id);
      if (const Run* was = find<Run>(yard(), id); was && was->items == run.items) continue;
      std::string props;
      std::int64_t pixels = 0;
      for (const RunItem& item : run.items) {
        if (item.kind != RunItemKind::Stretch) continue;
        const Range range = routes::rangeOf(item, a_.shapes);
        pixels += range.last - range.first + 1;
        props +=
            (props.empty() ? "" : ", ") +
            base::text(base::Message{
                item.reversed ? "plan_stretch_turned" : "plan_stretch",
                {{"prop", labelOf(after->yard, item.prop)}, {"first", range.first}, {"last", range.last}}});
      }
      double length = 0.0;  // to the first pixel, through the boosters on the way
      for (std::int64_t i = 0; i < std::ssize(run.items); ++i) {
        for (const auto role : {routes::CableRole::Lead, routes::CableRole::Jumper})
          if (const auto cable = after->routes.cables.find({role, id, i});
              cable != after->routes.cables.end())
            length += cable->second.length();
        if (run.items[static_cast<std::size_t>(i)].kind == RunItemKind::Stretch) break;
      }
      out_.steps.push_back({id,
                            {"plan_port",
                             {{"port", labelOf(after->yard, run.port)},
                              {"pixels", pixels},
                              {"props", props},
                              {"length", findings::said(a_, length)}}}});
    }
    out_.change = editor.finish(
        base::text(base::Message{"plan_ports_done", {{"count", static_cast<std::int64_t>(runs.size())}}}));
    addFeeds(after, runs);
  }

  /// Feeds that hung on other runs before do not fit any more.
  void addFeeds(const assess::AssessmentPtr& after, const std::vector<Id>& runs) {
    YardPlan feeds = planFeedsOf(after, runs);
    const std::string name = out_.change.name;
    out_.change = edit::combined(out_.change, feeds.change);
    out_.change.name = name;
    out_.steps.insert(out_.steps.end(), feeds.steps.begin(), feeds.steps.end());
    out_.cannot.insert(out_.cannot.end(), feeds.cannot.begin(), feeds.cannot.end());
  }

  const assess::Assessment& a_;
  assess::AssessmentPtr before_;
  std::set<Id> keptRuns_, keptPorts_, keptProps_;
  std::vector<RunItem> parts_;
  std::vector<Voltage> familyVolts_;
  PortJob job_;
  std::vector<std::vector<Id>> sites_;  ///< ports of each
  std::vector<Id> siteSupply_;
  std::vector<std::vector<Gap>> leads_;
  std::map<std::pair<std::size_t, std::size_t>, std::size_t> jumperExtra_;
  YardPlan out_;
};

}  // namespace

YardPlan planPortsOf(const assess::AssessmentPtr& assessment) { return PortsPlanner(assessment).plan(); }

}  // namespace yw::propose
