#include <fmt/format.h>

#include "tests/outside/closed_forms.h"
#include "tests/outside/nodal.h"
#include "tests/outside/spice.h"
#include "tests/outside/spice_cases.h"

namespace yw::checks {

namespace {

Row spiceRow(const std::string& name, const Network& n) {
  const auto s = circuit::solve(n);
  const double difference = spiceDifference(n, s).value_or(INFINITY);
  const char* state = s.state == circuit::Solution::State::Solved             ? "solved"
                      : s.state == circuit::Solution::State::NoOperatingPoint ? "cut-off state"
                                                                              : "partly open";
  return {fmt::format("{}, {} px, {}: largest difference of any node, V", name, n.pixelCount(), state),
          "ngspice operating point, reltol 1e-9", 0.0, difference, 1e-6};
}

constexpr int kRandomYards = 300, kOverloads = 1000;
constexpr double kUnansweredAllowed = 3.0;  ///< of them; on a few the simulator does not converge

/// Fresh draws of every kind, from 10 to 3,000 pixels, as many in each octave: cuts, rings, 0 V ties, ideal
/// supplies, overload up to four times.
Network draw(int seed) {
  Dice dice(seed * 131 + 17);
  Wish wish;
  wish.pixels = static_cast<int>(10.0 * std::pow(300.0, dice.unit()));
  wish.chains = 1 + dice.below(std::min(8, wish.pixels / 5));
  wish.stress = dice.between(0.2, 4.0);
  wish.sourceOhms = seed % 3 ? 0.005 : 0.0;
  wish.cuts = seed % 4 != 0;
  wish.ties = seed % 5 != 0;
  return randomNetwork(seed + 9000, wish);
}

Network scaled(Network n, double factor) {
  for (Load& load : n.loads) load = times(load, factor);
  return n;
}

/// Within a fifth of collapse small differences of wire move volts by much: there the simulator's own
/// tolerances decide, so that one Newton step of the whole node equations is the judge.
bool nearCollapse(const Network& n, const circuit::Solution& s) {
  return s.state != circuit::Solution::State::NoOperatingPoint &&
         circuit::solve(scaled(n, 1.2)).state == circuit::Solution::State::NoOperatingPoint;
}

void randomYards(Rows& rows) {
  int unanswered = 0;
  for (int seed = 1; seed <= kRandomYards; ++seed) {
    const Network n = draw(seed);
    const auto s = circuit::solve(n);
    const std::string name = fmt::format("random yard {}", seed);
    const auto byNewton = [&](const char* why) {
      rows.push_back({fmt::format("{}, {} px, {}: one Newton step moves, V", name, n.pixelCount(), why),
                      "Eigen SparseLU of both rails", 0.0, NodalStep(n).change(s), 1e-6});
    };
    if (nearCollapse(n, s)) {
      byNewton("near collapse");
      continue;
    }
    const Row row = spiceRow(name, n);
    if (std::isfinite(row.got)) {
      rows.push_back(row);
      continue;
    }
    ++unanswered;
    byNewton("the simulator finds no operating point");
  }
  rows.push_back({fmt::format("of {} random yards the simulator finds no operating point for", kRandomYards),
                  "ngspice operating point, reltol 1e-9", 0.0, static_cast<double>(unanswered),
                  kUnansweredAllowed});
  for (int seed = 1; seed <= 5; ++seed) {
    Wish wish;
    wish.pixels = 10'000;
    wish.chains = 50;
    wish.supplies = 13;
    wish.stress = 0.2 + 0.03 * seed;
    rows.push_back(spiceRow(fmt::format("large random yard {}", seed), randomNetwork(seed + 400, wish)));
  }
}

/// Up to six times overloaded: every one ends in an answer of the whole node equations, and where not every
/// pixel can be on, a hair less load than the factor told has an operating point and a hair more has none.
void overloads(Rows& rows) {
  double worst = 0.0;
  int sick = 0, wrong = 0;
  for (int seed = 1; seed <= kOverloads; ++seed) {
    Dice dice(seed * 77 + 5);
    Wish wish;
    wish.pixels = 200 + dice.below(1500);
    wish.chains = 1 + dice.below(8);
    wish.stress = dice.between(0.3, 6.0);
    wish.sourceOhms = seed % 3 ? 0.005 : 0.0;
    const Network n = randomNetwork(seed + 20'000, wish);
    const auto s = circuit::solve(n);
    worst = std::fmax(worst, NodalStep(n).change(s));
    if (s.state != circuit::Solution::State::NoOperatingPoint) continue;
    ++sick;
    const auto stateAt = [&](double factor) { return circuit::solve(scaled(n, factor)).state; };
    if (stateAt(0.999 * s.loadFactor) == circuit::Solution::State::NoOperatingPoint ||
        stateAt(1.001 * s.loadFactor) != circuit::Solution::State::NoOperatingPoint)
      ++wrong;
  }
  rows.push_back({fmt::format("{} yards up to six times overloaded: one Newton step moves, V", kOverloads),
                  "Eigen SparseLU of both rails", 0.0, worst, 1e-6});
  rows.push_back(
      {fmt::format("{} of them without an operating point: load factors that are not the largest", sick),
       "solved again a thousandth below and above", 0.0, static_cast<double>(wrong), 0.5});
}

void largeYards(Rows& rows) {
  for (const int pixels : {10'000, 100'000}) {
    Wish wish;
    wish.pixels = pixels;
    wish.chains = pixels / 200;
    const Network n = randomNetwork(5, wish);
    const auto s = circuit::solve(n);
    rows.push_back(
        {fmt::format("{} px: one Newton step of the whole node equations moves, V", n.pixelCount()),
         "Eigen SparseLU of both rails", 0.0, NodalStep(n).change(s), 1e-6});
    rows.push_back({fmt::format("{} px: largest current left over at a node, A", n.pixelCount()), "Kirchhoff",
                    0.0, s.residual, 1e-8});
  }
}

}  // namespace

Rows circuitRows() {
  Rows rows = closedForms();
  for (const SpiceCase& c : spiceCases()) rows.push_back(spiceRow(c.name, c.network));
  randomYards(rows);
  overloads(rows);
  largeYards(rows);
  return rows;
}

}  // namespace yw::checks
