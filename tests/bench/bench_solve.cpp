// The circuit engine beside peers on the same network in the same run: one tridiagonal LAPACK solve (dptsv)
// of as many unknowns, Newton's steps with SuiteSparse KLU, and the ngspice simulator's analysis. One thread.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <limits>
#include <string_view>
#include <vector>

#include "core/circuit/engine.h"
#include "core/circuit/island.h"
#include "core/circuit/load_curve.h"
#include "core/circuit/topology.h"
#include "tests/bench/klu_newton.h"
#include "tests/outside/networks.h"
#include "tests/outside/spice.h"

extern "C" void dptsv_(const int* n, const int* nrhs, double* d, double* e, double* b, const int* ldb,
                       int* info);

namespace {

using namespace yw;
using namespace yw::checks;
using Clock = std::chrono::steady_clock;

double since(Clock::time_point from) { return std::chrono::duration<double>(Clock::now() - from).count(); }

/// Fewer runs of what takes long.
int runsFor(int pixels) { return std::clamp(20'000'000 / pixels, 20, 400); }

double lapackSeconds(int count) {
  const std::vector<double> diagonal(count, 2.1), beside(count, -1.0), right(count, 1.0);
  double best = std::numeric_limits<double>::infinity();
  for (int i = 0; i < runsFor(count); ++i) {
    std::vector<double> d = diagonal, e = beside, b = right;
    const int one = 1;
    int info = 0;
    const auto from = Clock::now();
    dptsv_(&count, &one, d.data(), e.data(), b.data(), &count, &info);
    best = std::min(best, since(from));
  }
  return best;
}

void row(const std::string& name, double ours, double peer, int pixels) {
  fmt::print("{}\t{:.2f} ns/px\t{:.2f} ns/px\t{:.3g}\n", name, 1e9 * ours / pixels, 1e9 * peer / pixels,
             ours / peer);
  std::fflush(stdout);
}

/// Runs of 300 pixels, one supply for each 800, of all kinds of load, V+ cut between supplies, 0 V in meshes:
/// about 2,500 pixels of 100,000 have something attached.
Network yardOf(int pixels, double stress, std::uint64_t seed = 11) {
  Wish wish;
  wish.pixels = pixels;
  wish.chains = std::max(1, pixels / 300);
  wish.supplies = 1 + pixels / 800;
  wish.stress = stress;
  wish.mixedRatios = false;  // as in a yard of two-wire cable
  return randomNetwork(seed, wish);
}

struct Parts {
  double cutting = std::numeric_limits<double>::infinity(), setUp = cutting, newton = cutting;
  int steps = 0;
};

Parts partsOf(const Network& n, int pixels) {
  Parts best;
  const std::vector<circuit::LoadCurve> curves(n.loads.begin(), n.loads.end());
  for (int i = 0; i < runsFor(pixels); ++i) {
    auto from = Clock::now();
    const auto topology = circuit::topologyOf(n);
    best.cutting = std::min(best.cutting, since(from));
    std::vector<std::int32_t> scratch(topology.pairs.size(), -1);
    double setUp = 0.0, newton = 0.0;
    for (std::size_t k = 0; k < topology.islands.size(); ++k) {
      from = Clock::now();
      circuit::Island island(n, topology, curves, static_cast<std::int32_t>(k), scratch);
      setUp += since(from);
      from = Clock::now();
      best.steps = std::max(best.steps, island.solve().steps);
      newton += since(from);
    }
    best.setUp = std::min(best.setUp, setUp);
    best.newton = std::min(best.newton, newton);
  }
  return best;
}

/// The middle one of five yards by the time its Newton steps take: one more step is a third more time.
void cold(int pixels) {
  struct Of {
    Network network;
    Parts parts;
  };
  std::vector<Of> all;
  for (const std::uint64_t seed : {11, 12, 13, 14, 15}) {
    all.push_back({yardOf(pixels, 0.6, seed), {}});
    all.back().parts = partsOf(all.back().network, pixels);
  }
  std::sort(all.begin(), all.end(), [](const Of& a, const Of& b) { return a.parts.newton < b.parts.newton; });
  const auto& [n, parts] = all[2];
  const int count = static_cast<int>(n.pixelCount());
  const double lapack = lapackSeconds(count);
  double whole = std::numeric_limits<double>::infinity();
  for (int i = 0; i < std::min(40, runsFor(pixels)); ++i) {
    const auto from = Clock::now();
    const auto solution = circuit::solve(n);
    whole = std::min(whole, since(from));
  }
  const std::string size = fmt::format("{} px, {} steps", count, parts.steps);
  row("cold solve against dptsv: " + size, parts.newton, lapack, count);
  row("  the slowest of five yards", all[4].parts.newton, lapack, count);
  row("  cutting into islands: " + size, parts.cutting, lapack, count);
  row("  making the systems: " + size, parts.setUp, lapack, count);
  row("  all of it and every amp read out: " + size, whole, lapack, count);
}

/// Each edit changes the wire of one run; the answer is every pixel's volts.
void edits(int pixels) {
  const Network n = yardOf(pixels, 0.6);
  const int count = static_cast<int>(n.pixelCount());
  circuit::Engine engine(n);
  engine.pixelVolts();
  Dice dice(5);
  std::vector<double> seconds;
  for (int i = 0; i < 201; ++i) {
    const auto c = static_cast<std::size_t>(dice.below(static_cast<int>(n.chains.size())));
    circuit::Chain chain = n.chains[c];
    const double times = dice.between(0.8, 1.2);
    for (std::size_t k = 1; k < chain.load.size(); ++k) {
      chain.positive[k] *= times;
      chain.zero[k] *= times;
    }
    const auto from = Clock::now();
    engine.setChain(c, std::move(chain));
    engine.pixelVolts();
    seconds.push_back(since(from));
  }
  std::sort(seconds.begin(), seconds.end());
  // A feed that lands one pixel further on.
  Network moved = n;
  for (std::int32_t end = 0; auto& c : moved.conductors)
    if (c.a < 2 && c.b >= n.extraNodes && c.b % 2 == c.a % 2 && end < 2) {
      c.b += 2;
      ++end;
    }
  double anew = std::numeric_limits<double>::infinity();
  for (int i = 0; i < 20; ++i) {
    circuit::Engine fresh(moved);
    const auto from = Clock::now();
    fresh.pixelVolts();
    anew = std::min(anew, since(from));
  }
  const double lapack = lapackSeconds(count);
  const auto name = [&](const char* which) {
    return fmt::format("one run edited, {}, against dptsv: {} px, {} builds", which, count, engine.builds());
  };
  row(name("median"), seconds[seconds.size() / 2], lapack, count);
  row(name("99 of 100"), seconds[seconds.size() * 99 / 100], lapack, count);
  row(fmt::format("a feed moved, all found out anew, against dptsv: {} px", count), anew, lapack, count);
}

/// Both peers meet the same network, on which plain Newton steps arrive.
void peers(int pixels, bool spice) {
  const Network n = yardOf(pixels, 0.3);
  const int count = static_cast<int>(n.pixelCount());
  const Parts parts = partsOf(n, count);
  KluNewton klu(n);
  auto run = klu.solve();
  for (int i = 0; i < 4; ++i) run.seconds = std::min(run.seconds, klu.solve().seconds);
  circuit::Engine engine(n);
  const auto ours = engine.pixelVolts();
  double apart = 0.0;
  for (std::size_t i = 0; i < ours.size(); ++i) apart = std::max(apart, std::abs(ours[i] - klu.volts()[i]));
  row(fmt::format("cold solve against Newton with KLU ({} steps, {:.1g} V apart): {} px", run.steps, apart,
                  count),
      parts.newton, run.seconds, count);
  if (!spice) return;
  std::string deck = circuit::spiceDeck(n);
  deck.replace(deck.find("\nop\n"), 4, "\nop\nrusage all\n");
  const SpiceRun spiced = runSpice(deck);
  if (spiced.ran)
    row(fmt::format("cold solve against ngspice's analysis: {} px", count), parts.newton,
        spiced.analysisSeconds, count);
  else
    fmt::print(stderr, "ngspice did not run\n");
}

}  // namespace

/// `--long`: the simulator also takes 100,000 pixels, for a quarter of an hour or more.
int main(int count, char** words) {
  const bool longer = count > 1 && std::string_view(words[1]) == "--long";
  for (const int pixels : {1'000, 10'000, 100'000, 1'000'000}) cold(pixels);
  for (const int pixels : {10'000, 100'000}) edits(pixels);
  for (const int pixels : {1'000, 10'000, 100'000}) peers(pixels, pixels <= 10'000 || longer);
}
