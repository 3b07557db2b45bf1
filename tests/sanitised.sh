#!/bin/sh
# Builds once more with clang and its address and undefined-behaviour sanitisers, then runs the unit
# tests, looking for leaks too, and every fuzzer for a short while from a fixed seed.
#   sh tests/sanitised.sh BUILD            BUILD: a folder of its own, such as build/sanitised
#   sh tests/sanitised.sh BUILD screens    the touch app and its fuzzer too: half as much again to build
# Exit code 77: this machine has no clang.
set -eu

build=$1
root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
say() { printf '== %s\n' "$*"; }
if ! command -v clang++ >/dev/null; then
  say "NOT RUN: there is no clang++ (Debian: clang libclang-rt-dev)"
  exit 77
fi
window=none
[ "${2:-}" = screens ] && window=sdl

say "building with sanitisers in $build"
cmake -S "$root" -B "$build" -G Ninja -DCMAKE_CXX_COMPILER=clang++ -DCMAKE_BUILD_TYPE=Release \
  -DLEVELRUN_FUZZ=ON -DLEVELRUN_TESTS=ON -DLEVELRUN_WINDOW=$window \
  ${LEVELRUN_IMGUI_DIR:+"-DLEVELRUN_IMGUI_DIR=$LEVELRUN_IMGUI_DIR"}
cmake --build "$build" --target fuzzers unit_tests

say "unit tests"
"$build/tests/unit_tests"

say "fuzzers"
sh "$root/tests/fuzz/run_short.sh" "$build"
