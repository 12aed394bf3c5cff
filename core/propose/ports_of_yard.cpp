// Ports for the props of a yard: makes the plain figures of port_plan.h from it and a change from the answer.
#include <algorithm>
#include <cmath>
#include <set>

#include "core/findings/rule_help.h"
#include "core/propose/plan.h"
#include "core/propose/port_figures.h"
#include "core/routes/places.h"
#include "core/routes/plugs.h"
#include "core/yard/groups.h"
#include "core/yard/labels.h"
#include "core/yard/this_year.h"

namespace yw::propose {

using namespace yw::yard;

namespace {

constexpr double kWorthChanging = 0.05;

class PortsPlanner {
 public:
  explicit PortsPlanner(const assess::AssessmentPtr& assessment)
      : a_(*assessment), before_(assessment), f_(portFigures(*assessment)) {}

  YardPlan plan() {
    if (f_.parts.empty()) return std::move(out_);
    if (f_.ports.empty()) {
      for (const RunItem& part : f_.parts)
        cannot(part, {"plan_cannot_port", {{"prop", labelOf(yard(), part.prop)}}});
      return std::move(out_);
    }
    PortPlan best = planPorts(f_.job);
    if (!best.unplaced.empty() && useSparePorts(f_)) {
      out_.steps.push_back({{}, {"plan_spare_ports_used", {}}});
      best = planPorts(f_.job);
    }
    report(best);
    return std::move(out_);
  }

 private:
  const Yard& yard() const { return a_.yard; }

  std::vector<RunItem> itemsOf(const PortChain& chain) const {
    std::vector<RunItem> items;
    for (std::size_t i = 0; i < chain.nodes.size(); ++i) {
      const auto node = static_cast<std::size_t>(chain.nodes[i]);
      const RunItem item = turnedPart(f_, node);
      if (i > 0 && goesOn(f_, static_cast<std::size_t>(chain.nodes[i - 1]), node)) {
        items.back().first = std::min(items.back().first, item.first);
        items.back().last = std::max(items.back().last, item.last);
        continue;
      }
      RunItem between;
      between.kind = i == 0 ? RunItemKind::Booster : RunItemKind::NullPixel;
      std::size_t extra = 0;
      if (i == 0) {
        extra = f_.leads[static_cast<std::size_t>(chain.site)][node].extra;
      } else if (const auto it = f_.nulls.find({static_cast<std::size_t>(chain.nodes[i - 1]), node});
                 it != f_.nulls.end()) {
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
      const auto& ports = f_.ports[static_cast<std::size_t>(plan.chains[c].site)];
      for (std::size_t p = 0; p < ports.size(); ++p) wishes.push_back({shared(items[c], ports[p]), c, p});
    }
    std::stable_sort(wishes.begin(), wishes.end(),
                     [](const Wish& x, const Wish& y) { return x.pixels > y.pixels; });
    std::vector<Id> given(plan.chains.size());
    std::set<Id> taken;
    for (const Wish& wish : wishes) {
      const Id port = f_.ports[static_cast<std::size_t>(plan.chains[wish.chain].site)][wish.place];
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
          f_.keptRuns.contains(key.of))
        continue;
      const Wire* wire = find<Wire>(a.yard, cable.wire);
      cost += (key.role == routes::CableRole::Lead ? kLeadCost + kPortCost : kJumperCost) +
              cable.length() * (wire ? pricePerMetre(*wire) : 1.0) + coverCost(a.yard, cable.crosses);
    }
    for (const routes::Adapter& adapter : routes::adaptersOf(a.yard, a.routes))
      if (!f_.keptRuns.contains(adapter.cable.of)) cost += kAdapterCost;
    for (const auto& [id, run] : all<Run>(a.yard))
      for (const RunItem& item : run->items) {
        // The cable on either side of a null pixel or booster has been counted with its plugs.
        if (f_.keptRuns.contains(id)) continue;
        if (item.kind == RunItemKind::NullPixel) cost += kNullCost - kJumperCost;
        if (item.kind == RunItemKind::Booster) cost += kBoosterCost - kJumperCost;
      }
    return cost;
  }

