#include "ui/canvas/tools/run_step.h"

#include <algorithm>

#include "core/data/data.h"
#include "core/routes/places.h"
#include "core/yard/labels.h"

namespace yw::ui {

using base::Id;
using yard::Range;
using yard::Run;
using yard::RunItem;
using yard::RunItemKind;

namespace {

std::int64_t lengthOf(Range range) { return std::max<std::int64_t>(0, range.last - range.first + 1); }

void lowerLimit(std::int64_t& limit, std::int64_t to) {
  if (to > 0 && (limit == 0 || to < limit)) limit = to;
}

/// Where the next lead starts: at the run's last pixel, else at its port; nothing if it has neither.
std::optional<base::Vec3> tailOf(const assess::Assessment& a, const Run& run) {
  for (auto item = run.items.rbegin(); item != run.items.rend(); ++item)
    if (item->kind == RunItemKind::Stretch)
      return routes::placeOf(a.yard, a.shapes, routes::exitOf(*item, a.shapes));
  if (!run.port) return std::nullopt;
  return routes::placeOf(a.yard, a.shapes, {yard::TerminalKind::Port, run.port, 0});
}

RunItem stretchOf(Id prop, Range range, bool reversed) {
  RunItem item;
  item.prop = prop;
  item.first = range.first;
  item.last = range.last;
  item.reversed = reversed;
  return item;
}

/// The free range and end nearest to where the run stands.
std::pair<Range, bool> nearestEnd(const assess::Assessment& a, const std::vector<Range>& free, Id prop,
                                  std::optional<base::Vec3> tail, std::optional<bool> reversed) {
  std::pair<Range, bool> best{free.front(), reversed.value_or(false)};
  if (!tail) return best;
  double nearest = 1e300;
  for (const Range range : free)
    for (const bool turned : {false, true}) {
      if (reversed && *reversed != turned) continue;
      const auto entry = routes::entryOf(stretchOf(prop, range, turned), a.shapes);
      const double away = base::distance(routes::placeOf(a.yard, a.shapes, entry), *tail);
      if (away < nearest - 1e-9) nearest = away, best = {range, turned};
    }
  return best;
}

/// The longest part of `range`, counted from the end that is entered, that ends at a joint and has at most
/// `room` pixels; empty if there is none.
Range cutToJoint(const shapes::Shape& shape, Range range, bool reversed, std::int64_t room) {
  Range best{1, 0};
  for (const shapes::Joint& joint : shape.joints) {
    const std::int64_t j = joint.afterPixel;
    if (j < range.first || j >= range.last) continue;
    const Range part = reversed ? Range{j + 1, range.last} : Range{range.first, j};
    if (lengthOf(part) <= room && lengthOf(part) > lengthOf(best)) best = part;
  }
  return best;
}

}  // namespace

std::int64_t mostPlaces(const assess::Assessment& a, const Run& run, Id prop) {
  std::int64_t limit = 0;
  const auto byProduct = [&](Id id) {
    const auto* record = yard::find<yard::Prop>(a.yard, id);
    const auto* product = record ? yard::productOf(a.yard, *record) : nullptr;
    if (product) lowerLimit(limit, data::mostPixels(*product, yard::settings(a.yard).frameRate));
  };
  byProduct(prop);
  for (const RunItem& item : run.items)
    if (item.kind == RunItemKind::Stretch) byProduct(item.prop);
  if (const auto* port = yard::find<yard::Port>(a.yard, run.port)) {
    if (const auto* owner = yard::find<yard::Controller>(a.yard, port->owner))
      lowerLimit(limit, owner->pixelsPerPort);
    if (const auto* owner = yard::find<yard::Receiver>(a.yard, port->owner))
      lowerLimit(limit, owner->pixelsPerPort);
  }
  return limit;
}

std::vector<Range> freeRanges(const assess::Assessment& a, Id prop) {
  const auto shape = a.shapes.find(prop);
  if (shape == a.shapes.end()) return {};
  std::vector<std::uint8_t> taken(shape->second->pixels.size(), 0);
  for (const auto& [id, run] : yard::all<Run>(a.yard))
    for (const RunItem& item : run->items) {
      if (item.kind != RunItemKind::Stretch || item.prop != prop) continue;
      const Range range = routes::rangeOf(item, a.shapes);
      for (std::int64_t k = range.first; k <= range.last; ++k) taken[static_cast<std::size_t>(k - 1)] = 1;
    }
  std::vector<Range> free;
  for (std::size_t i = 0; i < taken.size(); ++i) {
    if (taken[i]) continue;
    const auto number = static_cast<std::int64_t>(i) + 1;
    if (!free.empty() && free.back().last == number - 1)
      free.back().last = number;
    else
      free.push_back({number, number});
  }
  return free;
}

Id nextFreePort(const yard::Yard& yard, Id box) {
  std::vector<Id> owners;
  for (const auto& [id, controller] : yard::all<yard::Controller>(yard))
    if (controller->box == box) owners.push_back(id);
  for (const auto& [id, receiver] : yard::all<yard::Receiver>(yard))
    if (receiver->box == box) owners.push_back(id);
  for (const Id owner : owners)
    for (const auto& [port, record] : yard::portsOf(yard, owner))
      if (!yard::runOnPort(yard, port)) return port;
  return {};
}

std::int64_t placesOf(const assess::Assessment& a, const Run& run) {
  std::int64_t places = 0;
  for (const RunItem& item : run.items) {
    if (item.kind == RunItemKind::Stretch) places += lengthOf(routes::rangeOf(item, a.shapes));
    if (item.kind == RunItemKind::NullPixel || item.kind == RunItemKind::Unused) places += item.count;
  }
  return places;
}

RunStep nextRunStep(const assess::Assessment& a, Id runId, Id port, Id prop, std::optional<bool> reversed) {
  RunStep step;
  step.prop = prop;
  const Run* known = yard::find<Run>(a.yard, runId);
  Run run = known ? *known : Run{};
  if (!known) run.port = port;
  const std::string propLabel = yard::labelOf(a.yard, prop);
  const auto refuse = [&](const char* key, std::map<std::string, base::Fact> facts) {
    facts.emplace("prop", propLabel);
    step.refusal = {key, std::move(facts)};
    return step;
  };
  const auto shape = a.shapes.find(prop);
  if (shape == a.shapes.end()) return refuse("canvas_run_no_shape", {});
  const std::vector<Range> free = freeRanges(a, prop);
  if (free.empty()) return refuse("canvas_run_wired", {});
  step.before = placesOf(a, run);
  step.limit = mostPlaces(a, run, prop);
  step.item = static_cast<std::int64_t>(run.items.size());
  std::tie(step.range, step.reversed) = nearestEnd(a, free, prop, tailOf(a, run), reversed);
  const std::int64_t wanted = lengthOf(step.range);
  if (step.limit > 0 && step.before + wanted > step.limit) {
    const std::int64_t room = std::max<std::int64_t>(0, step.limit - step.before);
    const Range part = cutToJoint(*shape->second, step.range, step.reversed, room);
    if (lengthOf(part) == 0) {
      step.range = {1, 0};
      return room == 0 ? refuse("canvas_run_full", {{"limit", step.limit}})
                       : refuse("canvas_run_no_joint", {{"room", room}, {"limit", step.limit}});
    }
    step.leftOver = wanted - lengthOf(part);
    step.range = part;
  }
  RunItem item = stretchOf(prop, step.range, step.reversed);
  if (step.range == Range{1, static_cast<std::int64_t>(shape->second->pixels.size())})
    item.first = item.last = 0;
  run.items.push_back(item);
  edit::Editor editor(a.yard);
  step.run = known ? runId : editor.add(run);
  if (known) editor.replace(runId, run);
  const std::string to = run.port ? yard::labelOf(a.yard, run.port) : yard::labelOf(editor.yard(), step.run);
  step.change =
      editor.finish(base::text(base::Message{"canvas_run_add", {{"prop", propLabel}, {"port", to}}}));
  return step;
}

}  // namespace yw::ui
