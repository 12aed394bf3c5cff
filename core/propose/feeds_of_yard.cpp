// Feeds for the runs of a yard: makes the plain figures of feed_plan.h from it and a change from the answer.
#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "core/catalog/conductors.h"
#include "core/circuit/yard_network.h"
#include "core/findings/rule_help.h"
#include "core/propose/candidates.h"
#include "core/propose/feed_plan.h"
#include "core/propose/plan.h"
#include "core/routes/places.h"
#include "core/yard/labels.h"

namespace yw::propose {

using namespace yw::yard;

bool keptAsIs(const Yard& yard, Id subject, const std::string& what) {
  for (const auto& [id, keep] : all<KeepAsIs>(yard))
    if (keep->subject == subject && (keep->what == what || keep->what.empty())) return true;
  return false;
}

double pricePerMetre(const Wire& wire) {
  if (wire.pricePerMetre.count > 0) return static_cast<double>(wire.pricePerMetre.count) * 1e-4;
  const double squareMillimetres = catalog::conductorArea(static_cast<int>(wire.gauge)).si * 1e6;
  return 0.5 + 0.5 * squareMillimetres;
}

double coverCost(const assess::Assessment& a, const routes::Lie& lie) {
  if (!lie.onGround) return 0.0;
  std::vector<base::Vec2> points;
  for (const base::Vec3& at : lie.path) points.push_back(base::plan(at));
  return kCoverCost * static_cast<double>(a.ground->crossed(points).size());
}

namespace {

/// Our own judgement, no source: fuse, two plugs and a splice; and a power plug left out.
constexpr double kFeedCost = 4.0, kPortOffCost = 1.0;
/// A plan is changed only for one that saves this share: what hangs already is worth something.
constexpr double kWorthChanging = 0.05;
/// Share of the headroom planned on: below the rule's `close` (core/findings/rules/low_volts.cpp).
constexpr double kHeadroom = 0.84;
constexpr double kPortShare = 0.89;  ///< below the rule's `close` for ports
constexpr std::size_t kMostPlaces = 40, kMostSupplies = 3;
/// Mated contacts on each conductor and the volts of a fuse: as core/circuit/yard_network.cpp has them.
constexpr double kContacts = 2.0, kFuseVolts = 0.1;

struct Offer {
  Id supply, wire;
  base::Current fuse;
  double length = 0.0;  ///< m
};

/// What a run asks for and what could be done.
struct Asked {
  Id run;
  FeedRun figures;
  std::vector<Offer> offers;  ///< one an option
  std::vector<Id> supplies;   ///< of FeedRun::supplyVolts
  double raise = 0.0, share = 1.0;
  bool cutEverywhere = false;  ///< V+ is cut before each feed, so that a lost one loads no other
  double costBefore = 0.0;
  bool heldBefore = false;
  std::vector<Id> feedsBefore;
  FeedPlan plan;
};

class FeedsPlanner {
 public:
  FeedsPlanner(const assess::AssessmentPtr& assessment, std::vector<Id> runs)
      : before_(assessment), runs_(std::move(runs)) {}

  YardPlan plan() {
    choose();
    strip();
    for (Asked& asked : asked_) {
      figure(asked);
      solve(asked);
    }
    edit::Editor editor = write();
    constexpr int kRounds = 3;
    for (int round = 0; round < kRounds && tighten(editor.yard()); ++round) editor = write();
    constexpr int kSecureRounds = 5;
    for (int round = 0; round < kSecureRounds && secure(editor.yard()); ++round) {
      editor = write();
      if (tighten(editor.yard())) editor = write();
    }
    report(editor);
    return std::move(out_);
  }

 private:
  const Yard& yard() const { return before_->yard; }

  routes::Lie wayTo(Id supply, const circuit::RunPixel& at) const {
    const auto from = routes::endPlace(yard(), before_->shapes, {TerminalKind::Supply, supply, 0});
    const auto to = routes::endPlace(yard(), before_->shapes, {TerminalKind::PropPixel, at.prop, at.pixel});
    return routes::lie(yard(), *before_->ground, from, to, {});
  }
  static double costOf(const Wire& wire, double length) { return kFeedCost + length * pricePerMetre(wire); }

