#pragma once
// The networks that are held against the simulator in the everyday tests.
#include "tests/outside/closed_forms.h"
#include "tests/outside/networks.h"

namespace yw::checks {

struct SpiceCase {
  std::string name;
  Network network;
  circuit::Solution::State state = circuit::Solution::State::Solved;
};

inline Network oneKind(const Load& load, int count, double volts) {
  Network n = withSupply(volts, 0.004);
  n.loads.push_back(load);
  n.chains.push_back(evenChain(count, 0, 4 * kInch * kAwg20, 4 * kInch * kAwg20));
  feed(n, 0, 1, 0, 0, 0.05, 0.05);
  return n;
}

inline Network middleFeeds() {
  Network n = oneKind(kneeLoad(0.002, 0.038, 7.0, 10.2), 600, 12.0);
  for (const std::size_t at : {150, 300, 450}) feed(n, 0, 1, 0, at, 0.08, 0.1);
  return n;
}

/// Three boxes whose 0 V are tied in a ring, runs across them with V+ cut, supplies of 5, 12 and 12.3 V.
inline Network tieLoops() {
  Network n;
  n.extraNodes = 6;
  n.sources = {{0, 1, 12.0, 0.005}, {2, 3, 12.3, 0.0}, {4, 5, 5.0, 0.01}};
  n.conductors = {{1, 3, 0.03}, {3, 5, 0.05}, {5, 1, 0.02}};
  n.loads = {kneeLoad(0.002, 0.038, 7.0, 10.2), resistorLoad(0.001, 6.3, 150.0),
             regulatedLoad(0.3, 6.5, 0.001), kneeLoad(0.001, 0.05, 2.9, 4.0)};
  for (int c = 0; c < 4; ++c) n.chains.push_back(evenChain(150, c, 2.5e-3, c % 2 ? 2.5e-3 : 3.1e-3));
  n.chains[0].positive[75] = n.chains[1].positive[60] = kCut;
  feed(n, 0, 1, 0, 0, 0.1, 0.1);
  feed(n, 2, 3, 0, 149, 0.06, 0.06);
  feed(n, 2, 3, 1, 0, 0.1, 0.12);
  feed(n, 0, 1, 1, 120, 0.05, 0.05);
  feed(n, 0, 1, 2, 40, 0.08, 0.08);
  n.conductors.push_back({3, n.zeroNode(2, 149), 0.2});
  feed(n, 4, 5, 3, 20, 0.03, 0.03);
  n.conductors.push_back({1, n.zeroNode(3, 149), 0.1});
  return n;
}

/// Boards, boxes and supplies joined without resistance, with one joint more than a tree has.
inline Network jointLoop() {
  Network n;
  n.extraNodes = 5;
  n.sources = {{0, 1, 12.0, 0.0}, {2, 3, 12.0, 0.02}};
  n.conductors = {{1, 4, 0.0}, {3, 4, 0.0}, {1, 3, 0.0}};
  n.loads.push_back(kneeLoad(0.002, 0.038, 7.0, 10.2));
  n.chains.push_back(evenChain(80, 0, 3e-3, 3e-3));
  n.chains[0].positive[40] = kCut;
  feed(n, 0, 1, 0, 0, 0.1, 0.1);
  feed(n, 2, 4, 0, 79, 0.05, 0.05);
  return n;
}

inline std::vector<SpiceCase> spiceCases() {
  const Load knee = kneeLoad(0.002, 0.038, 7.0, 10.2);
  std::vector<SpiceCase> cases{
      {"constant current, one feed, last pixels out of regulation", oneKind(knee, 130, 12.0)},
      {"resistor pixels, one feed", oneKind(resistorLoad(0.001, 6.3, 150.0), 200, 12.0)},
      {"regulated pixels, one feed", oneKind(regulatedLoad(0.3, 6.5, 0.001), 100, 12.0)},
      {"5 V pixels, one feed", oneKind(kneeLoad(0.001, 0.054, 2.9, 4.0), 60, 5.0)},
      {"fed at both ends", ladder(200, 0.0134, 4 * kInch * kAwg20, 12.0, 0.0319, 0.0505)},
      {"four feeds along one string", middleFeeds()},
      {"V+ cut between two supplies, 0 V whole", splitRun()},
      {"0 V tied in rings, three volts, all kinds", tieLoops()},
      {"0 V joined without resistance, in a loop", jointLoop()}};
  Wish wish;
  wish.chains = 6;
  wish.pixels = 900;
  cases.push_back({"random yard of 900 pixels", randomNetwork(42, wish)});
  wish.pixels = 2000;
  wish.stress = 1.2;
  wish.sourceOhms = 0.0;
  cases.push_back({"random yard of 2000 pixels on ideal supplies", randomNetwork(43, wish)});
  return cases;
}

}  // namespace yw::checks
