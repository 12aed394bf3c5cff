// Planners: feeds for a run of 1,000 pixels with 40 places against a run of about a minute; ports for 300
// props on 64 ports against the best cost known for the seed. Rows: name, ours, peer, ratio.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <random>
#include <string_view>

#include "core/edit/change.h"
#include "core/propose/feed_plan.h"
#include "core/routes/routes.h"
#include "tests/core/propose/random_ports.h"

namespace {

using namespace yw::propose;

double seconds(std::chrono::steady_clock::time_point from) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count();
}

/// What the run is like: how much a pixel takes, and rails alike or as strips and fuses have them.
struct Sort {
  const char* words;
  double least, most;  ///< A
  double unlike;       ///< V+ to 0 V
};
constexpr Sort kSorts[] = {
    {"light", 0.012, 0.02, 1.0}, {"heavy", 0.024, 0.04, 1.0}, {"unlike rails", 0.012, 0.02, 1.25}};

FeedRun longRun(std::uint32_t seed, int pixels, int places, int kinds, const Sort& sort) {
  std::mt19937 engine(seed);
  const auto draw = [&](double low, double high) { return low + (high - low) * (engine() / 4294967296.0); };
  FeedRun run;
  run.supplyVolts = {12.0};
  yw::circuit::Load load;
  load.channels[0].amps = draw(sort.least, sort.most);
  load.channels[0].dark = 3.0;
  load.channels[0].full = 4.0;
  run.loads = {load};
  const double least = draw(10.2, 11.0);
  for (int k = 0; k < pixels; ++k) {
    run.load.push_back(0);
    const double ohms = k == 0 ? 0.0 : draw(0.0025, 0.0045);
    run.positiveOhms.push_back(ohms * sort.unlike);
    run.zeroOhms.push_back(ohms);
    run.leastVolts.push_back(least);
  }
  constexpr double kOhms[] = {0.0132, 0.0083, 0.0052, 0.0033}, kMost[] = {4.0, 5.6, 7.5, 11.0},
                   kPrice[] = {1.1, 1.5, 2.1, 3.1};
  for (int i = 0; i < places; ++i) {
    const double metres = draw(2.0, 20.0);
    for (int t = 0; t < kinds; ++t) {
      FeedOption option;
      option.place = i * (pixels - 1) / (places - 1);
      option.zeroOhms = 0.01 + metres * kOhms[t];
      option.positiveOhms = option.zeroOhms + (sort.unlike > 1.0 ? 0.1 / kMost[t] : 0.0);
      option.most = kMost[t];
      option.cost = 4.0 + metres * kPrice[t];
      run.options.push_back(option);
    }
  }
  return run;
}

void feeds(int kinds, const Sort& sort) {
  double ours = 0.0, slowest = 0.0, gap = 0.0, even = 0.0;
  int runs = 0, proved = 0, evens = 0, dearer = 0, broken = 0;
  for (std::uint32_t seed = 1; seed <= 8; ++seed) {
    const FeedRun run = longRun(seed, 1000, 40, kinds, sort);
    FeedEffort effort, reference;
    effort.comparisons = 10'000'000;
    reference.comparisons = 2'000'000'000;  // about a minute where nothing is proved before
    const auto from = std::chrono::steady_clock::now();
    const FeedPlan plan = planFeeds(run, effort);
    const double took = seconds(from);
    const FeedPlan best = planFeeds(run, reference), spaced = equalSpacing(run);
    if (!plan.feasible) continue;
    ++runs;
    ours += took;
    slowest = std::max(slowest, took);
    proved += plan.optimal ? 1 : 0;
    gap += plan.cost / best.cost - 1.0;
    broken += checkFeeds(run, plan.chosen, plan.usesPort).holds ? 0 : 1;
    if (!spaced.feasible) continue;
    ++evens;
    dearer += plan.cost > spaced.cost + 1e-9 ? 1 : 0;
    even += spaced.cost / plan.cost - 1.0;
  }
  if (runs == 0) return;
  std::printf("feeds 1000 px, 40 places, %d kinds, %s: slowest plan, s (mean %.3f)\t%.3f\t0.5\t%.3f\n", kinds,
              sort.words, ours / runs, slowest, slowest / 0.5);
  std::printf("  cost over a minute's work, mean (goal 0.01); proved %d of %d\t%.4f\t0.01\t%.4f\n", proved,
              runs, gap / runs, gap / runs / 0.01);
  std::printf("  plans that break a limit in the circuit\t%d\t0\t%d\n", broken, broken);
  std::printf("  plans dearer than even spacing, of %d\t%d\t0\t%d\n", evens, dearer, dearer);
  if (evens > 0) std::printf("  even spacing over ours, mean\t%.4f\t0\t%.4f\n", even / evens, even / evens);
}