  void choose() {
    for (const auto& [id, run] : all<Run>(yard())) {
      if (!runs_.empty() && std::find(runs_.begin(), runs_.end(), id) == runs_.end()) continue;
      const auto layout = before_->layouts.find(id);
      if (layout == before_->layouts.end() || layout->second->pixels.empty()) continue;
      Asked asked;
      asked.run = id;
      bool kept = keptAsIs(yard(), id, "feed");
      for (const auto& [feed, figure] : before_->limit.feeds) {
        if (figure.run != id) continue;
        asked.feedsBefore.push_back(feed);
        kept = kept || keptAsIs(yard(), feed, "feed");
        const auto cable = before_->routes.cables.find({routes::CableRole::Feed, feed, 0});
        const Wire* wire =
            cable == before_->routes.cables.end() ? nullptr : find<Wire>(yard(), cable->second.wire);
        if (wire)
          asked.costBefore += costOf(*wire, cable->second.length()) +
                              kCoverCost * static_cast<double>(cable->second.crosses.size());
      }
      if (kept || (!run->port && asked.feedsBefore.empty())) continue;
      asked.heldBefore = holds(*before_, id, nullptr);
      asked_.push_back(std::move(asked));
    }
  }

  /// The volts pixel k of the run must keep.
  static double leastVolts(const Product* product) {
    if (!product) return 0.0;
    const double nominal = base::volts(product->voltage).si, lowest = base::volts(product->lowestVolts).si;
    return nominal - kHeadroom * (nominal - lowest);
  }

  /// V+ of two supplies meets along the run.
  static bool joinsSupplies(const assess::Assessment& a, Id id) {
    std::vector<std::pair<std::int64_t, Id>> feeds;
    for (const auto& [feed, f] : a.limit.feeds)
      if (f.run == id) feeds.emplace_back(f.runPixel, feed);
    std::sort(feeds.begin(), feeds.end());
    const Run& run = *find<Run>(a.yard, id);
    Id supply = run.port && run.portPower ? findings::supplyOfPort(a, run.port) : Id{};
    for (const auto& [place, feed] : feeds) {
      const Cable* cable = find<Cable>(a.yard, feed);
      const auto* position = cable ? find<FusePosition>(a.yard, cable->from.record) : nullptr;
      if (!position) continue;
      if (supply && position->supply != supply && !cable->cutPositive) return true;
      supply = position->supply;
    }
    return false;
  }

  struct Miss {
    double volts = 0.0, fuse = 0.0;  ///< below the lowest volts; share of a fuse over what may be planned
    std::size_t place = 0;
  };
  /// Does the run keep its limits in that yard? `miss`: by how much not.
  bool holds(const assess::Assessment& a, Id id, Miss* miss) const {
    const auto figure = a.limit.runs.find(id);
    const auto layout = a.layouts.find(id);
    if (figure == a.limit.runs.end() || layout == a.layouts.end()) return false;
    Miss worst;
    worst.volts = -1e9;
    worst.fuse = -1.0;
    for (std::size_t k = 0; k < layout->second->pixels.size(); ++k) {
      const Product* product = findings::productAt(a, *layout->second, k);
      if (!product) continue;
      const double at = figure->second.fed[k] ? figure->second.volts[k] : 0.0;
      if (const double missing = leastVolts(product) - at; missing > worst.volts)
        worst = {missing, worst.fuse, k};
    }
    const double usable = base::fraction(settings(yard()).fuseUsable);
    const auto load = [&](double amps, base::Current fuse) {
      if (fuse.count > 0) worst.fuse = std::max(worst.fuse, amps / (base::amps(fuse).si * usable) - 1.0);
    };
    const Run* run = find<Run>(a.yard, id);
    if (const Port* port = find<Port>(a.yard, run->port)) {
      load(figure->second.portAmps, port->fuse);
      if (port->limit.count > 0)
        worst.fuse = std::max(worst.fuse, figure->second.portAmps / base::amps(port->limit).si / 0.9 - 1.0);
    }
    for (const auto& [feed, f] : a.limit.feeds)
      if (f.run == id)
        if (const auto* position = find<FusePosition>(a.yard, f.fusePosition)) load(f.amps, position->fuse);
    if (miss) *miss = worst;
    if (joinsSupplies(a, id)) return false;
    return !figure->second.noOperatingPoint && worst.volts <= 1e-6 && worst.fuse < 0.0;
  }

