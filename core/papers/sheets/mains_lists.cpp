#include "core/papers/mains_tables.h"
#include "core/papers/sheets/sheets.h"

namespace yw::papers {
namespace {

/// Part of a breaker that a load of three hours or more may use: NEC 210.20(A), 125 % of a continuous load.
constexpr double kContinuousPart = 0.8;

Cell ampsCell(double limit, double full, double allowed, bool assumed) {
  Cell cell{Cell::Kind::Text,
            {{ampsText(limit) + star(assumed), kTextSize},
             {say("at_full_white", {{"amps", ampsText(full)}}), kNoteSize}}};
  if (allowed > 0.0) cell.used = limit / allowed;
  return cell;
}

}  // namespace

const routes::RoutedCable* lastCord(const Digest& d, Id supply) {
  const auto way = routes::cordsTo(d.y, routes::boxCords(d.y), supply);
  return way.empty() ? nullptr : d.cable(way.back());
}

std::string nowText(const Digest& d, Id supply) {
  const auto* now = lookUp(d.a.limit.mains.supplies, supply);
  return now == nullptr ? say("now_line", {{"amps", std::string("—")}, {"air", std::string("—")}})
                        : say("now_line", {{"amps", ampsText(now->ratedNow)}, {"air", fixed(now->air, 0)}});
}

std::string heatText(const Digest& d, Id box) {
  const auto* limit = lookUp(d.a.limit.mains.boxes, box);
  const auto* full = lookUp(d.a.fullWhite.mains.boxes, box);
  if (limit == nullptr || full == nullptr) return {};
  return say(limit->assumedSize ? "heat_line_assumed" : "heat_line", {{"heat", fixed(limit->heat, 0)},
                                                                      {"air", fixed(limit->inside, 0)},
                                                                      {"air_full", fixed(full->inside, 0)}});
}

void drawCords(SheetPages& sheet, const Digest& d) {
  PaperTable table;
  table.column(say("head_cord")).column(say("head_wire")).column(say("head_amps_limit"), Align::Right);
  table.column(say("head_end_volts"), Align::Right).column(say("head_joints"), Align::Right);
  table.column(say("head_done"), Align::Center);
  for (const auto& [key, cord] : d.a.limit.mains.cords) {
    const routes::RoutedCable* cable = d.cable(key);
    const auto* full = lookUp(d.a.fullWhite.mains.cords, key);
    if (cable == nullptr) continue;
    Cell id = idCell(cable->label);
    id.lines.push_back({say("cord_from_to", {{"from", cable->fromText}, {"to", cable->toText}}), kNoteSize});
    table.row(cable->record ? cable->record : key.of,
              {id, twoLines(d.wireName(cable->wire), d.cutText(cable->cutLength)),
               ampsCell(cord.amps, full ? full->amps : 0.0, cord.limit, d.assumedSupply(key.of)),
               twoLines(voltsText(cord.farVolts),
                        say("cord_lost_line",
                            {{"lost", fixed(cord.lost, 1)}, {"percent", fixed(cord.lostShare * 100.0, 1)}})),
               textCell(std::to_string(cord.joints)), tickCell()});
  }
  if (table.rows.empty()) return;
  sheet.heading(say("cords_head"), 30.0);
  draw(sheet, table);
}

void drawCircuits(SheetPages& sheet, const Digest& d) {
  PaperTable table;
  table.column(say("head_circuit"))
      .column(say("head_breaker"), Align::Right)
      .column(say("head_gfci"))
      .column(say("head_on_it"));
  table.column(say("head_amps_limit"), Align::Right)
      .column(say("head_leakage_sum"), Align::Right)
      .column(say("head_measured"));
  for (const auto& [id, circuit] : yard::all<yard::HouseCircuit>(d.y)) {
    const auto* limit = lookUp(d.a.limit.circuits, id);
    const auto* full = lookUp(d.a.fullWhite.circuits, id);
    if (limit == nullptr) continue;
    const OnCircuit on = onCircuit(d, id);
    const double breaker = base::amps(circuit->breaker).si;
    Cell onIt = noteCell(on.names);
    if (limit->supplies > 0)
      onIt.lines.push_back(
          {say("inrush_line", {{"count", limit->supplies}, {"amps", trimmed(limit->inrush, 0)}}), kNoteSize});
    const circuit::EnergyFigure energy = circuit::energyOf(d.y, limit->watts);
    table.row(id, {idCell(d.label(id)), textCell(trimmed(breaker, 1) + " A"),
                   textCell(circuit->groundFault ? say("yes") : say("no")), onIt,
                   ampsCell(limit->amps, full ? full->amps : 0.0, breaker * kContinuousPart, on.assumed),
                   twoLines(fixed(limit->leakage * 1e3, 2) + " mA" + star(on.assumed),
                            energy.kwhANight > 0.0
                                ? say("circuit_energy_line", {{"night", fixed(energy.kwhANight, 2)}})
                                : ""),
                   blankCell()});
  }
  if (table.rows.empty()) return;
  sheet.heading(say("circuits_head"), 30.0);
  draw(sheet, table);
  sheet.paragraph(energyText(d));
  sheet.paragraph(say("listing_note"), {kNoteSize});
}

}  // namespace yw::papers
