#include <algorithm>
#include <set>

#include "core/base/rational.h"
#include "core/routes/names.h"
#include "core/routes/obstacles.h"
#include "core/routes/places.h"
#include "core/routes/routes.h"
#include "core/yard/labels.h"

namespace yw::routes {

namespace {

using yard::Cable;
using yard::ConductorSet;
using yard::Run;
using yard::RunItem;
using yard::RunItemKind;
using yard::Terminal;
using yard::TerminalKind;

/// One end of a gap along a run.
struct GapEnd {
  Terminal terminal;
  EndPlace place;
};

class Router {
 public:
  Router(const yard::Yard& yard, const Shapes& shapes, const Ground& ground)
      : yard_(yard), shapes_(shapes), ground_(ground), settings_(yard::settings(yard)), names_(yard, shapes) {
    for (const auto& [id, wire] : yard::all<yard::Wire>(yard)) {
      if (!mainsWire_ && wire->conductors == ConductorSet::Mains) mainsWire_ = id;
      if (!dataWire_ && wire->conductors == ConductorSet::DataOnly) dataWire_ = id;
    }
  }

  Routes routeAll() {
    for (const auto& [id, run] : yard::all<Run>(yard_)) routeRun(id, *run);
    routeRecords();
    routeCords();
    routeLinks();
    return std::move(out_);
  }

 private:
  void routeRun(Id id, const Run& run);
  void routeGap(Id id, const Run& run, const GapEnd& from, const std::vector<std::int64_t>& items,
                const GapEnd& to);
  void routeRecords();
  void routeCords();
  void routeCord(const CableKey& key, const std::string& stem, const Terminal& from, const Terminal& to,
                 Id recordId);
  void routeLinks();
  /// Fills in what follows from the way and the record, and keeps the cable.
  void finish(RoutedCable cable, const Lie& lie, const Cable* record);
  void measure(RoutedCable& cable, const Cable* record) const;
  Id usualWire(CableRole role) const;
  Id wireOf(const Cable* record, CableRole role) const;
  std::vector<Vec2> viaOf(const Cable* record) const;
  Lie lieBetween(const Terminal& from, const Terminal& to, const Cable* record);
  const EndPlace& endOf(const Terminal& terminal);
  double reachOf(const Run& run, const GapEnd& from, std::int64_t item) const;
  double spacingNear(const Run& run, std::int64_t item) const;

