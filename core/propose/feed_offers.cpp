// The plain figures of feed_plan.h from the runs of a yard.
#include "core/propose/feed_offers.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/catalog/conductors.h"
#include "core/findings/rule_help.h"
#include "core/propose/candidates.h"
#include "core/routes/places.h"

namespace yw::propose {

using namespace yw::yard;

namespace {

/// Our own judgement, no source: fuse, two plugs and a splice; and a power plug left out.
constexpr double kFeedCost = 4.0, kPortOffCost = 1.0;
/// Share of the headroom planned on: below the rule's `close` (core/findings/rules/low_volts.cpp).
constexpr double kHeadroom = 0.84;
constexpr double kPortShare = 0.89;  ///< below the rule's `close` for ports
constexpr std::size_t kMostPlaces = 40, kMostSupplies = 3;
/// Mated contacts on each conductor and the volts of a fuse: as core/circuit/yard_network.cpp has them.
constexpr double kContacts = 2.0, kFuseVolts = 0.1;

std::vector<std::int64_t> thinned(std::vector<std::int64_t> places) {
  if (places.size() <= kMostPlaces) return places;
  std::vector<std::int64_t> kept;
  for (std::size_t i = 0; i < kMostPlaces; ++i)
    kept.push_back(places[i * (places.size() - 1) / (kMostPlaces - 1)]);
  kept.erase(std::unique(kept.begin(), kept.end()), kept.end());
  return kept;
}

/// V+ of two supplies meets along the run.
bool joinsSupplies(const assess::Assessment& a, Id id) {
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

}  // namespace

double feedCost(const Wire& wire, double length) { return kFeedCost + length * pricePerMetre(wire); }

FeedOffers::FeedOffers(assess::AssessmentPtr before, assess::AssessmentPtr bare)
    : before_(std::move(before)),
      bare_(std::move(bare)),
      net_(circuit::networkOf(bare_->yard, bare_->shapes, bare_->routes, bare_->layouts,
                              circuit::Condition::BrightnessLimit)) {}

routes::Lie FeedOffers::wayTo(Id supply, const circuit::RunPixel& at) const {
  const auto from = routes::endPlace(yard(), before_->shapes, {TerminalKind::Supply, supply, 0});
  const auto to = routes::endPlace(yard(), before_->shapes, {TerminalKind::PropPixel, at.prop, at.pixel});
  return routes::lie(yard(), *before_->ground, from, to, {});
}

void FeedOffers::figure(AskedRun& asked) const {
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
    f.leastVolts.push_back(leastVoltsOf(product));
  }
  for (std::size_t k = layout.pixels.size(); k-- > 0;)
    if (f.leastVolts[k] <= 0.0 && k + 1 < layout.pixels.size()) f.leastVolts[k] = f.leastVolts[k + 1];
  addPort(asked);
  addOffers(asked, layout);
}

std::int32_t FeedOffers::supplyNumber(AskedRun& asked, Id supply) const {
  const auto it = std::find(asked.supplies.begin(), asked.supplies.end(), supply);
  if (it != asked.supplies.end()) return static_cast<std::int32_t>(it - asked.supplies.begin());
  asked.supplies.push_back(supply);
  asked.figures.supplyVolts.push_back(base::volts(find<Supply>(yard(), supply)->voltage).si);
  return static_cast<std::int32_t>(asked.supplies.size()) - 1;
}

base::Current FeedOffers::portFuse(const AskedRun& asked, const Port& port, Id wire) const {
  const double weakest = weakestBehind(*bare_, wire, asked.run);
  double most = weakest > 0 ? weakest : 1e9;
  if (port.limit.count > 0) most = std::min(most, base::amps(port.limit).si);
  const base::Current largest = catalog::largestFuseUpTo({most});
  return port.fuse.count > 0 && port.fuse <= largest ? port.fuse : largest;
}

void FeedOffers::addPort(AskedRun& asked) const {
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

std::vector<Id> FeedOffers::wires() const {
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

std::vector<Id> FeedOffers::suppliesFor(const AskedRun& asked, const circuit::RunLayout& layout,
                                        std::size_t place) const {
  std::vector<Id> found{asked.supplies.front()};
  for (const FeedChoice& choice :
       feedChoices(*bare_, layout.pixels[place].prop, layout.pixels[place].pixel, {}))
    if (choice.supply != found.front()) {
      found.push_back(choice.supply);
      break;
    }
  return found;
}

void FeedOffers::addOffers(AskedRun& asked, const circuit::RunLayout& layout) const {
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

void FeedOffers::offerFrom(AskedRun& asked, const circuit::RunLayout& layout, Id supply,
                           std::size_t k) const {
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

void FeedOffers::addAnother(AskedRun& asked, const std::map<Id, double>& room) const {
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
    if (choice.length <= nearest + kHardly && (!most || room.at(choice.supply) > room.at(most) + 1e-6))
      most = choice.supply;
  }
  if (!most || room.at(most) <= 1.0) return;
  for (const std::int64_t place : places) offerFrom(asked, layout, most, static_cast<std::size_t>(place - 1));
}

void FeedOffers::offer(AskedRun& asked, std::size_t k, Id supply, Id wireId, double length, double covers,
                       bool cut) const {
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
  option.cost = feedCost(wire, length) + covers;
  asked.figures.options.push_back(option);
  asked.offers.push_back({supply, wireId, fuse, length});
}

Id FeedOffers::leadWire(const AskedRun& asked) const {
  const auto cable = bare_->routes.cables.find({routes::CableRole::Lead, asked.run, 0});
  return cable == bare_->routes.cables.end() ? Id{} : cable->second.wire;
}

double leastVoltsOf(const Product* product) {
  if (!product) return 0.0;
  const double nominal = base::volts(product->voltage).si, lowest = base::volts(product->lowestVolts).si;
  return nominal - kHeadroom * (nominal - lowest);
}

bool runHolds(const assess::Assessment& a, Id id, RunMiss* miss) {
  const auto figure = a.limit.runs.find(id);
  const auto layout = a.layouts.find(id);
  if (figure == a.limit.runs.end() || layout == a.layouts.end()) return false;
  RunMiss worst;
  worst.volts = -1e9;
  worst.fuse = -1.0;
  for (std::size_t k = 0; k < layout->second->pixels.size(); ++k) {
    const Product* product = findings::productAt(a, *layout->second, k);
    if (!product) continue;
    const double at = figure->second.fed[k] ? figure->second.volts[k] : 0.0;
    if (const double missing = leastVoltsOf(product) - at; missing > worst.volts)
      worst = {missing, worst.fuse, k};
  }
  const double usable = base::fraction(settings(a.yard).fuseUsable);
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

std::map<Id, double> takenFromSupplies(const assess::Assessment& a, Id id) {
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

}  // namespace yw::propose
