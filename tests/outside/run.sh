#!/usr/bin/env bash
# Our figures beside published ones and beside the ngspice simulator: one tab-separated row a check.
# Exit 1 if any differs by more than its tolerance.
set -euo pipefail
cd "$(dirname "$(readlink -f "$0")")/../.."
. app/packages.sh
install_missing $packages_to_build $packages_to_test
build=.build/outside
[ -f $build/build.ninja ] || cmake --preset core-only -S . -B $build -DYARDWRIGHT_BENCH=ON >/dev/null
ninja -C $build outside_checks >$build/build.log || { grep -A12 -E 'error|FAILED' $build/build.log | head -80 >&2; exit 1; }
exec $build/tests/outside/outside_checks
