// Supplies for the boxes of a yard: what hangs on each and what is not wired yet, against what each may give.
#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "core/findings/rule_help.h"
#include "core/propose/candidates.h"
#include "core/propose/plan.h"
#include "core/propose/plug_plan.h"
#include "core/routes/places.h"
#include "core/yard/labels.h"
#include "core/yard/this_year.h"

namespace yw::propose {

using namespace yw::yard;

double supplyCost(const Supply& supply) {
  constexpr double kFixed = 6.0, kPerWatt = 0.06;
  return kFixed + kPerWatt * base::volts(supply.voltage).si * base::amps(supply.ratedAmps).si;
}

namespace {

/// A load that hangs on one supply as a whole: a power section with its ports, or a fuse position, or what
/// feeds bring to runs whose own section cannot have more.
struct SupplyLoad {
  Id owner, position;       ///< controller or receiver; or a fuse position
  std::size_t section = 0;  ///< of the owner, 0-based
  Id supply;
  double amps = 0.0;
};

class SuppliesPlanner {
 public:
  explicit SuppliesPlanner(const assess::AssessmentPtr& assessment) : a_(*assessment) {}

  YardPlan plan() {
    edit::Editor editor(yard());
    spreadUnwired();
    for (const auto& [box, record] : all<Box>(yard())) {
      if (keptAsIs(yard(), box, "box")) continue;
      std::set<Voltage> volts;
      for (const auto& [id, supply] : all<Supply>(yard()))
        if (supply->box == box) volts.insert(supply->voltage);
      for (const auto& [key, amps] : wanted_)
        if (key.first == box) volts.insert(usualVoltage(box, key.second));
      for (const Voltage v : volts) planBox(editor, box, v);
    }
    if (!out_.steps.empty()) cutBetweenSupplies(a_, editor);
    out_.bound = std::min(out_.bound, out_.costAfter);
    out_.change = editor.finish(base::text(base::Message{"plan_supplies_done", {{"count", added_}}}));
    return std::move(out_);
  }

 private:
  const Yard& yard() const { return a_.yard; }
  static bool alike(Voltage a, Voltage b) {
    const double ratio = base::volts(a).si / base::volts(b).si;
    return ratio > 0.86 && ratio < 1.14;
  }
  /// The volts that supplies of the box have for pixels of those.
  Voltage usualVoltage(Id box, Voltage volts) const {
    for (const auto& [id, supply] : all<Supply>(yard()))
      if (supply->box == box && alike(supply->voltage, volts)) return supply->voltage;
    return volts;
  }

  template <class Visit>
  void eachSection(Visit&& visit) const {
    const auto of = [&](Id owner, Id box, const std::vector<PowerSection>& sections) {
      for (std::size_t s = 0; s < sections.size(); ++s) visit(owner, box, s, sections[s]);
    };
    for (const auto& [id, c] : all<Controller>(yard())) of(id, c->box, c->sections);
    for (const auto& [id, r] : all<Receiver>(yard())) of(id, r->box, r->sections);
  }

  /// Pixels that nothing feeds yet are counted to the nearest box with a section of their volts.
  void spreadUnwired() {
    const double brightness = base::fraction(settings(yard()).brightnessLimit);
    for (const auto& [id, pixels] : a_.unwired) {
      const Prop* prop = find<Prop>(yard(), id);
      const Product* product = prop ? productOf(yard(), *prop) : nullptr;
      if (!product || rests(*prop)) continue;
      const base::Vec2 at = base::plan(findings::placeOfPixel(a_, id, 1));
      Id nearest;
      double least = std::numeric_limits<double>::infinity();
      eachSection([&](Id, Id box, std::size_t, const PowerSection& section) {
        const Supply* supply = find<Supply>(yard(), section.supply);
        if (!find<Box>(yard(), box) || (supply && !alike(supply->voltage, product->voltage))) return;
        const double length = a_.ground->shortest(base::plan(findings::placeOfRecord(a_, box)), at).length;
        if (length < least) least = length, nearest = box;
      });
      const double each =
          circuit::evaluate(circuit::loadOf(*product, brightness), base::volts(product->voltage).si).amps;
      const double amps = each * static_cast<double>(pixels);
      if (nearest)
        wanted_[{nearest, product->voltage}] += amps;
      else
        out_.cannot.push_back({id,
                               {"plan_cannot_section",
                                {{"prop", labelOf(yard(), id)},
                                 {"volts", product->voltage},
                                 {"amps", base::toCurrent({amps})}}}});
    }
  }

