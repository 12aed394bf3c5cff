#!/usr/bin/env bash
# Installs what is missing, builds, and opens a yard in the window (a sample when none is named).
# Without a display: prints that yard's check and writes its sheets.
#   bash app/start.sh [YARD FILE]
set -euo pipefail
cd "$(dirname "$(readlink -f "$0")")/.."
. app/packages.sh
install_missing $packages_to_build

build=.build/run
if [ ! -f $build/build.ninja ]; then
  echo "Preparing the build in $build" >&2
  cmake --preset run -S . >/dev/null
fi
if ! ninja -C $build -n | grep -q 'no work to do'; then
  echo "Building (the first time takes some minutes)" >&2
  ninja -C $build >$build/build.log || { tail -n 40 $build/build.log >&2; exit 1; }
fi

yard=${1:-sample-yards/porch-and-lawn.yard}
if [ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ]; then
  exec $build/app/yardwright-window "$yard"
fi

echo "No display here, so this is the check of $yard:"
status=0
$build/app/yardwright check "$yard" || status=$?
# 1 means that the check found something that will not work; the sheets are still worth writing.
[ $status -le 1 ] || exit $status
sheets=.build/sheets/$(basename "${yard%.*}")
mkdir -p "$sheets"
$build/app/yardwright papers "$yard" --to "$sheets"
echo "Sheets are in $PWD/$sheets"