  /// What it is worth that groups hang together, of those that do not.
  static double partedCost(const assess::Assessment& a) {
    double cost = 0.0;
    for (const auto& [group, hung] : groupsHung(a.yard))
      cost += kPartedCost * static_cast<double>(hung.controllers.size() - 1);
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
      if (!used.contains(id) && !f_.keptRuns.contains(id)) gone.push_back(id);
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
    for (const Unplaced& one : unplacedOf(f_, plan)) {
      const std::string prop = labelOf(yard(), one.part.prop);
      if (!one.volts)
        cannot(one.part, {"plan_cannot_port_volts", {{"prop", prop}}});
      else if (!one.reached)
        cannot(one.part, {"plan_cannot_reach",
                          {{"prop", prop},
                           {"length", findings::said(a_, one.nearest.length)},
                           {"limit", findings::said(a_, one.nearest.limit)},
                           {"over", findings::said(a_, one.nearest.length - one.nearest.limit)}}});
      else
        cannot(one.part, {"plan_cannot_port_room",
                          {{"prop", prop},
                           {"pixels", one.part.last - one.part.first + 1},
                           {"amps", base::toCurrent({one.amps})}}});
    }
  }

  void report(const PortPlan& plan) {
    explain(plan);
    out_.costBefore = wiringCost(a_);
    std::vector<Id> runs;
    const edit::Editor editor = write(plan, runs);
    const assess::AssessmentPtr after = assess::assess(editor.yard(), before_);
    out_.costAfter = wiringCost(*after);
    const double wired = plan.cost - partedCost(*after);
    out_.bound = wired > 0 ? out_.costAfter * std::min(1.0, plan.bound / wired) : 0.0;
    const bool sound = soundNow();
    const double partedBefore = partedCost(a_), partedAfter = partedCost(*after);
    if (sound && out_.costAfter + partedAfter > out_.costBefore * (1.0 - kWorthChanging) + partedBefore)
      return leave();
    for (const Id id : runs) {
      const Run& run = *find<Run>(after->yard, id);
      if (const Run* was = find<Run>(yard(), id); was && was->items == run.items) continue;
      std::string props;
      std::vector<Id> keep{run.port};
      std::int64_t pixels = 0;
      for (const RunItem& item : run.items) {
        if (item.kind != RunItemKind::Stretch) continue;
        const Range range = routes::rangeOf(item, a_.shapes);
        pixels += range.last - range.first + 1;
        keep.push_back(item.prop);
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
      const bool rehung = std::any_of(run.items.begin(), run.items.end(),
                                      [&](const RunItem& item) { return a_.wiredIn.contains(item.prop); });
      out_.steps.push_back({id,
                            {rehung ? "plan_port_rehung" : "plan_port",
                             {{"port", labelOf(after->yard, run.port)},
                              {"pixels", pixels},
                              {"props", props},
                              {"length", findings::said(a_, length)}}},
                            find<Run>(yard(), id) ? std::vector<Id>{id} : keep});
    }
    out_.change = editor.finish(
        base::text(base::Message{"plan_ports_done", {{"count", static_cast<std::int64_t>(runs.size())}}}));
    const std::size_t unplaced = out_.cannot.size();
    addFeeds(after, runs);
    // Copper saved is not worth a fuse that no longer clears: what hangs and holds stays.
    if (!sound || graveness(*assess::assess(edit::apply(yard(), out_.change), before_)) <= graveness(a_))
      return;
    out_.cannot.resize(unplaced);
    leave();
  }

  /// Everything stays as it hangs.
  void leave() {
    out_.change = {};
    out_.steps.clear();
    out_.costAfter = out_.costBefore;
    out_.bound = std::min(out_.bound, out_.costAfter);
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
  PortFigures f_;
  YardPlan out_;
};

}  // namespace

YardPlan planPortsOf(const assess::AssessmentPtr& assessment) { return PortsPlanner(assessment).plan(); }

}  // namespace yw::propose
