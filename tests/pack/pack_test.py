"""The printed pack read back with poppler: its numbers are those of `levelrun solve`, its scale is
true, nothing overlaps, and its survey is inside byte for byte.

    pack_test.py LEVELRUN SAMPLES
"""
import copy
import json
import re
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

from printed import MM, NAMES, SAMPLES, Pack, overlapping, run, shown, tool


class EverySample(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)

    def test_numbers_are_those_of_solve(self):
        for sample in NAMES:
            pack = Pack(self.folder.name, sample=sample)
            self.assertEqual(pack.made.returncode, 0, pack.made.stderr)
            results = json.loads(run("solve", pack.survey).stdout)
            text = pack.text()
            legs_text = pack.pages_named("Leg heights")
            count = 0
            for room in results["rooms"]:
                for group in room["groups"]:
                    self.assertIn(f"underside U {shown(group['underside'])}", text)
                for leg in room["legs"]:
                    row = (rf"{re.escape(leg['unit'])}\s+{leg['position'].replace('_', ' ')}\s+"
                           rf"{re.escape(shown(leg['height']))}\s+"
                           rf"{re.escape(shown(None if leg['sd'] is None else 1.96 * leg['sd']))}\s")
                    self.assertRegex(legs_text, row, f"{sample}: {leg}")
                    count += 1
                for cut in room["plinths"]:
                    self.assertIn(f"{shown(cut['length'])} long, {shown(cut['height_left'])}",
                                  re.sub(r"\s+", " ", text))
                for board in room["boards"]:
                    for piece in board["pieces"]:
                        self.assertIn(f"{piece['face']} {shown(piece['length'])}",
                                      re.sub(r"\s+", " ", text))
                for wall in room["walls"]:
                    if wall["lean"] is not None:
                        self.assertRegex(pack.pages_named("Walls and corners"),
                                         rf"{re.escape(wall['wall'])}\s+"
                                         rf"{re.escape(shown(wall['lean']))}")
                for fit in room["fits"]:
                    self.assertRegex(pack.pages_named("Fits, fillers and scribes"),
                                     rf"{re.escape(fit['run'])}\s+{re.escape(shown(fit['clear']))}")
            self.assertGreater(count, 5, sample)
            for finding in results["findings"]:
                if finding["severity"] != "note":
                    start = " ".join(finding["says"].split()[:5])
                    self.assertIn(start, re.sub(r"\s+", " ", text), sample)

    def test_every_page_says_which_of_how_many_and_which_revision(self):
        for sample in NAMES:
            pack = Pack(self.folder.name, sample=sample)
            job = json.loads(pack.survey.read_text())["job"]
            for page in range(1, pack.pages + 1):
                text = pack.text(page)
                self.assertIn(f"page {page} of {pack.pages}", text)
                self.assertIn(f"{job['reference']}, revision {job.get('revision', 1)}", text)

    def test_the_survey_is_inside_byte_for_byte_and_opens_from_there(self):
        for sample in NAMES:
            pack = Pack(self.folder.name, sample=sample)
            out = Path(self.folder.name) / "out"
            tool("pdfdetach", "-save", 1, "-o", out, pack.pdf)
            self.assertEqual(out.read_bytes(), pack.survey.read_bytes())
            self.assertIn(f"{sample}.levelrun.json".encode(), tool("pdfdetach", "-list", pack.pdf))
            for command in ("solve", "legs", "plinths"):
                self.assertEqual(run(command, pack.pdf).stdout, run(command, pack.survey).stdout)
            piped = run("solve", "-", input=pack.pdf.read_bytes())
            self.assertEqual(piped.stdout, run("solve", pack.survey).stdout)

    def test_the_same_survey_gives_the_same_bytes(self):
        pack = Pack(self.folder.name, sample=NAMES[0])
        again = Path(self.folder.name) / "again.pdf"
        run("report", pack.survey, "-o", again)
        self.assertEqual(again.read_bytes(), pack.pdf.read_bytes())

    def test_dimensions_on_drawings_never_overlap(self):
        for sample in NAMES:
            pack = Pack(self.folder.name, sample=sample)
            drawn = 0
            for page in range(1, pack.pages + 1):
                head = pack.head(page)
                if not re.search(r"(Plan|Floor map|Wall \S+)$", head):
                    continue
                drawn += 1
                words = [w for w in pack.words(page) if re.search(r"\d", w[0])]
                self.assertEqual(overlapping(words), [], (sample, head))
            self.assertGreater(drawn, 2)

    def test_no_text_overlaps_on_sheets_and_cards(self):
        for sample in NAMES:
            pack = Pack(self.folder.name, sample=sample)
            for page in range(1, pack.pages + 1):
                head = pack.head(page)
                if not re.search(r"(Plan|Floor map|Wall \S+)$", head):
                    self.assertEqual(overlapping(pack.words(page)), [], (sample, head))

    def test_ink_is_black_and_readers_have_no_complaint(self):
        for sample in NAMES:
            pack = Pack(self.folder.name, sample=sample)
            drawn = "\n".join(pack.content(page) for page in range(1, pack.pages + 1))
            # Only greys, and of those black and the sheet's white (ISO 32000, 8.6.8).
            self.assertIsNone(re.search(r" (rg|RG|k|K|sc|SC|scn|SCN)$", drawn, re.M))
            self.assertEqual(set(re.findall(r"^(\S+) [gG]$", drawn, re.M)) - {"0", "1"}, set())
            read = subprocess.run(["pdftotext", str(pack.pdf), "-"], capture_output=True)
            self.assertEqual(read.stderr, b"")

    def test_a_card_cut_out_of_a_held_pack_says_so(self):
        pack = Pack(self.folder.name, sample="full-of-trouble")
        results = json.loads(run("solve", pack.survey).stdout)
        cards = pack.pages_named("Cards: cut out, one inside each unit")
        legs = results["rooms"][0]["legs"]
        self.assertEqual(cards.count("HOLD. MH-26-063"), len({leg["unit"] for leg in legs}))
        for verdict in ("outside", "doubtful"):
            count = sum(leg["verdict"] == verdict for leg in legs)
            self.assertGreater(count, 0)
            self.assertEqual(len(re.findall(rf"turns, {verdict}\b", cards)), count)

    def test_clear_heights_limits_and_what_may_be_cut(self):
        for sample in NAMES:
            pack = Pack(self.folder.name, sample=sample)
            text = re.sub(r"\s+", " ", pack.text())
            results = json.loads(run("solve", pack.survey).stdout)
            for room in results["rooms"]:
                for cut in room["plinths"]:
                    if (cut["top"], cut["bottom"]) == ("none", "none"):  # whole: board + its gap
                        least, most = (shown(cut["height_left"] + cut["top_gap"][k])
                                       for k in ("least", "greatest"))
                        self.assertIn(f"clear height {least} to {most}", text)
                for wall in room["walls"]:
                    if wall["worst"]:
                        self.assertRegex(text, rf"limit {wall['worst']['limit']:g} by "
                                               r"(resting bar|equal offsets) \(DIN 18202")
            made = results["manufacture"]
            if not made["open"] and made.get("may_cut"):
                self.assertIn(", ".join(made["may_cut"]) + ".", text)

    def test_heights_are_from_the_finished_floor(self):
        # 14 of tile and bed reach the wall and nothing is stripped: 420 over the surveyed floor is
        # 406 over the finished one.
        pack = Pack(self.folder.name, sample="small-l-kitchen")
        page = pack.pages_named("Wall W1")
        self.assertIn("CW (CW) 1580 along, 406 high", page)
        self.assertIn("W (W) 1900 along, 346 high", page)

    def test_legs_of_a_unit_stay_on_one_page(self):
        for sample in NAMES:
            pack = Pack(self.folder.name, sample=sample)
            seen = set()
            for page in range(1, pack.pages + 1):
                if not pack.head(page).endswith("Leg heights"):
                    continue
                units = set(re.findall(r"^(\S+)\s+(?:front|back|middle)", pack.text(page), re.M))
                self.assertEqual(units & seen, set(), sample)
                seen |= units
            self.assertGreater(len(seen), 4)

    def test_a_step_between_floor_areas_is_drawn_once_and_no_contour_crosses_it(self):
        # Floor areas meet at x = 3900: screed near −4 below 34 on the other side.
        pack = Pack(self.folder.name, sample="knocked-through")
        page = next(p for p in range(1, pack.pages + 1) if pack.head(p).endswith("Floor map"))
        words = [w[0] for w in pack.words(page)]
        falls = [int(b) for a, b in zip(words, words[1:]) if a == "step" and b.isdigit()]
        self.assertEqual(len(falls), 1)
        self.assertTrue(34 <= falls[0] <= 39, falls)
        # In brackets by the bare floor: read +22.0 on a layer of 22 that will be stripped.
        results = json.loads(run("solve", pack.survey).stdout)
        facts = json.loads(pack.survey.read_text())["rooms"][0]
        layers = {one["name"]: one for one in facts["flooring"]["existing"]}
        heights = {one["point"]: one["height"] for one in results["rooms"][0]["levels"]}
        bare = {p["id"]: heights[p["id"]] - layers[p["on"]]["thickness"]
                for p in facts["levels"]["points"]
                if layers.get(p.get("on"), {}).get("strip") and heights.get(p["id"]) is not None}
        self.assertGreater(len(bare), 3)
        for point, height in bare.items():
            sign = "+" if height > 0.05 else ""
            self.assertIn(f"({sign}{shown(height)})", words, point)

    def test_marks_change_with_the_numbers(self):
        plain = Pack(self.folder.name, sample=NAMES[0])
        document = json.loads(plain.survey.read_text())
        document["rooms"][0]["levels"]["setups"][0]["readings"][3]["staff"] += 4
        moved = Pack(self.folder.name, document=document)
        mark = re.compile(r"Agreement mark ([B-Z]{4})")
        self.assertNotEqual(mark.findall(plain.text())[0], mark.findall(moved.text())[0])


