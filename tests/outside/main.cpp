// Prints one tab-separated row a check: check, source, expected, got, tolerance, verdict. Exit 1 if any
// fails.
#include <fmt/format.h>

#include <cstdio>

#include "tests/outside/rows.h"

int main() {
  using namespace yw::checks;
  int failed = 0;
  fmt::print("check\tsource\texpected\tgot\ttolerance\tverdict\n");
  for (const auto& rows : {circuitRows(), sampleRows(), feedRows(), plannedRows()})
    for (const Row& row : rows) {
      failed += row.pass() ? 0 : 1;
      fmt::print("{}\t{}\t{:.9g}\t{:.9g}\t{:.3g}\t{}\n", row.check, row.source, row.expected, row.got,
                 row.tolerance, row.pass() ? "pass" : "FAIL");
    }
  if (failed > 0) fmt::print(stderr, "{} checks failed\n", failed);
  return failed > 0 ? 1 : 0;
}
