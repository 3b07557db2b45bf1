#!/usr/bin/env python3
"""Puts the web page together: site.py SOURCES ICONS BUILT OUT

Every file of OUT/site but the page itself and the service worker is named by its content, and the
service worker lists them all, so a new version is taken up whole or not at all. OUT/levelrun.html is
the page in one file. The same inputs give the same bytes."""
import base64
import gzip
import hashlib
import json
import re
import shutil
import sys
from pathlib import Path

sources, icons, built, out = map(Path, sys.argv[1:5])
site = out / "site"
shutil.rmtree(site, ignore_errors=True)
site.mkdir(parents=True)


def put(name, data):
    """A file named by its content; its name."""
    stem, dot, suffix = name.partition(".")
    named = f"{stem}-{hashlib.sha256(data).hexdigest()[:12]}.{suffix}"
    (site / named).write_bytes(data)
    return named


wasm = put("levelrun.wasm", (built / "levelrun_web.wasm").read_bytes())
glue = (built / "levelrun_web.js").read_text().replace("levelrun_web.wasm", wasm)
glue = put("levelrun.js", glue.encode())
style = put("page.css", (sources / "page.css").read_bytes())
icon = put("icon.svg", (icons / "levelrun.svg").read_bytes())
script = put("page.js", (sources / "page.js").read_bytes())
manifest = json.loads((sources / "manifest.webmanifest").read_text())
for one in manifest["icons"]:
    one["src"] = icon
manifest = put("levelrun.webmanifest", json.dumps(manifest, indent=1).encode())

page = (sources / "index.html").read_text()
for mark, name in (("GLUE", glue), ("STYLE", style), ("ICON", icon), ("SCRIPT", script), ("MANIFEST", manifest)):
    page = page.replace("{{" + mark + "}}", name)
(site / "index.html").write_text(page)

sums = {f.name: hashlib.sha256(f.read_bytes()).hexdigest() for f in sorted(site.iterdir())}
sums["./"] = sums["index.html"]
files = json.dumps(sums, sort_keys=True)
version = hashlib.sha256(files.encode()).hexdigest()[:12]
worker = (sources / "worker.js").read_text()
worker = worker.replace("{{VERSION}}", version).replace('"{{FILES}}"', files)
(site / "worker.js").write_text(worker)

# One file: everything inside, no worker, opens from disk.
one = (sources / "index.html").read_text()
one = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", one)
one = re.sub(r'<link rel="(manifest|icon)"[^>]*>\n?', "", one)
one = one.replace('<link rel="stylesheet" href="{{STYLE}}">', "<style>" + (sources / "page.css").read_text() + "</style>")
program = base64.b64encode((built / "levelrun_web.wasm").read_bytes()).decode()
inner = (built / "levelrun_web.js").read_text().replace("</script", "<\\/script")
inner += f'\nself.levelrunProgram = Uint8Array.from(atob("{program}"), (c) => c.charCodeAt(0));\n'
one = one.replace('<script src="{{GLUE}}"></script>', "<script>" + inner + "</script>")
one = one.replace('<script src="{{SCRIPT}}"></script>', "<script>" + (sources / "page.js").read_text() + "</script>")
(out / "levelrun.html").write_text(one)
packed = sum(len(gzip.compress(f.read_bytes(), 9)) for f in site.iterdir())
print(f"transfer, gzip -9: {packed / 1000:.0f} kB")
print(f"site {version}: {sum(f.stat().st_size for f in site.iterdir())} bytes in {len(sums)} files")
