// Places for the boxes of a yard.
#include "core/propose/site_plan.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "core/findings/rule_help.h"
#include "core/propose/plan.h"
#include "core/routes/places.h"
#include "core/yard/labels.h"
#include "core/yard/this_year.h"

namespace yw::propose {

using namespace yw::yard;

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
/// Share of the reach that is planned on, as for ports (core/propose/ports_of_yard.cpp).
constexpr double kReachShare = 0.94;
constexpr double kWorthChanging = 0.05;
constexpr std::size_t kMostPlaces = 60;
/// Boxes do not stand in each other, m. Our own judgement, no source.
constexpr double kApart = 0.6;
/// A place beside an outlet or prop, m from it. Our own judgement, no source.
constexpr double kBeside = 0.5;

class Sites {
 public:
  explicit Sites(const assess::Assessment& a) : a_(a) {
    for (const auto& [id, box] : all<Box>(yard())) out_.boxes.push_back(id);
    places();
    demands();
  }
  SiteFigures figures() {
    std::vector<base::Vec2> at;
    for (const SitePlace& place : out_.places) at.push_back(base::vec(place.at));
    SiteJob& job = out_.job;
    for (const base::Vec2 x : at) {
      job.tooNear.emplace_back();
      for (const base::Vec2 y : at) job.tooNear.back().push_back(base::distance(x, y) < kApart);
    }
    for (std::size_t b = 0; b < out_.boxes.size(); ++b) {
      job.mayMove.push_back(!keptAsIs(yard(), out_.boxes[b], "box"));
      job.boxCost.emplace_back();
      for (std::size_t p = 0; p < at.size(); ++p) job.boxCost.back().push_back(cords(out_.boxes[b], at[p]));
    }
    for (std::size_t d = 0; d < job.demands.size(); ++d) {
      job.lead.emplace_back();
      for (const base::Vec2 from : at) job.lead.back().push_back(lead(job.demands[d], ends_[d], from));
    }
    return std::move(out_);
  }

 private:
  struct End {
    base::Vec2 at;
    double limit = kInfinity;
  };
  const Yard& yard() const { return a_.yard; }

  void addPlace(const SitePlace& place) {
    const base::Vec2 at = base::vec(place.at);
    for (const SitePlace& other : out_.places)
      if (base::distance(base::vec(other.at), at) < kBeside / 2) return;
    if (!place.box && (!a_.ground->keepOutsAt(at).empty() || out_.places.size() >= kMostPlaces)) return;
    out_.places.push_back(place);
  }

  void places() {
    for (const Id box : out_.boxes) {
      const base::Vec3 at = findings::placeOfRecord(a_, box);
      out_.places.push_back({base::point(base::plan(at)), box, {}});
    }
    for (const auto& [id, outlet] : all<Outlet>(yard())) {
      const base::Vec3 at = findings::placeOfRecord(a_, id);
      addPlace({base::point({at.x + kBeside, at.y}), {}, id});
    }
    std::vector<Id> props;
    for (const auto& [id, prop] : all<Prop>(yard()))
      if (!prop->wall && !rests(*prop)) props.push_back(id);
    const std::size_t step = std::max<std::size_t>(1, props.size() / kMostPlaces + 1);
    for (std::size_t i = 0; i < props.size(); i += step) {
      const base::Vec3 at = findings::placeOfPixel(a_, props[i], 1);
      addPlace({base::point({at.x, at.y + kBeside}), {}, props[i]});
    }
  }

  std::int32_t number(Id box) const {
    const auto it = std::find(out_.boxes.begin(), out_.boxes.end(), box);
    return it == out_.boxes.end() ? -1 : static_cast<std::int32_t>(it - out_.boxes.begin());
  }
  Id boxOf(Id owner) const {
    if (const auto* c = find<Controller>(yard(), owner)) return c->box;
    if (const auto* r = find<Receiver>(yard(), owner)) return r->box;
    const auto* s = find<Supply>(yard(), owner);
    return s ? s->box : Id{};
  }

  void add(std::int32_t box, const base::Vec3& to, Id wireId, double limit) {
    const Wire* wire = find<Wire>(yard(), wireId);
    out_.job.demands.push_back({box, wire ? pricePerMetre(*wire) : 1.0});
    ends_.push_back({base::plan(to), limit});
  }

  void demands() {
    const Settings& set = settings(yard());
    const double reach = base::metres(set.controllerReach).si * kReachShare;
    for (const auto& [key, cable] : a_.routes.cables) {
      if (cable.path.empty()) continue;
      const auto* port = find<Port>(yard(), cable.from.record);
      if (key.role == routes::CableRole::Lead && port) {
        const bool far = cable.length() > reach;
        add(number(boxOf(port->owner)), cable.path.back(), cable.wire, far ? kInfinity : reach);
      } else if (key.role == routes::CableRole::Feed) {
        if (const auto* position = find<FusePosition>(yard(), cable.from.record))
          add(number(boxOf(position->supply)), cable.path.back(), cable.wire, kInfinity);
      }
    }
    // A prop that is not wired yet: a lead from the nearest box.
    for (const auto& [id, pixels] : a_.unwired) {
      const Prop* prop = find<Prop>(yard(), id);
      if (!prop || rests(*prop)) continue;
      add(-1, findings::placeOfPixel(a_, id, 1), set.usualLead, reach);
    }
  }

