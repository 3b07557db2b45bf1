#!/bin/sh
# The program in a real window: under Xvfb, and (SDL only) under SDL's offscreen driver. It must come up,
# stay up without drawing all the time.
#   sh real_window.sh PROGRAM SURVEY
set -eu
program=$1
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cp "$2" "$folder/job.levelrun.json"
export HOME="$folder" XDG_CONFIG_HOME="$folder/config" XDG_STATE_HOME="$folder/state" LIBGL_ALWAYS_SOFTWARE=1

try() {
  name=$1
  shift
  "$@" "$program" "$folder/job.levelrun.json" >"$folder/out" 2>&1 &
  pid=$!
  sleep 4
  if ! kill -0 $pid 2>/dev/null; then
    echo "$name: the window did not stay up:"
    cat "$folder/out"
    exit 1
  fi
  before=$(awk '{print $14 + $15}' /proc/$pid/stat)
  sleep 3
  after=$(awk '{print $14 + $15}' /proc/$pid/stat)
  kill $pid
  wait $pid || true
  echo "$name: up; $((after - before)) ticks of CPU in 3 idle seconds"
  [ $((after - before)) -le 30 ] || { echo "$name: it draws while nothing happens"; exit 1; }
}

if command -v Xvfb >/dev/null; then
  Xvfb -displayfd 3 -screen 0 1280x800x24 3>"$folder/display" 2>/dev/null &
  xvfb=$!
  trap 'kill $xvfb 2>/dev/null; rm -rf "$folder"' EXIT
  for n in 1 2 3 4 5 6 7 8 9 10; do [ -s "$folder/display" ] || sleep 0.3; done
  try Xvfb env DISPLAY=":$(cat "$folder/display")"
else
  echo "Xvfb is not here"
fi
if strings "$program" 2>/dev/null | grep -q SDL_Init || ldd "$program" | grep -q libSDL2; then
  try offscreen env -u DISPLAY SDL_VIDEODRIVER=offscreen
fi
