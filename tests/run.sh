#!/bin/sh
# All tests on a fresh Debian or Ubuntu machine: installs what is missing, builds, runs CTest.
#   sh tests/run.sh [CTest options]    such as -R levels
set -eu

root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
say() { printf '== %s\n' "$*"; }

say "packages"
sh "$root/app/packages.sh" long

say "building (Release, with tests) in $root/build"
cmake -S "$root" -B "$root/build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DLEVELRUN_TESTS=ON
cmake --build "$root/build"

say "running the tests"
ctest --test-dir "$root/build" --output-on-failure "$@"
