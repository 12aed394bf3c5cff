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
  return {fmt::format("{}, {} px, {}: largest difference of any pixel, V", name, n.pixelCount(), state),
          "ngspice operating point, reltol 1e-9", 0.0, difference, 1e-6};
}

/// Fresh draws of every kind: cuts, rings, 0 V ties, ideal supplies, overload up to four times.
Network draw(int seed) {
  Dice dice(seed * 131 + 17);
  Wish wish;
  wish.pixels = 50 + dice.below(1000);
  wish.chains = 1 + dice.below(8);
  wish.stress = dice.between(0.2, 4.0);
  wish.sourceOhms = seed % 3 ? 0.005 : 0.0;
  wish.cuts = seed % 4 != 0;
  wish.ties = seed % 5 != 0;
  return randomNetwork(seed + 9000, wish);
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
  for (int seed = 1; seed <= 50; ++seed)
    rows.push_back(spiceRow(fmt::format("random yard {}", seed), draw(seed)));
  largeYards(rows);
  return rows;
}

}  // namespace yw::checks
