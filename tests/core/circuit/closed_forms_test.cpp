#include "tests/outside/closed_forms.h"

#include <gtest/gtest.h>

namespace yw::checks {
namespace {

TEST(ClosedForms, PublishedFiguresComeOut) {
  const Rows rows = closedForms();
  EXPECT_GE(rows.size(), 40u);
  for (const Row& row : rows) {
    SCOPED_TRACE(row.check + " (" + row.source + ")");
    EXPECT_NEAR(row.got, row.expected, row.tolerance);
  }
}

// With V+ cut the returns divide by the whole 0 V mesh. A solver that pairs each return
// with its V+ (loop resistance, or a 0 V rail that ends at the cut) gives 1.28 A in both and fails here.
TEST(ZeroVoltMesh, ReturnsAreNotTheMirrorOfPositives) {
  const auto s = solve(splitRun());
  EXPECT_NEAR(-s.conductorAmps[3], 1.59, 5e-3);
  EXPECT_GT(-s.conductorAmps[3], 1.2 * s.conductorAmps[2]);
  EXPECT_NEAR(s.zeroAmps[0][100], 0.31, 5e-3) << "0 V current that crosses the cut";
  EXPECT_EQ(s.positiveAmps[0][100], 0.0);
}

}  // namespace
}  // namespace yw::checks
