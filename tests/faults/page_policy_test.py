"""The web page may run its own files and nothing else: what its content policy (W3C, Content Security
Policy Level 3) says, that no file of the page names another host, and that no text becomes markup.

    page_policy_test.py APP_WEB
"""
import re
import sys
from pathlib import Path

folder = Path(sys.argv[1])
page = (folder / "index.html").read_text(encoding="utf-8")
policies = re.findall(r'<meta http-equiv="Content-Security-Policy" content="([^"]*)">', page)
assert len(policies) == 1, "the page states its policy once"
assert page.index("Content-Security-Policy") < min(page.index("<link"), page.index("<script")), \
    "a policy counts for what comes after it"
rules = {rule.split()[0]: rule.split()[1:] for rule in policies[0].split(";")}
assert rules["default-src"] == ["'none'"], "what is not named is refused"
# Its own folder, pictures that it made itself, and compiling its own program.
allowed = {"'none'", "'self'"}
more = {"img-src": {"blob:"}, "script-src": {"'wasm-unsafe-eval'"}}
for name, sources in rules.items():
    strange = set(sources) - allowed - more.get(name, set())
    assert sources and not strange, f"{name} allows {strange or 'nothing stated'}"
for name in ("form-action", "base-uri"):  # default-src says nothing of these two
    assert rules[name] == ["'none'"], name

# Would be refused by the policy, and so be a fault of the page.
assert not re.search(r"<script(?![^>]* src=)|<style|\son\w+=|\sstyle=|javascript:", page)
read = 0
for file in sorted(folder.iterdir()):
    if file.suffix not in (".html", ".css", ".js", ".webmanifest"):
        continue
    text = file.read_text(encoding="utf-8")
    read += 1
    assert not re.search(r"(?:https?|wss?|ftp):|[\"'(]//\w", text), f"{file.name} names another host"
    assert not re.search(r"\beval\(|new Function|innerHTML|outerHTML|insertAdjacentHTML|document\.write",
                         text), f"{file.name} makes markup or program of text"
assert read >= 4, "nothing was read"
