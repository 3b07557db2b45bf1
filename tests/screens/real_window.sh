#!/bin/sh
# The program in a real window: under Xvfb, and (SDL only) under SDL's offscreen driver. It must come up,
# stay up without drawing all the time, and take a click where the pointer is; without a display it
# must say so.
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
  [ "$name" != Xvfb ] || click "$2"
  kill $pid
  wait $pid || true
  echo "$name: up; $((after - before)) ticks of CPU in 3 idle seconds"
  [ $((after - before)) -le 30 ] || { echo "$name: it draws while nothing happens"; exit 1; }
}

# The key in the upper right corner changes Paper into Dark, and back when the click before is done again.
click() {
  settings=$folder/config/levelrun/settings.json
  env "$1" xdotool mousemove 588 400 sleep 0.5 mousemove 1247 28 sleep 0.5 mousedown 1 sleep 0.2 mouseup 1
  for n in 1 2 3 4 5 6 7 8 9 10; do grep -qs Dark "$settings" || sleep 0.5; done
  grep -qs Dark "$settings" || { echo "a click did not reach the key under the pointer"; exit 1; }
  env "$1" xdotool mousemove 588 400 sleep 0.5 mousedown 1 sleep 0.2 mouseup 1 sleep 2
  grep -qs Dark "$settings" || { echo "a click was done where the one before was"; exit 1; }
  echo "clicks land under the pointer"
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
status=0
env -u DISPLAY -u WAYLAND_DISPLAY -u SDL_VIDEODRIVER timeout 20 "$program" 2>"$folder/out" || status=$?
[ $status -eq 2 ] || { echo "without a display: ended with $status"; cat "$folder/out"; exit 1; }
cat "$folder/out"
