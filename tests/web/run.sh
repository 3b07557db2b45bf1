#!/bin/sh
# Builds the web page and drives it in headless Chromium.
#   sh tests/web/run.sh BUILD LEVELRUN SAMPLES    BUILD: a folder of its own, such as build/web
# Exit code 77: playwright-core could not be had from npm, so the page was built and not driven.
set -eu

build=$1 levelrun=$2 samples=$3
here=$(CDPATH='' cd -- "$(dirname -- "$0")" && pwd)
say() { printf '== %s\n' "$*"; }

LEVELRUN_WEB_BUILD=$build sh "$here/../../app/web.sh" build

drive=$build/drive
if [ ! -d "$drive/node_modules/playwright-core" ]; then
  say "playwright-core, which drives Chromium, from npm"
  mkdir -p "$drive"
  if ! npm install --no-audit --no-fund --no-package-lock --prefix "$drive" playwright-core@1.49.1; then
    say "NOT DRIVEN: npm gave no playwright-core"
    exit 77
  fi
fi
say "driving"
DRIVE=$drive exec node "$here/page_test.mjs" "$build/site" "$levelrun" "$samples"