  double lead(const SiteDemand& demand, const End& end, base::Vec2 from) const {
    const double length = a_.ground->shortest(from, end.at).length;
    return length > end.limit ? kInfinity : length * demand.perMetre;
  }

  /// All mains cords of the box from the outlets of its supplies.
  double cords(Id box, base::Vec2 at) const {
    const auto boxes = routes::boxCords(yard());
    const auto shared = boxes.cords.find(box);
    double cost = 0.0;
    bool counted = false;
    for (const auto& [id, supply] : all<Supply>(yard())) {
      if (supply->box != box || !find<Outlet>(yard(), supply->outlet)) continue;
      const bool onShared = shared != boxes.cords.end() && shared->second.outlet == supply->outlet;
      if (onShared && counted) continue;
      counted = counted || onShared;
      const auto cable = a_.routes.cables.find({routes::CableRole::MainsCord, id, 0});
      const Wire* wire = cable == a_.routes.cables.end() ? nullptr : find<Wire>(yard(), cable->second.wire);
      const base::Vec2 from = base::plan(findings::placeOfRecord(a_, supply->outlet));
      cost += a_.ground->shortest(from, at).length * (wire ? pricePerMetre(*wire) : 2.0);
    }
    return cost;
  }

  const assess::Assessment& a_;
  std::vector<End> ends_;
  SiteFigures out_;
};

/// Copper and cords of the whole yard as it is routed.
double copper(const assess::Assessment& a) {
  double cost = 0.0;
  for (const auto& [key, cable] : a.routes.cables) {
    if (key.role == routes::CableRole::Jumper) continue;
    const Wire* wire = find<Wire>(a.yard, cable.wire);
    cost += cable.length() * (wire ? pricePerMetre(*wire) : 1.0) + coverCost(a.yard, cable.crosses);
  }
  return cost;
}

std::int64_t grave(const findings::Report& report) {
  return std::count_if(report.findings.begin(), report.findings.end(),
                       [](const findings::Finding& f) { return f.severity <= findings::Severity::WontWork; });
}

}  // namespace

SiteFigures siteFigures(const assess::Assessment& a) { return Sites(a).figures(); }

YardPlan planSitesOf(const assess::AssessmentPtr& assessment) {
  const assess::Assessment& a = *assessment;
  YardPlan out;
  const SiteFigures figures = siteFigures(a);
  if (figures.boxes.empty()) return out;
  std::vector<std::int32_t> start;
  for (std::size_t b = 0; b < figures.boxes.size(); ++b) start.push_back(static_cast<std::int32_t>(b));
  const SitePlan plan = planSites(figures.job, start);
  edit::Editor editor(a.yard);
  const bool bare = a.limit.runs.empty();
  for (std::size_t b = 0; b < start.size(); ++b) {
    if (plan.at[b] == start[b]) continue;
    const SitePlace& place = figures.places[static_cast<std::size_t>(plan.at[b])];
    editor.update<Box>(figures.boxes[b], [&](Box& box) {
      box.at = place.at;
      box.wall = {};
    });
    out.steps.push_back(
        {figures.boxes[b],
         {"plan_site",
          {{"box", labelOf(a.yard, figures.boxes[b])},
           {"place", labelOf(a.yard, place.beside ? place.beside : place.box)},
           {"length",
            findings::said(a, base::distance(base::plan(findings::placeOfRecord(a, figures.boxes[b])),
                                             base::vec(place.at)))}}}});
  }
  const double modelBefore = sitesCost(figures.job, start);
  const auto beyond = [](double cost) { return std::floor(cost / kOutOfReach) * kOutOfReach; };
  out.costBefore = out.costAfter = bare ? modelBefore - beyond(modelBefore) : copper(a);
  // The model counts the same copper and cords: what it is over its bound, the yard is as well.
  const auto boundFor = [&](double cost, double model) {
    return std::clamp(cost - (model - plan.bound), 0.0, cost);
  };
  out.bound = boundFor(out.costBefore, modelBefore);
  if (out.steps.empty()) return out;
  const edit::Change change = editor.finish(
      base::text(base::Message{"plan_sites_done", {{"count", static_cast<std::int64_t>(out.steps.size())}}}));
  const assess::AssessmentPtr after = assess::assess(edit::apply(a.yard, change), assessment);
  const double cost = bare ? plan.cost - beyond(plan.cost) : copper(*after);
  const bool reachesMore = beyond(plan.cost) < beyond(modelBefore);
  // Moved only where the whole yard, as it is then routed, is cheaper and nothing becomes wrong by it.
  if ((!reachesMore && cost > out.costBefore * (1.0 - kWorthChanging)) ||
      grave(findings::report(*after)) > grave(findings::report(a))) {
    out.steps.clear();
    return out;
  }
  out.costAfter = cost;
  out.bound = boundFor(cost, plan.cost);
  out.change = change;
  return out;
}

}  // namespace yw::propose
