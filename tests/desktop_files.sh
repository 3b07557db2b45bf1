#!/bin/sh
# The desktop entry, AppStream metadata and MIME type pass their validators: sh desktop_files.sh FOLDER
set -eu
cd "$1"
for program in desktop-file-validate appstreamcli update-mime-database; do
  command -v $program >/dev/null || { echo "$program is not here" >&2; exit 1; }
done
desktop-file-validate invalid.levelrun.Levelrun.desktop
# The id is of the reserved domain "invalid" (RFC 2606): we have none.
appstreamcli validate --no-net invalid.levelrun.Levelrun.metainfo.xml
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
mkdir "$folder/packages"
cp levelrun.mime.xml "$folder/packages"
update-mime-database "$folder" >/dev/null 2>&1
grep -q '70:application/vnd.levelrun.survey+json:\*.levelrun.json' "$folder/globs2"