  /// The yard without the feeds that are planned anew.
  void strip() {
    edit::Editor editor(yard());
    std::vector<Id> gone;
    for (const Asked& asked : asked_)
      gone.insert(gone.end(), asked.feedsBefore.begin(), asked.feedsBefore.end());
    editor.remove(gone);
    for (const Asked& asked : asked_) {
      const Run* run = find<Run>(yard(), asked.run);
      if (run->port && !run->portPower && findings::supplyOfPort(*before_, run->port) &&
          !keptAsIs(yard(), asked.run, "port"))
        editor.update<Run>(asked.run, [](Run& r) { r.portPower = true; });
    }
    bare_ = assess::assess(editor.yard(), before_);
    net_ = circuit::networkOf(bare_->yard, bare_->shapes, bare_->routes, bare_->layouts,
                              circuit::Condition::BrightnessLimit);
  }

  void figure(Asked& asked) {
    FeedRun& f = asked.figures;
    const circuit::RunLayout& layout = *bare_->layouts.at(asked.run);
    const circuit::Chain& chain = net_.built.network.chains[net_.chainOf.at(asked.run)];
    f.loads = net_.built.network.loads;
    f.load = chain.load;
    f.positiveOhms = chain.positive;
    f.zeroOhms = chain.zero;
    const Product* product = nullptr;
    for (std::size_t k = 0; k < layout.pixels.size(); ++k) {
      if (const Product* here = findings::productAt(*bare_, layout, k)) product = here;
      f.leastVolts.push_back(leastVolts(product));
    }
    for (std::size_t k = layout.pixels.size(); k-- > 0;)
      if (f.leastVolts[k] <= 0.0 && k + 1 < layout.pixels.size()) f.leastVolts[k] = f.leastVolts[k + 1];
    addPort(asked);
    addOffers(asked, layout);
  }

  std::int32_t supplyNumber(Asked& asked, Id supply) const {
    const auto it = std::find(asked.supplies.begin(), asked.supplies.end(), supply);
    if (it != asked.supplies.end()) return static_cast<std::int32_t>(it - asked.supplies.begin());
    asked.supplies.push_back(supply);
    asked.figures.supplyVolts.push_back(base::volts(find<Supply>(yard(), supply)->voltage).si);
    return static_cast<std::int32_t>(asked.supplies.size()) - 1;
  }

  /// The fuse a port should have: its own where that protects its wires.
  base::Current portFuse(const Asked& asked, const Port& port, Id wire) const {
    const double weakest = weakestBehind(*bare_, wire, asked.run);
    double most = weakest > 0 ? weakest : 1e9;
    if (port.limit.count > 0) most = std::min(most, base::amps(port.limit).si);
    const base::Current largest = catalog::largestFuseUpTo({most});
    return port.fuse.count > 0 && port.fuse <= largest ? port.fuse : largest;
  }

  void addPort(Asked& asked) {
    const Run* run = find<Run>(bare_->yard, asked.run);
    const Port* port = find<Port>(bare_->yard, run->port);
    const auto lead = net_.leads.find(asked.run);
    const Id supply = port ? findings::supplyOfPort(*bare_, run->port) : Id{};
    if (!port || lead == net_.leads.end() || !find<Supply>(yard(), supply)) return;
    const auto& conductors = net_.built.network.conductors;
    if (lead->second.positive < 0) return;
    FeedRun& f = asked.figures;
    f.port.positiveOhms = conductors[static_cast<std::size_t>(lead->second.positive)].ohms;
    f.port.zeroOhms = conductors[static_cast<std::size_t>(lead->second.zero)].ohms;
    if (!std::isfinite(f.port.positiveOhms) || !std::isfinite(f.port.zeroOhms)) return;
    f.hasPort = true;
    f.port.supply = supplyNumber(asked, supply);
    const base::Current fuse = portFuse(asked, *port, leadWire(asked));
    f.port.most = base::amps(fuse).si * base::fraction(settings(yard()).fuseUsable) * 0.999;
    if (port->limit.count > 0) f.port.most = std::min(f.port.most, base::amps(port->limit).si * kPortShare);
    f.portOffCost = keptAsIs(yard(), asked.run, "port") ? -1.0 : kPortOffCost;
  }

  /// Usual feed wire, the next thinner and the next thicker copper one.
  std::vector<Id> wires() const {
    const Id usual = settings(yard()).usualFeed;
    const Wire* own = find<Wire>(yard(), usual);
    if (!own) return {};
    Id thinner, thicker;
    const auto gauge = [&](Id id) { return find<Wire>(yard(), id)->gauge; };
    for (const auto& [id, wire] : all<Wire>(yard())) {
      if (wire->conductors != ConductorSet::PowerOnly || wire->material != own->material) continue;
      if (wire->gauge > own->gauge && (!thinner || wire->gauge < gauge(thinner))) thinner = id;
      if (wire->gauge < own->gauge && (!thicker || wire->gauge > gauge(thicker))) thicker = id;
    }
    std::vector<Id> found{usual};
    if (thinner) found.push_back(thinner);
    if (thicker) found.push_back(thicker);
    return found;
  }

