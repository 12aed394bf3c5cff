#include <algorithm>

#include "core/papers/sheets/sheets.h"

namespace yw::papers {
namespace {

struct BoxParts {
  std::vector<Id> owners, supplies, ports, fuses;
  std::set<Id> all;       ///< what findings of this box may be about
  std::set<Id> cablesOf;  ///< runs and feeds that start here
};

BoxParts partsOf(const Digest& d, Id box) {
  BoxParts parts;
  parts.owners = d.portOwners(box);
  parts.supplies = d.suppliesIn(box);
  parts.all.insert(box);
  for (const Id owner : parts.owners) {
    parts.all.insert(owner);
    for (const auto& [id, port] : yard::portsOf(d.y, owner)) parts.ports.push_back(id);
  }
  for (const Id supply : parts.supplies) {
    parts.all.insert(supply);
    for (const auto& [id, position] : yard::fusePositionsOf(d.y, supply)) parts.fuses.push_back(id);
  }
  for (const Id port : parts.ports) {
    parts.all.insert(port);
    if (const Id run = yard::runOnPort(d.y, port)) parts.cablesOf.insert(run);
  }
  for (const Id fuse : parts.fuses) {
    parts.all.insert(fuse);
    if (const Id feed = yard::feedOnFusePosition(d.y, fuse)) parts.cablesOf.insert(feed);
  }
  parts.all.insert(parts.cablesOf.begin(), parts.cablesOf.end());
  return parts;
}

std::string mainsOf(const Digest& d, const yard::Supply& supply) {
  const auto* outlet = yard::find<yard::Outlet>(d.y, supply.outlet);
  if (outlet == nullptr) return say("no_outlet");
  const auto* circuit = yard::find<yard::HouseCircuit>(d.y, outlet->circuit);
  if (circuit == nullptr) return d.label(supply.outlet);
  return say("outlet_on_circuit", {{"outlet", d.label(supply.outlet)},
                                   {"circuit", d.label(outlet->circuit)},
                                   {"amps", trimmed(base::amps(circuit->breaker).si, 1)},
                                   {"protection", circuit->groundFault ? say("gfci") : say("no_gfci")}});
}

using NamedFacts = std::vector<std::pair<std::string, std::string>>;

NamedFacts boxFacts(const Digest& d, Id id) {
  const auto* box = yard::find<yard::Box>(d.y, id);
  NamedFacts facts{{say("fact_place"), placeText(d, yard::TerminalKind::Box, id)}};
  if (box->wall) facts.emplace_back(say("fact_on_wall"), d.label(box->wall));
  facts.emplace_back(say("fact_leads_leave"),
                     d.height(base::metres(box->wall && box->at.y.count > 0 ? box->at.y : box->height).si));
  if (const std::string heat = heatText(d, id); !heat.empty()) facts.emplace_back(say("fact_heat"), heat);
  return facts;
}

/// `Controller K1`; a board whose name says what it is, `Controller 2`, is not called so twice.
std::string titled(const std::string& key, const std::string& label) {
  const std::string kind = say(key, {{"label", ""}});
  return label.starts_with(kind.substr(0, kind.find(' '))) ? label : say(key, {{"label", label}});
}

/// What is in the box, one line a thing.
NamedFacts contents(const Digest& d, const BoxParts& parts) {
  NamedFacts facts;
  for (const Id supply : parts.supplies) {
    const auto* record = yard::find<yard::Supply>(d.y, supply);
    facts.emplace_back(say("fact_supply", {{"label", d.label(supply)}}),
                       say("supply_line", {{"volts", trimmed(base::volts(record->voltage).si, 2)},
                                           {"amps", trimmed(base::amps(record->ratedAmps).si, 2)},
                                           {"model", record->model}}));
    facts.emplace_back(say("fact_may_give"), nowText(d, supply));
    facts.emplace_back(say("fact_plugged"), mainsOf(d, *record));
  }
  for (const Id owner : parts.owners) {
    if (const auto* controller = yard::find<yard::Controller>(d.y, owner))
      facts.emplace_back(
          titled("fact_controller", d.label(owner)),
          say("controller_line",
              {{"model", controller->model},
               {"address", controller->address.empty() ? say("no_address") : controller->address},
               {"protocol", controller->protocol}}));
    if (const auto* receiver = yard::find<yard::Receiver>(d.y, owner))
      facts.emplace_back(titled("fact_receiver", d.label(owner)),
                         say("receiver_line", {{"controller", d.labelOrDash(receiver->controller)}}));
  }
  return facts;
}

constexpr std::size_t kMostFacts = 8;  // lines beside the locator; more go into a table

void contentsTable(SheetPages& sheet, const NamedFacts& inside) {
  PaperTable table;
  table.column(say("head_item")).column(say("head_what"));
  for (const auto& [name, value] : inside) table.row({}, {textCell(name), textCell(value)});
  sheet.heading(say("in_the_box"), 30.0);
  draw(sheet, table);
}

Cell ampsCell(double limit, double full, double allowed, bool assumed, const std::string& ifLost) {
  Cell cell{Cell::Kind::Text,
            {{ampsText(limit) + star(assumed), kTextSize},
             {say("at_full_white", {{"amps", ampsText(full)}}), kNoteSize}}};
  if (!ifLost.empty()) cell.lines.push_back({ifLost, kNoteSize});
  if (allowed > 0.0) cell.used = limit / allowed;
  return cell;
}

std::string restOfRun(const std::vector<Piece>& pieces, const Digest& d) {
  std::string names;
  bool first = true;
  for (const Piece& piece : pieces) {
    if (piece.kind != yard::RunItemKind::Stretch) continue;
    if (!first) names += (names.empty() ? "" : ", ") + d.label(piece.prop);
    first = false;
  }
  return names;
}

void portRow(PaperTable& table, const Digest& d, Id id) {
  const auto* port = yard::find<yard::Port>(d.y, id);
  const Id run = yard::runOnPort(d.y, id);
  const std::string fuse = port->fuse ? trimmed(base::amps(port->fuse).si, 2) + " A" : "—";
  if (!run) {
    table.row(id, {idCell(d.label(id)), textCell(say("spare")), textCell(""), textCell(""), textCell(fuse),
                   textCell(""), Cell{}});
    return;
  }
  const std::vector<Piece> pieces = d.pieces(run);
  const auto first = std::find_if(pieces.begin(), pieces.end(),
                                  [](const Piece& p) { return p.kind == yard::RunItemKind::Stretch; });
  Cell plugs;
  if (first != pieces.end()) plugs.lines.push_back({d.label(first->prop), kTextSize, true});
  if (first != pieces.end() && !first->enters.empty())
    plugs.lines.push_back({say("in_at", {{"landmark", first->enters}}), kNoteSize});
  const std::string rest = restOfRun(pieces, d);
  if (!rest.empty()) plugs.lines.push_back({say("then", {{"props", rest}}), kNoteSize});
  const data::RunData* counts = d.dataOf(run);
  const auto* limit = lookUp(d.a.limit.portAmps, id);
  const auto* full = lookUp(d.a.fullWhite.portAmps, id);
  const routes::RoutedCable* lead = pieces.empty() ? nullptr : pieces.front().lead;
  Cell leadCell;
  if (lead != nullptr) {
    leadCell.lines = {{lead->label, kTextSize, true},
                      {d.cutText(lead->cutLength) + "  " + d.wireName(lead->wire), kNoteSize}};
  }
  const double allowed = base::amps(port->fuse && port->fuse < port->limit ? port->fuse : port->limit).si;
  table.row(id, {idCell(d.label(id)), plugs, textCell(counts ? std::to_string(counts->pixels) : ""), leadCell,
                 textCell(fuse),
                 ampsCell(limit ? *limit : 0.0, full ? *full : 0.0, allowed, d.assumedRun(run), d.ifLost(id)),
                 tickCell()});
}

void ports(SheetPages& sheet, const Digest& d, const BoxParts& parts) {
  for (const Id owner : parts.owners) {
    PaperTable table;
    table.column(say("head_port")).column(say("head_plugs_in")).column(say("head_pixels"), Align::Right);
    table.column(say("head_lead"))
        .column(say("head_fuse"), Align::Right)
        .column(say("head_amps_limit"), Align::Right);
    table.column(say("head_done"), Align::Center);
    for (const auto& [id, port] : yard::portsOf(d.y, owner)) portRow(table, d, id);
    if (table.rows.empty()) continue;
    sheet.heading(say("ports_of", {{"owner", d.label(owner)}}), 30.0);
    draw(sheet, table);
  }
}

std::string withoutText(const Digest& d, Id feed) {
  const Id run = d.runOfFeed(feed);
  if (!run) return "—";
  const PowerPoint point = d.powerPoint(feed);
  return say(point.alone ? "dark_without" : "low_without",
             {{"run", d.label(run)}, {"pixels", rangeText(point.first, point.last)}});
}

void fuseRow(PaperTable& table, const Digest& d, Id id) {
  const auto* position = yard::find<yard::FusePosition>(d.y, id);
  const Id feed = yard::feedOnFusePosition(d.y, id);
  const std::string rating = trimmed(base::amps(position->fuse).si, 2) + " A";
  if (!feed) {
    table.row(id, {idCell(d.label(id)), textCell(rating), textCell(say("spare")), textCell(""), textCell(""),
                   textCell(""), Cell{}});
    return;
  }
  const routes::RoutedCable* way = d.feedCable(feed);
  const auto* limit = lookUp(d.a.limit.feeds, feed);
  const auto* full = lookUp(d.a.fullWhite.feeds, feed);
  const Id run = d.runOfFeed(feed);
  table.row(id, {idCell(d.label(id)), textCell(rating), textCell(feedPlace(d, feed)),
                 way ? twoLines(d.cutText(way->cutLength), d.wireName(way->wire)) : textCell(""),
                 noteCell(withoutText(d, feed)),
                 ampsCell(limit ? limit->amps : 0.0, full ? full->amps : 0.0, base::amps(position->fuse).si,
                          d.assumedRun(run), d.ifLost(id)),
                 tickCell()});
}

void fuses(SheetPages& sheet, const Digest& d, const BoxParts& parts) {
  if (parts.fuses.empty()) return;
  PaperTable table;
  table.column(say("head_fuse_position")).column(say("head_fuse"), Align::Right).column(say("head_feeds"));
  table.column(say("head_lead_cut"))
      .column(say("head_without_it"))
      .column(say("head_amps_limit"), Align::Right);
  table.column(say("head_done"), Align::Center);
  for (const Id fuse : parts.fuses) fuseRow(table, d, fuse);
  sheet.heading(say("fuses_head"), 30.0);
  draw(sheet, table);
}

void settingsToType(SheetPages& sheet, const Digest& d, const BoxParts& parts) {
  PaperTable table;
  table.rowHeight = 7.5;
  table.column(say("head_port"))
      .column(say("head_start_address"), Align::Right)
      .column(say("head_end_address"), Align::Right);
  table.column(say("head_pixels"), Align::Right)
      .column(say("head_nulls"), Align::Right)
      .column(say("head_color_order"));
  table.column(say("head_brightness"), Align::Right).column(say("head_done"), Align::Center);
  for (const Id id : parts.ports) {
    const Id run = yard::runOnPort(d.y, id);
    const data::RunData* counts = run ? d.dataOf(run) : nullptr;
    if (counts == nullptr || !counts->addressed) continue;
    std::string order;
    for (const Id product : counts->products)
      if (const auto* record = yard::find<yard::Product>(d.y, product))
        order += (order.empty() ? "" : ", ") + record->colorOrder;
    const auto address = [](data::Address a) {
      return say("address", {{"universe", std::to_string(a.universe)}, {"slot", std::to_string(a.slot)}});
    };
    table.row(id, {idCell(d.label(id)), textCell(address(counts->start)), textCell(address(counts->end)),
                   textCell(std::to_string(counts->pixels)), textCell(std::to_string(counts->nulls)),
                   textCell(order), textCell(trimmed(d.brightnessLimit() * 100, 1) + " %"), tickCell()});
  }
  if (table.rows.empty()) return;
  sheet.heading(
      say("settings_head", {{"rate", trimmed(static_cast<double>(d.set.frameRate.count) * 1e-3, 2)}}), 30.0);
  draw(sheet, table);
}

/// The order of first tests on a box. Common practice, no source.
void steps(SheetPages& sheet) {
  PaperTable table;
  table.column(say("head_step"), Align::Right)
      .column(say("head_do_this"))
      .column(say("head_done"), Align::Center);
  for (int i = 1; i <= 8; ++i)
    table.row({}, {textCell(std::to_string(i)), textCell(say("test_step_" + std::to_string(i))), tickCell()});
  sheet.heading(say("steps_head"), 40.0);
  draw(sheet, table);
}

void supplyChecks(SheetPages& sheet, const Digest& d, const BoxParts& parts) {
  if (parts.supplies.empty()) return;
  PaperTable table;
  table.column(say("head_supply")).column(say("head_volts_block"), Align::Right).column(say("head_measured"));
  table.column(say("head_amps_limit"), Align::Right)
      .column(say("head_measured"))
      .column(say("head_mains"), Align::Right);
  table.column(say("head_measured"));
  for (const Id id : parts.supplies) {
    const auto* supply = yard::find<yard::Supply>(d.y, id);
    const auto* limit = lookUp(d.a.limit.supplies, id);
    const double usable = base::amps(supply->ratedAmps).si * base::fraction(d.set.supplyUsable);
    Cell amps = textCell(limit ? ampsText(limit->amps) : "—");
    if (limit != nullptr && usable > 0) amps.used = limit->amps / usable;
    table.row(id,
              {idCell(d.label(id)), textCell(voltsText(base::volts(supply->voltage).si)), blankCell(), amps,
               blankCell(), textCell(limit ? ampsText(limit->lineAmps) + star(d.assumedSupply(id)) : "—"),
               blankCell()});
  }
  sheet.heading(say("supply_checks"), 30.0);
  draw(sheet, table);
}

void portChecks(SheetPages& sheet, const Digest& d, const BoxParts& parts) {
  PaperTable table;
  table.column(say("head_port")).column(say("head_first_pixel")).column(say("head_count_lit"), Align::Right);
  table.column(say("head_done"), Align::Center)
      .column(say("head_amps_limit"), Align::Right)
      .column(say("head_measured"));
  for (const Id id : parts.ports) {
    const Id run = yard::runOnPort(d.y, id);
    if (!run) continue;
    const data::RunData* counts = d.dataOf(run);
    const auto* limit = lookUp(d.a.limit.portAmps, id);
    std::string first = "—";
    for (const Piece& piece : d.pieces(run))
      if (piece.kind == yard::RunItemKind::Stretch) {
        first = piece.enters.empty()
                    ? d.label(piece.prop)
                    : say("place_at_landmark", {{"place", d.label(piece.prop)}, {"landmark", piece.enters}});
        break;
      }
    table.row(id,
              {idCell(d.label(id)), textCell(first), textCell(counts ? std::to_string(counts->pixels) : "—"),
               tickCell(), textCell(limit ? ampsText(*limit) + star(d.assumedRun(run)) : "—"), blankCell()});
  }
  if (table.rows.empty()) return;
  sheet.heading(say("port_checks"), 30.0);
  draw(sheet, table);
}

void fuseChecks(SheetPages& sheet, const Digest& d, const BoxParts& parts) {
  PaperTable table;
  table.column(say("head_fuse_position"))
      .column(say("head_polarity"), Align::Center)
      .column(say("head_amps_limit"), Align::Right);
  table.column(say("head_measured")).column(say("head_pull_it")).column(say("head_done"), Align::Center);
  for (const Id id : parts.fuses) {
    const Id feed = yard::feedOnFusePosition(d.y, id);
    if (!feed) continue;
    const auto* limit = lookUp(d.a.limit.feeds, feed);
    table.row(id, {idCell(d.label(id)), tickCell(),
                   textCell(limit ? ampsText(limit->amps) + star(d.assumedRun(d.runOfFeed(feed))) : "—"),
                   blankCell(), noteCell(withoutText(d, feed)), tickCell()});
  }
  if (table.rows.empty()) return;
  sheet.heading(say("fuse_checks"), 30.0);
  draw(sheet, table);
}

}  // namespace

void fillBoxPage(SheetPages& sheet, const Digest& d, const findings::Report& report, Id box) {
  const BoxParts parts = partsOf(d, box);
  PlanStyle style;
  style.shown = {box};
  style.cablesOf = parts.cablesOf;
  const double mapWidth = 70.0, mapHeight = 52.0 * sheet.tight();
  drawLocator(sheet, d, {sheet.right() - mapWidth, sheet.y, mapWidth, mapHeight}, style);
  NamedFacts facts = boxFacts(d, box), inside = contents(d, parts);
  const bool few = inside.size() <= kMostFacts;
  if (few) facts.insert(facts.end(), inside.begin(), inside.end());
  const double below = drawFacts(sheet, sheet.left(), sheet.y, sheet.width() - mapWidth - 5.0, facts);
  sheet.y = std::max(below, sheet.y + mapHeight) + 1.0;
  const std::string& notes = yard::find<yard::Box>(d.y, box)->notes;
  if (!notes.empty()) sheet.paragraph(say("notes_line", {{"notes", notes}}), {kTextSize});
  if (!few) contentsTable(sheet, inside);
  drawFindings(sheet, d, report, parts.all);
  ports(sheet, d, parts);
  fuses(sheet, d, parts);
  settingsToType(sheet, d, parts);

  sheet.newPage();
  sheet.setPageTitle(say("box_checking_title", {{"box", d.label(box)}}));
  steps(sheet);
  supplyChecks(sheet, d, parts);
  portChecks(sheet, d, parts);
  fuseChecks(sheet, d, parts);
}

}  // namespace yw::papers
