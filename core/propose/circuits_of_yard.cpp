// Outlets for the supplies of a yard: makes the plain figures of plug_plan.h from it and a change from the
// answer.
#include <algorithm>
#include <cmath>
#include <limits>

#include "core/findings/rule_help.h"
#include "core/propose/plan.h"
#include "core/propose/plug_plan.h"
#include "core/routes/places.h"
#include "core/yard/labels.h"

namespace yw::propose {

using namespace yw::yard;

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
/// Our own judgement, no source: a cord's two ends.
constexpr double kCordEnds = 4.0;
constexpr double kWorthChanging = 0.05;
/// NEC 210.20(A): a continuous load is at most 80 % of its breaker.
constexpr double kContinuous = 0.8;

class CircuitsPlanner {
 public:
  explicit CircuitsPlanner(const assess::AssessmentPtr& assessment) : a_(*assessment) {}

  YardPlan plan() {
    findOutlets();
    findUnits();
    if (units_.empty()) return std::move(out_);
    // First below every Close to limit, then only below what will not work.
    PlugPlan best = solve(0.89, true);
    if (left(best) > 0) best = solve(1.0, false);
    report(best);
    return std::move(out_);
  }

 private:
  const Yard& yard() const { return a_.yard; }
  static std::int64_t left(const PlugPlan& plan) {
    return std::count(plan.outlet.begin(), plan.outlet.end(), -1);
  }

  void findOutlets() {
    for (const auto& [id, circuit] : all<HouseCircuit>(yard())) circuits_.push_back(id);
    for (const auto& [id, outlet] : all<Outlet>(yard()))
      if (find<HouseCircuit>(yard(), outlet->circuit)) outlets_.push_back(id);
  }

  bool kept(Id id, const Supply& supply) const {
    return keptAsIs(yard(), id, "outlet") || (supply.box && keptAsIs(yard(), supply.box, "box"));
  }

  void findUnits() {
    for (const auto& [id, supply] : all<Supply>(yard())) {
      const auto figure = a_.limit.supplies.find(id);
      const double amps = figure == a_.limit.supplies.end() ? 0.0 : std::max(0.0, figure->second.lineAmps);
      if (!supply->box || (amps <= 0.0 && supply->outlet)) continue;
      if (kept(id, *supply)) continue;
      units_.push_back(id);
      unitAmps_.push_back(amps);
    }
  }

  Id cordWire() const {
    for (const auto& [key, cable] : a_.routes.cables)
      if (key.role == routes::CableRole::MainsCord && cable.wire) return cable.wire;
    Id thickest;
    for (const auto& [id, wire] : all<Wire>(yard()))
      if (wire->conductors == ConductorSet::Mains &&
          (!thickest || wire->gauge < find<Wire>(yard(), thickest)->gauge))
        thickest = id;
    return thickest;
  }

  double cordCost(Id supplyId, Id outlet) const {
    const Supply& supply = *find<Supply>(yard(), supplyId);
    const auto boxes = routes::boxCords(yard());
    const auto cord = boxes.cords.find(supply.box);
    if (cord != boxes.cords.end() && cord->second.outlet == outlet && supply.outlet == outlet) return 0.0;
    const auto from = routes::endPlace(yard(), a_.shapes, {TerminalKind::Outlet, outlet, 0});
    const auto to = routes::endPlace(yard(), a_.shapes, {TerminalKind::Supply, supplyId, 0});
    const routes::Lie lie = routes::lie(yard(), *a_.ground, from, to, {});
    if (lie.blocked) return kInfinity;
    const Wire* wire = find<Wire>(yard(), cordWire());
    return kCordEnds + (lie.planLength + lie.verticalLength) * (wire ? pricePerMetre(*wire) : 2.0) +
           coverCost(a_, lie);
  }