def plain_room(width=1000, depth=2000):
    """One room, nothing in it; walls measured, so that the scale can be read off."""
    corners = [{"id": f"C{n}"} for n in (1, 2, 3, 4)]
    sides = [width, depth, width, depth]
    return {"format": "levelrun-survey", "version": 1, "job": {"reference": "SCALE"},
            "rooms": [{"id": "R", "corners": corners,
                       "walls": [{"id": f"W{n + 1}", "from": f"C{n + 1}", "to": f"C{(n + 1) % 4 + 1}",
                                  "lengths": [{"height": 900, "length": sides[n]}]}
                                 for n in range(4)],
                       "diagonals": [{"from": "C1", "to": "C3",
                                      "length": round((width**2 + depth**2) ** 0.5, 1)}]}]}


class Scale(unittest.TestCase):
    def test_a_wall_of_1000_measures_1000_at_the_stated_scale(self):
        with tempfile.TemporaryDirectory() as folder:
            pack = Pack(folder, document=plain_room())
            self.assertEqual(pack.made.returncode, 0, pack.made.stderr)
            page = next(p for p in range(1, pack.pages + 1)
                        if pack.text(p).lstrip().startswith("Plan"))
            ratio = int(re.search(r"1 : (\d+)", pack.text(page)).group(1))
            # The room's faces are the widest strokes: 0.7 mm.
            xs, ys, wide = [], [], False
            for line in pack.content(page).split("\n"):
                if m := re.fullmatch(r"([\d.]+) w", line):
                    wide = abs(float(m.group(1)) - 0.7 * MM) < 0.01
                elif wide and (m := re.fullmatch(r"([\d.]+) ([\d.]+) [ml]", line)):
                    xs.append(float(m.group(1)))
                    ys.append(float(m.group(2)))
            # The line under the page's head is as wide, and lies above the drawing.
            head = max(ys)
            points = [(x, y) for x, y in zip(xs, ys) if y < head - 1]
            across = max(x for x, _ in points) - min(x for x, _ in points)
            down = max(y for _, y in points) - min(y for _, y in points)
            self.assertAlmostEqual(across / MM * ratio, 1000, delta=1)
            self.assertAlmostEqual(down / MM * ratio, 2000, delta=1)