  std::vector<SupplyLoad> loadsOf(Id box, Voltage volts) const {
    std::vector<SupplyLoad> loads;
    std::vector<double> ports;
    double allPorts = 0.0;
    eachSection([&](Id owner, Id in, std::size_t s, const PowerSection& section) {
      const Supply* supply = find<Supply>(yard(), section.supply);
      if (in != box || (supply && (supply->voltage != volts || supply->box != box))) return;
      SupplyLoad load{owner, {}, s, section.supply, 0.0};
      const auto amps = a_.limit.sectionAmps.find({owner, static_cast<std::int64_t>(s) + 1});
      if (amps != a_.limit.sectionAmps.end()) load.amps = amps->second;
      double mine = 0.0;
      for (const auto& [id, port] : portsOf(yard(), owner))
        mine += port->section == static_cast<std::int64_t>(s) + 1 ? 1.0 : 0.0;
      ports.push_back(mine);
      allPorts += mine;
      loads.push_back(load);
    });
    double more = 0.0;
    for (const auto& [key, amps] : wanted_)
      if (key.first == box && alike(key.second, volts)) more += amps;
    if (allPorts > 0) shareOut(loads, ports, more, largestRoom(box, volts));
    for (const auto& [id, supply] : all<Supply>(yard())) {
      if (supply->box != box || supply->voltage != volts) continue;
      for (const auto& [position, record] : fusePositionsOf(yard(), id))
        if (const auto figure = a_.limit.feeds.find(feedOnFusePosition(yard(), position));
            figure != a_.limit.feeds.end())
          loads.push_back({{}, position, 0, id, figure->second.amps});
    }
    return loads;
  }

  double largestRoom(Id box, Voltage volts) const {
    double most = 0.0;
    for (const Supply& kind : kindsOf(box, volts)) most = std::max(most, roomOf(kind));
    return most;
  }

  /// By the number of ports, but no section gets more than one supply may give while others have room. What
  /// is over then hangs on supplies without a section: feeds bring it.
  static void shareOut(std::vector<SupplyLoad>& loads, const std::vector<double>& ports, double more,
                       double room) {
    constexpr double kNothing = 1e-9;
    for (bool again = true; again && more > kNothing;) {
      double open = 0.0, given = 0.0;
      for (std::size_t i = 0; i < loads.size(); ++i)
        if (loads[i].amps < room - kNothing) open += ports[i];
      for (std::size_t i = 0; i < loads.size() && open > 0; ++i) {
        if (loads[i].amps >= room - kNothing) continue;
        const double share = std::min(more * ports[i] / open, room - loads[i].amps);
        loads[i].amps += share;
        given += share;
      }
      more -= given;
      again = given > kNothing;
    }
    for (SupplyLoad& load : loads) {
      more += std::max(0.0, load.amps - room);
      load.amps = std::min(load.amps, room);
    }
    for (; more > kNothing && room > kNothing; more -= room)
      loads.push_back({{}, {}, 0, {}, std::min(more, room)});
  }

  /// What a supply may give, planned a little below what the rule calls close.
  double roomOf(const Supply& supply) const {
    return base::amps(supply.ratedAmps).si * base::fraction(settings(yard()).supplyUsable) * 0.995;
  }

  /// Kinds of supply of those volts that the yard knows; none: one of about 350 W (common practice, no
  /// source).
  std::vector<Supply> kindsOf(Id box, Voltage volts) const {
    std::vector<Supply> kinds;
    for (const bool here : {true, false})
      for (const auto& [id, supply] : all<Supply>(yard())) {
        if ((supply->box == box) != here || supply->voltage != volts) continue;
        if (std::none_of(kinds.begin(), kinds.end(),
                         [&](const Supply& k) { return k.ratedAmps == supply->ratedAmps; }))
          kinds.push_back(*supply);
      }
    if (kinds.empty()) {
      Supply usual;
      usual.voltage = volts;
      usual.ratedAmps = {static_cast<std::int64_t>(kUsualSupplyWatts / base::volts(volts).si) * 1'000'000};
      kinds.push_back(usual);
    }
    return kinds;
  }

  /// Loads that may hang elsewhere; what is kept as it is is taken off the room of its supply.
  std::vector<SupplyLoad> movable(const std::vector<SupplyLoad>& loads, const std::vector<Id>& there,
                                  std::vector<double>& room) const {
    std::vector<SupplyLoad> out;
    for (const SupplyLoad& load : loads) {
      const Id what = load.position ? load.position : load.owner;
      const auto at = std::find(there.begin(), there.end(), load.supply);
      if (what && at != there.end() && keptAsIs(yard(), what, "supply"))
        room[static_cast<std::size_t>(at - there.begin())] -= load.amps;
      else
        out.push_back(load);
    }
    return out;
  }