  PlugPlan solve(double share, bool gently) {
    const Settings& set = settings(yard());
    job_ = {};
    for (const Id id : circuits_) {
      const HouseCircuit& circuit = *find<HouseCircuit>(yard(), id);
      const circuit::CircuitFigure& figure = a_.limit.circuits.at(id);
      PlugCircuit c;
      c.amps = base::amps(circuit.breaker).si * kContinuous * share - figure.standing;
      if (circuit.groundFault)
        c.leakage = gently ? base::amps(set.leakageBudget).si * 0.999 : circuit::kGroundFaultHolds * 0.999;
      if (gently && !circuit.staggered) c.units = static_cast<std::int32_t>(set.suppliesAtOnce);
      job_.circuits.push_back(c);
    }
    for (const Id id : outlets_) {
      const Outlet& outlet = *find<Outlet>(yard(), id);
      PlugOutlet o;
      o.circuit = static_cast<std::int32_t>(std::find(circuits_.begin(), circuits_.end(), outlet.circuit) -
                                            circuits_.begin());
      o.most = base::amps(outlet.receptacle).si * circuit::kReceptacleShare * share;
      o.places = static_cast<std::int32_t>(outlet.sockets);
      job_.outlets.push_back(o);
    }
    takeOffWhatStays();
    for (std::size_t u = 0; u < units_.size(); ++u) {
      const Supply& supply = *find<Supply>(yard(), units_[u]);
      job_.units.push_back({unitAmps_[u], base::amps(supply.leakage).si});
      job_.cost.emplace_back();
      for (const Id outlet : outlets_) job_.cost.back().push_back(cordCost(units_[u], outlet));
    }
    return planPlugs(job_);
  }

  /// Supplies that are kept where they are.
  void takeOffWhatStays() {
    for (const auto& [id, supply] : all<Supply>(yard())) {
      const auto outlet = std::find(outlets_.begin(), outlets_.end(), supply->outlet);
      if (outlet == outlets_.end() || std::find(units_.begin(), units_.end(), id) != units_.end()) continue;
      const auto figure = a_.limit.supplies.find(id);
      const double amps = figure == a_.limit.supplies.end() ? 0.0 : std::max(0.0, figure->second.lineAmps);
      PlugOutlet& o = job_.outlets[static_cast<std::size_t>(outlet - outlets_.begin())];
      PlugCircuit& c = job_.circuits[static_cast<std::size_t>(o.circuit)];
      ++o.taken;
      o.takenAmps += amps;
      c.amps -= amps;
      c.leakage -= base::amps(supply->leakage).si;
      --c.units;
    }
  }

  std::vector<std::int32_t> now() const {
    std::vector<std::int32_t> places;
    for (const Id id : units_) {
      const auto outlet = std::find(outlets_.begin(), outlets_.end(), find<Supply>(yard(), id)->outlet);
      places.push_back(outlet == outlets_.end() ? -1 : static_cast<std::int32_t>(outlet - outlets_.begin()));
    }
    return places;
  }

  void report(const PlugPlan& best) {
    const std::vector<std::int32_t> before = now();
    bool all = true;
    for (std::size_t u = 0; u < units_.size(); ++u) {
      if (before[u] >= 0) out_.costBefore += job_.cost[u][static_cast<std::size_t>(before[u])];
      all = all && before[u] >= 0;
    }
    out_.bound = best.bound;
    out_.costAfter = best.cost;
    for (std::size_t u = 0; u < units_.size(); ++u)
      if (best.outlet[u] < 0) tellMissing(u, best);
    const bool sound = all && plugsHold(job_, before);
    if (sound && best.cost > out_.costBefore * (1.0 - kWorthChanging)) {
      out_.costAfter = out_.costBefore;
      out_.bound = std::min(out_.bound, out_.costAfter);
      return;
    }
    edit::Editor editor(yard());
    for (std::size_t u = 0; u < units_.size(); ++u) {
      const std::int32_t o = best.outlet[u];
      if (o < 0 || o == before[u]) continue;
      const Id outlet = outlets_[static_cast<std::size_t>(o)];
      plugInto(editor, units_[u], outlet);
      const Id circuit = find<Outlet>(yard(), outlet)->circuit;
      out_.steps.push_back({units_[u],
                            {"plan_plug",
                             {{"supply", labelOf(yard(), units_[u])},
                              {"outlet", labelOf(yard(), outlet)},
                              {"circuit", labelOf(yard(), circuit)},
                              {"amps", base::toCurrent({unitAmps_[u]})},
                              {"all", base::toCurrent({onCircuit(best, o)})},
                              {"limit", base::toCurrent({kContinuous * breaker(circuit)})}}}});
    }
    out_.change = editor.finish(base::text(
        base::Message{"plan_circuits_done", {{"count", static_cast<std::int64_t>(out_.steps.size())}}}));
  }

