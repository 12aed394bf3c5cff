// From a large yard's records to its network and its answer, against one LAPACK dptsv call of as many
// unknowns; and the same on all cores against one core.
#include <fmt/format.h>
#include <sched.h>

#include <chrono>
#include <cstdio>
#include <limits>
#include <vector>

#include "core/circuit/engine.h"
#include "core/circuit/yard_network.h"
#include "tests/core/findings/test_yard.h"

extern "C" void dptsv_(const int* n, const int* nrhs, double* d, double* e, double* b, const int* ldb,
                       int* info);

namespace {

using namespace yw;
using namespace yw::testyard;

template <class F>
double bestSeconds(int runs, F&& run) {
  double best = std::numeric_limits<double>::infinity();
  for (int i = 0; i < runs; ++i) {
    const auto from = std::chrono::steady_clock::now();
    run();
    best = std::min(best, std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count());
  }
  return best;
}

double lapackSeconds(int count) {
  double best = std::numeric_limits<double>::infinity();
  for (int i = 0; i < 40; ++i) {
    std::vector<double> d(count, 2.1), e(count, -1.0), b(count, 1.0);
    const int one = 1;
    int info = 0;
    best = std::min(
        best, bestSeconds(1, [&] { dptsv_(&count, &one, d.data(), e.data(), b.data(), &count, &info); }));
  }
  return best;
}

void row(const std::string& name, double ours, double peer) {
  fmt::print("{}\t{:.2f} ms\t{:.2f} ms\t{:.3f}\n", name, 1e3 * ours, 1e3 * peer, ours / peer);
  std::fflush(stdout);
}

/// Boxes of a supply and a controller with four runs each; a run is a small ring and a large one, by turns of
/// another product, with a feed at its end.
yard::Yard yardOf(int pixels) {
  TestYard y;
  std::vector<Id> products;
  for (const auto& [id, product] : all<Product>(y.e.yard()))
    if (product->voltage == Voltage{12'000'000}) products.push_back(id);
  const int boxes = std::max(1, pixels / 1'250);
  for (int b = 0; b < boxes; ++b) {
    const double x = 20.0 * (b % 12), north = 20.0 + 20.0 * (b / 12);
    Box box;
    box.name = "B" + std::to_string(b + 1);
    box.at = at(x, north);
    const Id boxId = y.e.add(box);
    const Id supply = y.addSupply(boxId, y.outlet, 12, 29), controller = y.addController(boxId, supply);
    for (int r = 1; r <= 4; ++r) {
      const std::string name = box.name + "." + std::to_string(r);
      const Id small = y.addProp("ring", name + " small", at(x + 2.0 * r, north + 3.0));
      const Id large = y.addProp("ring", name + " large", at(x + 2.0 * r, north + 8.0));
      const Id product = products[static_cast<std::size_t>(b + r) % products.size()];
      for (const Id prop : {small, large}) y.set<Prop>(prop, [&](Prop& p) { p.product = product; });
      y.set<Prop>(small, [](Prop& p) { p.sizes["diameter"] = base::inches(40).count; });
      y.set<Prop>(large, [](Prop& p) { p.sizes["diameter"] = base::inches(200).count; });
      y.addRun(y.addPort(controller, r), {small, large});
      y.addFeed(y.addFuse(supply, r), large, 20);
    }
  }
  return y.e.yard();
}

/// The whole process on one core or on all it may have.
void useCores(bool all) {
  static const cpu_set_t allowed = [] {
    cpu_set_t set;
    sched_getaffinity(0, sizeof(set), &set);
    return set;
  }();
  cpu_set_t first;
  CPU_ZERO(&first);
  for (int c = 0; c < CPU_SETSIZE; ++c)
    if (CPU_ISSET(c, &allowed)) {
      CPU_SET(c, &first);
      break;
    }
  sched_setaffinity(0, sizeof(first), all ? &allowed : &first);
}

void measure(int pixels) {
  constexpr int kRuns = 15;
  const yard::Yard yard = yardOf(pixels);
  const assess::AssessmentPtr a = assess::assess(yard);
  const std::string size = fmt::format("{} px", a->totals.pixels);
  const auto network = [&] { return circuit::networkOf(a->taught, a->shapes, a->routes, a->layouts); };
  const double lapack = lapackSeconds(static_cast<int>(a->totals.pixels));
  row(size + ": network from records, against dptsv", bestSeconds(kRuns, network), lapack);
  // What a moved feed costs: nothing that was joined is known any more.
  row(size + ": from records to every pixel's volts, against dptsv",
      bestSeconds(kRuns,
                  [&] {
                    circuit::Engine engine(network().built.network);
                    engine.pixelVolts();
                  }),
      lapack);
  // By turns, so that what else the machine does falls on both.
  double many = std::numeric_limits<double>::infinity(), one = many;
  for (int i = 0; i < kRuns; ++i) {
    useCores(true);
    many = std::min(many, bestSeconds(1, [&] { assess::assess(yard); }));
    useCores(false);
    one = std::min(one, bestSeconds(1, [&] { assess::assess(yard); }));
  }
  useCores(true);
  row(size + ": everyday figures on all cores, against one core", many, one);
}

}  // namespace

int main() {
  useCores(true);
  for (const int pixels : {1'000, 10'000, 100'000}) measure(pixels);
}
