#!/usr/bin/env bash
# Installs what is missing, builds, and runs every test. Options are handed to ctest (for example: -R Voltage).
set -euo pipefail
cd "$(dirname "$(readlink -f "$0")")/.."
. app/packages.sh
install_missing $packages_to_build $packages_to_test

echo "== format" >&2
git ls-files '*.cpp' '*.h' | xargs -r clang-format --dry-run --Werror
echo "== house rules" >&2
bash tests/house_rules.sh

echo "== build" >&2
build=.build/test
[ -f $build/build.ninja ] || cmake --preset test -S . >/dev/null
ninja -C $build >$build/build.log || { grep -A12 -E 'error|FAILED' $build/build.log | head -80 >&2; exit 1; }

echo "== lint of changed files" >&2
bash tests/lint.sh $build changed

echo "== tests" >&2
export QT_QPA_PLATFORM=offscreen
ctest --test-dir $build --output-on-failure -j "$(nproc)" "$@"
