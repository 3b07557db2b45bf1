"""What the office asks of the program: compare, draw, quantities, and check of many files.

    python3 office_test.py PROGRAM SOURCE_FOLDER
"""
import csv
import io
import json
import os
import pty
import re
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree as xml

PROGRAM, SOURCE = sys.argv[1], sys.argv[2]
SVG = "{http://www.w3.org/2000/svg}"


def run(*args, stdin=b"", **more):
    env = {**os.environ, "SDL_VIDEODRIVER": "none-such", "DISPLAY": "", "WAYLAND_DISPLAY": ""}
    return subprocess.run([PROGRAM, *args], input=stdin, capture_output=True, timeout=120, env=env,
                          **more)


def sample(name):
    return os.path.join(SOURCE, "sample-surveys", name + ".levelrun.json")


def facts_of(name):
    with open(sample(name), encoding="utf-8") as file:
        return json.load(file)


SAMPLES = ["small-l-kitchen", "u-shape-island", "knocked-through", "full-of-trouble"]

# A room of 1,000 by 800 with nothing in it.
CLOSET = {
    "format": "levelrun-survey", "version": 1, "job": {"reference": "M-1 <&> \"é\""},
    "instruments": [{"id": "T", "kind": "tape", "sd": 0.01}],
    "rooms": [{
        "id": "k", "corners": [{"id": c} for c in ("C1", "C2", "C3", "C4")],
        "walls": [{"id": f"W{i + 1}", "from": f"C{i + 1}", "to": f"C{(i + 1) % 4 + 1}",
                   "lengths": [{"height": 900, "length": length, "instrument": "T"}]}
                  for i, length in enumerate((1000, 800, 1000, 800))]}]}


