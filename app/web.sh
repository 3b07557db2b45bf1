#!/bin/sh
# The touch app as a web page, on a fresh Debian machine: builds the folder build-web/site, ready for
# any static web host, and the one-file variant build-web/levelrun.html, and serves the folder on
# localhost.
#   sh app/web.sh [build]     build: without serving
set -eu

root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
out=${LEVELRUN_WEB_BUILD:-$root/build-web}
mkdir -p "$out"
out=$(CDPATH='' cd -- "$out" && pwd)
say() { printf '== %s\n' "$*"; }

say "packages"
sh "$root/app/packages.sh" web

say "building in $out"
# Debian's emscripten looks for its modules where Debian's node has them, whichever node there is.
export NODE_PATH=/usr/share/nodejs
export EM_CACHE="${EM_CACHE:-$out/cache}"
[ -d "$EM_CACHE" ] || { cp -r /usr/share/emscripten/cache "$EM_CACHE" 2>/dev/null || mkdir -p "$EM_CACHE"; }
emcmake cmake -S "$root" -B "$out" -G Ninja -DCMAKE_BUILD_TYPE=Release -DLEVELRUN_TESTS=OFF \
  ${LEVELRUN_IMGUI_DIR:+-DLEVELRUN_IMGUI_DIR="$LEVELRUN_IMGUI_DIR"} \
  ${LEVELRUN_PRINT_SOURCES:+-DLEVELRUN_PRINT_SOURCES="$LEVELRUN_PRINT_SOURCES"} \
  ${LEVELRUN_NODE_TESTS:+-DLEVELRUN_NODE_TESTS=ON}
cmake --build "$out"
python3 "$root/app/web/site.py" "$root/app/web" "$root/assets/desktop" "$out/app" "$out"

if [ "${1:-}" != build ]; then
  say "serving http://localhost:8417 (Ctrl-C ends it)"
  exec python3 -m http.server 8417 --bind 127.0.0.1 --directory "$out/site"
fi
