# Read by app/start.sh and tests/run.sh: installs the Debian packages that are missing, and says which.

packages_to_build="g++ cmake ninja-build pkg-config qt6-base-dev libfmt-dev nlohmann-json3-dev libexpected-dev
  libboost-graph-dev libcli11-dev libfreetype-dev libpugixml-dev libeigen3-dev fonts-b612 poppler-utils ccache mold"
packages_to_test="libgtest-dev libgmock-dev ngspice xvfb xauth xdotool openbox imagemagick x11-utils
  locales jq git ca-certificates clang-format clang-tidy-16 coinor-cbc"
packages_to_measure="libbenchmark-dev liblapack-dev libsuitesparse-dev"

# install_missing PACKAGE...: nothing missing: says nothing and asks for no rights.
install_missing() {
  local missing="" package
  if ! command -v dpkg-query >/dev/null; then
    echo "This is not Debian, so nothing is installed for you. Needed (Debian names): $*" >&2
    return 0
  fi
  for package in "$@"; do
    [ "$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null)" = installed ] || missing="$missing $package"
  done
  [ -n "$missing" ] || return 0
  local as_root=""
  if [ "$(id -u)" != 0 ]; then
    if ! command -v sudo >/dev/null; then
      echo "These packages are missing and neither root nor sudo is at hand:$missing" >&2
      return 2
    fi
    as_root="sudo"
  fi
  echo "Installing:$missing" >&2
  local try
  for try in 1 2 3; do
    $as_root apt-get -o DPkg::Lock::Timeout=300 -qq update >&2 && break
    sleep $((try * 5))
  done
  $as_root env DEBIAN_FRONTEND=noninteractive apt-get -o DPkg::Lock::Timeout=300 -qq install -y \
    --no-install-recommends $missing >/dev/null || { echo "apt-get could not install:$missing" >&2; return 2; }
}
