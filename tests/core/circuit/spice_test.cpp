// Every pixel's volts against the ngspice circuit simulator.
#include "tests/outside/spice.h"

#include <gtest/gtest.h>

#include "tests/outside/spice_cases.h"

namespace yw::checks {
namespace {

TEST(Spice, AgreesOnEveryKindOfNetwork) {
  const auto cases = spiceCases();
  EXPECT_GE(cases.size(), 8u);
  for (const SpiceCase& c : cases) {
    SCOPED_TRACE(c.name);
    const auto s = circuit::solve(c.network);
    EXPECT_EQ(s.state, c.state);
    const auto difference = spiceDifference(c.network, s);
    ASSERT_TRUE(difference) << "ngspice did not run: apt-get install ngspice";
    EXPECT_LT(*difference, 1e-6);
  }
}

TEST(Spice, DeckNamesEveryElement) {
  Network n = withSupply(12.0, 0.01);
  n.loads.push_back(regulatedLoad(0.3, 6.5));
  n.chains.push_back(evenChain(2, 0, 0.01, 0.02));
  feed(n, 0, 1, 0, 0, 0.0, 0.1);
  const std::string deck = circuit::spiceDeck(n);
  for (const char* line :
       {"vs0 s0 n1 12\n", "rs0 s0 n0 0.01", "vc0 n0 n2 0\n", "rc1 n1 n3 0.1", "rp0_1 n2 n4 0.01",
        "rz0_1 n3 n5 0.02", "b0_0 n2 n3 i=", "vg0 n1 0 0\n", "reltol=1e-9"})
    EXPECT_NE(deck.find(line), std::string::npos) << line;
}

}  // namespace
}  // namespace yw::checks