  static std::vector<std::int64_t> thinned(std::vector<std::int64_t> places) {
    if (places.size() <= kMostPlaces) return places;
    std::vector<std::int64_t> kept;
    for (std::size_t i = 0; i < kMostPlaces; ++i)
      kept.push_back(places[i * (places.size() - 1) / (kMostPlaces - 1)]);
    kept.erase(std::unique(kept.begin(), kept.end()), kept.end());
    return kept;
  }

  /// A that the supply still has with the yard as it is, without the feeds that are planned anew.
  double roomOf(const assess::Assessment& a, Id supply) const {
    const double usable = base::fraction(settings(yard()).supplyUsable) * 0.999;
    const auto figure = a.limit.supplies.find(supply);
    return base::amps(find<Supply>(yard(), supply)->ratedAmps).si * usable -
           (figure == a.limit.supplies.end() ? 0.0 : figure->second.amps);
  }

  /// Supplies a feed may come from: the port's, and the nearest other of the same volts.
  std::vector<Id> suppliesFor(const Asked& asked, const circuit::RunLayout& layout, std::size_t place) const {
    std::vector<Id> found{asked.supplies.front()};
    for (const FeedChoice& choice :
         feedChoices(*bare_, layout.pixels[place].prop, layout.pixels[place].pixel, {}))
      if (choice.supply != found.front()) {
        found.push_back(choice.supply);
        break;
      }
    return found;
  }

  void addOffers(Asked& asked, const circuit::RunLayout& layout) {
    const std::vector<std::int64_t> places = thinned(jointPlaces(*bare_, asked.run));
    if (places.empty()) return;
    if (asked.supplies.empty()) {
      const auto at = static_cast<std::size_t>(places[places.size() / 2] - 1);
      for (const FeedChoice& choice :
           feedChoices(*bare_, layout.pixels[at].prop, layout.pixels[at].pixel, {})) {
        supplyNumber(asked, choice.supply);
        break;
      }
    }
    if (asked.supplies.empty()) return;
    for (const std::int64_t place : places) {
      const auto k = static_cast<std::size_t>(place - 1);
      for (const Id supply : suppliesFor(asked, layout, k)) offerFrom(asked, layout, supply, k);
    }
  }

  /// All that one supply can do at one place.
  void offerFrom(Asked& asked, const circuit::RunLayout& layout, Id supply, std::size_t k) {
    const std::vector<Id> wire = wires();
    if (wire.empty()) return;
    const routes::Lie lie = wayTo(supply, layout.pixels[k]);
    if (lie.blocked) return;
    const double length = lie.planLength + lie.verticalLength;
    const double covers = coverCost(*before_, lie);
    // V+ of another supply begins behind a cut, or is the only one.
    const bool first = supply == asked.supplies.front(), cut = !first && asked.figures.hasPort;
    for (const Id id : wire) offer(asked, k, supply, id, length, covers, cut);
    if (!first) offer(asked, k, supply, wire.front(), length, covers, !cut);
  }

  /// One supply more for a run whose supplies have too little left: of those hardly farther than the nearest,
  /// the one with most left.
  void offerAnother(Asked& asked, std::map<Id, double>& room) {
    constexpr double kHardly = 6.1;  // m, our own judgement
    if (asked.supplies.empty() || asked.supplies.size() >= kMostSupplies) return;
    const circuit::RunLayout& layout = *bare_->layouts.at(asked.run);
    const std::vector<std::int64_t> places = thinned(jointPlaces(*bare_, asked.run));
    const circuit::RunPixel& middle = layout.pixels[static_cast<std::size_t>(places[places.size() / 2] - 1)];
    const std::vector<FeedChoice> choices = feedChoices(*bare_, middle.prop, middle.pixel, {});
    Id most;
    double nearest = -1.0;
    for (const FeedChoice& choice : choices) {
      if (std::find(asked.supplies.begin(), asked.supplies.end(), choice.supply) != asked.supplies.end())
        continue;
      if (nearest < 0.0) nearest = choice.length;
      if (choice.length <= nearest + kHardly && (!most || room[choice.supply] > room[most] + 1e-6))
        most = choice.supply;
    }
    if (!most || room[most] <= 1.0) return;
    for (const std::int64_t place : places)
      offerFrom(asked, layout, most, static_cast<std::size_t>(place - 1));
  }