class AsBuilt(unittest.TestCase):
    def test_what_was_done_is_on_the_sheet(self):
        document = json.loads((SAMPLES / "small-l-kitchen.levelrun.json").read_text())
        at = "2026-04-20T16:05:00+01:00"
        document["install"] = {
            "finished_floor": [{"place": {"x": 1500, "y": -900}, "thickness": 17},
                               {"place": {"x": 3000, "y": -900}, "thickness": 17}],
            "set_legs": [{"unit": "S4", "position": "back_right", "height": 156, "at": at, "by": "p.q."}],
            "snags": [{"id": "N1", "text": "Door of S2 rubs", "at": at, "by": "p.q."},
                      {"id": "N2", "text": "Chip in T1", "at": at, "by": "p.q.",
                       "closed": "2026-04-21T09:00:00+01:00"}],
            "sign_off": {"by": "p.q.", "role": "fitter", "at": at, "note": "S2 to be eased"}}
        with tempfile.TemporaryDirectory() as folder:
            sheet = Pack(folder, document=document, command="as-built")
            self.assertEqual(sheet.made.returncode, 0, sheet.made.stderr)
            text = re.sub(r"\s+", " ", sheet.text())
            results = json.loads(run("solve", sheet.survey).stdout)
            laid = results["install"]["laid_floor"][0]
            self.assertIn(f"{shown(laid['planned'])} {shown(laid['laid'])} ±", text)
            leg = next(l for l in results["rooms"][0]["legs"]
                       if (l["unit"], l["position"]) == ("S4", "back_right"))
            self.assertIn(f"S4 back right {shown(leg['height'])} 156 p.q. 2026-04-20 16:05", text)
            self.assertIn("Door of S2 rubs p.q. 2026-04-20 16:05 OPEN", text)
            self.assertIn("Chip in T1 p.q. 2026-04-20 16:05 2026-04-21 09:00", text)
            self.assertIn("Signed off by p.q., fitter, 2026-04-20 16:05: S2 to be eased", text)
            self.assertEqual(run("solve", sheet.pdf).stdout, run("solve", sheet.survey).stdout)