  void planBox(edit::Editor& editor, Id box, Voltage volts) {
    const std::vector<SupplyLoad> all = loadsOf(box, volts);
    std::vector<Id> there;
    PackJob job;
    for (const auto& [id, supply] : yard::all<Supply>(yard()))
      if (supply->box == box && supply->voltage == volts) {
        there.push_back(id);
        job.room.push_back(roomOf(*supply));
      }
    double worst = 0.0;
    std::vector<double> used(there.size(), 0.0);
    const std::vector<SupplyLoad> loads = movable(all, there, job.room);
    for (const SupplyLoad& load : loads) {
      job.loads.push_back(load.amps);
      const auto at = std::find(there.begin(), there.end(), load.supply);
      job.now.push_back(at == there.end() ? -1 : static_cast<std::int32_t>(at - there.begin()));
      if (job.now.back() >= 0) used[static_cast<std::size_t>(job.now.back())] += load.amps;
      if (job.now.back() < 0) worst = std::numeric_limits<double>::infinity();
    }
    for (std::size_t s = 0; s < there.size(); ++s) worst = std::max(worst, used[s] - job.room[s]);
    if (loads.empty() || worst <= 1e-6) return;
    // The kind that costs least in all.
    PackPlan best;
    Supply kind;
    double least = std::numeric_limits<double>::infinity(), bound = least;
    for (const Supply& candidate : kindsOf(box, volts)) {
      job.newRoom = roomOf(candidate);
      const PackPlan plan = packLoads(job);
      const auto out = std::count(plan.supply.begin(), plan.supply.end(), -1);
      const double cost = plan.added * supplyCost(candidate) + 1e6 * static_cast<double>(out);
      bound = std::min(bound, plan.bound * supplyCost(candidate));
      if (cost < least) least = cost, best = plan, kind = candidate;
    }
    out_.bound += bound;
    write(editor, box, loads, there, best, kind);
  }

  void write(edit::Editor& editor, Id box, const std::vector<SupplyLoad>& loads, const std::vector<Id>& there,
             const PackPlan& plan, const Supply& kind) {
    std::vector<Id> supplies = there;
    for (std::int32_t i = 0; i < plan.added; ++i) {
      Supply fresh = kind;
      fresh.box = box;
      if (fresh.outlet && !there.empty()) fresh.outlet = find<Supply>(yard(), there.front())->outlet;
      fresh.name = freeName(editor.yard(), RecordKind::Supply, kind.name);
      fresh.internalResistance = kind.internalResistance;
      supplies.push_back(editor.add(fresh));
      ++added_;
      out_.costAfter += supplyCost(kind);
    }
    std::map<Id, double> amps;
    for (std::size_t i = 0; i < loads.size(); ++i) {
      if (plan.supply[i] < 0) {
        tooLarge(box, loads[i], kind);
        continue;
      }
      const Id to = supplies[static_cast<std::size_t>(plan.supply[i])];
      amps[to] += loads[i].amps;
      if (to != loads[i].supply && (loads[i].owner || loads[i].position)) move(editor, loads[i], to);
    }
    for (std::size_t s = there.size(); s < supplies.size(); ++s)
      out_.steps.push_back({supplies[s],
                            {"plan_supply",
                             {{"box", labelOf(yard(), box)},
                              {"volts", kind.voltage},
                              {"rated", kind.ratedAmps},
                              {"amps", base::toCurrent({amps[supplies[s]]})}}},
                            {box}});
  }

  void move(edit::Editor& editor, const SupplyLoad& load, Id to) {
    if (load.position) {
      std::int64_t number = 1;
      for (const auto& [id, position] : fusePositionsOf(editor.yard(), to))
        number = std::max(number, position->number + 1);
      editor.update<FusePosition>(load.position, [&](FusePosition& p) {
        p.supply = to;
        p.number = number;
      });
    } else {
      editor.update<Controller>(load.owner, [&](Controller& c) { c.sections[load.section].supply = to; });
      editor.update<Receiver>(load.owner, [&](Receiver& r) { r.sections[load.section].supply = to; });
    }
    const Id what = load.position ? load.position : load.owner;
    out_.steps.push_back({what,
                          {load.position ? "plan_supply_feed" : "plan_supply_section",
                           {{"what", labelOf(yard(), what)},
                            {"section", static_cast<std::int64_t>(load.section) + 1},
                            {"amps", base::toCurrent({load.amps})},
                            {"supply", labelOf(editor.yard(), to)}}}});
  }

  void tooLarge(Id box, const SupplyLoad& load, const Supply& kind) {
    const Id what = load.position ? load.position : load.owner;
    out_.cannot.push_back({what,
                           {"plan_cannot_supply_size",
                            {{"what", labelOf(yard(), what)},
                             {"box", labelOf(yard(), box)},
                             {"amps", base::toCurrent({load.amps})},
                             {"most", base::toCurrent({roomOf(kind)})},
                             {"over", base::toCurrent({std::max(0.0, load.amps - roomOf(kind))})}}}});
  }

  const assess::Assessment& a_;
  std::map<std::pair<Id, Voltage>, double> wanted_;  ///< A not wired yet, by box and volts of the pixels
  std::int64_t added_ = 0;
  YardPlan out_;
};

}  // namespace

YardPlan planSuppliesOf(const assess::AssessmentPtr& assessment) {
  return SuppliesPlanner(assessment).plan();
}

}  // namespace yw::propose