  void offer(Asked& asked, std::size_t k, Id supply, Id wireId, double length, double covers, bool cut) {
    const Wire& wire = *find<Wire>(yard(), wireId);
    const double weakest = weakestBehind(*bare_, wireId, asked.run);
    const FusePosition usual;
    const base::Current fuse =
        catalog::largestFuseUpTo({std::min(weakest > 0 ? weakest : 1e9, base::amps(usual.holderLimit).si)});
    if (fuse.count <= 0) return;
    const Settings& s = settings(yard());
    const double conductor =
        length * routes::resistancePerMetre(wire, s).si + kContacts * base::ohms(s.jointResistance).si;
    FeedOption option;
    option.place = static_cast<std::int32_t>(k);
    option.supply = supplyNumber(asked, supply);
    option.cut = cut;
    option.positiveOhms = conductor + kFuseVolts / base::amps(fuse).si;
    option.zeroOhms = conductor;
    option.most = base::amps(fuse).si * base::fraction(s.fuseUsable) * 0.999;
    option.cost = costOf(wire, length) + covers;
    asked.figures.options.push_back(option);
    asked.offers.push_back({supply, wireId, fuse, length});
  }

  static void solve(Asked& asked) {
    const auto open = [](double ohms) { return !std::isfinite(ohms); };
    const FeedRun& f = asked.figures;
    if (std::any_of(f.positiveOhms.begin() + 1, f.positiveOhms.end(), open) ||
        std::any_of(f.zeroOhms.begin() + 1, f.zeroOhms.end(), open) || f.supplyVolts.empty()) {
      asked.plan = {};
      return;
    }
    FeedRun tighter = f;
    for (double& volts : tighter.leastVolts) volts += asked.raise;
    tighter.port.most *= asked.share;
    for (FeedOption& option : tighter.options) {
      option.most *= asked.share;
      option.cut = option.cut || asked.cutEverywhere;
    }
    FeedEffort effort;
    effort.comparisons = 3'000'000;
    asked.plan = planFeeds(tighter, effort);
  }

  /// The port's fuse must become a smaller one, which also drops more volts.
  bool fuseTooLarge(const Asked& asked) const {
    const Run& run = *find<Run>(yard(), asked.run);
    const Port* port = find<Port>(yard(), run.port);
    return asked.figures.hasPort && port && !keptAsIs(yard(), run.port, "port") &&
           port->fuse > portFuse(asked, *port, leadWire(asked));
  }

  bool changes(const Asked& asked) const {
    return asked.plan.feasible && (!asked.heldBefore || fuseTooLarge(asked) ||
                                   asked.plan.cost < asked.costBefore * (1.0 - kWorthChanging));
  }

  Id positionFor(edit::Editor& editor, std::set<Id>& taken, const Offer& offer) const {
    std::int64_t number = 1;
    for (const auto& [id, position] : fusePositionsOf(editor.yard(), offer.supply)) {
      number = std::max(number, position->number + 1);
      if (taken.contains(id) || feedOnFusePosition(editor.yard(), id) || position->holderLimit < offer.fuse)
        continue;
      taken.insert(id);
      editor.update<FusePosition>(id, [&](FusePosition& p) { p.fuse = offer.fuse; });
      return id;
    }
    FusePosition position;
    position.supply = offer.supply;
    position.number = number;
    position.fuse = offer.fuse;
    const Id id = editor.add(position);
    taken.insert(id);
    return id;
  }

  Id leadWire(const Asked& asked) const {
    const auto cable = bare_->routes.cables.find({routes::CableRole::Lead, asked.run, 0});
    return cable == bare_->routes.cables.end() ? Id{} : cable->second.wire;
  }

  /// A port's fuse that does not protect its wires is made smaller even where no feed is wanted.
  void rightPortFuse(edit::Editor& editor, const Asked& asked) const {
    const Run& run = *find<Run>(yard(), asked.run);
    const Port* port = find<Port>(yard(), run.port);
    if (!asked.figures.hasPort || !port || keptAsIs(yard(), run.port, "port")) return;
    const base::Current fuse = portFuse(asked, *port, leadWire(asked));
    if (port->fuse > fuse) editor.update<Port>(run.port, [&](Port& p) { p.fuse = fuse; });
  }

