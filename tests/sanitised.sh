#!/bin/sh
# Builds once more with clang and its address and undefined-behaviour sanitisers, then runs the unit
# tests, looking for leaks too, and every fuzzer for a short while from a fixed seed.
#   sh tests/sanitised.sh BUILD    BUILD: a folder of its own, such as build/sanitised
set -eu

build=$1
root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
say() { printf '== %s\n' "$*"; }

say "building with sanitisers in $build"
cmake -S "$root" -B "$build" -G Ninja -DCMAKE_CXX_COMPILER=clang++ -DCMAKE_BUILD_TYPE=Release \
  -DLEVELRUN_FUZZ=ON -DLEVELRUN_TESTS=ON ${LEVELRUN_IMGUI_DIR:+"-DLEVELRUN_IMGUI_DIR=$LEVELRUN_IMGUI_DIR"}
cmake --build "$build" --target fuzzers unit_tests

say "unit tests"
"$build/tests/unit_tests"

say "fuzzers"
sh "$root/tests/fuzz/run_short.sh" "$build"
