#!/bin/sh
# Prints the figures: speed, batch, NumPy beside it, bands against simulated truth, faults.
#   sh tests/measure.sh
#   MEASURE_BUILD=…     where to build, else build
#   MEASURE_WEB=…       where sh tests/web/run.sh built the web page, else build/web
set -eu

root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
say() { printf '\n== %s\n' "$*"; }

build=${MEASURE_BUILD:-$root/build}
web=${MEASURE_WEB:-$build/web}

sh "$root/app/packages.sh" tests
cmake -S "$root" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DLEVELRUN_TESTS=ON >/dev/null
cmake --build "$build" --target levelrun bench bench_batch simulate_floors simulate_slips \
  simulate_days simulate_next_minute simulate_partial_release frame_cost killed_sessions \
  hostile_files >/dev/null

say "machine, and how busy it is (figures of speed are worth little above 1)"
uname -m
grep -m1 'model name' /proc/cpuinfo | sed 's/.*: //' || true
nproc
cut -d' ' -f1 /proc/loadavg

say "one solve (target 1,000 µs; with a wrong length 5,000), and how cost grows"
"$build/tests/bench" --benchmark_min_time=0.3 2>/dev/null

say "batch (target 5 s, memory flat)"
"$build/tests/bench_batch" 1000

say "the same mathematics in NumPy/SciPy, one thread (target: at least 5 times slower)"
# Settings for old processors slow a current NumPy down: leave them out of this one command.
env -u OPENBLAS_CORETYPE -u OPENBLAS_L2_SIZE /usr/bin/python3 "$root/tests/bench/numpy_kitchen.py" \
  "$build/tests/bench"

say "leg heights against the truth (target: bands cover 93 to 98 %, few readings at least 90 %)"
"$build/tests/simulate_floors" 400

say "slips of the hand (targets beside each)"
"$build/tests/simulate_slips" 1000

say "six readings more: asked for, or by lot"
"$build/tests/simulate_next_minute" 400

say "install days: cabinets turned as told (target: within 0.5 mm where the legs allow)"
"$build/tests/simulate_days" 400

say "answers at random: does anything move that may be cut already (target: nothing)"
"$build/tests/simulate_partial_release" 10000

say "the touch app: a frame (target 2 ms), an edit, idle"
"$build/tests/frame_cost"

say "the command line: 100 starts, one kitchen solved 100 times, memory"
kitchen=$root/sample-surveys/small-l-kitchen.levelrun.json
seconds_of() { # what 100 of them take, together
  /usr/bin/python3 - "$@" <<'PY'
import resource, subprocess, sys, time
start = time.perf_counter()
for _ in range(100):
    subprocess.run(sys.argv[1:], stdout=subprocess.DEVNULL, check=True)
peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
print(f"{' '.join(sys.argv[2:3])}: {10 * (time.perf_counter() - start):.1f} ms each, {peak:.1f} MB")
PY
}
seconds_of "$build/levelrun" --version
seconds_of "$build/levelrun" solve "$kitchen"

say "the web page (target: first screen within 1.5 s)"
if [ -d "$web/site" ] && [ -d "$web/drive/node_modules" ]; then
  DRIVE=$web/drive node "$root/tests/bench/web_load.mjs" "$web"
else
  echo "not measured: sh tests/web/run.sh builds the page in $web"
fi

say "killed 1,000 times (target: nothing confirmed is lost)"
"$build/tests/killed_sessions" 1000

say "files made to cost much (target: refused or solved within 30 s and 1.5 GB)"
"$build/tests/hostile_files"
