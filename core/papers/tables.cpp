#include <algorithm>
#include <cmath>

#include "core/base/number_text.h"
#include "core/papers/digest.h"
#include "core/papers/gear_tables.h"
#include "core/papers/level_table.h"
#include "core/papers/mains_tables.h"
#include "core/papers/papers.h"
#include "core/papers/table_builder.h"

namespace yw::papers {
namespace {

std::string count(std::int64_t n) { return std::to_string(n); }
std::string amps(double value) { return fixed(value, 2); }
std::string volts(double value) { return fixed(value, 2); }
std::string percent(double part) { return fixed(part * 100.0, 0); }
std::string yesIf(bool condition) { return condition ? say("yes") : say("no"); }

std::string joined(const std::vector<std::string>& parts, const std::string& between) {
  std::string out;
  for (const std::string& part : parts) out += (out.empty() ? "" : between) + part;
  return out;
}

std::string range(std::int64_t first, std::int64_t last) {
  if (last < first) return "";
  return first == last ? count(first) : count(first) + "–" + count(last);
}

std::string ampsIfLost(const Digest& d, Id gate) {
  const auto* most = lookUp(d.a.faults().most, gate);
  return most == nullptr ? "" : amps(most->amps);
}
std::string whichLost(const Digest& d, Id gate) {
  const auto* most = lookUp(d.a.faults().most, gate);
  return most == nullptr || !most->lost ? "" : d.label(most->lost);
}

Table feedsTable(const Digest& d) {
  TableBuilder t("feeds");
  t.words("feed").words("box").words("supply").number("fuse_position").number("fuse", "A").words("wire");
  t.number("cut", d.lengthUnit()).words("run").words("lands_at").number("run_pixel").words("v_plus");
  t.number("amps_limit", "A").number("amps_full", "A").number("volts_limit", "V").words("nearest_pixels");
  t.words("without_it").words("assumed").number("amps_if_one_lost", "A").words("lost");
  for (const Id id : d.feeds()) {
    const auto* cable = yard::find<yard::Cable>(d.y, id);
    const auto* position = yard::find<yard::FusePosition>(d.y, cable->from.record);
    const routes::RoutedCable* way = d.feedCable(id);
    const auto* limit = lookUp(d.a.limit.feeds, id);
    const auto* full = lookUp(d.a.fullWhite.feeds, id);
    const Id run = d.runOfFeed(id);
    const PowerPoint point = d.powerPoint(id);
    t.row(id, {d.label(id), d.labelOrDash(yard::boxOf(d.y, cable->from.record)),
               position != nullptr ? d.labelOrDash(position->supply) : "",
               position != nullptr ? count(position->number) : "",
               position != nullptr ? trimmed(base::amps(position->fuse).si, 2) : "",
               way != nullptr ? d.wireName(way->wire) : "",
               way != nullptr ? trimmed(d.inUnit(way->cutLength), 2) : "", run ? d.label(run) : "",
               say("pixel_of_prop", {{"prop", d.label(cable->to.record)}, {"pixel", cable->to.pixel}}),
               run ? count(point.pixel) : "", cable->cutPositive ? say("v_plus_cut") : say("v_plus_through"),
               limit != nullptr ? amps(limit->amps) : "", full != nullptr ? amps(full->amps) : "",
               limit != nullptr ? volts(limit->voltsAtPixel) : "", run ? range(point.first, point.last) : "",
               !run          ? ""
               : point.alone ? say("goes_dark")
                             : say("runs_low"),
               run ? yesIf(d.assumedRun(run)) : "", ampsIfLost(d, cable->from.record),
               whichLost(d, cable->from.record)});
  }
  return t.take();
}

std::string circuitOf(const Digest& d, const yard::Supply& supply) {
  const auto* outlet = yard::find<yard::Outlet>(d.y, supply.outlet);
  return outlet == nullptr ? "" : d.labelOrDash(outlet->circuit);
}

void supplyRow(TableBuilder& t, const Digest& d, Id id) {
  const auto* supply = yard::find<yard::Supply>(d.y, id);
  const auto* limit = lookUp(d.a.limit.supplies, id);
  const auto* full = lookUp(d.a.fullWhite.supplies, id);
  const auto* now = lookUp(d.a.limit.mains.supplies, id);
  const double rated = base::amps(supply->ratedAmps).si;
  t.row(id, {d.label(id),
             say("supply"),
             d.labelOrDash(supply->box),
             trimmed(base::volts(supply->voltage).si, 2),
             trimmed(rated, 2),
             amps(rated * base::fraction(d.set.supplyUsable)),
             limit ? amps(limit->amps) : "",
             limit && rated > 0 ? percent(limit->amps / rated) : "",
             full ? amps(full->amps) : "",
             limit ? amps(limit->lineAmps) : "",
             fixed(base::amps(supply->leakage).si * 1e3, 2),
             d.labelOrDash(supply->outlet),
             circuitOf(d, *supply),
             "",
             yesIf(d.assumedSupply(id)),
             now ? amps(now->ratedNow) : "",
             now ? fixed(now->heat, 1) : "",
             now ? fixed(now->air, 1) : "",
             now ? fixed(now->inputVolts, 1) : "",
             trimmed(base::amps(supply->inrush).si, 1)});
}

void fuseRow(TableBuilder& t, const Digest& d, Id id, const yard::FusePosition& position, Id box) {
  const Id feed = yard::feedOnFusePosition(d.y, id);
  const auto* limit = lookUp(d.a.limit.feeds, feed);
  const auto* full = lookUp(d.a.fullWhite.feeds, feed);
  const double rated = base::amps(position.fuse).si;
  const auto* cable = yard::find<yard::Cable>(d.y, feed);
  const Id run = feed ? d.runOfFeed(feed) : Id{};
  t.row(id,
        {d.label(id), say("fuse_position"), d.labelOrDash(box), "", trimmed(rated, 2),
         amps(rated * base::fraction(d.set.fuseUsable)), limit ? amps(limit->amps) : "",
         limit && rated > 0 ? percent(limit->amps / rated) : "", full ? amps(full->amps) : "", "", "", "", "",
         cable != nullptr
             ? say("pixel_of_prop", {{"prop", d.label(cable->to.record)}, {"pixel", cable->to.pixel}})
             : say("spare"),
         run ? yesIf(d.assumedRun(run)) : ""});
}

Table suppliesTable(const Digest& d) {
  TableBuilder t("supplies_fuses");
  t.words("item").words("what").words("box").number("volts", "V").number("rated", "A").number("usable", "A");
  t.number("amps_limit", "A").number("used", "%").number("amps_full", "A").number("mains_amps", "A");
  t.number("leakage", "mA").words("outlet").words("circuit").words("feeds").words("assumed");
  t.number("rated_now", "A")
      .number("heat", "W")
      .number("air_celsius")
      .number("input_volts", "V")
      .number("inrush", "A");
  std::vector<Id> supplies;
  for (const auto& [id, supply] : yard::all<yard::Supply>(d.y)) supplies.push_back(id);
  std::stable_sort(supplies.begin(), supplies.end(),
                   [&](Id l, Id r) { return naturalLess(d.label(l), d.label(r)); });
  for (const Id id : supplies) {
    supplyRow(t, d, id);
    for (const auto& [position, record] : yard::fusePositionsOf(d.y, id))
      fuseRow(t, d, position, *record, yard::find<yard::Supply>(d.y, id)->box);
  }
  return t.take();
}

std::string addressText(std::int64_t universe, std::int64_t slot) {
  return count(universe) + "." + count(slot);
}

/// Controller a port hangs on, through a receiver too.
const yard::Controller* controllerOf(const Digest& d, Id port) {
  const auto* record = yard::find<yard::Port>(d.y, port);
  if (record == nullptr) return nullptr;
  if (const auto* receiver = yard::find<yard::Receiver>(d.y, record->owner))
    return yard::find<yard::Controller>(d.y, receiver->controller);
  return yard::find<yard::Controller>(d.y, record->owner);
}

std::string colorOrders(const Digest& d, const data::RunData& run) {
  std::vector<std::string> orders;
  for (const Id id : run.products) {
    const auto* product = yard::find<yard::Product>(d.y, id);
    if (product != nullptr && std::find(orders.begin(), orders.end(), product->colorOrder) == orders.end())
      orders.push_back(product->colorOrder);
  }
  return joined(orders, " ");
}

Table addressesTable(const Digest& d) {
  TableBuilder t("addresses");
  t.words("port").words("run").words("network_address").words("protocol").number("start_universe");
  t.number("start_slot").number("end_universe").number("end_slot").number("pixels").number("places");
  t.number("channels").words("color_order").words("fixed_by");
  for (const Id id : d.runs()) {
    const data::RunData* run = d.dataOf(id);
    const auto* record = yard::find<yard::Run>(d.y, id);
    if (run == nullptr || !run->addressed) continue;
    const yard::Controller* controller = controllerOf(d, record->port);
    t.row(id, {d.labelOrDash(record->port), record->name, controller ? controller->address : "",
               controller ? controller->protocol : "", count(run->start.universe), count(run->start.slot),
               count(run->end.universe), count(run->end.slot), count(run->pixels), count(run->slots()),
               count(run->channels), colorOrders(d, *run),
               record->startUniverse != 0 ? say("fixed_by_you") : say("fixed_in_order")});
  }
  return t.take();
}

std::string propsInOrder(const Digest& d, Id run) {
  std::vector<std::string> names;
  for (const Piece& piece : d.pieces(run))
    if (piece.kind == yard::RunItemKind::Stretch) names.push_back(d.label(piece.prop));
  return joined(names, " → ");
}

void portRow(TableBuilder& t, const Digest& d, Id id, const yard::Port& port, Id box) {
  const Id runId = yard::runOnPort(d.y, id);
  const data::RunData* run = d.dataOf(runId);
  const auto* limit = lookUp(d.a.limit.portAmps, id);
  const auto* full = lookUp(d.a.fullWhite.portAmps, id);
  const std::vector<Piece> pieces = runId ? d.pieces(runId) : std::vector<Piece>{};
  const routes::RoutedCable* lead = pieces.empty() ? nullptr : pieces.front().lead;
  const auto* record = yard::find<yard::Run>(d.y, runId);
  t.row(id, {d.label(id),
             d.labelOrDash(box),
             record ? record->name : say("spare"),
             runId ? propsInOrder(d, runId) : "",
             run ? count(run->pixels) : "",
             run ? count(run->nulls) : "",
             run && run->addressed ? addressText(run->start.universe, run->start.slot) : "",
             run && run->addressed ? addressText(run->end.universe, run->end.slot) : "",
             run ? colorOrders(d, *run) : "",
             run && limit ? amps(*limit) : "",
             run && full ? amps(*full) : "",
             trimmed(base::amps(port.limit).si, 2),
             port.fuse ? trimmed(base::amps(port.fuse).si, 2) : "",
             lead ? lead->label : "",
             lead ? trimmed(d.inUnit(lead->cutLength), 2) : "",
             lead ? d.wireName(lead->wire) : "",
             run ? fixed(base::seconds(run->frame).si * 1e3, 2) : "",
             run ? count(run->limit()) : "",
             runId ? yesIf(d.assumedRun(runId)) : "",
             ampsIfLost(d, id),
             whichLost(d, id)});
}

Table portsTable(const Digest& d) {
  TableBuilder t("ports");
  t.words("port").words("box").words("run").words("props").number("pixels").number("nulls").words("start");
  t.words("end")
      .words("color_order")
      .number("amps_limit", "A")
      .number("amps_full", "A")
      .number("port_limit", "A");
  t.number("fuse", "A").words("lead").number("cut", d.lengthUnit()).words("wire").number("frame", "ms");
  t.number("most_pixels").words("assumed").number("amps_if_one_lost", "A").words("lost");
  std::vector<std::pair<Id, const yard::Port*>> ports = yard::all<yard::Port>(d.y);
  std::stable_sort(ports.begin(), ports.end(), [&](const auto& l, const auto& r) {
    return naturalLess(d.label(l.first), d.label(r.first));
  });
  for (const auto& [id, port] : ports) portRow(t, d, id, *port, yard::boxOf(d.y, id));
  return t.take();
}

Table runsTable(const Digest& d) {
  TableBuilder t("runs");
  t.words("run").words("name").words("port").words("props").number("pixels").number("nulls").number(
      "boosters");
  t.number("feeds").number("lowest_pixel").number("lowest_volts_limit", "V").number("lowest_volts_full", "V");
  t.number("amps_limit", "A").number("amps_full", "A").number("wire_length", d.lengthUnit()).words("assumed");
  for (const Id id : d.runs()) {
    const auto* record = yard::find<yard::Run>(d.y, id);
    const data::RunData* run = d.dataOf(id);
    const circuit::RunFigure *limit = d.figure(d.a.limit, id), *full = d.figure(d.a.fullWhite, id);
    const circuit::RunLayout* layout = d.layout(id);
    t.row(id, {d.label(id), record->name, d.labelOrDash(record->port), propsInOrder(d, id),
               run ? count(run->pixels) : "", run ? count(run->nulls) : "", run ? count(run->boosters) : "",
               count(static_cast<std::int64_t>(d.feedsOf(id).size())),
               limit && limit->lowestPixel ? count(limit->lowestPixel) : "",
               limit && limit->lowestPixel ? volts(limit->lowestVolts) : "",
               full && full->lowestPixel ? volts(full->lowestVolts) : "", limit ? amps(limit->totalAmps) : "",
               full ? amps(full->totalAmps) : "",
               layout && !layout->along.empty() ? fixed(d.inUnit(layout->along.back()), 1) : "",
               yesIf(d.assumedRun(id))});
  }
  return t.take();
}

std::string kindLabel(const std::string& kind) {
  const shapes::Kind* found = shapes::findKind(kind);
  return found == nullptr ? kind : found->label;
}

std::string runsOfProp(const Digest& d, Id prop) {
  std::vector<std::string> names;
  if (const auto* wired = lookUp(d.a.wiredIn, prop))
    for (const auto& [run, item] : *wired) {
      const std::string& name = d.label(run);
      if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    }
  return joined(names, " ");
}

Table propsTable(const Digest& d) {
  TableBuilder t("props");
  t.words("prop").words("kind").number("x", d.lengthUnit()).number("y", d.lengthUnit());
  t.words("wall").number("along_wall", d.lengthUnit()).number("up_wall", d.lengthUnit());
  t.number("heading", "deg")
      .number("height", d.lengthUnit())
      .number("width", d.lengthUnit())
      .number("pixels");
  t.words("product").words("run").number("unwired").words("status");
  std::vector<std::pair<Id, const yard::Prop*>> props = yard::all<yard::Prop>(d.y);
  std::stable_sort(props.begin(), props.end(), [&](const auto& l, const auto& r) {
    return naturalLess(d.label(l.first), d.label(r.first));
  });
  for (const auto& [id, prop] : props) {
    const auto* shape = lookUp(d.a.shapes, id);
    const auto* unwired = lookUp(d.a.unwired, id);
    const yard::Product* product = yard::productOf(d.y, *prop);
    const PlaceCells place(d, prop->wall, prop->at);
    t.row(id, {d.label(id), kindLabel(prop->kind), place.east, place.north, place.wall, place.along, place.up,
               prop->wall ? "" : fixed(base::degrees(prop->heading), 1),
               shape ? fixed(d.inUnit((*shape)->height), 2) : "",
               shape ? fixed(d.inUnit((*shape)->width), 2) : "",
               shape ? count(static_cast<std::int64_t>((*shape)->pixels.size())) : "",
               product ? product->name : "", runsOfProp(d, id), unwired ? count(*unwired) : "0",
               yard::words(prop->status)[static_cast<std::size_t>(prop->status)].label});
  }
  return t.take();
}

Table partsTable(const Digest& d) {
  TableBuilder t("parts");
  t.words("group")
      .words("part")
      .number("count")
      .number("length", d.lengthUnit())
      .number("owned")
      .number("strings");
  t.number("cost", d.set.currency);
  for (const takeoff::PartLine& line : d.a.totals.parts) {
    const double cost = static_cast<double>(line.cost.count) * 1e-4;
    t.row({}, {line.group, line.what, line.count ? count(line.count) : "",
               line.length ? fixed(d.inUnit(line.length), 1) : "", line.owned ? count(line.owned) : "",
               line.strings ? count(line.strings) : "", line.priced ? fixed(cost, 2) : ""});
  }
  Table table = t.take();
  table.keys.back() = "cost";
  return table;
}

}  // namespace

std::vector<const routes::RoutedCable*> cutOrder(const Digest& d) {
  std::vector<const routes::RoutedCable*> cables;
  for (const auto& [key, cable] : d.a.routes.cables) cables.push_back(&cable);
  std::stable_sort(cables.begin(), cables.end(), [&](const auto* l, const auto* r) {
    const std::string wireL = d.wireName(l->wire), wireR = d.wireName(r->wire);
    if (wireL != wireR) return naturalLess(wireL, wireR);
    if (l->cutLength != r->cutLength) return l->cutLength > r->cutLength;
    return naturalLess(l->label, r->label);
  });
  return cables;
}

std::string endLabel(const Digest& d, const routes::RoutedCable& cable) {
  return say("end_label", {{"label", cable.label},
                           {"from", cable.fromText},
                           {"to", cable.toText},
                           {"wire", d.wireName(cable.wire)},
                           {"cut", d.cutText(cable.cutLength)}});
}

std::string roleText(routes::CableRole role) {
  static constexpr const char* kNames[] = {"lead", "jumper",     "feed",         "trunk",
                                           "tie",  "mains_cord", "receiver_link"};
  return say(std::string("role_") + kNames[static_cast<std::size_t>(role)]);
}

namespace {

Table cutListTable(const Digest& d) {
  TableBuilder t("lead_cut_list");
  t.words("wire").words("lead").words("what").number("cut", d.lengthUnit()).number("way", d.lengthUnit());
  t.words("from").words("to").words("end_label").words("new_or_own");
  for (const routes::RoutedCable* cable : cutOrder(d))
    t.row(cable->record ? cable->record : cable->key.of,
          {d.wireName(cable->wire), cable->label, roleText(cable->key.role),
           trimmed(d.inUnit(cable->cutLength), 2), fixed(d.inUnit(cable->length()), 2), cable->fromText,
           cable->toText, endLabel(d, *cable), cable->owned ? say("own_lead") : say("new_lead")});
  return t.take();
}

}  // namespace

namespace {

struct NamedTable {
  const char* name;
  Table (*make)(const Digest&);
};
constexpr NamedTable kTables[] = {{"feeds", feedsTable},
                                  {"supplies_fuses", suppliesTable},
                                  {"lead_cut_list", cutListTable},
                                  {"addresses", addressesTable},
                                  {"parts", partsTable},
                                  {"ports", portsTable},
                                  {"runs", runsTable},
                                  {"props", propsTable},
                                  {"house_circuits", houseCircuitsTable},
                                  {"mains_cords", mainsCordsTable},
                                  {"box_heat", boxHeatTable},
                                  {"fuse_choice", fuseChoiceTable},
                                  {"levels", levelsTable},
                                  {"boxes", boxesTable},
                                  {"controllers", controllersTable}};

}  // namespace

std::vector<Table> tables(const assess::Assessment& assessment, const findings::Report&) {
  const Digest d(assessment);
  std::vector<Table> all;
  for (const NamedTable& one : kTables) all.push_back(one.make(d));
  return all;
}

std::vector<std::pair<std::string, std::string>> tableNames() {
  std::vector<std::pair<std::string, std::string>> names;
  for (const NamedTable& one : kTables) names.emplace_back(one.name, say(std::string("title_") + one.name));
  return names;
}

Table table(const assess::Assessment& assessment, const std::string& name) {
  const Digest d(assessment);
  for (const NamedTable& one : kTables)
    if (name == one.name) return one.make(d);
  return {};
}

}  // namespace yw::papers
