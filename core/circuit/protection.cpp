#include "core/circuit/protection.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "core/catalog/conductors.h"
#include "core/circuit/code.h"

namespace yw::circuit {

CarryLimit lowest(const std::vector<CarryLimit>& limits) {
  CarryLimit least;
  for (const CarryLimit& limit : limits)
    if (limit.amps > 0.0 && (least.amps == 0.0 || limit.amps < least.amps)) least = limit;
  return least;
}

std::vector<CarryLimit> limitsOf(const yard::Wire& wire, yard::CodeEdition edition) {
  std::vector<CarryLimit> all;
  all.push_back({routes::limitOf(wire).si, wire.name, inEdition(edition, routes::limitSource(wire))});
  if (const auto ceiling = catalog::largestFuse(static_cast<int>(wire.gauge)))
    all.push_back({base::amps(*ceiling).si, wire.name, inEdition(edition, "NEC 240.4(D)")});
  if (wire.contactLimit.count > 0)
    all.push_back({base::amps(wire.contactLimit).si,
                   base::text(base::Message{"protection_plugs", {{"wire", wire.name}}}),
                   base::text(base::Message{"protection_plugs_source", {}})});
  return all;
}

std::vector<CarryLimit> limitsBehind(const yard::Yard& yard, const Layouts& layouts, Id wire, Id run) {
  std::vector<CarryLimit> all;
  std::vector<Id> seen;
  const yard::CodeEdition edition = yard::settings(yard).codeEdition;
  const auto consider = [&](Id id) {
    if (std::find(seen.begin(), seen.end(), id) != seen.end()) return;
    seen.push_back(id);
    const auto* found = yard::find<yard::Wire>(yard, id);
    if (found == nullptr) return;
    for (CarryLimit& limit : limitsOf(*found, edition)) all.push_back(std::move(limit));
  };
  consider(wire);
  const auto layout = layouts.find(run);
  if (layout == layouts.end()) return all;
  for (std::size_t i = 0; i < layout->second->wire.size(); ++i)
    if (i == 0 || layout->second->wire[i] != layout->second->wire[i - 1]) consider(layout->second->wire[i]);
  return all;
}

FuseChoice chooseFuse(double load, double fullWhite, double usable, const std::vector<CarryLimit>& limits) {
  FuseChoice choice;
  choice.limit = lowest(limits);
  if (usable > 0.0 && std::isfinite(load)) choice.fuse = catalog::smallestFuse({std::abs(load)}, usable);
  // Compared on stored counts, as the fuses' own ratings are.
  const base::Current most = base::toCurrent({choice.limit.amps});
  choice.largest = catalog::largestFuseUpTo({choice.limit.amps});
  choice.fits = choice.fuse.count > 0 && (most.count == 0 || choice.fuse <= most);
  choice.opensAtFullWhite = choice.fuse.count > 0 && base::toCurrent({std::abs(fullWhite)}) > choice.fuse;
  return choice;
}

namespace {
/// Gauges leads are sold in, thin to thick.
constexpr std::array kGaugesSold{24, 22, 20, 18, 16, 14, 12, 10};
}  // namespace

WireChoice chooseWire(double load, base::Current fuse, double length, double allowedDrop,
                      const yard::Settings& settings) {
  WireChoice choice;
  for (const int gauge : kGaugesSold) {
    yard::Wire wire;
    wire.gauge = gauge;
    const double limit = routes::limitOf(wire).si;
    if (base::toCurrent({limit}) < fuse) continue;
    const double drop = 2.0 * std::abs(load) * routes::resistancePerMetre(wire, settings).si * length;
    if (base::toVoltage({drop}) > base::toVoltage({allowedDrop})) {
      choice.setByDrop = true;
      continue;
    }
    choice.gauge = gauge;
    choice.drop = drop;
    choice.limit = limit;
    choice.limitSource = inEdition(settings.codeEdition, routes::limitSource(wire));
    break;
  }
  return choice;
}

namespace {

void takeCable(const Routes& routes, Protection& p) {
  for (const auto& [key, cable] : routes.cables) {
    const bool behind = key.role == routes::CableRole::Lead || key.role == routes::CableRole::Feed;
    if (!behind || cable.from.record != p.position) continue;
    p.cable = cable.record;
    p.wire = cable.wire;
    p.length = cable.length();
    return;
  }
}

/// Volts of the supply behind the position; the yard's usual ones where none is said.
double voltsOf(const yard::Yard& yard, Id position) {
  Id supply;
  if (const auto* fuse = yard::find<yard::FusePosition>(yard, position)) supply = fuse->supply;
  if (const auto* port = yard::find<yard::Port>(yard, position)) {
    const auto* controller = yard::find<yard::Controller>(yard, port->owner);
    const auto* receiver = yard::find<yard::Receiver>(yard, port->owner);
    const auto* sections = controller != nullptr ? &controller->sections
                           : receiver != nullptr ? &receiver->sections
                                                 : nullptr;
    if (sections != nullptr && port->section >= 1 &&
        port->section <= static_cast<std::int64_t>(sections->size()))
      supply = (*sections)[static_cast<std::size_t>(port->section) - 1].supply;
  }
  const auto* record = yard::find<yard::Supply>(yard, supply);
  return base::volts(record != nullptr ? record->voltage : yard::settings(yard).usualVoltage).si;
}

double portAmps(const Power& power, Id port) {
  const auto amps = power.portAmps.find(port);
  return amps == power.portAmps.end() ? 0.0 : amps->second;
}

}  // namespace

std::optional<Protection> protectionOf(const yard::Yard& yard, const Routes& routes, const Layouts& layouts,
                                       const Power& limit, const Power& fullWhite, Id position) {
  Protection p;
  p.position = position;
  CarryLimit holder;
  if (const auto* port = yard::find<yard::Port>(yard, position)) {
    p.run = yard::runOnPort(yard, position);
    p.load = portAmps(limit, position);
    p.fullWhite = portAmps(fullWhite, position);
    holder = {base::amps(port->limit).si, base::text(base::Message{"protection_port", {}}),
              base::text(base::Message{"protection_port_source", {}})};
  } else if (const auto* fuse = yard::find<yard::FusePosition>(yard, position)) {
    const Id feed = yard::feedOnFusePosition(yard, position);
    const auto figure = limit.feeds.find(feed), white = fullWhite.feeds.find(feed);
    if (figure == limit.feeds.end() || white == fullWhite.feeds.end()) return {};
    p.run = figure->second.run;
    p.load = figure->second.amps;
    p.fullWhite = white->second.amps;
    holder = {base::amps(fuse->holderLimit).si, base::text(base::Message{"protection_holder", {}}),
              base::text(base::Message{"protection_holder_source", {}})};
  }
  if (!(p.load > 0.0)) return {};
  takeCable(routes, p);
  const yard::Settings& settings = yard::settings(yard);
  std::vector<CarryLimit> limits = limitsBehind(yard, layouts, p.wire, p.run);
  limits.push_back(std::move(holder));
  p.choice = chooseFuse(p.load, p.fullWhite, base::fraction(settings.fuseUsable), limits);
  p.wireChoice = chooseWire(p.load, p.choice.fuse, p.length,
                            voltsOf(yard, position) * base::fraction(settings.leadDrop), settings);
  return p;
}

base::Message usualText(const Protection& p) {
  base::Message said{"protection_usual",
                     {{"amps", base::toCurrent({p.load})},
                      {"full", base::toCurrent({p.fullWhite})},
                      {"fuse", p.choice.fuse},
                      {"limit", base::toCurrent({p.choice.limit.amps})},
                      {"part", p.choice.limit.part},
                      {"source", p.choice.limit.source}}};
  if (p.choice.fuse.count == 0) {
    said.key = "protection_no_fuse";
    return said;
  }
  if (p.wireChoice.gauge) said.facts["gauge"] = std::to_string(*p.wireChoice.gauge);
  if (!p.choice.fits)
    said.key = p.wireChoice.gauge ? "protection_conflict" : "protection_split";
  else if (!p.wireChoice.gauge)
    said.key = "protection_no_wire";
  else if (p.choice.limit.amps <= 0.0)
    said.key = "protection_unknown";
  else if (p.choice.opensAtFullWhite)
    said.key = "protection_usual_opens";
  return said;
}

}  // namespace yw::circuit