  edit::Editor write() {
    edit::Editor editor(yard());
    std::vector<Id> gone;
    for (const Asked& asked : asked_)
      if (changes(asked)) gone.insert(gone.end(), asked.feedsBefore.begin(), asked.feedsBefore.end());
    editor.remove(gone);
    std::set<Id> taken;
    for (const Asked& asked : asked_) {
      if (!changes(asked)) {
        rightPortFuse(editor, asked);
        continue;
      }
      const Run& run = *find<Run>(yard(), asked.run);
      if (asked.figures.hasPort) {
        editor.update<Run>(asked.run, [&](Run& r) { r.portPower = asked.plan.usesPort; });
        const base::Current fuse = portFuse(asked, *find<Port>(yard(), run.port), leadWire(asked));
        editor.update<Port>(run.port, [&](Port& p) { p.fuse = fuse; });
      }
      for (const std::int32_t chosen : asked.plan.chosen) {
        const Offer& offer = asked.offers[static_cast<std::size_t>(chosen)];
        const FeedOption& option = asked.figures.options[static_cast<std::size_t>(chosen)];
        const circuit::RunPixel& at =
            bare_->layouts.at(asked.run)->pixels[static_cast<std::size_t>(option.place)];
        Cable feed;
        feed.from = {TerminalKind::FusePosition, positionFor(editor, taken, offer), 0};
        feed.to = {TerminalKind::PropPixel, at.prop, at.pixel};
        feed.conductors = ConductorSet::PowerOnly;
        feed.wire = offer.wire;
        feed.cutPositive = option.cut || asked.cutEverywhere;
        editor.add(feed);
      }
    }
    return editor;
  }

  /// A that the run takes from each supply.
  static std::map<Id, double> takenBy(const assess::Assessment& a, Id id) {
    std::map<Id, double> taken;
    const auto figure = a.limit.runs.find(id);
    if (figure == a.limit.runs.end()) return taken;
    const Run& run = *find<Run>(a.yard, id);
    if (const Id supply = run.port ? findings::supplyOfPort(a, run.port) : Id{})
      taken[supply] += figure->second.portAmps;
    for (const auto& [feed, f] : a.limit.feeds)
      if (f.run == id)
        if (const auto* position = find<FusePosition>(a.yard, f.fusePosition))
          taken[position->supply] += f.amps;
    return taken;
  }

  /// The run with what each supply has left, besides what the run takes from it now. Where not all that is
  /// too much can be taken off, as much of it as the others have room for, or a part of that.
  bool solveWithin(Asked& asked, const std::map<Id, double>& room, const std::map<Id, double>& taken) const {
    double others = 0.0;
    for (const Id supply : asked.supplies) others += std::max(0.0, room.at(supply));
    for (const double share : {0.0, 1.0, 0.8, 0.6, 0.4}) {
      asked.figures.supplyRoom.clear();
      for (const Id supply : asked.supplies) {
        const auto mine = taken.find(supply);
        const double own = mine == taken.end() ? 0.0 : mine->second;
        double may = std::max(0.0, room.at(supply) + own);
        if (share > 0.0 && room.at(supply) < 0.0) may = std::max(may, own - share * others);
        asked.figures.supplyRoom.push_back(may);
      }
      solve(asked);
      if (asked.plan.feasible) return true;
      if (others <= 0.0) return false;
    }
    return false;
  }

  /// Where a supply is asked for too much, its runs are planned anew with what each supply can give them, so
  /// that another one takes the rest, behind a cut of V+. False: no supply is, or none can be helped.
  bool relieve(const assess::Assessment& after) {
    std::map<Id, double> room;
    for (const auto& [id, supply] : all<Supply>(yard())) room[id] = roomOf(after, id);
    bool again = false;
    for (Asked& asked : asked_) {
      const std::map<Id, double> taken = takenBy(after, asked.run);
      if (std::none_of(taken.begin(), taken.end(),
                       [&](const auto& one) { return one.second > 0.0 && room[one.first] < -1e-6; }))
        continue;
      const Asked was = asked;
      offerAnother(asked, room);
      if (!solveWithin(asked, room, taken)) {
        asked = was;
        continue;
      }
      asked.heldBefore = false;
      const FeedCheck check = checkFeeds(asked.figures, asked.plan.chosen, asked.plan.usesPort);
      for (const auto& [supply, amps] : taken) room[supply] += amps;
      for (std::size_t s = 0; s < asked.supplies.size(); ++s) room[asked.supplies[s]] -= check.supplyAmps[s];
      again = true;
    }
    return again;
  }

