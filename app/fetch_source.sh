#!/bin/sh
# Puts the source of a Debian package into a folder: sh app/fetch_source.sh FOLDER SUITE PACKAGE [VERSION]
# One version everywhere, with apt's own means and private lists; nothing of the machine's package
# set-up is touched. VERSION is preferred to what else the suite has. Done once: later builds need no
# network.
set -eu

into=$1 suite=$2 package=$3 version=${4:-}
[ ! -d "$into" ] || exit 0

mirror=$(apt-get indextargets --format '$(REPO_URI)' 2>/dev/null | grep -v -e security -e '^file:' | head -n 1)
[ -n "$mirror" ] || { echo "fetch_source: apt knows no mirror; put the source of $package into $into" >&2; exit 1; }
# Ubuntu carries Debian's keys in the same place (package debian-archive-keyring).
keys=/usr/share/keyrings/debian-archive-keyring.gpg

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir -p "$work/lists" "$work/cache/archives/partial" "$work/source"
echo "deb-src [signed-by=$keys] $mirror $suite main" >"$work/sources.list"
cd "$work"
get() {
  apt-get -q -o Dir::Etc::sourcelist="$work/sources.list" -o Dir::Etc::sourceparts=/dev/null \
    -o Dir::State::lists="$work/lists" -o Dir::Cache="$work/cache" \
    -o APT::Sandbox::User=root "$@"
}
get update
{ [ -n "$version" ] && get source --tar-only --download-only "$package=$version"; } ||
  get source --tar-only --download-only "$package"
tar -xaf "$package"_*.orig.tar.* -C source --strip-components=1
mkdir -p "$(dirname "$into")"
mv source "$into"
