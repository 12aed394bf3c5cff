#include "ui/canvas/tools/jumper_step.h"

#include <algorithm>

#include "core/routes/places.h"
#include "core/yard/labels.h"
#include "ui/canvas/tools/run_step.h"

namespace yw::ui {

using assess::Assessment;
using base::Id;
using yard::Run;
using yard::RunItem;
using yard::RunItemKind;

namespace {

/// m from the stretch before to this one and on to the one after.
double waysOf(const Assessment& a, const Run& run, std::size_t at) {
  const auto place = [&](const yard::Terminal& end) { return routes::placeOf(a.yard, a.shapes, end); };
  const RunItem& item = run.items[at];
  double sum = 0.0;
  std::optional<base::Vec3> from;
  if (run.port) from = place({yard::TerminalKind::Port, run.port, 0});
  for (std::size_t k = 0; k < at; ++k)
    if (run.items[k].kind == RunItemKind::Stretch) from = place(routes::exitOf(run.items[k], a.shapes));
  if (from) sum += base::distance(*from, place(routes::entryOf(item, a.shapes)));
  for (std::size_t k = at + 1; k < run.items.size(); ++k)
    if (run.items[k].kind == RunItemKind::Stretch)
      return sum + base::distance(place(routes::exitOf(item, a.shapes)),
                                  place(routes::entryOf(run.items[k], a.shapes)));
  return sum;
}

/// Every stretch of a prop: its run and index.
std::vector<std::pair<Id, std::size_t>> stretchesOf(const yard::Yard& yard, Id prop) {
  std::vector<std::pair<Id, std::size_t>> found;
  for (const auto& [id, run] : yard::all<Run>(yard))
    for (std::size_t k = 0; k < run->items.size(); ++k)
      if (run->items[k].kind == RunItemKind::Stretch && run->items[k].prop == prop) found.emplace_back(id, k);
  return found;
}

}  // namespace

JumperStep pullThrough(const Assessment& a, Id runId, std::int64_t itemIndex, Id prop,
                       std::optional<bool> reversed) {
  JumperStep step;
  const std::string label = yard::labelOf(a.yard, prop);
  const auto refuse = [&](const char* key, std::map<std::string, base::Fact> facts = {}) {
    facts.emplace("prop", label);
    step.refusal = {key, std::move(facts)};
    return step;
  };
  const Run* known = yard::find<Run>(a.yard, runId);
  if (!known || itemIndex < 0 || itemIndex > static_cast<std::int64_t>(known->items.size())) return step;
  if (!a.shapes.contains(prop)) return refuse("canvas_run_no_shape");
  Run run = *known;
  auto at = static_cast<std::size_t>(itemIndex);
  RunItem item;
  item.prop = prop;
  const auto wired = stretchesOf(a.yard, prop);
  const auto unwired = a.unwired.find(prop);
  if (wired.size() > 1 || (wired.size() == 1 && unwired != a.unwired.end() && unwired->second > 0))
    return refuse("canvas_jumper_parts");
  edit::Editor editor(a.yard);
  std::string off;  // the other run it is taken off
  if (wired.size() == 1) {
    const auto [from, index] = wired.front();
    item = yard::find<Run>(a.yard, from)->items[index];
    if (from == runId) {
      if (index == at || index + 1 == at) return refuse("canvas_jumper_here");
      run.items.erase(run.items.begin() + static_cast<std::ptrdiff_t>(index));
      if (index < at) --at;
    } else {
      editor.update<Run>(
          from, [i = index](Run& r) { r.items.erase(r.items.begin() + static_cast<std::ptrdiff_t>(i)); });
    }
  }
  const std::int64_t limit = mostPlaces(a, run, prop);
  run.items.insert(run.items.begin() + static_cast<std::ptrdiff_t>(at), item);
  if (limit > 0 && placesOf(a, run) > limit) return refuse("canvas_run_full", {{"limit", limit}});
  double shortest = 1e300;
  for (const bool turned : {false, true}) {
    if (reversed && *reversed != turned) continue;
    run.items[at].reversed = turned;
    const double ways = waysOf(a, run, at);
    if (ways < shortest - 1e-9) shortest = ways, step.reversed = turned;
  }
  run.items[at].reversed = step.reversed;
  editor.replace(runId, run);
  const std::string name = yard::labelOf(a.yard, run.port ? run.port : runId);
  step.change =
      editor.finish(base::text(base::Message{off.empty() ? "canvas_jumper_step" : "canvas_jumper_step_off",
                                             {{"run", name}, {"prop", label}, {"off", off}}}));
  return step;
}

std::set<Id> turnRound(edit::Editor& editor, const std::set<Id>& ids) {
  std::set<Id> turned;
  for (const Id prop : ids)
    for (const auto& [run, index] : stretchesOf(editor.yard(), prop)) {
      editor.update<Run>(run, [i = index](Run& r) { r.items[i].reversed = !r.items[i].reversed; });
      turned.insert(prop);
    }
  return turned;
}

}  // namespace yw::ui
