#pragma once
#include "core/circuit/protection.h"
#include "core/papers/digest.h"
#include "core/papers/papers.h"

namespace yw::papers {

/// One breaker a row: what it carries, leaks, starts and costs.
Table houseCircuitsTable(const Digest& digest);
/// One mains cord a row: what it carries and loses against what it may.
Table mainsCordsTable(const Digest& digest);
/// One box a row: heat and temperature inside.
Table boxHeatTable(const Digest& digest);
/// One loaded port or fuse position a row: fuse fitted, fuse and wire usual for its load, and what sets the
/// limit.
Table fuseChoiceTable(const Digest& digest);

/// Names of the supplies and other loads on a circuit; whether a figure of theirs is assumed.
struct OnCircuit {
  std::string names;
  bool assumed = false;
};
OnCircuit onCircuit(const Digest& digest, Id circuit);

/// Ports, then fuse positions, that carry something, by label.
std::vector<std::pair<Id, circuit::Protection>> protections(const Digest& digest);

/// `1 840 kWh over 36 nights of 5.0 h …`; what is missing where it cannot be said.
std::string energyText(const Digest& digest);

}  // namespace yw::papers
