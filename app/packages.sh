#!/bin/sh
# Installs the Debian or Ubuntu packages that are missing, and nothing else: with all of them
# there it needs neither the network nor root.
#   sh app/packages.sh          what the program is built with
#   sh app/packages.sh tests    also what the tests need
#   sh app/packages.sh long     and the long tests: web page, sanitisers
#   sh app/packages.sh web      what the web page is built with
set -eu

packages="ca-certificates g++ cmake ninja-build pkg-config
  nlohmann-json3-dev libeigen3-dev libnanoflann-dev libcli11-dev
  libsdl2-dev libgl-dev libstb-dev libhpdf-dev fonts-dejavu-core fonts-dejavu-extra fonttools
  xz-utils debian-archive-keyring"
if [ "${1:-}" = tests ] || [ "${1:-}" = long ]; then
  packages="$packages doctest-dev libbenchmark-dev
    python3 python3-scipy python3-jsonschema clang-format
    libglfw3-dev xvfb xauth xdotool libgl1-mesa-dri desktop-file-utils appstream shared-mime-info
    poppler-utils"
fi
if [ "${1:-}" = long ]; then
  packages="$packages clang libclang-rt-dev emscripten node-acorn chromium bzip2"
  # npm is a package of its own with Debian's node, and comes with some others.
  command -v npm >/dev/null || packages="$packages nodejs npm"
fi

if [ "${1:-}" = web ]; then
  packages="ca-certificates cmake ninja-build nlohmann-json3-dev libeigen3-dev libnanoflann-dev
    libstb-dev fonts-dejavu-core fonts-dejavu-extra fonttools xz-utils bzip2 debian-archive-keyring
    emscripten node-acorn python3"
fi

say() { echo "packages: $*"; }

installed() {
  [ "$(dpkg-query -W -f '${Status}' "$1" 2>/dev/null)" = "install ok installed" ]
}

missing=
for package in $packages; do
  installed "$package" || missing="$missing $package"
done
if [ -z "$missing" ]; then
  say "all there"
  exit 0
fi

if ! command -v apt-get >/dev/null; then
  say "missing:$missing; this is not Debian or Ubuntu, so install their like by hand" >&2
  exit 1
fi
as_root=
if [ "$(id -u)" -ne 0 ]; then
  if ! command -v sudo >/dev/null; then
    say "missing:$missing; run as root, or install sudo" >&2
    exit 1
  fi
  as_root=sudo
fi

say "installing$missing"
# Package lists from before may be good enough where the update fails.
$as_root apt-get -q update || say "package lists not updated, trying with the old ones"
# shellcheck disable=SC2086  # a list of words
$as_root env DEBIAN_FRONTEND=noninteractive \
  apt-get -q -y --no-install-recommends install $missing