  const yard::Yard& yard_;
  const Shapes& shapes_;
  const Ground& ground_;
  const yard::Settings& settings_;
  Names names_;
  Id mainsWire_, dataWire_;
  std::map<Id, EndPlace> outlets_;
  EndPlace lastEnd_;
  std::set<Id> usedAsLead_;
  std::map<Id, Id> cordRecord_, linkRecord_;  ///< supply, receiver -> cable record
  Routes out_;
};

std::vector<Vec2> Router::viaOf(const Cable* record) const {
  std::vector<Vec2> via;
  if (record != nullptr)
    for (const base::Point p : record->path) via.push_back(base::vec(p));
  return via;
}

Id Router::usualWire(CableRole role) const {
  switch (role) {
    case CableRole::Lead:
    case CableRole::Jumper:
      return settings_.usualLead;
    case CableRole::MainsCord:
      return mainsWire_;
    case CableRole::ReceiverLink:
      return dataWire_;
    default:
      return settings_.usualFeed;
  }
}

Id Router::wireOf(const Cable* record, CableRole role) const {
  const Id wire = record != nullptr && record->wire ? record->wire : usualWire(role);
  return yard::find<yard::Wire>(yard_, wire) == nullptr ? Id{} : wire;
}

/// Wire between neighbours of the string at that item, m: a jumper is never shorter.
double Router::spacingNear(const Run& run, std::int64_t item) const {
  for (std::int64_t i = item; i >= 0; --i) {
    const RunItem& it = run.items[static_cast<std::size_t>(i)];
    if (it.kind != RunItemKind::Stretch) continue;
    const auto* prop = yard::find<yard::Prop>(yard_, it.prop);
    const auto* product = prop == nullptr ? nullptr : yard::productOf(yard_, *prop);
    if (product != nullptr) return base::metres(product->wireSpacing).si;
  }
  return 0.0;
}

/// Nanometres of cable to cut for a way of `length` metres: tails, drip loops and slack added, rounded up.
Length cutFor(double length, const yard::Settings& settings) {
  const auto bare = static_cast<base::Int128>(base::roundedCount(length * 1e9)) + 2 * settings.tail.count +
                    2 * settings.dripLoop.count;
  const base::Int128 millionths = bare * (1'000'000 + settings.slack.count);
  const base::Int128 step =
      static_cast<base::Int128>(std::max<std::int64_t>(settings.roundUpTo.count, 1)) * 1'000'000;
  constexpr base::Int128 kWithin =
      static_cast<base::Int128>(1'000) * 1'000'000;  // 1 µm over a full step is not a step more
  const base::Int128 steps = std::max<base::Int128>((millionths - kWithin + step - 1) / step, 0);
  return {static_cast<std::int64_t>(steps * step / 1'000'000)};
}

void Router::measure(RoutedCable& cable, const Cable* record) const {
  cable.cutLength = cutFor(cable.length(), settings_);
  if (record == nullptr || record->ownLength.count <= 0) return;
  cable.owned = true;
  cable.cutLength = record->ownLength;
  // A lead that is there has its plugs on: it must span the way and its drip loops, without tails or slack.
  const std::int64_t needed = base::roundedCount(cable.length() * 1e9) + 2 * settings_.dripLoop.count;
  cable.tooShort = record->ownLength.count < needed;
}

void Router::finish(RoutedCable cable, const Lie& lie, const Cable* record) {
  cable.path = lie.path;
  cable.lays = lie.lays;
  cable.blocked = lie.blocked;
  cable.planLength = lie.planLength;
  cable.verticalLength = lie.verticalLength;
  cable.wire = wireOf(record, cable.key.role);
  if (lie.onGround) {
    cable.crosses = crossedBy(ground_, lie);
    for (const Vec2 end : {base::plan(lie.path.front()), base::plan(lie.path.back())})
      for (const Id id : ground_.keepOutsAt(end)) {
        const auto* feature = yard::find<yard::GroundFeature>(yard_, id);
        const bool known = std::find(cable.enters.begin(), cable.enters.end(), id) != cable.enters.end();
        if (feature != nullptr && blocks(*feature) && !known) cable.enters.push_back(id);
      }
  }
  measure(cable, record);
  const CableKey key = cable.key;
  out_.cables.insert_or_assign(key, std::move(cable));
}

void Router::routeRun(Id id, const Run& run) {
  GapEnd from;
  if (yard::find<yard::Port>(yard_, run.port) != nullptr) {
    from.terminal = {TerminalKind::Port, run.port, 0};
    from.place = endPlace(yard_, shapes_, from.terminal);
  }
  std::vector<std::int64_t> pending;
  for (std::size_t i = 0; i < run.items.size(); ++i) {
    const RunItem& item = run.items[i];
    if (item.lead) usedAsLead_.insert(item.lead);
    if (item.kind == RunItemKind::Unused)
      continue;  // at the end of the string before it: no cable of its own
    pending.push_back(static_cast<std::int64_t>(i));
    if (item.kind != RunItemKind::Stretch) continue;
    const Terminal entry = entryOf(item, shapes_), exit = exitOf(item, shapes_);
    routeGap(id, run, from, pending, {entry, endPlace(yard_, shapes_, entry)});
    from = {exit, endPlace(yard_, shapes_, exit)};
    pending.clear();
  }
  if (!pending.empty()) routeGap(id, run, from, pending, {{}, from.place});
}

/// How far data goes from there in one piece, m.
double Router::reachOf(const Run& run, const GapEnd& from, std::int64_t item) const {
  if (from.terminal.kind == TerminalKind::Port) return base::metres(settings_.controllerReach).si;
  for (std::int64_t i = item - 1; i >= 0; --i) {
    const RunItem& it = run.items[static_cast<std::size_t>(i)];
    if (it.kind != RunItemKind::Stretch) continue;
    const auto* prop = yard::find<yard::Prop>(yard_, it.prop);
    const auto* product = prop == nullptr ? nullptr : yard::productOf(yard_, *prop);
    if (product != nullptr && product->reach.count > 0) return base::metres(product->reach).si;
    break;
  }
  return base::metres(settings_.jumperReach).si;
}

/// The cables of one gap: to each null pixel or booster in it, spread evenly, and to the stretch at its end.
void Router::routeGap(Id id, const Run& run, const GapEnd& from, const std::vector<std::int64_t>& items,
                      const GapEnd& to) {
  std::vector<Vec2> via;
  for (const std::int64_t i : items) {
    const auto more = viaOf(yard::find<Cable>(yard_, run.items[static_cast<std::size_t>(i)].lead));
    via.insert(via.end(), more.begin(), more.end());
  }
  const double most = reachOf(run, from, items.back()) * static_cast<double>(items.size());
  const Lie whole = lie(yard_, ground_, from.place, to.place, via, most);
  const auto count = static_cast<double>(items.size());
  for (std::size_t k = 0; k < items.size(); ++k) {
    const bool first = k == 0, last = k + 1 == items.size();
    if (first && from.terminal.kind == TerminalKind::None)
      continue;  // not plugged in: nothing leads to the first
    const std::int64_t i = items[k];
    const RunItem& item = run.items[static_cast<std::size_t>(i)];
    const auto* record = yard::find<Cable>(yard_, item.lead);
    const bool lead = first && from.terminal.kind == TerminalKind::Port;
    RoutedCable cable;
    cable.key = {lead ? CableRole::Lead : CableRole::Jumper, id, i};
    cable.label = names_.runLabel(id, run) + "-" + yard::pieceLetter(static_cast<int>(i));
    cable.record = record == nullptr ? Id{} : item.lead;
    if (first) {
      cable.from = from.terminal;
      cable.fromText = names_.terminalText(from.terminal);
    } else {
      cable.fromText = Names::inLineText(run.items[static_cast<std::size_t>(items[k - 1])].kind);
    }
    if (last && item.kind == RunItemKind::Stretch) {
      cable.to = to.terminal;
      cable.toText = names_.terminalText(to.terminal);
    } else {
      cable.toText = Names::inLineText(item.kind);
    }
    // A lead of a run carries data; a record that was left at power only means both.
    if (record != nullptr && record->conductors != ConductorSet::PowerOnly)
      cable.conductors = record->conductors;
    Lie part = items.size() == 1
                   ? whole
                   : partOf(whole, static_cast<double>(k) / count, static_cast<double>(k + 1) / count);
    if (!lead) part.planLength = std::max(part.planLength, spacingNear(run, i) - part.verticalLength);
    finish(std::move(cable), part, record);
  }
}

/// Outlets are looked up once: which wall one is on takes a look at all walls.
const EndPlace& Router::endOf(const Terminal& terminal) {
  const bool outlet = terminal.kind == TerminalKind::Outlet;
  EndPlace& place = outlet ? outlets_[terminal.record] : lastEnd_;
  if (!outlet || !place.known) place = endPlace(yard_, shapes_, terminal);
  return place;
}

Lie Router::lieBetween(const Terminal& from, const Terminal& to, const Cable* record) {
  const EndPlace start = endOf(from);
  return lie(yard_, ground_, start, endOf(to), viaOf(record));
}

bool hasEnd(const Cable& cable, TerminalKind kind) {
  return cable.from.kind == kind || cable.to.kind == kind;
}
Id endRecord(const Cable& cable, TerminalKind kind) {
  return cable.from.kind == kind ? cable.from.record : cable.to.kind == kind ? cable.to.record : Id{};
}

void Router::routeRecords() {
  for (const auto& [id, record] : yard::all<Cable>(yard_)) {
    if (usedAsLead_.contains(id)) continue;
    if (record->from.kind == TerminalKind::None && record->to.kind == TerminalKind::None) continue;
    if (record->conductors == ConductorSet::Mains || hasEnd(*record, TerminalKind::Outlet)) {
      if (hasEnd(*record, TerminalKind::Supply))
        cordRecord_.emplace(endRecord(*record, TerminalKind::Supply), id);
      continue;
    }
    if (hasEnd(*record, TerminalKind::Receiver) && hasEnd(*record, TerminalKind::Controller)) {
      linkRecord_.emplace(endRecord(*record, TerminalKind::Receiver), id);
      continue;
    }
    RoutedCable cable;
    const bool feed = hasEnd(*record, TerminalKind::FusePosition);
    const bool tie = record->conductors == ConductorSet::ZeroOnly;
    cable.key = {feed ? CableRole::Feed : tie ? CableRole::Tie : CableRole::Trunk, id, 0};
    cable.from = record->from;
    cable.to = record->to;
    if (feed && record->from.kind != TerminalKind::FusePosition) std::swap(cable.from, cable.to);
    cable.label = feed ? names_.fuseLabel(cable.from.record) : yard::labelOf(yard_, id);
    cable.record = id;
    cable.conductors = record->conductors;
    cable.fromText = names_.terminalText(cable.from);
    cable.toText = names_.terminalText(cable.to);
    const Lie way = lieBetween(cable.from, cable.to, record);
    finish(std::move(cable), way, record);
  }
}

void Router::routeCords() {
  const BoxCords boxes = boxCords(yard_);
  for (const auto& [box, cord] : boxes.cords)
    routeCord({CableRole::MainsCord, cord.record, 0}, yard::labelOf(yard_, box), cord.from,
              {TerminalKind::Box, box, 0}, cord.record);
  for (const auto& [id, supply] : yard::all<yard::Supply>(yard_)) {
    const CableKey own{CableRole::MainsCord, id, 0};
    const std::vector<CableKey> way = cordsTo(yard_, boxes, id);
    if (way.empty() || way.front() != own) continue;
    const auto it = cordRecord_.find(id);
    routeCord(own, names_.supplyLabel(id), {TerminalKind::Outlet, supply->outlet, 0},
              {TerminalKind::Supply, id, 0}, it == cordRecord_.end() ? Id{} : it->second);
  }
}

void Router::routeCord(const CableKey& key, const std::string& stem, const Terminal& from, const Terminal& to,
                       Id recordId) {
  const auto* record = yard::find<Cable>(yard_, recordId);
  RoutedCable cable;
  cable.key = key;
  cable.label = stem + "-M";
  cable.record = record == nullptr ? Id{} : recordId;
  cable.from = from;
  cable.to = to;
  cable.fromText = names_.terminalText(cable.from);
  cable.toText = names_.terminalText(cable.to);
  cable.conductors = ConductorSet::Mains;
  const Lie way = lieBetween(cable.from, cable.to, record);
  finish(std::move(cable), way, record);
}

void Router::routeLinks() {
  for (const auto& [id, receiver] : yard::all<yard::Receiver>(yard_)) {
    if (yard::find<yard::Controller>(yard_, receiver->controller) == nullptr) continue;
    const auto it = linkRecord_.find(id);
    const auto* record = it == linkRecord_.end() ? nullptr : yard::find<Cable>(yard_, it->second);
    RoutedCable cable;
    cable.key = {CableRole::ReceiverLink, id, 0};
    cable.label = yard::labelOf(yard_, id) + "-L";
    cable.record = record == nullptr ? Id{} : it->second;
    cable.from = {TerminalKind::Controller, receiver->controller, 0};
    cable.to = {TerminalKind::Receiver, id, 0};
    cable.fromText = names_.terminalText(cable.from);
    cable.toText = names_.terminalText(cable.to);
    cable.conductors = ConductorSet::DataOnly;
    const Lie way = lieBetween(cable.from, cable.to, record);
    finish(std::move(cable), way, record);
  }
}

}  // namespace

Routes route(const yard::Yard& yard, const Shapes& shapes, const Ground& ground) {
  return Router(yard, shapes, ground).routeAll();
}

yard::RunItemKind leadsTo(const yard::Yard& yard, const CableKey& key) {
  const bool inRun = key.role == CableRole::Lead || key.role == CableRole::Jumper;
  const auto* run = inRun ? yard::find<yard::Run>(yard, key.of) : nullptr;
  if (run == nullptr || key.item < 0 || key.item >= static_cast<std::int64_t>(run->items.size()))
    return yard::RunItemKind::Stretch;
  return run->items[static_cast<std::size_t>(key.item)].kind;
}

}  // namespace yw::routes