class BadInput(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)

    def made(self, document, *options):
        pack = Pack(self.folder.name, document=document, options=options)
        self.assertEqual(pack.made.returncode, 0, pack.made.stderr)
        return pack

    def sample(self):
        return json.loads((SAMPLES / "small-l-kitchen.levelrun.json").read_text())

    def test_what_is_missing_is_said(self):
        empty = {"format": "levelrun-survey", "version": 1, "job": {"reference": "NONE"}, "rooms": []}
        self.assertIn("No room was entered", self.made(empty).text())
        no_runs = self.sample()
        no_runs["rooms"][0]["runs"] = []
        no_runs["rooms"][0].pop("level_groups", None)
        self.assertIn("No runs were entered", self.made(no_runs).text())
        self.assertIn("nothing to release: no runs", self.made(no_runs).text())
        unread = self.sample()
        unread["rooms"][0]["levels"]["setups"] = []
        unread["rooms"][0]["ceilings"] = []
        unread["rooms"][0]["services"] = []
        self.assertIn("The floor was not read", self.made(unread).text())
        unmeasured = self.sample()
        for wall in unmeasured["rooms"][0]["walls"]:
            wall["lengths"] = []
        unmeasured["rooms"][0]["diagonals"] = []
        self.made(unmeasured)

    def test_long_names_and_letters_the_face_lacks(self):
        document = self.sample()
        document["job"]["client"] = "Very long name " * 14
        document["job"]["reference"] = "R" * 200
        document["rooms"][0]["name"] = "厨房 кухня"
        pack = self.made(document)
        text = pack.text()
        self.assertIn("Letters not printed", text)
        for page in range(1, pack.pages + 1):  # the reference is shortened, what follows is not
            self.assertRegex(pack.text(page), r"R{40,}…, revision 1, not released yet")
        width = float(re.search(rb"Page size:\s+([\d.]+)", tool("pdfinfo", pack.pdf)).group(1))
        for page in range(1, pack.pages + 1):
            for word, x0, _, x1, _ in pack.words(page):
                self.assertGreaterEqual(x0, 0, word)
                self.assertLessEqual(x1, 842.5 if x1 > width else width, word)

    def test_what_the_face_lacks_is_seen(self):
        document = self.sample()
        document["job"]["client"] = "厨房"
        pack = self.made(document)
        word, x0, y0, x1, y1 = next(w for w in pack.words(1) if w[0].startswith("□"))
        self.assertEqual(word, "□□")
        points = ["-x", int(x0), "-y", int(y0), "-W", int(x1 - x0) + 1, "-H", int(y1 - y0) + 1]
        picture = tool("pdftoppm", "-gray", "-r", 72, "-f", 1, "-l", 1, *points, pack.pdf)
        grey = picture.split(b"255\n", 1)[1]  # PGM: a byte a pixel follows
        self.assertGreater(sum(pixel < 160 for pixel in grey), 10)

    def test_ids_as_long_as_the_format_allows(self):
        document = self.sample()
        text = json.dumps(document)
        for one in (unit for r in document["rooms"][0]["runs"] for unit in r["units"]):
            text = text.replace(f'"{one["id"]}"', f'"{one["id"] + "x" * (40 - len(one["id"]))}"')
        pack = self.made(json.loads(text))
        for page in range(1, pack.pages + 1):
            words = pack.words(page)
            self.assertLessEqual(max(w[3] for w in words), 842, pack.head(page))
            if not re.search(r"(Plan|Floor map|Wall \S+)$", pack.head(page)):
                self.assertEqual(overlapping(words), [], pack.head(page))

    def test_the_survey_keeps_its_name_in_any_script(self):
        path = Path(self.folder.name) / "küche.levelrun.json"
        path.write_text(json.dumps(self.sample()), encoding="utf-8")
        pdf = path.with_suffix(".pdf")
        self.assertEqual(run("report", path, "-o", pdf).returncode, 0)
        self.assertIn("küche.levelrun.json", tool("pdfdetach", "-list", pdf).decode())

    def test_a_missing_photo_is_named(self):
        document = self.sample()
        document["rooms"][0]["photos"] = [{"file": "job.photos/gone.jpg", "note": ""}]
        self.assertIn("job.photos/gone.jpg (MISSING", self.made(document).text())

    def test_twelve_rooms(self):
        document = self.sample()
        room = document["rooms"][0]
        document["rooms"] = []
        for n in range(12):
            one = copy.deepcopy(room)
            one["id"], one["name"] = f"K{n}", f"Kitchen {n}"
            document["rooms"].append(one)
        text = self.made(document).text()
        for n in range(12):
            self.assertIn(f"Kitchen {n}: Leg heights", text)
            self.assertIn(f"Kitchen {n}: set legs", text)  # their units have the same names

    def test_letter_paper(self):
        pack = self.made(self.sample(), "--letter")
        self.assertIn(b"612 x 792", tool("pdfinfo", pack.pdf))

    def test_a_pdf_without_a_survey_and_a_folder_that_is_not_there(self):
        path = Path(self.folder.name) / "other.pdf"
        path.write_bytes(b"%PDF-1.4\n1 0 obj\n<</Type/EmbeddedFile>>\nstream\nno\nendstream\n")
        bad = run("solve", path)
        self.assertEqual(bad.returncode, 2)
        self.assertIn(b"a PDF without a survey inside", bad.stderr)
        sample = SAMPLES / "small-l-kitchen.levelrun.json"
        self.assertEqual(run("report", sample, "-o", self.folder.name + "/no/x.pdf").returncode, 2)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
