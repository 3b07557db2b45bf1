"""What tests of printed sheets share: a sheet made and read back with poppler.

The program and the folder of samples are the test's two arguments.
"""
import json
import re
import subprocess
import sys
import zlib
from pathlib import Path
from xml.etree import ElementTree

LEVELRUN, SAMPLES = sys.argv[1], Path(sys.argv[2])
NAMES = ["small-l-kitchen", "knocked-through", "u-shape-island", "full-of-trouble"]
MM = 72 / 25.4  # points a mm (ISO 32000: 1/72 inch)


def run(*words, **more):
    return subprocess.run([LEVELRUN, *map(str, words)], capture_output=True, **more)


def tool(*words):
    return subprocess.run(list(map(str, words)), capture_output=True, check=True).stdout


def shown(value, decimals=1):
    """As the pack writes numbers: halves away from zero, a true minus, no negative zero."""
    if value is None:
        return "?"
    scaled = abs(value) * 10**decimals
    nearest = int(scaled + 0.5 + 5e-8 * 10**decimals)
    text = f"{nearest / 10**decimals:.{decimals}f}"
    return ("−" if value < 0 and nearest else "") + text


class Pack:
    def __init__(self, folder, document=None, sample=None, options=(), command="report"):
        self.survey = Path(folder) / f"{sample or 'job'}.levelrun.json"
        if sample:
            self.survey.write_bytes((SAMPLES / f"{sample}.levelrun.json").read_bytes())
        else:
            self.survey.write_text(json.dumps(document), encoding="utf-8")
        self.pdf = self.survey.with_suffix(".pdf")
        self.made = run(command, self.survey, "-o", self.pdf, *options)
        if self.made.returncode == 0:
            self.pages = int(re.search(rb"Pages:\s+(\d+)", tool("pdfinfo", self.pdf)).group(1))

    def text(self, page=None):
        some = ["-f", page, "-l", page] if page else []
        return tool("pdftotext", "-layout", *some, self.pdf, "-").decode()

    def head(self, page):
        """A page's name, without the hold that may stand beside it."""
        return self.text(page).lstrip().split("\n")[0].split("HOLD:")[0].strip()

    def pages_named(self, name):
        out = []
        for page in range(1, self.pages + 1):
            if self.head(page).endswith(name):
                out.append(self.text(page))
        return "\n".join(out)

    def words(self, page):
        """(text, x0, y0, x1, y1) of every word, points."""
        xml = tool("pdftotext", "-bbox", "-f", page, "-l", page, self.pdf, "-").decode()
        tree = ElementTree.fromstring(re.sub(r'xmlns="[^"]*"|<!DOCTYPE[^>]*>', "", xml))
        return [(w.text, *(float(w.get(k)) for k in ("xMin", "yMin", "xMax", "yMax")))
                for w in tree.iter("word")]

    def content(self, page):
        """The page's drawing operators (ISO 32000, 8.5), unpacked."""
        streams = []
        data = self.pdf.read_bytes()
        for found in re.finditer(rb"stream\r?\n", data):
            try:
                body = zlib.decompressobj().decompress(data[found.end():])
            except zlib.error:
                continue
            if b" re\n" in body or b" l\n" in body:
                streams.append(body.decode("latin-1"))
        return streams[page - 1]


def ink(word):
    """The box of a word's letters within its line: DejaVu's capitals and figures stand 0.73 em on
    a line of 0.928 em up and 0.236 em down (its own tables)."""
    text, x0, y0, x1, y1 = word
    up = (0.928 - 0.73) / 1.164
    down = 0 if re.search(r"[gjpqyQ,;()\[\]_/]", text) else 0.236 / 1.164
    if len(text) > 2 and x1 - x0 < y1 - y0:  # read from the right
        return x0 + up * (x1 - x0), y0, x1 - down * (x1 - x0), y1
    return x0, y0 + up * (y1 - y0), x1, y1 - down * (y1 - y0)


def overlapping(words):
    """Pairs of words whose letters print over each other by more than a hair (0.5 points)."""
    found = []
    boxes = [ink(word) for word in words]
    for i, a in enumerate(boxes):
        for k in range(i + 1, len(boxes)):
            b = boxes[k]
            if min(a[2], b[2]) - max(a[0], b[0]) > 0.5 and min(a[3], b[3]) - max(a[1], b[1]) > 0.5:
                found.append((words[i], words[k]))
    return found
