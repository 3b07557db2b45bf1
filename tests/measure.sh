#!/bin/sh
# Prints the figures: speed, batch, NumPy beside it, and bands against simulated truth.
#   sh tests/measure.sh
set -eu

root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
say() { printf '\n== %s\n' "$*"; }

sh "$root/app/packages.sh" tests
cmake -S "$root" -B "$root/build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DLEVELRUN_TESTS=ON >/dev/null
cmake --build "$root/build" --target bench bench_batch simulate_floors simulate_slips \
  simulate_days simulate_next_minute frame_cost >/dev/null

say "machine"
uname -m
grep -m1 'model name' /proc/cpuinfo | sed 's/.*: //' || true
nproc

say "one solve (target 1,000 µs; with a wrong length 5,000), and how cost grows"
"$root/build/tests/bench" --benchmark_min_time=0.3 2>/dev/null

say "batch (target 5 s, memory flat)"
"$root/build/tests/bench_batch" 1000

say "the same mathematics in NumPy/SciPy, one thread (target: at least 5 times slower)"
# Settings for old processors slow a current NumPy down: leave them out of this one command.
env -u OPENBLAS_CORETYPE -u OPENBLAS_L2_SIZE /usr/bin/python3 "$root/tests/bench/numpy_kitchen.py" \
  "$root/build/tests/bench"

say "leg heights against the truth (target: bands cover 93 to 98 %, few readings at least 90 %)"
"$root/build/tests/simulate_floors" 400

say "slips of the hand (targets beside each)"
"$root/build/tests/simulate_slips" 1000

say "six readings more: asked for, or by lot"
"$root/build/tests/simulate_next_minute" 400

say "install days: cabinets turned as told (target: within 0.5 mm where the legs allow)"
"$root/build/tests/simulate_days" 400

say "the touch app: a frame (target 2 ms), an edit, idle"
"$root/build/tests/frame_cost"

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
seconds_of "$root/build/levelrun" --version
seconds_of "$root/build/levelrun" solve "$kitchen"

say "killed 1,000 times (target: nothing confirmed is lost)"
"$root/build/tests/killed_sessions" 1000

say "files made to cost much (target: refused or solved within 30 s and 1.5 GB)"
"$root/build/tests/hostile_files"
