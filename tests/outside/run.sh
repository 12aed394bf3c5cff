#!/usr/bin/env bash
# Our figures beside published ones and beside the ngspice simulator: one tab-separated row a check.
# Exit 1 if any differs by more than its tolerance.
set -euo pipefail
cd "$(dirname "$(readlink -f "$0")")/../.."
. app/packages.sh
install_missing $packages_to_build $packages_to_test
build=.build/outside
[ -f $build/build.ninja ] || cmake --preset core-only -S . -B $build -DYARDWRIGHT_BENCH=ON >/dev/null
ninja -C $build outside_checks core_propose_tests >$build/build.log || { grep -A12 -E 'error|FAILED' $build/build.log | head -80 >&2; exit 1; }
# What the planners propose on thousands of random yards breaks no hard limit of the checks.
yards=2000
failed=0
YARDWRIGHT_RANDOM_YARDS=$yards $build/tests/core_propose_tests \
  --gtest_filter=Planners.NeverBreakAHardLimitOnRandomYards >$build/planners.log 2>&1 || failed=1
[ $failed = 0 ] || grep -A3 Failure $build/planners.log | head -40 >&2
$build/tests/outside/outside_checks || failed=1
exit $failed