class Office(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)

    def save(self, name, survey):
        path = os.path.join(self.folder.name, name)
        os.makedirs(os.path.dirname(path), exist_ok=True)
        with open(path, "wb") as file:
            file.write(survey if isinstance(survey, bytes) else json.dumps(survey).encode())
        return path

    def fits_the_page(self, text):
        for line in text.decode().splitlines():
            self.assertLessEqual(len(line), 80, line)

    # compare

    def test_one_reading_changed_is_one_fact_and_the_moves_are_those_of_solve(self):
        facts = facts_of("small-l-kitchen")
        facts["rooms"][0]["levels"]["setups"][0]["readings"][6]["staff"] += 5
        facts["job"]["revision"] = 2
        new = self.save("new.levelrun.json", facts)
        got = run("compare", sample("small-l-kitchen"), new)
        self.assertEqual((got.returncode, got.stderr), (0, b""))
        self.fits_the_page(got.stdout)
        page = got.stdout.decode()
        self.assertIn("revision 1 → revision 2", page)
        self.assertRegex(page, r"reading of P6, staff +1347 → 1352 \(\+5\)")
        said = json.loads(run("compare", "--json", sample("small-l-kitchen"), new).stdout)
        self.assertEqual([f["at"] for f in said["facts"]],
                         ["/rooms/0/levels/setups/0/readings/6/staff"])
        heights = [{(leg["unit"] + " " + leg["position"]): leg["height"]
                    for leg in json.loads(run("solve", path).stdout)["rooms"][0]["legs"]}
                   for path in (sample("small-l-kitchen"), new)]
        moved = {r["at"]: r for r in said["results"] if (r["kind"], r["what"]) == ("leg", "height")}
        for leg, old in heights[0].items():
            by = heights[1][leg] - old
            self.assertEqual(leg in moved, abs(by) >= 0.05, leg)
            if leg in moved:
                self.assertAlmostEqual(moved[leg]["by"], by, places=5)

    def test_nothing_changed_is_said_and_a_file_that_cannot_be_used_is_told(self):
        got = run("compare", sample("knocked-through"), sample("knocked-through"))
        self.assertEqual((got.returncode, got.stderr), (0, b""))
        self.assertIn(b"Nothing changed.", got.stdout)
        broken = self.save("broken.levelrun.json", b"{")
        for pair in ((broken, sample("knocked-through")), (sample("knocked-through"), broken)):
            got = run("compare", *pair)
            self.assertEqual((got.returncode, got.stdout), (2, b""))
            self.assertIn(b"broken.levelrun.json: ", got.stderr)
        self.assertEqual(run("compare", broken).returncode, 2)

    def test_any_two_surveys_can_be_compared_on_a_page(self):
        for old in SAMPLES:
            for new in SAMPLES:
                got = run("compare", sample(old), sample(new))
                self.assertEqual((got.returncode, got.stderr), (0, b""))
                self.fits_the_page(got.stdout)

    # draw

    def drawn(self, *args):
        got = run("draw", *args)
        self.assertEqual((got.returncode, got.stderr), (0, b""), args)
        return xml.fromstring(got.stdout.decode("utf-8"))

    def test_every_drawing_is_well_formed_and_holds_nothing_but_shapes_and_text(self):
        for name in SAMPLES:
            facts = facts_of(name)
            room = facts["rooms"][0]
            for what in (["--plan"], ["--floor"], *(["--wall", w["id"]] for w in room["walls"])):
                svg = self.drawn(sample(name), "--room", room["id"], *what)
                self.assertEqual({e.tag for e in svg.iter()} - {
                    SVG + t for t in ("svg", "title", "desc", "g", "rect", "polyline", "polygon",
                                      "circle", "text")}, set())
                self.assertTrue(svg.get("width").endswith("mm"))
                for e in svg.iter():
                    self.assertFalse([a for a in e.keys() if a.startswith("on") or "href" in a])
                    for ink in (e.get("fill"), e.get("stroke")):
                        self.assertIn(ink, (None, "none", "#000", "#fff"))

    def test_a_wall_of_1000_mm_measures_1000_mm_at_the_scale_on_the_sheet(self):
        path = self.save("closet.levelrun.json", CLOSET)
        for what, size in ((["--plan"], (1000, 800)), (["--wall", "W1"], (1000, None))):
            svg = self.drawn(path, *what)
            texts = ["".join(t.itertext()) for t in svg.iter(SVG + "text")]
            ratio = next(int(m[1]) for t in texts if (m := re.match(r"1 : (\d+)", t)))
            self.assertTrue(any('M-1 <&> "é"' in t for t in texts))
            points = [[float(v) for v in p.split(",")] for line in svg.iter(SVG + "polyline")
                      if line.get("stroke-width") == "0.7" for p in line.get("points").split()]
            points += [[float(v) for v in p.split(",")] for line in svg.iter(SVG + "polygon")
                       if line.get("stroke-width") == "0.7" for p in line.get("points").split()]
            for axis, mm in enumerate(size):
                if mm is None:
                    continue
                at = [p[axis] for p in points]
                self.assertAlmostEqual((max(at) - min(at)) * ratio, mm, delta=0.02)
            # The page: A4, and user units are its millimetres.
            box = [float(v) for v in svg.get("viewBox").split()]
            self.assertEqual(sorted(box), [0, 0, 210, 297])
            self.assertEqual(svg.get("width"), f"{box[2]:g}mm")

    def test_what_is_missing_is_said_on_the_sheet_or_on_standard_error(self):
        empty = self.save("empty.levelrun.json", {
            "format": "levelrun-survey", "version": 1, "job": {"reference": "E"},
            "rooms": [{"id": "k", "corners": [], "walls": []}]})
        svg = self.drawn(empty, "--plan")
        self.assertIn("not known yet", "".join(svg.itertext()))
        svg = self.drawn(self.save("closet.levelrun.json", CLOSET), "--floor")
        self.assertIn("The floor was not read", "".join(svg.itertext()))
        self.assertIn("HOLD: 9 holds", "".join(
            self.drawn(sample("full-of-trouble"), "--plan").itertext()))
        for args, words in ((["--wall", "W99"], b"has no wall W99; its walls: W1"),
                            (["--plan", "--room", "attic"], b"has no room attic; its rooms: kitchen"),
                            ([], b"--plan"), (["--plan", "--floor"], b"--floor")):
            got = run("draw", sample("small-l-kitchen"), *args)
            self.assertEqual((got.returncode, got.stdout), (2, b""))
            self.assertIn(words, got.stderr)
        two = facts_of("small-l-kitchen")
        two["rooms"].append(dict(CLOSET["rooms"][0], id="closet", walls=[], corners=[]))
        got = run("draw", self.save("two.levelrun.json", two), "--plan")
        self.assertEqual(got.returncode, 2)
        self.assertIn(b"--room: kitchen, closet", got.stderr)

    def test_a_drawing_goes_into_the_file_that_is_named(self):
        to = os.path.join(self.folder.name, "plan.svg")
        got = run("draw", sample("small-l-kitchen"), "--plan", "-o", to)
        self.assertEqual((got.returncode, got.stdout, got.stderr), (0, b"", b""))
        with open(to, "rb") as file:
            self.assertEqual(file.read(), run("draw", sample("small-l-kitchen"), "--plan").stdout)
        got = run("draw", sample("small-l-kitchen"), "--plan", "-o", "/no/such/folder/x.svg")
        self.assertEqual(got.returncode, 2)
        self.assertIn(b"/no/such/folder", got.stderr)

    # quantities

    def test_quantities_agree_with_solve_as_table_csv_and_json(self):
        for name in SAMPLES:
            got = run("quantities", sample(name))
            self.assertEqual((got.returncode, got.stderr), (0, b""))
            self.fits_the_page(got.stdout)
            rooms = json.loads(run("solve", sample(name)).stdout)["rooms"]
            said = json.loads(run("quantities", "--json", sample(name)).stdout)
            legs = [leg["height"] for room in rooms for leg in room["legs"]]
            self.assertEqual(sum(kind["count"] for kind in said["legs"]), len(legs))
            self.assertEqual(min(kind["shortest"] for kind in said["legs"]), min(legs))
            self.assertEqual(max(kind["tallest"] for kind in said["legs"]), max(legs))
            self.assertEqual(sum(kind["count"] for kind in said["boards"]),
                             sum(len(room["boards"]) for room in rooms))
            self.assertEqual(len(said["notches"]), sum(len(service.get("notches", []))
                                                       for room in rooms
                                                       for service in room["services"]))
            rows = list(csv.DictReader(io.StringIO(
                run("quantities", "--csv", sample(name)).stdout.decode(), newline="")))
            self.assertEqual(sum(int(r["count"]) for r in rows if r["list"] == "legs"), len(legs))
            for panel in said["panels"]:
                row = next(r for r in rows if r["run"] == panel["run"] and
                           r["item"] == panel["place"])
                self.assertAlmostEqual(float(row["order_width"]), panel["order_width"], delta=0.006)

    def test_text_cells_cannot_be_taken_for_formulas_and_numbers_keep_their_sign(self):
        facts = facts_of("full-of-trouble")
        run_ = facts["rooms"][0]["runs"][0]
        run_["id"] = "=1+1"
        for unit, name in zip(run_["units"], ("+a", "-b", "@c", "\td")):
            unit["id"] = name
        path = self.save("formulas.levelrun.json", facts)
        for command in ("quantities", "legs", "plinths"):
            got = run(command, "--csv", path)
            self.assertEqual(got.returncode, 0)
            rows = list(csv.reader(io.StringIO(got.stdout.decode(), newline=""), strict=True))
            numbers = 0
            for row in rows[1:]:
                self.assertEqual(len(row), len(rows[0]))
                for cell in row:
                    if not cell or cell[0] not in "=+-@\t\r":
                        continue
                    self.assertRegex(cell, r"^-\d+(\.\d+)?$")  # a number, and it reads as one
                    self.assertLess(float(cell), 0)
                    numbers += 1
            if command == "legs":
                self.assertGreater(numbers, 0)  # bearing floors below the benchmark

    # check of many files

    def test_many_files_are_a_table_oldest_first_the_same_every_time(self):
        days = ["2026-03-01", "2025-11-30", "", "2026-01-15"]
        for i in range(40):
            facts = facts_of(SAMPLES[i % 4])
            facts["job"].update(reference=f"J-{i:02}", surveyed_on=days[i % 4], revision=1 + i)
            if not days[i % 4]:
                del facts["job"]["surveyed_on"]
            self.save(f"many/{i:02}.levelrun.json", facts)
        self.save("many/broken.levelrun.json", b"[")
        got = run("check", "many", cwd=self.folder.name)
        self.assertEqual(got.returncode, 2)
        self.assertEqual(got.stderr.decode().count("\n"), 1)
        page = got.stdout.decode()
        rows = re.findall(r"(?m)^(\d{4}-\d\d-\d\d|) +(J-\d\d) +(\d+) +(\S.*?) +(\d+) +(\d+)", page)
        self.assertEqual(len(rows), 40)
        self.assertEqual([r[0] for r in rows], sorted((r[0] for r in rows), key=lambda d: d or "9"))
        for _, reference, revision, state, holds, queries in rows:
            i = int(reference[2:])
            self.assertEqual(int(revision), i + 1)
            self.assertIn(state, ("to survey", "in the office", "to fit", "handed over"))
            of = json.loads(run("solve", sample(SAMPLES[i % 4])).stdout)["manufacture"] \
                if i < 4 else None
            if of:
                self.assertEqual((int(holds), int(queries)), (of["holds"], of["queries_open"]))
        self.assertRegex(squeezed(page), r"41 files: 10 with holds, 1 could not be used, ")
        self.assertEqual(run("check", "many", cwd=self.folder.name).stdout, got.stdout)
        files = json.loads(run("check", "--json", "many", cwd=self.folder.name).stdout)["files"]
        self.assertEqual([f["file"] for f in files],
                         sorted(f"many/{i:02}.levelrun.json" for i in range(40)) +
                         ["many/broken.levelrun.json"])
        os.remove(os.path.join(self.folder.name, "many", "broken.levelrun.json"))
        self.assertEqual(run("check", "many", cwd=self.folder.name).returncode, 1)

    def test_the_bar_is_for_a_terminal_alone_and_leaves_nothing(self):
        for i in range(12):
            self.save(f"many/{i}.levelrun.json", facts_of("small-l-kitchen"))
        many = os.path.join(self.folder.name, "many")
        self.assertEqual(run("check", many).stderr, b"")
        try:
            master, slave = pty.openpty()
        except OSError as none:
            self.skipTest(f"no terminal to be had on this machine: {none}")
        done = subprocess.Popen([PROGRAM, "check", many], stdout=subprocess.PIPE, stderr=slave,
                                env={**os.environ, "TERM": "xterm"})
        os.close(slave)
        page = done.communicate(timeout=60)[0]
        seen = b""
        try:
            while chunk := os.read(master, 4096):
                seen += chunk
        except OSError:  # the terminal is gone
            pass
        os.close(master)
        self.assertEqual(done.returncode, 0)
        self.assertIn(b"12 of 12", seen)
        self.assertTrue(seen.endswith(b"\r\033[K"))
        self.assertNotIn(b"of 12", page)


def squeezed(text):
    return " ".join(text.split())


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1], verbosity=1)
