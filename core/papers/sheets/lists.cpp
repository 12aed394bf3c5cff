#include <algorithm>

#include "core/base/number_text.h"
#include "core/papers/sheets/sheets.h"

namespace yw::papers {
namespace {

Cell amps(double limit, double full, double allowed, bool assumed, const std::string& ifLost = "") {
  Cell cell{Cell::Kind::Text,
            {{ampsText(limit) + star(assumed), kTextSize},
             {say("at_full_white", {{"amps", ampsText(full)}}), kNoteSize}}};
  if (!ifLost.empty()) cell.lines.push_back({ifLost, kNoteSize});
  if (allowed > 0.0) cell.used = limit / allowed;
  return cell;
}

void feedRow(PaperTable& table, const Digest& d, Id id) {
  const auto* cable = yard::find<yard::Cable>(d.y, id);
  const auto* position = yard::find<yard::FusePosition>(d.y, cable->from.record);
  const routes::RoutedCable* way = d.feedCable(id);
  const auto* limit = lookUp(d.a.limit.feeds, id);
  const auto* full = lookUp(d.a.fullWhite.feeds, id);
  const Id run = d.runOfFeed(id);
  const double fuse = position ? base::amps(position->fuse).si : 0.0;
  Cell lands = twoLines(
      feedPlace(d, id),
      run ? say("feed_run_line", {{"run", d.label(run)},
                                  {"pixel", d.powerPoint(id).pixel},
                                  {"v_plus", cable->cutPositive ? say("v_plus_cut") : say("v_plus_through")}})
          : say("feed_without_run"));
  table.row(id, {idCell(d.label(id)), textCell(trimmed(fuse, 2) + " A"),
                 way ? twoLines(d.cutText(way->cutLength), d.wireName(way->wire)) : textCell("—"), lands,
                 amps(limit ? limit->amps : 0.0, full ? full->amps : 0.0, fuse, run && d.assumedRun(run),
                      d.ifLost(cable->from.record)),
                 textCell(limit ? voltsText(limit->voltsAtPixel) + star(run && d.assumedRun(run)) : "—"),
                 blankCell(), tickCell()});
}

void supplyRows(PaperTable& table, const Digest& d, Id id) {
  const auto* supply = yard::find<yard::Supply>(d.y, id);
  const auto* limit = lookUp(d.a.limit.supplies, id);
  const auto* full = lookUp(d.a.fullWhite.supplies, id);
  const double rated = base::amps(supply->ratedAmps).si, usable = rated * base::fraction(d.set.supplyUsable);
  const routes::RoutedCable* cord = lastCord(d, id);
  table.row(id,
            {idCell(d.label(id)),
             twoLines(say("supply_line", {{"volts", trimmed(base::volts(supply->voltage).si, 2)},
                                          {"amps", trimmed(rated, 2)},
                                          {"model", supply->model}}),
                      say("plan_on", {{"amps", ampsText(usable)}}) + "; " + nowText(d, id)),
             amps(limit ? limit->amps : 0.0, full ? full->amps : 0.0, usable, false),
             twoLines(limit ? ampsText(limit->lineAmps) + star(d.assumedSupply(id)) : "—",
                      say("leakage_line", {{"leakage", trimmed(base::amps(supply->leakage).si * 1e3, 2)}})),
             twoLines(supply->outlet ? d.label(supply->outlet) : say("no_outlet"),
                      cord ? say("cord_line", {{"cut", d.cutText(cord->cutLength)}}) : ""),
             tickCell()});
}

}  // namespace

void fillFeeds(SheetPages& sheet, const Digest& d) {
  Id box;
  PaperTable table;
  table.column(say("head_feed"))
      .column(say("head_fuse"), Align::Right)
      .column(say("head_lead_cut"))
      .column(say("head_lands_at"));
  table.column(say("head_amps_limit"), Align::Right)
      .column(say("head_volts_expected"), Align::Right)
      .column(say("head_measured"));
  table.column(say("head_done"), Align::Center);
  for (const Id id : d.feeds()) {
    const Id from = yard::boxOf(d.y, yard::find<yard::Cable>(d.y, id)->from.record);
    if (from != box || table.rows.empty())
      table.band(from, from ? say("from_box", {{"box", d.label(from)}}) : say("from_no_box"));
    box = from;
    feedRow(table, d, id);
  }
  if (table.rows.empty()) {
    sheet.paragraph(say("no_feeds"));
    return;
  }
  draw(sheet, table);
}

void fillSupplies(SheetPages& sheet, const Digest& d) {
  PaperTable table;
  table.column(say("head_supply")).column(say("head_output")).column(say("head_amps_limit"), Align::Right);
  table.column(say("head_mains"), Align::Right)
      .column(say("head_outlet"))
      .column(say("head_done"), Align::Center);
  std::vector<Id> supplies;
  for (const auto& [id, supply] : yard::all<yard::Supply>(d.y)) supplies.push_back(id);
  std::stable_sort(supplies.begin(), supplies.end(),
                   [&](Id l, Id r) { return naturalLess(d.label(l), d.label(r)); });
  for (const Id id : supplies) supplyRows(table, d, id);
  if (table.rows.empty()) {
    sheet.paragraph(say("no_supplies"));
  } else {
    draw(sheet, table);
  }
  PaperTable fuses;
  fuses.rowHeight = 8.0;
  fuses.column(say("head_fuse_position"))
      .column(say("head_fuse"), Align::Right)
      .column(say("head_holder"), Align::Right);
  fuses.column(say("head_feeds"))
      .column(say("head_amps_limit"), Align::Right)
      .column(say("head_done"), Align::Center);
  for (const Id supply : supplies)
    for (const auto& [id, position] : yard::fusePositionsOf(d.y, supply)) {
      const Id feed = yard::feedOnFusePosition(d.y, id);
      const auto* limit = lookUp(d.a.limit.feeds, feed);
      const auto* full = lookUp(d.a.fullWhite.feeds, feed);
      const double fuse = base::amps(position->fuse).si;
      fuses.row(id, {idCell(d.label(id)), textCell(trimmed(fuse, 2) + " A"),
                     textCell(trimmed(base::amps(position->holderLimit).si, 2) + " A"),
                     textCell(feed ? feedPlace(d, feed) : say("spare")),
                     feed ? amps(limit ? limit->amps : 0.0, full ? full->amps : 0.0, fuse,
                                 d.assumedRun(d.runOfFeed(feed)), d.ifLost(id))
                          : textCell(""),
                     feed ? tickCell() : Cell{}});
    }
  if (!fuses.rows.empty()) {
    sheet.heading(say("fuses_head"), 30.0);
    draw(sheet, fuses);
  }
  drawCords(sheet, d);
  drawCircuits(sheet, d);
}

void fillCutList(SheetPages& sheet, const Digest& d) {
  PaperTable table;
  table.column(say("head_lead"))
      .column(say("head_cut"), Align::Right)
      .column(say("head_from"))
      .column(say("head_to"));
  table.column(say("head_cut_tick"), Align::Center)
      .column(say("head_labeled_tick"), Align::Center)
      .column(say("head_tested_tick"), Align::Center);
  const std::vector<const routes::RoutedCable*> cables = cutOrder(d);
  for (std::size_t i = 0; i < cables.size();) {
    std::size_t end = i;
    base::Length total{0};
    for (; end < cables.size() && cables[end]->wire == cables[i]->wire; ++end)
      if (!cables[end]->owned) total += cables[end]->cutLength;
    const Id wire = cables[i]->wire ? cables[i]->wire : sheet.record();
    table.band(wire, say("wire_band", {{"wire", d.wireName(cables[i]->wire)},
                                       {"count", static_cast<std::int64_t>(end - i)},
                                       {"total", base::longLengthText(total, d.units)}}));
    for (; i < end; ++i) {
      const routes::RoutedCable& cable = *cables[i];
      Cell id = idCell(cable.label);
      id.lines.push_back({roleText(cable.key.role) + (cable.owned ? ", " + say("own_lead") : ""), kNoteSize});
      Cell cut{Cell::Kind::Text, {{d.cutText(cable.cutLength), kIdSize, true}}};
      table.row(cable.record ? cable.record : cable.key.of,
                {id, cut, textCell(cable.fromText), textCell(cable.toText), cable.owned ? Cell{} : tickCell(),
                 tickCell(), tickCell()});
    }
  }
  if (table.rows.empty()) {
    sheet.paragraph(say("no_cables"));
    return;
  }
  sheet.paragraph(say("cut_list_note"), {kNoteSize});
  sheet.space(1.0);
  draw(sheet, table);
}

void fillAddresses(SheetPages& sheet, const Digest& d) {
  PaperTable table;
  table.rowHeight = 7.5;
  table.column(say("head_port")).column(say("head_name")).column(say("head_start_address"), Align::Right);
  table.column(say("head_end_address"), Align::Right)
      .column(say("head_pixels"), Align::Right)
      .column(say("head_nulls"), Align::Right);
  table.column(say("head_color_order")).column(say("head_done"), Align::Center);
  const auto mono = [](const std::string& text) {
    return Cell{Cell::Kind::Text, {{text, kTextSize, false, true}}};
  };
  const auto address = [](data::Address a) {
    return say("address", {{"universe", std::to_string(a.universe)}, {"slot", std::to_string(a.slot)}});
  };
  Id owner;
  for (const Id id : d.runs()) {
    const auto* run = yard::find<yard::Run>(d.y, id);
    const auto* port = yard::find<yard::Port>(d.y, run->port);
    const data::RunData* counts = d.dataOf(id);
    if (port == nullptr || counts == nullptr || !counts->addressed) continue;
    if (port->owner != owner || table.rows.empty()) {
      owner = port->owner;
      const auto* receiver = yard::find<yard::Receiver>(d.y, owner);
      const Id head = receiver != nullptr ? receiver->controller : owner;
      const auto* controller = yard::find<yard::Controller>(d.y, head);
      const std::string where =
          controller == nullptr || controller->address.empty() ? say("no_address") : controller->address;
      table.band(owner, say(receiver ? "receiver_band" : "controller_band",
                            {{"owner", d.label(owner)},
                             {"controller", d.labelOrDash(head)},
                             {"address", where},
                             {"protocol", controller ? controller->protocol : std::string("—")}}));
    }
    std::string order;
    for (const Id product : counts->products)
      if (const auto* record = yard::find<yard::Product>(d.y, product))
        order += (order.empty() ? "" : ", ") + record->colorOrder;
    table.row(id, {idCell(d.label(id)), textCell(run->name), mono(address(counts->start)),
                   mono(address(counts->end)), textCell(std::to_string(counts->pixels)),
                   textCell(std::to_string(counts->nulls)), textCell(order), tickCell()});
  }
  if (table.rows.empty()) {
    sheet.paragraph(say("no_addresses"));
    return;
  }
  sheet.paragraph(say("address_note"), {kNoteSize});
  sheet.space(1.0);
  draw(sheet, table);
}

void fillParts(SheetPages& sheet, const Digest& d) {
  PaperTable table;
  table.rowHeight = 7.5;
  table.column(say("head_part"))
      .column(say("head_need"), Align::Right)
      .column(say("head_owned"), Align::Right);
  table.column(say("head_strings"), Align::Right)
      .column(say("head_cost") + ", " + d.set.currency, Align::Right)
      .column(say("head_done"), Align::Center);
  std::string group;
  for (const takeoff::PartLine& line : d.a.totals.parts) {
    if (line.group != group || table.rows.empty()) table.band({}, line.group);
    group = line.group;
    const std::string need =
        line.length ? base::longLengthText(line.length, d.units) : std::to_string(line.count);
    table.row(
        {}, {textCell(line.what), textCell(need), textCell(line.owned ? std::to_string(line.owned) : ""),
             textCell(line.strings ? std::to_string(line.strings) : ""),
             textCell(line.priced ? fixed(static_cast<double>(line.cost.count) * 1e-4, 2) : say("no_price")),
             tickCell()});
  }
  if (table.rows.empty()) {
    sheet.paragraph(say("no_parts"));
    return;
  }
  draw(sheet, table);
  const std::string cost = d.set.currency + fixed(static_cast<double>(d.a.totals.cost.count) * 1e-4, 2);
  const takeoff::Totals& totals = d.a.totals;
  sheet.paragraph(say(totals.costComplete      ? "cost_total"
                      : totals.cost.count == 0 ? "cost_total_none"
                                               : "cost_total_open",
                      {{"cost", cost}}),
                  {kTextSize, true});
}

}  // namespace yw::papers