  double breaker(Id circuit) const { return base::amps(find<HouseCircuit>(yard(), circuit)->breaker).si; }

  /// A of the circuit of an outlet with the plan made, other loads and what stays included.
  double onCircuit(const PlugPlan& plan, std::int32_t outlet) const {
    const std::int32_t c = job_.outlets[static_cast<std::size_t>(outlet)].circuit;
    const Id circuit = circuits_[static_cast<std::size_t>(c)];
    double amps = a_.limit.circuits.at(circuit).standing;
    for (std::size_t u = 0; u < units_.size(); ++u)
      if (plan.outlet[u] >= 0 && job_.outlets[static_cast<std::size_t>(plan.outlet[u])].circuit == c)
        amps += unitAmps_[u];
    for (const PlugOutlet& o : job_.outlets)
      if (o.circuit == c) amps += o.takenAmps;
    return amps;
  }

  /// A cord of its own to the outlet: the record of the old one, with its wire, comes along.
  void plugInto(edit::Editor& editor, Id supply, Id outlet) const {
    editor.update<Supply>(supply, [&](Supply& s) { s.outlet = outlet; });
    for (const auto& [id, cable] : yard::all<Cable>(yard())) {
      if (cable->to.kind != TerminalKind::Supply || cable->to.record != supply) continue;
      if (cable->from.kind != TerminalKind::Outlet) continue;
      editor.update<Cable>(id, [&](Cable& c) {
        c.from.record = outlet;
        c.path.clear();
        c.ownLength = {0};
      });
    }
  }

  void tellMissing(std::size_t u, const PlugPlan& plan) {
    double most = 0.0;
    for (std::size_t c = 0; c < circuits_.size(); ++c) {
      double room = job_.circuits[c].amps;
      for (std::size_t v = 0; v < units_.size(); ++v)
        if (plan.outlet[v] >= 0 &&
            job_.outlets[static_cast<std::size_t>(plan.outlet[v])].circuit == static_cast<int>(c))
          room -= unitAmps_[v];
      most = std::max(most, room);
    }
    if (outlets_.empty()) {
      out_.cannot.push_back({units_[u], {"plan_cannot_outlet", {{"supply", labelOf(yard(), units_[u])}}}});
      return;
    }
    out_.cannot.push_back({units_[u],
                           {"plan_cannot_circuit",
                            {{"supply", labelOf(yard(), units_[u])},
                             {"amps", base::toCurrent({unitAmps_[u]})},
                             {"left", base::toCurrent({most})},
                             {"over", base::toCurrent({std::max(0.0, unitAmps_[u] - most)})}}}});
  }

  const assess::Assessment& a_;
  std::vector<Id> circuits_, outlets_, units_;
  std::vector<double> unitAmps_;
  PlugJob job_;
  YardPlan out_;
};

}  // namespace

YardPlan planCircuitsOf(const assess::AssessmentPtr& assessment) {
  return CircuitsPlanner(assessment).plan();
}

}  // namespace yw::propose
