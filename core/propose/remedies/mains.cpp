// Remedies on the house's side: boxes' heat, receptacles, cords, breakers.
#include <algorithm>
#include <array>

#include "core/findings/rule_help.h"
#include "core/propose/candidates.h"
#include "core/yard/labels.h"

namespace yw::propose {

using namespace yw::yard;

namespace {

Proposal finished(edit::Editor& editor, base::Message sentence) {
  Proposal proposal;
  proposal.sentence = std::move(sentence);
  proposal.change = editor.finish(base::text(proposal.sentence));
  return proposal;
}

/// The record of a supply's own cord; none if it has none.
Id cordRecordOf(const Yard& yard, Id supply) {
  for (const auto& [id, cable] : all<Cable>(yard)) {
    const bool mains = cable->conductors == ConductorSet::Mains || cable->from.kind == TerminalKind::Outlet;
    const bool ends = (cable->to.kind == TerminalKind::Supply && cable->to.record == supply) ||
                      (cable->from.kind == TerminalKind::Supply && cable->from.record == supply);
    if (mains && ends) return id;
  }
  return {};
}

const routes::RoutedCable* routed(const Case& c, const routes::CableKey& key) {
  const auto it = c.a.routes.cables.find(key);
  return it == c.a.routes.cables.end() ? nullptr : &it->second;
}

/// Mains wires of the yard thicker than that gauge, the thinnest first.
std::vector<std::pair<std::int64_t, Id>> thickerThan(const Yard& yard, std::int64_t gauge) {
  std::vector<std::pair<std::int64_t, Id>> wires;
  for (const auto& [id, wire] : all<Wire>(yard))
    if (wire->conductors == ConductorSet::Mains && wire->gauge < gauge) wires.emplace_back(-wire->gauge, id);
  std::sort(wires.begin(), wires.end());
  return wires;
}

std::vector<Proposal> thicker(const Case& c, const routes::CableKey& key) {
  std::vector<Proposal> out;
  const routes::RoutedCable* cord = routed(c, key);
  const Wire* now = cord == nullptr ? nullptr : find<Wire>(c.a.yard, cord->wire);
  if (now == nullptr) return out;
  for (const auto& [gauge, wire] : thickerThan(c.a.yard, now->gauge)) {
    edit::Editor editor(c.a.yard);
    const Id record = cord->record;
    if (find<Cable>(c.a.yard, record) != nullptr) {
      editor.update<Cable>(record, [w = wire](Cable& cable) { cable.wire = w; });
    } else {
      Cable cable;
      cable.from = cord->from;
      cable.to = cord->to;
      cable.conductors = ConductorSet::Mains;
      cable.wire = wire;
      editor.add(cable);
    }
    out.push_back(finished(
        editor, {"remedy_cord", {{"wire", find<Wire>(c.a.yard, wire)->name}, {"cord", cord->label}}}));
  }
  return out;
}

void append(std::vector<Proposal>& to, std::vector<Proposal> more) {
  for (Proposal& proposal : more) to.push_back(std::move(proposal));
}

/// Sizes of boxes as sold, inches, rising. Common practice, no source.
struct BoxSize {
  std::int64_t width, height, depth;
};
constexpr std::array<BoxSize, 5> kBoxSizes{
    {{16, 14, 8}, {20, 16, 8}, {24, 20, 10}, {30, 24, 12}, {36, 30, 16}}};

Proposal largerBox(const Case& c, Id box, const BoxSize& size) {
  const base::Length width = base::inches(size.width), height = base::inches(size.height),
                     depth = base::inches(size.depth);
  edit::Editor editor(c.a.yard);
  editor.update<Box>(box, [&](Box& b) {
    b.insideWidth = width;
    b.insideHeight = height;
    b.insideDepth = depth;
  });
  return finished(
      editor, {"remedy_larger_box",
               {{"box", labelOf(c.a.yard, box)}, {"width", width}, {"height", height}, {"depth", depth}}});
}

}  // namespace

std::vector<Proposal> coolBox(const Case& c) {
  std::vector<Proposal> out;
  const Id supplyId = c.finding.subjects.front();
  const Supply* supply = find<Supply>(c.a.yard, supplyId);
  if (supply == nullptr) return out;
  const auto now = c.a.limit.mains.supplies.find(supplyId);
  if (now != c.a.limit.mains.supplies.end() && now->second.lineShare < 1.0)
    append(out, thicker(c, {routes::CableRole::MainsCord, supplyId, 0}));
  if (const Box* box = find<Box>(c.a.yard, supply->box)) {
    if (box->cooling == BoxCooling::Closed) {
      edit::Editor editor(c.a.yard);
      editor.update<Box>(supply->box, [](Box& b) { b.cooling = BoxCooling::Vented; });
      out.push_back(finished(editor, {"remedy_vent", {{"box", labelOf(c.a.yard, supply->box)}}}));
    }
    const auto heat = c.a.limit.mains.boxes.find(supply->box);
    for (const BoxSize& size : kBoxSizes) {
      Box larger = *box;
      larger.insideWidth = base::inches(size.width);
      larger.insideHeight = base::inches(size.height);
      larger.insideDepth = base::inches(size.depth);
      if (heat != c.a.limit.mains.boxes.end() &&
          circuit::boxHeat(larger, 0.0, 1, 0.0).area > heat->second.area)
        out.push_back(largerBox(c, supply->box, size));
    }
    if (box->cooling != BoxCooling::OpenAir) {
      edit::Editor editor(c.a.yard);
      editor.update<Box>(supply->box, [](Box& b) { b.cooling = BoxCooling::OpenAir; });
      out.push_back(finished(editor, {"remedy_open_air", {{"box", labelOf(c.a.yard, supply->box)}}}));
    }
  }
  append(out, relieveSupply(c));
  return out;
}

std::vector<Proposal> protectCircuit(const Case& c) {
  const Id circuit = c.finding.subjects.front();
  edit::Editor editor(c.a.yard);
  editor.update<HouseCircuit>(circuit, [](HouseCircuit& h) { h.groundFault = true; });
  std::vector<Proposal> out;
  out.push_back(finished(editor, {"remedy_gfci", {{"circuit", labelOf(c.a.yard, circuit)}}}));
  return out;
}

std::vector<Proposal> stagger(const Case& c) {
  const Id circuit = c.finding.subjects.front();
  edit::Editor editor(c.a.yard);
  editor.update<HouseCircuit>(circuit, [](HouseCircuit& h) { h.staggered = true; });
  std::vector<Proposal> out;
  out.push_back(finished(editor, {"remedy_stagger", {{"circuit", labelOf(c.a.yard, circuit)}}}));
  return out;
}

std::vector<Proposal> otherReceptacle(const Case& c) {
  std::vector<Proposal> out;
  const Id outlet = c.finding.subjects.front();
  std::vector<std::pair<double, Id>> supplies;
  for (const auto& [id, supply] : all<Supply>(c.a.yard)) {
    const auto figure = c.a.limit.supplies.find(id);
    if (supply->outlet == outlet && figure != c.a.limit.supplies.end())
      supplies.emplace_back(figure->second.lineAmps, id);
  }
  std::sort(supplies.begin(), supplies.end());
  for (const auto& [amps, id] : supplies) append(out, toOutlets(c, id));
  return out;
}

std::vector<Proposal> thickerCord(const Case& c) {
  return thicker(c, {routes::CableRole::MainsCord, c.finding.subjects.front(), 0});
}

std::vector<Proposal> straightCord(const Case& c) {
  std::vector<Proposal> out;
  const Id subject = c.finding.subjects.front();
  const Id record = find<Supply>(c.a.yard, subject) != nullptr ? cordRecordOf(c.a.yard, subject) : subject;
  const Cable* cable = find<Cable>(c.a.yard, record);
  const routes::RoutedCable* cord = routed(c, {routes::CableRole::MainsCord, subject, 0});
  if (cable == nullptr || cord == nullptr) return out;
  const routes::BoxCords boxes = routes::boxCords(c.a.yard);
  const bool onStrip = cord->from.kind == TerminalKind::Box;
  const auto start = onStrip ? boxes.cords.find(cord->to.record) : boxes.cords.end();
  edit::Editor editor(c.a.yard);
  editor.update<Cable>(record, [&](Cable& changed) {
    changed.pieces = 1;
    if (start == boxes.cords.end()) return;
    Terminal& end = changed.to.record == cord->to.record && changed.to.kind == TerminalKind::Box
                        ? changed.from
                        : changed.to;
    end = {TerminalKind::Outlet, start->second.outlet, 0};
  });
  base::Message sentence{"remedy_whole_cord", {{"cord", cord->label}}};
  if (start != boxes.cords.end())
    sentence = {"remedy_own_cord",
                {{"cord", cord->label}, {"outlet", labelOf(c.a.yard, start->second.outlet)}}};
  out.push_back(finished(editor, std::move(sentence)));
  return out;
}

}  // namespace yw::propose
