#include "core/propose/trade_offs.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "core/edit/usual.h"
#include "core/findings/findings.h"
#include "core/findings/rule_help.h"

namespace yw::propose {

using namespace yw::yard;

namespace {

using Stop = std::atomic<bool>;
using Begins = std::function<void(std::size_t, std::size_t)>;

/// Of the controller in a box that is tried.
constexpr std::int64_t kMoreBoxPorts = 8;
const std::set<std::string> kParts{"controllers", "supplies", "ports", "feeds", "circuits", "covers"};

void count(TradeOffRow& row, const assess::Assessment& after) {
  const Yard& yard = after.yard;
  row.boxes = std::ssize(all<Box>(yard));
  std::set<Id> owners;
  for (const auto& [id, run] : all<Run>(yard)) {
    const Port* port = find<Port>(yard, run->port);
    if (!port) continue;
    ++row.ports;
    owners.insert(port->owner);
  }
  for (const Id owner : owners) {
    const auto ports = std::ssize(portsOf(yard, owner));
    row.cost += find<Receiver>(yard, owner) ? receiverCost(ports) : controllerCost(ports);
  }
  row.controllers = std::ssize(owners);
  row.feeds = std::ssize(after.limit.feeds);
  for (const auto& [id, figure] : after.limit.supplies) {
    if (figure.amps <= 0.0) continue;
    ++row.supplies;
    row.cost += supplyCost(*find<Supply>(yard, id));
    row.amps += figure.amps;
    row.lineAmps += figure.lineAmps;
  }
  for (const auto& [key, cable] : after.routes.cables) {
    const Wire* wire = find<Wire>(yard, cable.wire);
    const double length = base::metres(cable.cutLength).si;
    row.copper += length;
    if (wire && !cable.owned) row.cost += length * pricePerMetre(*wire);
  }
}

/// The yard as `editor` has it, planned; none if it was stopped before all of it was.
std::optional<TradeOffRow> rowOf(const assess::AssessmentPtr& from, const edit::Editor& editor,
                                 std::set<std::string> parts, const Stop& stop) {
  const edit::Change chosen = editor.finish("Choose");
  const auto changed = chosen.empty() ? from : assess::assess(editor.yard(), from);
  const WholePlan whole = planWhole(changed, parts, stop);
  if (whole.stopped) return std::nullopt;
  TradeOffRow row;
  for (const auto& [part, plan, leftOut] : whole.parts) row.cannot += std::ssize(plan.cannot);
  count(row, *whole.after);
  const findings::Report report = findings::report(*whole.after);
  row.grave = findings::countOf(report, findings::Severity::Danger) +
              findings::countOf(report, findings::Severity::WontWork);
  row.change = chosen.empty()         ? whole.change
               : whole.change.empty() ? chosen
                                      : edit::combined(chosen, whole.change);
  return row;
}

/// Rows rise in what they ask, and each plan is only near the best: where the plan of the row above costs
/// less and still does at this row's own value, it is this row's plan as well. `choose` sets a row's value.
void takeHarderWhereCheaper(const assess::AssessmentPtr& from, std::vector<TradeOffRow>& rows,
                            const std::function<void(edit::Editor&, const TradeOffRow&)>& choose) {
  for (std::size_t i = rows.size(); i-- > 1;) {
    const TradeOffRow& harder = rows[i];
    TradeOffRow& row = rows[i - 1];
    if (harder.cost >= row.cost || harder.cannot > row.cannot) continue;
    edit::Editor editor(edit::apply(from->yard, harder.change));
    choose(editor, row);
    const edit::Change chosen = editor.finish("Choose");
    const auto after = assess::assess(editor.yard(), from);
    TradeOffRow taken;
    taken.choice = row.choice;
    taken.value = row.value;
    taken.now = row.now;
    taken.cannot = harder.cannot;
    count(taken, *after);
    const findings::Report report = findings::report(*after);
    taken.grave = findings::countOf(report, findings::Severity::Danger) +
                  findings::countOf(report, findings::Severity::WontWork);
    if (taken.cost >= row.cost || taken.grave > row.grave) continue;
    taken.change = harder.change.empty() ? chosen
                   : chosen.empty()      ? harder.change
                                         : edit::combined(harder.change, chosen);
    row = std::move(taken);
  }
}

bool goesOn(const Stop& stop, const Begins& begins, const std::vector<TradeOffRow>& made, std::size_t all) {
  if (stop) return false;
  if (begins) begins(made.size() + 1, all);
  return true;
}

std::vector<TradeOffRow> brightness(const assess::AssessmentPtr& a, Id, const Stop& stop,
                                    const Begins& begins) {
  const base::Ratio own = settings(a->yard).brightnessLimit;
  std::set<base::Ratio> limits{own};
  for (const double percent : {20, 30, 40, 50, 60, 80, 100}) limits.insert(base::toRatio(percent / 100.0));
  std::vector<TradeOffRow> rows;
  for (const base::Ratio limit : limits) {
    if (!goesOn(stop, begins, rows, limits.size())) break;
    edit::Editor editor(a->yard);
    editor.update<Settings>(settingsId(a->yard), [&](Settings& s) { s.brightnessLimit = limit; });
    auto planned = rowOf(a, editor, kParts, stop);
    if (!planned) break;
    TradeOffRow& row = *planned;
    row.value = base::fraction(limit);
    row.choice = {"trade_off_choice_brightness", {{"percent", std::llround(100 * row.value)}}};
    row.now = limit == own;
    rows.push_back(std::move(row));
  }
  takeHarderWhereCheaper(a, rows, [](edit::Editor& editor, const TradeOffRow& row) {
    editor.update<Settings>(settingsId(editor.yard()),
                            [&](Settings& s) { s.brightnessLimit = base::toRatio(row.value); });
  });
  return rows;
}

std::vector<TradeOffRow> frames(const assess::AssessmentPtr& a, Id, const Stop& stop, const Begins& begins) {
  const base::Frequency own = settings(a->yard).frameRate;
  std::set<base::Frequency> rates{own};
  for (const std::int64_t each : {20, 25, 30, 40, 50, 60}) rates.insert(base::Frequency{each * 1000});
  std::vector<TradeOffRow> rows;
  for (const base::Frequency rate : rates) {
    if (!goesOn(stop, begins, rows, rates.size())) break;
    edit::Editor editor(a->yard);
    editor.update<Settings>(settingsId(a->yard), [&](Settings& s) { s.frameRate = rate; });
    auto planned = rowOf(a, editor, kParts, stop);
    if (!planned) break;
    TradeOffRow& row = *planned;
    row.value = static_cast<double>(rate.count) * 1e-3;
    row.choice = {"trade_off_choice_frames", {{"frames", std::llround(row.value)}}};
    row.now = rate == own;
    rows.push_back(std::move(row));
  }
  takeHarderWhereCheaper(a, rows, [](edit::Editor& editor, const TradeOffRow& row) {
    editor.update<Settings>(settingsId(editor.yard()),
                            [&](Settings& s) { s.frameRate = {std::llround(row.value * 1000)}; });
  });
  return rows;
}

/// Where a new box is tried first: at the prop farthest from every box.
base::Vec2 farthestProp(const Yard& yard, const assess::Assessment& a) {
  base::Vec2 best;
  double most = -1.0;
  for (const auto& [id, shape] : a.shapes) {
    if (shape->pixels.empty()) continue;
    const base::Vec2 at = base::plan(findings::placeOfPixel(a, id, 1));
    double least = std::numeric_limits<double>::infinity();
    for (const auto& [box, record] : all<Box>(yard))
      least = std::min(least, base::distance(base::plan(findings::placeOfRecord(a, box)), at));
    if (std::isinf(least)) least = 0.0;
    if (least > most) most = least, best = at;
  }
  return best;
}

std::vector<TradeOffRow> boxes(const assess::AssessmentPtr& a, Id, const Stop& stop, const Begins& begins) {
  constexpr std::size_t kMore = 2;
  std::vector<TradeOffRow> rows;
  edit::Editor editor(a->yard);
  auto with = a;
  for (std::size_t more = 0; more <= kMore; ++more) {
    if (!goesOn(stop, begins, rows, kMore + 1)) break;
    std::set<std::string> parts = kParts;
    if (more > 0) {
      Box box;
      box.name = freeName(editor.yard(), RecordKind::Box, "K");
      box.at = base::point(farthestProp(editor.yard(), *with));
      const Id id = editor.add(box);
      Controller controller;
      controller.name = freeName(editor.yard(), RecordKind::Controller, "Controller");
      controller.box = id;
      edit::addPorts(editor, editor.add(controller), kMoreBoxPorts);
      with = assess::assess(editor.yard(), with);
    }
    auto planned = rowOf(a, editor, parts, stop);
    if (!planned) break;
    TradeOffRow& row = *planned;
    row.value = static_cast<double>(row.boxes);
    row.choice = {"trade_off_choice_boxes", {{"boxes", row.boxes}}};
    row.now = more == 0;
    rows.push_back(std::move(row));
  }
  return rows;
}

/// The pixel with most of the yard's pixels; none in an empty one.
Id mostUsed(const assess::Assessment& a) {
  std::map<Id, std::size_t> pixels;
  for (const auto& [id, prop] : all<Prop>(a.yard))
    if (const auto shape = a.shapes.find(id); shape != a.shapes.end() && productOf(a.yard, *prop))
      pixels[productIdOf(a.yard, *prop)] += shape->second->pixels.size();
  Id best;
  std::size_t most = 0;
  for (const auto& [id, number] : pixels)
    if (number > most) most = number, best = id;
  return best;
}

/// For each voltage the pixel of the same colors and bits whose spacing is nearest to that one's.
std::map<Voltage, Id> alternatives(const Yard& yard, Id product) {
  const Product& own = *find<Product>(yard, product);
  std::map<Voltage, Id> best{{own.voltage, product}};
  const auto off = [&](Id id) {
    return std::abs(find<Product>(yard, id)->wireSpacing.count - own.wireSpacing.count);
  };
  for (const auto& [id, other] : all<Product>(yard)) {
    if (other->channels != own.channels || other->bits != own.bits || other->chip.empty()) continue;
    const auto [it, fresh] = best.emplace(other->voltage, id);
    if (!fresh && it->second != product && off(id) < off(it->second)) it->second = id;
  }
  return best;
}

std::vector<TradeOffRow> volts(const assess::AssessmentPtr& a, Id subject, const Stop& stop,
                               const Begins& begins) {
  const Prop* prop = find<Prop>(a->yard, subject);
  const Id product = prop ? productIdOf(a->yard, *prop) : mostUsed(*a);
  std::vector<TradeOffRow> rows;
  if (!find<Product>(a->yard, product)) return rows;
  const auto choices = alternatives(a->yard, product);
  for (const auto& [voltage, id] : choices) {
    if (!goesOn(stop, begins, rows, choices.size())) break;
    edit::Editor editor(a->yard);
    if (id != product) {
      std::set<Id> changed;
      for (const auto& [one, record] : all<Prop>(a->yard)) {
        if (prop ? one != subject : productIdOf(a->yard, *record) != product) continue;
        changed.insert(one);
        editor.update<Prop>(one, [&, to = id](Prop& p) { p.product = to; });
      }
      std::vector<Id> gone;  // their runs are strung anew, of those volts
      for (const auto& [run, record] : all<Run>(a->yard))
        if (std::any_of(record->items.begin(), record->items.end(),
                        [&](const RunItem& item) { return changed.contains(item.prop); }))
          gone.push_back(run);
      editor.remove(gone);
    }
    auto planned = rowOf(a, editor, kParts, stop);
    if (!planned) break;
    TradeOffRow& row = *planned;
    row.value = base::volts(voltage).si;
    row.choice = {"trade_off_choice_volts",
                  {{"volts", voltage}, {"pixel", find<Product>(a->yard, id)->name}}};
    row.now = id == product;
    rows.push_back(std::move(row));
  }
  return rows;
}

constexpr TradeOff kTradeOffs[] = {
    {"brightness", brightness}, {"frames", frames}, {"boxes", boxes}, {"volts", volts}};

}  // namespace

std::span<const TradeOff> tradeOffs() { return kTradeOffs; }

const TradeOff* findTradeOff(std::string_view key) {
  for (const TradeOff& one : kTradeOffs)
    if (key == one.key) return &one;
  return nullptr;
}

}  // namespace yw::propose
