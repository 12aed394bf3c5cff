#include "core/papers/mains_tables.h"

#include <algorithm>

#include "core/circuit/code.h"
#include "core/circuit/protection.h"
#include "core/papers/table_builder.h"

namespace yw::papers {

namespace {

std::string count(std::int64_t n) { return std::to_string(n); }
std::string amps(double value) { return fixed(value, 2); }
std::string printed(base::Current value) { return trimmed(base::amps(value).si, 2); }
std::string yesIf(bool condition) { return condition ? say("yes") : say("no"); }
std::string percent(double part) { return fixed(part * 100.0, 0); }

/// NEC 210.20(A): a load of 3 hours or more may use 80 % of the breaker.
constexpr double kContinuousPart = 0.8;

template <class R>
std::vector<std::pair<Id, const R*>> byLabel(const Digest& d) {
  auto all = yard::all<R>(d.y);
  std::stable_sort(all.begin(), all.end(), [&](const auto& l, const auto& r) {
    return naturalLess(d.label(l.first), d.label(r.first));
  });
  return all;
}

std::string costOf(const circuit::EnergyFigure& e) {
  return e.priced ? fixed(static_cast<double>(e.cost.count) * 1e-4, 2) : "";
}

}  // namespace

OnCircuit onCircuit(const Digest& d, Id circuit) {
  OnCircuit on;
  for (const auto& [id, supply] : yard::all<yard::Supply>(d.y)) {
    const auto* outlet = yard::find<yard::Outlet>(d.y, supply->outlet);
    if (outlet == nullptr || outlet->circuit != circuit) continue;
    on.names += (on.names.empty() ? "" : ", ") + d.label(id);
    on.assumed = on.assumed || d.assumedSupply(id);
  }
  for (const auto& [id, load] : yard::all<yard::OtherLoad>(d.y))
    if (load->circuit == circuit)
      on.names +=
          (on.names.empty() ? "" : ", ") +
          say("other_load", {{"name", d.label(id)}, {"amps", fixed(base::amps(load->amps).si, 2) + " A"}});
  return on;
}

Table houseCircuitsTable(const Digest& d) {
  TableBuilder t("house_circuits");
  t.words("circuit").number("breaker", "A").number("line", "V").words("gfci").words("on_it");
  t.number("amps_limit", "A").number("allowed", "A").number("used", "%").number("amps_full", "A");
  t.number("other_loads", "A").number("leakage", "mA").number("supplies").number("inrush", "A");
  t.number("watts", "W").number("night", "kWh").number("season", "kWh").number("cost").words("assumed");
  for (const auto& [id, circuit] : byLabel<yard::HouseCircuit>(d)) {
    const auto* limit = lookUp(d.a.limit.circuits, id);
    const auto* full = lookUp(d.a.fullWhite.circuits, id);
    if (limit == nullptr || full == nullptr) continue;
    const OnCircuit on = onCircuit(d, id);
    const double breaker = base::amps(circuit->breaker).si, allowed = breaker * kContinuousPart;
    const circuit::EnergyFigure energy = circuit::energyOf(d.y, limit->watts);
    t.row(id, {d.label(id), trimmed(breaker, 1), trimmed(base::volts(circuit->voltage).si, 1),
               yesIf(circuit->groundFault), on.names, amps(limit->amps), amps(allowed),
               allowed > 0 ? percent(limit->amps / allowed) : "", amps(full->amps), amps(limit->standing),
               fixed(limit->leakage * 1e3, 2), count(limit->supplies), trimmed(limit->inrush, 1),
               fixed(limit->watts, 0), fixed(energy.kwhANight, 2), fixed(energy.kwh, 1), costOf(energy),
               yesIf(on.assumed)});
  }
  return t.take();
}

Table mainsCordsTable(const Digest& d) {
  TableBuilder t("mains_cords");
  t.words("cord").words("from").words("to").words("wire").number("cut", d.lengthUnit());
  t.number("from_outlet", d.lengthUnit())
      .number("amps_limit", "A")
      .number("allowed", "A")
      .number("used", "%");
  t.number("amps_full", "A").number("lost", "V").number("lost_whole", "%").number("end_volts", "V");
  t.number("joints").words("limit_source");
  for (const auto& [key, cord] : d.a.limit.mains.cords) {
    const routes::RoutedCable* cable = d.cable(key);
    if (cable == nullptr) continue;
    const auto* full = lookUp(d.a.fullWhite.mains.cords, key);
    t.row(cable->record ? cable->record : key.of,
          {cable->label, cable->fromText, cable->toText, d.wireName(cable->wire),
           trimmed(d.inUnit(cable->cutLength), 2), fixed(d.inUnit(cord.wholeLength), 1), amps(cord.amps),
           cord.limit > 0 ? trimmed(cord.limit, 2) : "",
           cord.limit > 0 ? percent(cord.amps / cord.limit) : "", full ? amps(full->amps) : "",
           fixed(cord.lost, 2), fixed(cord.lostShare * 100.0, 1), fixed(cord.farVolts, 1), count(cord.joints),
           circuit::inEdition(d.set.codeEdition, cord.limitSource)});
  }
  return t.take();
}

Table boxHeatTable(const Digest& d) {
  TableBuilder t("box_heat");
  t.words("box").number("supplies").number("heat", "W").number("heat_full", "W").number("wall_area", "m2");
  t.words("cooling")
      .number("rise", "K")
      .number("air_celsius")
      .number("air_full_celsius")
      .words("size_assumed");
  for (const Id id : d.boxes()) {
    const auto* limit = lookUp(d.a.limit.mains.boxes, id);
    const auto* full = lookUp(d.a.fullWhite.mains.boxes, id);
    if (limit == nullptr || full == nullptr) continue;
    const yard::BoxCooling cooling = yard::find<yard::Box>(d.y, id)->cooling;
    t.row(id, {d.label(id), count(static_cast<std::int64_t>(d.suppliesIn(id).size())), fixed(limit->heat, 1),
               fixed(full->heat, 1), fixed(limit->area, 3),
               yard::words(cooling)[static_cast<std::size_t>(cooling)].label, fixed(limit->rise, 1),
               fixed(limit->inside, 1), fixed(full->inside, 1), yesIf(limit->assumedSize)});
  }
  return t.take();
}

std::vector<std::pair<Id, circuit::Protection>> protections(const Digest& d) {
  std::vector<std::pair<Id, circuit::Protection>> all;
  const auto consider = [&](Id id) {
    if (auto found = circuit::protectionOf(d.y, d.a.routes, d.a.layouts, d.a.limit, d.a.fullWhite, id))
      all.emplace_back(id, std::move(*found));
  };
  for (const auto& [id, port] : byLabel<yard::Port>(d)) consider(id);
  for (const auto& [id, position] : byLabel<yard::FusePosition>(d)) consider(id);
  return all;
}

Table fuseChoiceTable(const Digest& d) {
  TableBuilder t("fuse_choice");
  t.words("position").number("amps_limit", "A").number("amps_full", "A").number("fuse", "A");
  t.number("usual_fuse", "A").number("largest_fuse", "A").number("limit", "A").words("limit_by");
  t.words("limit_source")
      .words("wire")
      .number("usual_gauge", "AWG")
      .number("lost_on_thinnest", "V")
      .words("opens_at_full");
  for (const auto& [id, p] : protections(d)) {
    const auto* port = yard::find<yard::Port>(d.y, id);
    const auto* position = yard::find<yard::FusePosition>(d.y, id);
    const base::Current fitted = port != nullptr ? port->fuse : position->fuse;
    t.row(id,
          {d.label(id), amps(p.load), amps(p.fullWhite), fitted ? printed(fitted) : "",
           p.choice.fuse ? printed(p.choice.fuse) : "", p.choice.largest ? printed(p.choice.largest) : "",
           p.choice.limit.amps > 0 ? trimmed(p.choice.limit.amps, 2) : "", p.choice.limit.part,
           p.choice.limit.source, d.wireName(p.wire), p.wireChoice.gauge ? count(*p.wireChoice.gauge) : "",
           p.wireChoice.gauge ? fixed(p.wireChoice.drop, 2) : "", yesIf(p.choice.opensAtFullWhite)});
  }
  return t.take();
}

std::string energyText(const Digest& d) {
  const circuit::EnergyFigure& e = d.a.limit.mains.energy;
  if (e.hours <= 0.0) return say("energy_no_hours", {{"watts", fixed(e.watts, 0)}});
  Facts facts{
      {"watts", fixed(e.watts, 0)},        {"share", d.set.averageShare}, {"hours", trimmed(e.hours, 1)},
      {"night", fixed(e.kwhANight, 1)},    {"nights", e.nights},          {"kwh", fixed(e.kwh, 0)},
      {"cost", d.set.currency + costOf(e)}};
  if (e.nights == 0) return say("energy_night", facts);
  return say(e.priced ? "energy_season_cost" : "energy_season", facts);
}

}  // namespace yw::papers
