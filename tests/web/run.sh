#!/bin/sh
# Builds the web page and drives it in headless Chromium; the unit tests and the simulated rooms run under
# node as well.
#   sh tests/web/run.sh BUILD LEVELRUN SIMULATED_ROOMS SAMPLES
# BUILD: a folder of its own, such as build/web; the two programs are the native ones.
# Exit code 77: playwright-core could not be had from npm, so the page was built and not driven.
set -eu

build=$1 levelrun=$2 rooms=$3 samples=$4
here=$(CDPATH='' cd -- "$(dirname -- "$0")" && pwd)
say() { printf '== %s\n' "$*"; }

LEVELRUN_NODE_TESTS=1 LEVELRUN_WEB_BUILD=$build sh "$here/../../app/web.sh" build

say "under node"
node "$here/node_test.mjs" "$build" "$rooms" "$samples"

drive=$build/drive version=1.49.1
if ! grep -qs "\"version\": \"$version\"" "$drive/node_modules/playwright-core/package.json"; then
  say "playwright-core, which drives Chromium, from npm"
  mkdir -p "$drive"
  if ! npm install --no-audit --no-fund --no-package-lock --prefix "$drive" "playwright-core@$version"; then
    say "NOT DRIVEN: npm gave no playwright-core"
    exit 77
  fi
fi
say "driving"
DRIVE=$drive exec node "$here/page_test.mjs" "$build" "$levelrun" "$samples"
