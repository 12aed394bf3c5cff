#pragma once
#include <cmath>
#include <string>
#include <vector>

namespace yw::checks {

/// One figure of ours beside one from outside.
struct Row {
  std::string check, source;
  double expected, got, tolerance;
  bool pass() const { return std::abs(got - expected) <= tolerance; }
};
using Rows = std::vector<Row>;

/// All rows on electricity: closed forms, the simulator, the whole node equations.
Rows circuitRows();
/// The sample yards' own networks.
Rows sampleRows();
/// The planner of feeds against every choice tried.
Rows feedRows();
/// The sample yards from bare props and boxes, planned and then checked.
Rows plannedRows();

}  // namespace yw::checks