/// Best cost known of the job with that seed: 200 million tries of the annealing, kept here.
struct Known {
  std::uint32_t seed;
  double cost;
};
constexpr Known kKnown[] = {{2, 2986.057}, {4, 3146.046}, {6, 3245.003}, {8, 3355.386}};

PortJob manyProps(std::uint32_t seed) {
  PortJob job = randomPorts(seed, 300, 8, 8, 60.0, 40.0);
  std::int64_t pixels = 0;
  for (const PortPart& part : job.parts) pixels += part.pixels;
  for (PortSite& site : job.sites) {
    site.pixels = pixels * 100 / (85 * 64);  // 85 % full
    site.bankAmps = 1e3;
  }
  job.familyPixels.assign(job.familyPixels.size(), job.sites.front().pixels);
  return job;
}

void ports(const Known& known) {
  const PortJob job = manyProps(known.seed);
  // Tries stand for times, so that the same yard gives the same answer anywhere.
  for (const std::int64_t tries : {300'000, 1'200'000, 4'000'000, 40'000'000}) {
    PortEffort effort;
    effort.tries = tries;
    effort.exactParts = 0;
    const auto from = std::chrono::steady_clock::now();
    const PortPlan plan = planPorts(job, effort);
    std::printf("ports 300 props, 64 ports, seed %u, %lld tries, %.2f s, %zu unplaced\t%.1f\t%.1f\t%.4f\n",
                known.seed, static_cast<long long>(tries), seconds(from), plan.unplaced.size(), plan.cost,
                known.cost, plan.cost / known.cost);
  }
}

/// 125 four-cornered obstacles, 300 props and 20 boxes on 100 m by 100 m.
void routes() {
  using namespace yw;
  std::mt19937 engine(7);
  const auto draw = [&](double low, double high) { return low + (high - low) * (engine() / 4294967296.0); };
  edit::Editor editor(yard::emptyYard());
  for (int i = 0; i < 125; ++i) {
    yard::GroundFeature bed;
    bed.blocksLeads = true;
    bed.kind = yard::FeatureKind::House;
    const double x = (i % 11) * 9.0 + draw(0, 3), y = (i / 11) * 8.0 + draw(0, 3), w = draw(1, 5),
                 h = draw(1, 4);
    for (const auto& [dx, dy] : {std::pair{0.0, 0.0}, {w, 0.3}, {w + 0.4, h}, {-0.2, h}})
      bed.outline.push_back(base::point({x + dx, y + dy}));
    editor.add(bed);
  }
  std::vector<base::Vec2> props, boxes;
  for (int i = 0; i < 300; ++i) props.push_back({draw(0, 100), draw(0, 100)});
  for (int i = 0; i < 20; ++i) boxes.push_back({draw(0, 100), draw(0, 100)});
  auto from = std::chrono::steady_clock::now();
  const routes::Ground ground(editor.yard());
  const double made = seconds(from);
  double length = 0.0;
  const auto all = [&] {
    from = std::chrono::steady_clock::now();
    length = 0.0;
    for (const base::Vec2 box : boxes)
      for (const base::Vec2 prop : props) length += ground.shortest(box, prop).length;
    return seconds(from);
  };
  // As the reference counts it: the graph has its 320 ends in it, then every prop is led to from every box.
  from = std::chrono::steady_clock::now();
  for (const auto* ends : {&boxes, &props})
    for (const base::Vec2 end : *ends) length += ground.shortest(end, end).length;
  const double attached = seconds(from);
  const double first = all(), again = all();
  from = std::chrono::steady_clock::now();
  for (const base::Vec2 box : boxes) length += ground.shortest(box, {draw(0, 100), draw(0, 100)}).length;
  const double moved = seconds(from);
  std::printf("routes 500 corners: graph with its 320 ends, s\t%.4f\t0.3\t%.4f\n", made + attached,
              (made + attached) / 0.3);
  std::printf("routes 300 props, 20 boxes, all 6000 ways, s\t%.4f\t0.01\t%.4f\n", first, first / 0.01);
  std::printf("routes the same ways again, s\t%.4f\t0.01\t%.4f\n", again, again / 0.01);
  std::printf("routes one moved object, 20 ways, s\t%.4f\t0.02\t%.4f\n", moved, moved / 0.02);
}

}  // namespace

int main(int count, char** words) {
  if (count == 2 && std::string_view(words[1]) == "best-known") {
    for (const Known& known : kKnown) {
      PortEffort longest;
      longest.tries = 200'000'000;
      longest.exactParts = 0;
      std::printf("seed %u: %.3f\n", known.seed, planPorts(manyProps(known.seed), longest).cost);
      std::fflush(stdout);
    }
    return 0;
  }
  for (const Sort& sort : kSorts)
    for (const int kinds : {2, 4}) feeds(kinds, sort);
  for (const Known& known : kKnown) ports(known);
  routes();
  return 0;
}
