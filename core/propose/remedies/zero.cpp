// Remedies on 0 V: a board's 0 V that does not come along with its data, and a lead whose 0 V carries the
// return of other supplies.
#include <algorithm>

#include "core/findings/rule_help.h"
#include "core/propose/candidates.h"
#include "core/yard/labels.h"

namespace yw::propose {

using namespace yw::yard;

namespace {

bool hasZero(ConductorSet set) { return set != ConductorSet::PositiveOnly && set != ConductorSet::Mains; }

Proposal finished(edit::Editor& editor, base::Message sentence) {
  Proposal proposal;
  proposal.sentence = std::move(sentence);
  proposal.change = editor.finish(base::text(proposal.sentence));
  return proposal;
}

std::string wireName(const Yard& yard, Id wire) {
  const Wire* record = find<Wire>(yard, wire);
  return record != nullptr ? record->name : std::string();
}

/// The cable as it is planned, or the wire it is made of.
bool lacksZero(const Yard& yard, const routes::RoutedCable& cable) {
  const Wire* wire = find<Wire>(yard, cable.wire);
  return !hasZero(cable.conductors) || (wire != nullptr && !hasZero(wire->conductors));
}

/// The yard's usual lead, else the thickest wire with V+, data and 0 V.
Id wholeLeadWire(const Yard& yard) {
  const auto whole = [](const Wire* wire) {
    return wire != nullptr && wire->conductors == ConductorSet::PowerAndData;
  };
  if (const Id usual = settings(yard).usualLead; whole(find<Wire>(yard, usual))) return usual;
  Id found;
  std::int64_t gauge = 0;
  for (const auto& [id, wire] : all<Wire>(yard))
    if (whole(wire) && (!found || wire->gauge < gauge)) {
      found = id;
      gauge = wire->gauge;
    }
  return found;
}

/// Gives a run's lead or jumper this wire and all its conductors; makes its record where it has none.
void makeWhole(edit::Editor& editor, const routes::RoutedCable& cable, Id wire) {
  if (find<Cable>(editor.yard(), cable.record) != nullptr) {
    editor.update<Cable>(cable.record, [&](Cable& c) {
      c.conductors = ConductorSet::PowerAndData;
      c.wire = wire;
      c.ownLength = {};
    });
    return;
  }
  Cable made;
  made.from = cable.from;
  made.to = cable.to;
  made.conductors = ConductorSet::PowerAndData;
  made.wire = wire;
  const Id record = editor.add(made);
  editor.update<Run>(cable.key.of,
                     [&](Run& run) { run.items[static_cast<std::size_t>(cable.key.item)].lead = record; });
}

}  // namespace

std::vector<Proposal> joinZero(const Case& c) {
  std::vector<Proposal> out;
  const auto open = c.a.faults().zeroOpen.find(c.finding.subjects.front());
  if (open == c.a.faults().zeroOpen.end()) return out;
  const Id run = open->first, board = open->second.board;
  if (const Id wire = wholeLeadWire(c.a.yard)) {
    edit::Editor editor(c.a.yard);
    std::string names;
    for (const auto& [place, keys] : c.a.layouts.at(run)->cablesBefore)
      for (const routes::CableKey& key : keys) {
        const auto cable = c.a.routes.cables.find(key);
        if (cable == c.a.routes.cables.end() || !lacksZero(c.a.yard, cable->second)) continue;
        makeWhole(editor, cable->second, wire);
        names += (names.empty() ? "" : ", ") + cable->second.label;
      }
    if (!names.empty())
      out.push_back(
          finished(editor, {"remedy_zero_lead", {{"cable", names}, {"wire", wireName(c.a.yard, wire)}}}));
  }
  // Else a single conductor from the board to where its 0 V is first missed.
  const auto place = static_cast<std::size_t>(open->second.at.place) - 1;
  const circuit::RunPixel& pixel = c.a.layouts.at(run)->pixels[place];
  if (!pixel.prop) return out;
  const TerminalKind kind =
      find<Controller>(c.a.yard, board) != nullptr ? TerminalKind::Controller : TerminalKind::Receiver;
  edit::Editor editor(c.a.yard);
  Cable tie;
  tie.from = {kind, board, 0};
  tie.to = {TerminalKind::PropPixel, pixel.prop, pixel.pixel};
  tie.conductors = ConductorSet::ZeroOnly;
  tie.wire = settings(c.a.yard).usualFeed;
  editor.add(tie);
  const double length = c.a.ground
                            ->shortest(base::plan(findings::placeOfRecord(c.a, board)),
                                       base::plan(findings::placeOfPixel(c.a, pixel.prop, pixel.pixel)))
                            .length;
  out.push_back(finished(editor, {"remedy_zero_tie",
                                  {{"board", labelOf(c.a.yard, board)},
                                   {"prop", labelOf(c.a.yard, pixel.prop)},
                                   {"pixel", pixel.pixel},
                                   {"length", findings::said(c.a, length)},
                                   {"wire", wireName(c.a.yard, tie.wire)}}}));
  return out;
}

namespace {

/// The cable a finding is about: its condition ends with the label.
const routes::RoutedCable* cableOf(const Case& c) {
  for (const auto& [key, cable] : c.a.routes.cables)
    if (key.of == c.finding.subjects.front() && c.finding.condition.ends_with(" " + cable.label))
      return &cable;
  return nullptr;
}

Id runOf(const assess::Assessment& a, const routes::CableKey& key) {
  if (key.role == routes::CableRole::Lead || key.role == routes::CableRole::Jumper) return key.of;
  const auto feed = a.limit.feeds.find(key.of);
  return feed == a.limit.feeds.end() ? Id{} : feed->second.run;
}

/// Feeds that bring V+ without the 0 V that should take it back; those of the run first.
std::vector<Id> feedsWithoutZero(const assess::Assessment& a, Id run) {
  std::vector<Id> here, elsewhere;
  for (const auto& [id, figure] : a.limit.feeds) {
    const auto cable = a.routes.cables.find({routes::CableRole::Feed, id, 0});
    if (cable == a.routes.cables.end() || !lacksZero(a.yard, cable->second)) continue;
    (figure.run == run ? here : elsewhere).push_back(id);
  }
  here.insert(here.end(), elsewhere.begin(), elsewhere.end());
  return here;
}

/// A 0 V of their own for the first of these feeds, the first two, and so on.
void returnsOfTheirOwn(const Case& c, const std::vector<Id>& feeds, std::vector<Proposal>& out) {
  std::string names;
  edit::Editor editor(c.a.yard);
  for (const Id feed : feeds) {
    const Cable* record = find<Cable>(c.a.yard, feed);
    if (record == nullptr) continue;
    const Wire* wire = find<Wire>(c.a.yard, record->wire);
    const Id usual = settings(c.a.yard).usualFeed;
    const bool keep = wire != nullptr && hasZero(wire->conductors);
    editor.update<Cable>(feed, [&](Cable& cable) {
      cable.conductors = ConductorSet::PowerOnly;
      if (!keep) cable.wire = usual;
    });
    names += (names.empty() ? "" : ", ") + labelOf(c.a.yard, record->from.record);
    out.push_back(finished(
        editor,
        {"remedy_return", {{"feeds", names}, {"wire", wireName(c.a.yard, keep ? record->wire : usual)}}}));
  }
}

/// Supplies behind the run's port and feeds, each once.
std::vector<Id> suppliesOf(const assess::Assessment& a, Id runId) {
  std::vector<Id> supplies;
  const auto note = [&](Id supply) {
    if (supply && std::find(supplies.begin(), supplies.end(), supply) == supplies.end())
      supplies.push_back(supply);
  };
  if (const Run* run = find<Run>(a.yard, runId)) note(findings::supplyOfPort(a, run->port));
  for (const auto& [id, figure] : a.limit.feeds)
    if (const auto* position = find<FusePosition>(a.yard, figure.fusePosition);
        position != nullptr && figure.run == runId)
      note(position->supply);
  return supplies;
}

/// A 0 V conductor from the first supply's box to each other one's.
void tiesBetween(const Case& c, const std::vector<Id>& supplies, std::vector<Proposal>& out) {
  if (supplies.empty()) return;
  const auto wires = all<Wire>(c.a.yard);
  for (std::size_t i = 1; i < supplies.size(); ++i) {
    const Supply *a = find<Supply>(c.a.yard, supplies[0]), *b = find<Supply>(c.a.yard, supplies[i]);
    if (a == nullptr || b == nullptr || a->box == b->box) continue;
    std::vector<std::pair<std::int64_t, Id>> thick{{0, settings(c.a.yard).usualFeed}};
    for (const auto& [id, wire] : wires)
      if (wire->conductors == ConductorSet::PowerOnly && id != thick.front().second)
        thick.emplace_back(-wire->gauge, id);
    std::sort(thick.begin() + 1, thick.end());
    for (const auto& [gauge, wire] : thick) {
      edit::Editor editor(c.a.yard);
      Cable tie;
      tie.from = {TerminalKind::Supply, supplies[0], 0};
      tie.to = {TerminalKind::Supply, supplies[i], 0};
      tie.conductors = ConductorSet::ZeroOnly;
      tie.wire = wire;
      editor.add(tie);
      const double length = c.a.ground
                                ->shortest(base::plan(findings::placeOfRecord(c.a, supplies[0])),
                                           base::plan(findings::placeOfRecord(c.a, supplies[i])))
                                .length;
      out.push_back(finished(editor, {"remedy_tie",
                                      {{"a", labelOf(c.a.yard, supplies[0])},
                                       {"b", labelOf(c.a.yard, supplies[i])},
                                       {"length", findings::said(c.a, length)},
                                       {"wire", wireName(c.a.yard, wire)}}}));
    }
  }
}

/// Thicker wire with the same conductors for the cable itself, the thinnest that may carry the amps first.
void thickerFor(const Case& c, const routes::RoutedCable& cable, std::vector<Proposal>& out) {
  const auto* amps = std::get_if<base::Current>(&c.finding.figure);
  const Wire* now = find<Wire>(c.a.yard, cable.wire);
  if (amps == nullptr || now == nullptr) return;
  std::vector<std::pair<std::int64_t, Id>> wires;
  for (const auto& [id, wire] : all<Wire>(c.a.yard))
    if (wire->conductors == now->conductors && wire->gauge < now->gauge &&
        base::toCurrent(routes::limitOf(*wire)) > *amps)
      wires.emplace_back(-wire->gauge, id);
  std::sort(wires.begin(), wires.end());
  for (const auto& [gauge, wire] : wires) {
    edit::Editor editor(c.a.yard);
    if (find<Cable>(c.a.yard, cable.record) != nullptr)
      editor.update<Cable>(cable.record, [w = wire](Cable& record) {
        record.wire = w;
        record.ownLength = {};
      });
    else
      makeWhole(editor, cable, wire);
    out.push_back(finished(
        editor, {"remedy_thicker_lead", {{"cable", cable.label}, {"wire", wireName(c.a.yard, wire)}}}));
  }
}

}  // namespace

std::vector<Proposal> ownReturn(const Case& c) {
  std::vector<Proposal> out;
  const routes::RoutedCable* cable = cableOf(c);
  if (cable == nullptr) return out;
  const Id run = runOf(c.a, cable->key);
  returnsOfTheirOwn(c, feedsWithoutZero(c.a, run), out);
  tiesBetween(c, suppliesOf(c.a, run), out);
  thickerFor(c, *cable, out);
  return out;
}

}  // namespace yw::propose
