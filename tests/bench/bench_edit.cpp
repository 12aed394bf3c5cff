// From an edit to fresh figures of the whole yard, against assessing the same yard from nothing; and shortest
// ways over a ground of many corners, asked for the first time and again.
#include <fmt/format.h>

#include <atomic>
#include <chrono>
#include <cmath>
#include <fstream>
#include <limits>
#include <random>

#include "core/assess/assess.h"
#include "core/circuit/margin_study.h"
#include "core/findings/findings.h"
#include "core/yard/codec.h"

namespace {

using namespace yw;
using base::Id;
using base::Vec2;

constexpr int kRuns = 15;

template <class F>
double bestSeconds(F&& run) {
  double best = std::numeric_limits<double>::infinity();
  for (int i = 0; i < kRuns; ++i) {
    const auto from = std::chrono::steady_clock::now();
    run();
    best = std::min(best, std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count());
  }
  return best;
}

yard::Yard sample(const std::string& name) {
  std::ifstream file(std::string(YARDWRIGHT_ROOT) + "/sample-yards/" + name + ".yard");
  yard::Yard yard;
  for (std::string line; std::getline(file, line);) {
    if (!line.starts_with("{\"id\":")) continue;
    if (line.back() == ',') line.pop_back();
    auto read = yard::decode(line);
    if (!read) continue;
    yard.nextId = std::max(yard.nextId, read->first.value + 1);
    yard.records.emplace(read->first, std::make_shared<const yard::Record>(std::move(read->second)));
  }
  return yard;
}

template <class R>
yard::Yard withFirst(yard::Yard yard, void (*change)(R&)) {
  const auto records = yard::all<R>(yard);
  if (records.empty()) return yard;
  R copy = *records.front().second;
  change(copy);
  yard.records[records.front().first] = std::make_shared<const yard::Record>(std::move(copy));
  return yard;
}

void row(const std::string& name, double ours, double peer) {
  fmt::print("{}\t{:.2f} ms\t{:.2f} ms\t{:.3f}\n", name, 1e3 * ours, 1e3 * peer, ours / peer);
}

void measureEdits(const std::string& name) {
  const yard::Yard yard = sample(name);
  const assess::AssessmentPtr before = assess::assess(yard);
  const std::string size = fmt::format("{}, {} px", name, before->totals.pixels);
  const auto measure = [&](const std::string& what, const yard::Yard& edited) {
    const double warm = bestSeconds([&] { assess::assess(edited, before); });
    row(fmt::format("{}: {}", size, what), warm, bestSeconds([&] { assess::assess(edited); }));
  };
  measure("move a prop", withFirst<yard::Prop>(yard, [](yard::Prop& p) { p.at.x += base::feet(3); }));
  measure("move a ground feature", withFirst<yard::GroundFeature>(yard, [](yard::GroundFeature& f) {
            for (base::Point& p : f.outline) p.x += base::feet(3);
          }));
  measure("change the brightness limit",
          withFirst<yard::Settings>(yard, [](yard::Settings& s) { s.brightnessLimit.count += 10'000; }));
}

/// What follows the everyday figures after a prop moved: losses and shorts, findings; and how sure the runs
/// are.
void measureStudies(const std::string& name) {
  const yard::Yard yard = sample(name);
  const assess::AssessmentPtr before = assess::assess(yard);
  const circuit::Faults& known = before->faults();
  const auto moved =
      assess::assess(withFirst<yard::Prop>(yard, [](yard::Prop& p) { p.at.x += base::feet(3); }), before);
  const auto study = [&](const circuit::Faults* lent) {
    return bestSeconds([&] {
      circuit::faultsOf(moved->taught, moved->routes, moved->layouts, *moved->network, moved->limit, lent);
    });
  };
  const std::string size = fmt::format("{}, {} px", name, before->totals.pixels);
  const double everyday = bestSeconds([&] { assess::assess(yard, before); });
  row(size + ": losses and shorts after a prop moved, against all", study(&known), study(nullptr));
  moved->faults();
  row(size + ": findings, against the everyday figures", bestSeconds([&] { findings::report(*moved); }),
      everyday);
  row(size + ": network from records, against the everyday figures",
      bestSeconds([&] { circuit::networkOf(moved->taught, moved->shapes, moved->routes, moved->layouts); }),
      everyday);
  const std::atomic<bool> never{false};
  row(size + ": how sure each run is, against the everyday figures", bestSeconds([&] {
        circuit::marginsUnless(never, moved->taught, moved->shapes, moved->routes, moved->layouts,
                               moved->fit.belief);
      }),
      everyday);
}

/// Trees on a grid, each a ring of 4 to 8 corners.
yard::Yard grove(int trees) {
  std::mt19937 random(5);
  yard::Yard yard;
  const int across = static_cast<int>(std::ceil(std::sqrt(trees)));
  const double step = 100.0 / across;
  for (int i = 0; i < trees; ++i) {
    yard::GroundFeature tree;
    tree.kind = yard::FeatureKind::Tree;
    const int corners = 4 + static_cast<int>(random() % 5);
    for (int j = 0; j < corners; ++j) {
      const double turn =
          2.0 * 3.14159265358979 * (j + 0.005 * static_cast<double>(random() % 100)) / corners;
      const double far = step / 7.0 * (1.0 + 0.02 * static_cast<double>(random() % 100));
      tree.outline.push_back(base::point({(i % across + 0.5) * step + far * std::cos(turn),
                                          (i / across + 0.5) * step + far * std::sin(turn)}));
    }
    yard.records.emplace(Id{yard.nextId++}, std::make_shared<const yard::Record>(tree));
  }
  return yard;
}

void measureWays(int trees) {
  const yard::Yard yard = grove(trees);
  std::mt19937 random(6);
  std::vector<Vec2> ends;
  for (int i = 0; i < 320; ++i)
    ends.push_back(
        {static_cast<double>(random() % 100'000) * 1e-3, static_cast<double>(random() % 100'000) * 1e-3});
  const auto all = [&](const routes::Ground& ground) {
    double sum = 0.0;
    for (int s = 300; s < 320; ++s)
      for (int p = 0; p < 300; ++p) sum += ground.shortest(ends[s], ends[p]).length;
    return sum;
  };
  double sum = 0.0;
  const double cold = bestSeconds([&] { sum += all(routes::Ground(yard)); });
  const routes::Ground ground(yard);
  sum += all(ground);
  row(fmt::format("6000 ways round {} trees, again", trees), bestSeconds([&] { sum += all(ground); }), cold);
  if (!(sum > 0.0)) fmt::print("no way found\n");
}

}  // namespace

int main() {
  measureEdits("corner-lot");
  measureEdits("large-grounds");
  measureStudies("corner-lot");
  measureStudies("large-grounds");
  for (const int trees : {8, 33, 85}) measureWays(trees);
}
