#!/bin/sh
# Puts the source of Dear ImGui 1.90.1 into a folder: sh app/fetch_imgui.sh FOLDER
# One version everywhere: Debian 12 packages an older one that loses a tap within one frame, so the
# source package of Debian 13 is taken, with apt's own means and private lists; nothing of the
# machine's package set-up is touched. Done once: later builds need no network.
set -eu

into=$1
[ ! -f "$into/imgui.cpp" ] || exit 0

mirror=$(apt-get indextargets --format '$(REPO_URI)' 2>/dev/null | grep -v -e security -e '^file:' | head -n 1)
[ -n "$mirror" ] || { echo "fetch_imgui: apt knows no mirror; give -DLEVELRUN_IMGUI_DIR" >&2; exit 1; }
# Ubuntu carries Debian's keys in the same place (package debian-archive-keyring).
keys=/usr/share/keyrings/debian-archive-keyring.gpg

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir -p "$work/lists" "$work/cache/archives/partial"
echo "deb-src [signed-by=$keys] $mirror trixie main" >"$work/sources.list"
cd "$work"
get() {
  apt-get -q -o Dir::Etc::sourcelist="$work/sources.list" -o Dir::Etc::sourceparts=/dev/null \
    -o Dir::State::lists="$work/lists" -o Dir::Cache="$work/cache" \
    -o APT::Sandbox::User=root "$@"
}
get update
get source --tar-only --download-only imgui=1.90.1+ds-1 || get source --tar-only --download-only imgui
tar -xJf imgui_*.orig.tar.xz
mkdir -p "$(dirname "$into")"
rm -rf "$into"
mv imgui-1.90.1 "$into"
