#!/usr/bin/env bash
# Builds what people run and times it: every bench_* program, one tab-separated row a figure
# (name, ours, peer, ratio). Only the ratios carry over to another machine.
set -euo pipefail
cd "$(dirname "$(readlink -f "$0")")/../.."
. app/packages.sh
install_missing $packages_to_build $packages_to_test $packages_to_measure
build=.build/release
[ -f $build/build.ninja ] || cmake --preset release -S . >/dev/null
mapfile -t names < <(cd tests/bench && ls bench_*.cpp | sed 's/\.cpp$//')
ninja -C $build "${names[@]}" >$build/build.log || { grep -A12 -E 'error|FAILED' $build/build.log | head -80 >&2; exit 1; }
printf 'name\tours\tpeer\tratio\n'
export OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 QT_QPA_PLATFORM=offscreen
for name in "${names[@]}"; do "$build/tests/bench/$name"; done