  /// Asks for more where the whole yard's circuit does not hold; false: it holds everywhere.
  bool tighten(const Yard& now) {
    const assess::AssessmentPtr after = assess::assess(now, before_);
    bool again = relieve(*after);
    for (Asked& asked : asked_) {
      Miss miss;
      if (!changes(asked) || holds(*after, asked.run, &miss)) continue;
      const Asked was = asked;
      if (miss.volts > 0) asked.raise += std::min(miss.volts, 1.0) + 0.01;
      if (miss.fuse >= 0) asked.share *= 0.98 / (1.0 + std::min(miss.fuse, 1.0));
      solve(asked);
      // Nothing tighter can be had: what there is does better than none.
      if (asked.plan.feasible)
        again = true;
      else
        asked = was;
    }
    return again;
  }

  /// Where the loss of one fuse would overload the next or a wire, or a short makes a wire hot: V+ is cut
  /// before each feed where that holds, else fuses are planned on for less. False: no loss does.
  bool secure(const Yard& now) {
    const assess::AssessmentPtr after = assess::assess(now, before_);
    std::set<Id> runs;
    for (const auto& [id, loss] : after->faults().lost)
      if (loss.follows || loss.wireShare > 1.0 + 1e-6) runs.insert({loss.at.run, loss.wireAt.run});
    constexpr double kHotShare = 2.0;  // as core/findings/rules/short_not_cleared.cpp has it
    std::set<Id> shorted;
    for (const auto& [id, fault] : after->faults().shorts)
      if (fault.end == circuit::PartShort::End::Stays && fault.wireAmps > kHotShare * fault.wireLimit)
        shorted.insert({fault.at.run, fault.wireAt.run});
    bool again = false;
    for (Asked& asked : asked_) {
      if (!changes(asked) && asked.plan.feasible && asked.heldBefore &&
          (runs.contains(asked.run) || shorted.contains(asked.run))) {
        asked.heldBefore = false;  // what hangs there now is not safe
        again = true;
        continue;
      }
      if (!changes(asked) || (!runs.contains(asked.run) && !shorted.contains(asked.run))) continue;
      again = dearerButSafe(asked, shorted.contains(asked.run)) || again;
    }
    return again;
  }

  /// Cuts or smaller shares, whichever costs less; false: neither can be had.
  static bool dearerButSafe(Asked& asked, bool cutFirst) {
    constexpr double kLess = 0.86;
    const Asked was = asked;
    Asked cut = asked;
    cut.cutEverywhere = true;
    Asked less = asked;
    less.cutEverywhere = false;
    less.share *= kLess * kLess;  // one step alone seldom does
    if (was.cutEverywhere) cut.share *= kLess;
    solve(cut);
    solve(less);
    if (cut.plan.feasible && (cutFirst || !less.plan.feasible || cut.plan.cost <= less.plan.cost)) {
      asked = cut;
      return true;
    }
    less.share = was.share * kLess;
    solve(less);
    if (!less.plan.feasible) return false;
    asked = less;
    return true;
  }

  void report(edit::Editor& editor) {
    const assess::AssessmentPtr after = assess::assess(editor.yard(), before_);
    std::set<Id> used;
    for (const Asked& asked : asked_) {
      out_.costBefore += asked.costBefore;
      out_.costAfter += changes(asked) ? asked.plan.cost : asked.costBefore;
      out_.bound += asked.plan.feasible
                        ? std::min(asked.plan.bound, changes(asked) ? asked.plan.cost : asked.costBefore)
                        : 0.0;
      Miss miss;
      if (!holds(*after, asked.run, &miss))
        out_.cannot.push_back({asked.run, cannotText(*after, asked, miss)});
      for (const auto& [supply, amps] : takenBy(*after, asked.run))
        if (amps > 0.0) used.insert(supply);
      const Id port = find<Run>(yard(), asked.run)->port;
      if (changes(asked))
        out_.steps.push_back({asked.run, reason(editor.yard(), asked)});
      else if (const Port* was = find<Port>(yard(), port), *is = find<Port>(editor.yard(), port);
               was && was->fuse != is->fuse)
        out_.steps.push_back(
            {port,
             {"plan_port_fuse", {{"port", labelOf(yard(), port)}, {"was", was->fuse}, {"fuse", is->fuse}}},
             {port}});
    }
    tellOverloaded(*after, used);
    std::int64_t feeds = 0;
    for (const Asked& asked : asked_)
      if (changes(asked)) feeds += static_cast<std::int64_t>(asked.plan.chosen.size());
    out_.change = editor.finish(base::text(base::Message{"plan_feeds_done", {{"count", feeds}}}));
  }

