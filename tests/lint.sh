#!/usr/bin/env bash
# clang-tidy over the core: lint.sh BUILD_FOLDER [changed|all]
set -euo pipefail
cd "$(dirname "$(readlink -f "$0")")/.."
build=$1
if [ "${2:-changed}" = all ]; then
  files=$(git ls-files 'core/*.cpp')
else
  base=$(git merge-base HEAD origin/main 2>/dev/null || git rev-parse HEAD)
  files=$( (git diff --name-only --diff-filter=AM "$base" -- 'core/*.cpp'; git ls-files --others --exclude-standard 'core/*.cpp') | sort -u | head -12)
fi
[ -n "$files" ] || { echo "nothing changed in core" >&2; exit 0; }
printf '%s\n' $files | xargs -P "$(nproc)" -n 4 clang-tidy-16 -p "$build" --quiet --extra-arg=-Wno-unknown-warning-option 2>/dev/null
