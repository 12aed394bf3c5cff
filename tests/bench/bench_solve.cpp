// Cold solve of a whole yard against one tridiagonal LAPACK solve (dptsv) of as many unknowns in the same
// run, and against the ngspice simulator's analysis of the same network.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <limits>
#include <vector>

#include "core/circuit/island.h"
#include "core/circuit/load_curve.h"
#include "core/circuit/topology.h"
#include "tests/outside/networks.h"
#include "tests/outside/spice.h"

extern "C" void dptsv_(const int* n, const int* nrhs, double* d, double* e, double* b, const int* ldb,
                       int* info);

namespace {

using namespace yw;
using namespace yw::checks;

constexpr int kRuns = 25;

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

double lapackSeconds(int count) {
  const std::vector<double> diagonal(count, 2.1), beside(count, -1.0), right(count, 1.0);
  std::vector<double> d, e, b;
  double best = std::numeric_limits<double>::infinity();
  for (int i = 0; i < kRuns; ++i) {
    d = diagonal;
    e = beside;
    b = right;
    const int one = 1;
    int info = 0;
    const auto from = std::chrono::steady_clock::now();
    dptsv_(&count, &one, d.data(), e.data(), b.data(), &count, &info);
    best = std::min(best, std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count());
  }
  return best;
}

void row(const std::string& name, double ours, double peer, int pixels) {
  fmt::print("{}\t{:.2f} ns/px\t{:.2f} ns/px\t{:.3g}\n", name, 1e9 * ours / pixels, 1e9 * peer / pixels,
             ours / peer);
}

void measure(int pixels) {
  Wish wish;
  wish.pixels = pixels;
  wish.chains = std::max(1, pixels / 200);
  wish.mixedRatios = false;  // as in a yard of two-wire cable
  const Network n = randomNetwork(11, wish);
  const int count = static_cast<int>(n.pixelCount());
  circuit::Solution solution;
  const double whole = bestSeconds([&] { solution = circuit::solve(n); });
  const double lapack = lapackSeconds(count);
  const auto topology = circuit::topologyOf(n);
  std::vector<circuit::LoadCurve> curves;
  for (const Load& load : n.loads) curves.emplace_back(load);
  std::vector<std::int32_t> scratch(topology.pairs.size(), -1);
  const double cutting = bestSeconds([&] { circuit::topologyOf(n); });
  double newton = std::numeric_limits<double>::infinity(), setUp = newton;
  for (int i = 0; i < kRuns; ++i) {
    double one = 0.0, two = 0.0;
    for (std::size_t k = 0; k < topology.islands.size(); ++k) {
      const auto from = std::chrono::steady_clock::now();
      circuit::Island island(n, topology, curves, static_cast<std::int32_t>(k), scratch);
      const auto made = std::chrono::steady_clock::now();
      island.solve();
      one += std::chrono::duration<double>(made - from).count();
      two += std::chrono::duration<double>(std::chrono::steady_clock::now() - made).count();
    }
    setUp = std::min(setUp, one);
    newton = std::min(newton, two);
  }
  const std::string size = fmt::format("{} px, {} steps", count, solution.steps);
  row("solve, all of it, against dptsv: " + size, whole, lapack, count);
  row("  cutting into islands: " + size, cutting, lapack, count);
  row("  making the systems: " + size, setUp, lapack, count);
  row("  Newton's iteration: " + size, newton, lapack, count);
  if (pixels > 10'000) return;
  std::string deck = circuit::spiceDeck(n);
  deck.replace(deck.find("\nop\n"), 4, "\nop\nrusage all\n");
  const SpiceRun spice = runSpice(deck);
  if (spice.ran)
    row("solve, all of it, against ngspice's analysis: " + size, whole, spice.analysisSeconds, count);
  else
    fmt::print(stderr, "ngspice did not run\n");
}

}  // namespace

int main() {
  for (const int pixels : {1'000, 10'000, 100'000}) measure(pixels);
}