  /// Supplies that are still asked for more than they are rated for.
  void tellOverloaded(const assess::Assessment& after, const std::set<Id>& used) {
    for (const Id id : used) {
      const Supply& supply = *find<Supply>(after.yard, id);
      const auto figure = after.limit.supplies.find(id);
      const double rated = base::amps(supply.ratedAmps).si;
      if (figure == after.limit.supplies.end() || figure->second.amps <= rated) continue;
      out_.cannot.push_back({id,
                             {"plan_cannot_supply_amps",
                              {{"supply", labelOf(after.yard, id)},
                               {"amps", base::toCurrent({figure->second.amps})},
                               {"rated", supply.ratedAmps},
                               {"over", base::toCurrent({figure->second.amps - rated})}}}});
    }
  }

  static std::int64_t percent(double share) { return std::llround(share * 100); }

  base::Message reason(const Yard& now, const Asked& asked) const {
    std::string places;
    double length = 0.0;
    for (const std::int32_t chosen : asked.plan.chosen) {
      const Offer& offer = asked.offers[static_cast<std::size_t>(chosen)];
      const FeedOption& option = asked.figures.options[static_cast<std::size_t>(chosen)];
      const circuit::RunPixel& at =
          bare_->layouts.at(asked.run)->pixels[static_cast<std::size_t>(option.place)];
      const Id feed = feedAt(now, at.prop, at.pixel);
      places += (places.empty() ? "" : "; ") +
                base::text(base::Message{option.cut || asked.cutEverywhere ? "plan_feed_place_cut"
                                                                           : "plan_feed_place",
                                         {{"prop", labelOf(now, at.prop)},
                                          {"pixel", at.pixel},
                                          {"position", labelOf(now, find<Cable>(now, feed)->from.record)},
                                          {"fuse", offer.fuse},
                                          {"length", findings::said(*before_, offer.length)},
                                          {"wire", find<Wire>(now, offer.wire)->name}}},
                           settings(now).units);
      length += offer.length;
    }
    const bool off = asked.figures.hasPort && !asked.plan.usesPort;
    const double gap = asked.plan.cost > 0 ? (asked.plan.cost - asked.plan.bound) / asked.plan.cost : 0.0;
    return {asked.plan.chosen.empty() ? "plan_feeds_none"
            : asked.plan.optimal      ? (off ? "plan_feeds_best_port_off" : "plan_feeds_best")
                                      : (off ? "plan_feeds_port_off" : "plan_feeds"),
            {{"run", labelOf(now, asked.run)},
             {"count", static_cast<std::int64_t>(asked.plan.chosen.size())},
             {"places", places},
             {"length", findings::said(*before_, length)},
             {"gap", percent(gap)}}};
  }

  static Id feedAt(const Yard& now, Id prop, std::int64_t pixel) {
    Id found;
    for (const auto& [id, cable] : all<Cable>(now))
      if (cable->from.kind == TerminalKind::FusePosition && cable->to.record == prop &&
          cable->to.pixel == pixel)
        found = id;
    return found;
  }

  base::Message cannotText(const assess::Assessment& after, const Asked& asked, const Miss& miss) const {
    const circuit::RunPixel& at = after.layouts.at(asked.run)->pixels[miss.place];
    const Product* product = findings::productAt(after, *after.layouts.at(asked.run), miss.place);
    const std::string run = labelOf(after.yard, asked.run);
    if (asked.figures.supplyVolts.empty()) return {"plan_cannot_supply", {{"run", run}}};
    if (miss.volts > 1e-6) {
      const double least = leastVolts(product);
      const double volts =
          asked.plan.stuckAt >= 0 && !asked.plan.feasible ? asked.plan.stuckVolts : least - miss.volts;
      return {"plan_cannot_volts",
              {{"run", run},
               {"prop", at.prop ? labelOf(after.yard, at.prop) : run},
               {"pixel", at.pixel},
               {"volts", base::toVoltage({volts})},
               {"least", base::toVoltage({least})},
               {"short", base::toVoltage({std::max(0.0, least - volts)})}}};
    }
    return {"plan_cannot_fuse", {{"run", run}, {"over", percent(std::max(0.0, miss.fuse))}}};
  }

  assess::AssessmentPtr before_, bare_;
  std::vector<Id> runs_;
  circuit::YardNetwork net_;
  std::vector<Asked> asked_;
  YardPlan out_;
};

}  // namespace

YardPlan planFeedsOf(const assess::AssessmentPtr& assessment, const std::vector<Id>& runs) {
  return FeedsPlanner(assessment, runs).plan();
}

}  // namespace yw::propose
