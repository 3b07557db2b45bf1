#!/bin/sh
# Runs fuzzers: what once broke them, then their seeds, then as much more as asked for.
#   sh tests/fuzz/run_short.sh BUILD [RUNS]     BUILD: configured with LEVELRUN_FUZZ, fuzzers built
#   FUZZ_SECONDS=600 FUZZ_ONLY=solve sh …       that long instead, from another place every time
# A fixed seed makes a short run the same every time, so that it fails for a change's own reasons.
set -eu

build=$1
more=${2:-1}
here=$(CDPATH='' cd -- "$(dirname -- "$0")" && pwd)
samples=$here/../../sample-surveys
found=$build/fuzz-found
slowest=20 # seconds an input may take
mkdir -p "$found"

fuzz() { # name, runs, length, seed folders…
  name=$1 runs=$(($2 * more)) length=$3
  shift 3
  if [ -n "${FUZZ_ONLY:-}" ] && [ "$FUZZ_ONLY" != "$name" ]; then return; fi
  [ -d "$here/cases/$name" ] && set -- "$@" "$here/cases/$name"
  corpus=$found/$name
  mkdir -p "$corpus"
  if [ -n "${FUZZ_SECONDS:-}" ]; then
    set -- -max_total_time="$FUZZ_SECONDS" "$corpus" "$@"
  else
    rm -rf "$corpus"
    mkdir -p "$corpus"
    set -- -runs="$runs" -seed=1 "$corpus" "$@"
  fi
  echo "== $name"
  "$build/tests/fuzz/${name}_fuzz" -dict="$here/survey.dict" -max_len="$length" -timeout="$slowest" \
    -rss_limit_mb=2048 -print_final_stats=1 -verbosity=1 -artifact_prefix="$found/$name-" "$@" \
    >"$found/$name.log" 2>&1 || { tail -60 "$found/$name.log"; exit 1; }
  grep -E 'number_of_executed_units|peak_rss_mb' "$found/$name.log"
}

# Lengths: samples and room to grow; for screens 200 deeds.
fuzz survey 6000 32768 "$here/seeds/survey" "$samples"
fuzz journal 8000 8192 "$here/seeds/journal"
fuzz numbers 100000 256 "$here/seeds/numbers"
fuzz solve 600 32768 "$here/seeds/survey" "$samples"
fuzz commands 600 32768 "$here/seeds/survey" "$samples"
fuzz attached 20000 65536 "$here/seeds/attached"
if [ -x "$build/tests/fuzz/screens_fuzz" ]; then
  slowest=60 # 200 deeds, each drawn
  fuzz screens 40 400 "$here/seeds/screens"
fi
