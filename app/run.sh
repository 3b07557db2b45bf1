#!/bin/sh
# The main job on a fresh Debian or Ubuntu machine: installs what is missing, builds, and opens a survey
# in the touch app; without a display it prints its legs, plinths and findings.
#   sh app/run.sh [FILE]    FILE: a *.levelrun.json; without it the small sample kitchen
set -eu

root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
say() { printf '== %s\n' "$*"; }

if [ $# -gt 1 ]; then
  echo "usage: sh app/run.sh [FILE]" >&2
  exit 2
fi
if [ $# -eq 1 ]; then
  survey=$1
else
  survey=$root/sample-surveys/small-l-kitchen.levelrun.json
fi
if [ ! -r "$survey" ]; then
  echo "$survey: no such file, or it cannot be read" >&2
  exit 2
fi

say "packages"
sh "$root/app/packages.sh"

say "building (Release) in $root/build"
# A folder that the tests have set up keeps its tests; a new one does without their packages.
if [ -f "$root/build/CMakeCache.txt" ]; then tests=; else tests=-DLEVELRUN_TESTS=OFF; fi
cmake -S "$root" -B "$root/build" -G Ninja -DCMAKE_BUILD_TYPE=Release $tests
cmake --build "$root/build" --target levelrun

levelrun=$root/build/levelrun
if [ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ]; then
  # A copy, so that trying the app leaves the sample as it is.
  if [ $# -eq 0 ]; then
    folder=$(mktemp -d)
    cp "$survey" "$folder/"
    survey=$folder/$(basename "$survey")
  fi
  say "levelrun $survey"
  exec "$levelrun" "$survey"
fi
say "no display: the commands instead of the touch app"
for command in legs plinths; do
  say "levelrun $command $survey"
  "$levelrun" $command -- "$survey"
done
say "levelrun check $survey"
# 1 says that there is a hold: a finding, not a failure of this script.
code=0
"$levelrun" check -- "$survey" || code=$?
[ "$code" -le 1 ] || exit "$code"
