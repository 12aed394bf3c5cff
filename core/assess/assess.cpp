#include "core/assess/assess.h"

#include <algorithm>
#include <atomic>
#include <future>
#include <mutex>

#include "core/assess/margin_study.h"
#include "core/circuit/margin_study.h"
#include "core/routes/places.h"
#include "core/yard/this_year.h"

namespace yw::assess {

class LazyMargins {
 public:
  /// Null: given up.
  const circuit::Margins* of(const Assessment& a, const std::atomic<bool>& stop) {
    const std::lock_guard lock(working_);
    if (known_) return &margins_;
    circuit::Margins made =
        circuit::marginsUnless(stop, a.taught, a.shapes, a.routes, a.layouts, a.fit.belief);
    if (stop) return nullptr;
    margins_ = std::move(made);
    known_ = true;
    return &margins_;
  }
  const circuit::Margins* known() const { return known_ ? &margins_ : nullptr; }

 private:
  std::mutex working_;
  std::atomic<bool> known_{false};
  circuit::Margins margins_;
};

const circuit::Margins& margins(const Assessment& a) {
  return *a.lazyMargins->of(a, std::atomic<bool>{false});
}
bool studyMargins(const Assessment& a, const std::atomic<bool>& stop) {
  return a.lazyMargins->of(a, stop) != nullptr;
}
const circuit::Margins* marginsIfKnown(const Assessment& a) {
  return a.lazyMargins ? a.lazyMargins->known() : nullptr;
}

yard::Origin originOf(const Assessment& a, Id id) {
  if (const auto* product = yard::find<yard::Product>(a.taught, id)) return product->origin;
  if (a.fit.taught({circuit::UnknownKind::SupplyVolts, id})) return yard::Origin::Measured;
  const auto* supply = yard::find<yard::Supply>(a.taught, id);
  return supply != nullptr ? supply->origin : yard::Origin::Assumed;
}

namespace {

/// What was measured teaches the figures that the circuit is computed from.
void learn(Assessment& out, const yard::Yard& now) {
  out.lazyMargins = std::make_shared<LazyMargins>();
  out.fit = circuit::fit(now, out.shapes, out.routes, out.layouts);
  out.taught = circuit::taughtYard(now, out.fit);
}

/// The record of that id is the very same in both yards.
bool sameRecord(const yard::Yard& a, const yard::Yard& b, Id id) {
  const auto x = a.records.find(id), y = b.records.find(id);
  return x != a.records.end() && y != b.records.end() && x->second == y->second;
}

void makeShapes(Assessment& out, const Assessment* old) {
  std::vector<Id> ids;
  std::vector<const yard::Prop*> props;
  for (const auto& [id, prop] : yard::all<yard::Prop>(out.yard)) {
    if (old != nullptr && sameRecord(out.yard, old->yard, id)) {
      if (const auto it = old->shapes.find(id); it != old->shapes.end()) {
        out.shapes.emplace(id, it->second);
        continue;
      }
      if (const auto it = old->shapeErrors.find(id); it != old->shapeErrors.end()) {
        out.shapeErrors.emplace(id, it->second);
        continue;
      }
    }
    ids.push_back(id);
    props.push_back(prop);
  }
  auto made = shapes::makeAll(props);
  for (std::size_t i = 0; i < made.size(); ++i)
    if (made[i])
      out.shapes.emplace(ids[i], std::make_shared<const shapes::Shape>(std::move(*made[i])));
    else
      out.shapeErrors.emplace(ids[i], std::move(made[i].error()));
}

/// Pixels of 1..count that none of the ranges holds.
std::int64_t uncovered(std::vector<yard::Range> ranges, std::int64_t count) {
  std::sort(ranges.begin(), ranges.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  std::int64_t covered = 0, reached = 0;
  for (const yard::Range& r : ranges) {
    if (r.last <= reached) continue;
    covered += r.last - std::max(r.first - 1, reached);
    reached = r.last;
  }
  return count - covered;
}

void findWiring(Assessment& out) {
  std::map<Id, std::vector<yard::Range>> ranges;
  for (const auto& [runId, run] : yard::all<yard::Run>(out.yard))
    for (std::size_t i = 0; i < run->items.size(); ++i) {
      const yard::RunItem& item = run->items[i];
      if (item.kind != yard::RunItemKind::Stretch) continue;
      if (yard::find<yard::Prop>(out.yard, item.prop) == nullptr) continue;
      out.wiredIn[item.prop].emplace_back(runId, static_cast<std::int64_t>(i));
      const yard::Range range = routes::rangeOf(item, out.shapes);
      if (range.first <= range.last) ranges[item.prop].push_back(range);
    }
  for (const auto& [id, prop] : yard::all<yard::Prop>(out.yard)) {
    const auto shape = out.shapes.find(id);
    if (shape == out.shapes.end()) continue;
    if (yard::rests(*prop)) continue;
    const auto count = static_cast<std::int64_t>(shape->second->pixels.size());
    const std::int64_t left = uncovered(ranges[id], count);
    if (left > 0) out.unwired.emplace(id, left);
  }
}

/// Both conditions from one network; side by side where that is worth a thread.
void solve(Assessment& out) {
  out.network = std::make_shared<const circuit::YardNetwork>(
      circuit::networkOf(out.taught, out.shapes, out.routes, out.layouts));
  const auto under = [&out](circuit::Condition condition) {
    return circuit::compute(*out.network, out.taught, out.routes, out.layouts, condition);
  };
  std::size_t pixels = 0;
  for (const auto& [id, layout] : out.layouts) pixels += layout->pixels.size();
  constexpr std::size_t kWorthAThread = 10'000;
  const auto policy = pixels < kWorthAThread ? std::launch::deferred : std::launch::async;
  auto white = std::async(policy, under, circuit::Condition::FullWhite);
  out.limit = under(circuit::Condition::BrightnessLimit);
  out.fullWhite = white.get();
}

}  // namespace

const circuit::Faults& Assessment::faults() const {
  std::call_once(lazy->once, [this] {
    const circuit::Faults* lent = lazy->old != nullptr ? &lazy->old->faults : nullptr;
    lazy->faults = circuit::faultsOf(taught, routes, layouts, *network, limit, lent);
    lazy->old = nullptr;
    lazy->made = true;
  });
  return lazy->faults;
}

const std::vector<circuit::ColorFigure>& Assessment::colors() const {
  std::call_once(lazy->onceColors, [this] { lazy->colors = circuit::colorsOf(taught, *network); });
  return lazy->colors;
}

std::string Assessment::labelOf(Id id) const {
  std::call_once(lazy->onceLabels, [this] { lazy->labels = std::make_unique<yard::Labels>(yard); });
  return lazy->labels->of(id);
}

AssessmentPtr assess(const yard::Yard& yard, const AssessmentPtr& old) {
  auto out = std::make_shared<Assessment>();
  out->yard = yard;
  makeShapes(*out, old.get());
  const bool ground = old != nullptr && old->ground != nullptr && old->ground->isOf(yard);
  out->ground = ground ? old->ground : std::make_shared<const routes::Ground>(yard);
  const yard::Yard now = yard::thisYear(yard);  // what rests is drawn, and nothing more
  out->routes = routes::route(now, out->shapes, *out->ground);
  out->layouts = circuit::layouts(now, out->shapes, out->routes);
  learn(*out, now);
  solve(*out);
  out->data = data::compute(now, out->shapes, out->routes, out->layouts);
  out->totals = takeoff::compute(now, out->shapes, out->routes);
  findWiring(*out);
  out->lazy = std::make_shared<Assessment::Lazy>();
  if (old != nullptr && old->lazy->made) out->lazy->old = old->lazy;
  return out;
}

}  // namespace yw::assess
