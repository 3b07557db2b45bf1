"""The program as people call it: exit codes, wording, widths, CSV, JSON, pipes and terminals.

    python3 cli_test.py PROGRAM SOURCE_FOLDER
"""
import copy
import csv
import glob
import io
import json
import os
import pty
import re
import subprocess
import sys
import tempfile
import unicodedata
import unittest

PROGRAM, SOURCE = sys.argv[1], sys.argv[2]
SAMPLES = sorted(glob.glob(os.path.join(SOURCE, "sample-surveys", "*.levelrun.json")))
COMMANDS = ["solve", "check", "legs", "plinths", "tasks", "quantities"]  # that take one FILE and no more
PROBLEM_LINE = re.compile(r"^.*: (/[^:]*)?: found .+, expected .+$")

# A small invented kitchen, booked by one set-up; the floor falls to the right.
KITCHEN = {
    "format": "levelrun-survey", "version": 1,
    "job": {"reference": "T-100", "revision": 3},
    "instruments": [{"id": "L", "kind": "laser_level", "sd": 0.7}],
    "furniture": {"legs": [{"id": "L1", "min": 130, "max": 175, "supplied": 150, "pitch": 2}]},
    "rooms": [{
        "id": "k", "name": "Kitchen",
        "corners": [{"id": "C1"}, {"id": "C2"}, {"id": "C3"}, {"id": "C4"}],
        "walls": [
            {"id": "W1", "from": "C1", "to": "C2", "lengths": [{"height": 900, "length": 2400}]},
            {"id": "W2", "from": "C2", "to": "C3", "lengths": [{"height": 900, "length": 3000}]},
            {"id": "W3", "from": "C3", "to": "C4", "lengths": [{"height": 900, "length": 2401}]},
            {"id": "W4", "from": "C4", "to": "C1", "lengths": [{"height": 900, "length": 3001}]}],
        "levels": {
            "benchmark": {"point": "P1", "height": 0},
            "points": [{"id": f"P{i + 1}", "place": {"wall": "W1", "along": a, "out": o}}
                       for i, (a, o) in enumerate([(100, 60), (100, 500), (1200, 60), (1200, 500),
                                                   (2300, 60), (2300, 500)])],
            "setups": [{"id": "S1", "instrument": "L",
                        "readings": [{"point": f"P{i + 1}", "staff": s} for i, s in
                                     enumerate([1200.0, 1201, 1204.5, 1205, 1209, 1210.5])]}]},
        "runs": [{"id": "R1", "wall": "W1", "from_along": 0,
                  "units": [{"id": f"B{i}", "kind": "base", "width": 600, "leg": "L1"}
                            for i in (1, 2, 3, 4)]}]}]}


# No display: without a command the program would open its window and stay.
NO_DISPLAY = {"SDL_VIDEODRIVER": "none-such", "DISPLAY": "", "WAYLAND_DISPLAY": ""}


def run(*args, stdin=b"", env=None, **more):
    return subprocess.run([PROGRAM, *args], input=stdin, capture_output=True, timeout=60,
                          env={**os.environ, **NO_DISPLAY, **(env or {})}, **more)


def width(line):
    return sum(0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF"
               else 1 for c in line)


def sample(name):
    return os.path.join(SOURCE, "sample-surveys", name + ".levelrun.json")


def squeezed(text):
    return " ".join(text.split())


def strict_json(text):
    def refuse(word):
        raise ValueError(word)
    return json.loads(text, parse_constant=refuse)


class CommandLine(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)
        self.kitchen = self.save("kitchen.levelrun.json", KITCHEN)

    def save(self, name, survey):
        path = os.path.join(self.folder.name, name)
        os.makedirs(os.path.dirname(path), exist_ok=True)
        with open(path, "wb") as file:
            file.write(survey if isinstance(survey, bytes) else json.dumps(survey).encode())
        return path

    def changed(self, name, change):
        survey = copy.deepcopy(KITCHEN)
        change(survey)
        return self.save(name, survey)

    def solved(self, path):
        got = run("solve", path)
        self.assertEqual((got.returncode, got.stderr), (0, b""))
        return strict_json(got.stdout.decode())

    def fits_the_page(self, text, path=""):
        for line in text.decode().split("\n"):
            # The file's name is the reader's own: it stays whole, alone on its line if need be.
            self.assertTrue(width(line) <= 80 or line == path, line)
            self.assertEqual(line, line.rstrip())
        self.assertNotIn(b"\033", text)
        self.assertTrue(text.endswith(b"\n"))

    # Usage

    def test_help_and_version_answer_on_standard_output(self):
        for args in (["--help"], ["-h"], *([c, "--help"] for c in COMMANDS)):
            with self.subTest(args):
                got = run(*args)
                self.assertEqual((got.returncode, got.stderr), (0, b""))
                self.fits_the_page(got.stdout)
        listed = re.search(r"Commands:\n(.*?)\n\n", run("--help").stdout.decode(), re.S)
        self.assertLessEqual(set(COMMANDS), {line.split()[0] for line in listed[1].splitlines()})
        got = run("--version")
        self.assertEqual(got.returncode, 0)
        self.assertRegex(got.stdout.decode(), r"^levelrun \d+\.\d+\.\d+\n$")

    def test_wrong_usage_exits_2_and_says_so_on_standard_error_alone(self):
        k = self.kitchen
        for args in ([], [k], ["-"], ["legs"], ["check"], ["legs", k, k], ["legs", "--wat", k],
                     ["legs", "--csv", "--json", k], ["solve", "--csv", k], ["--json"], ["legz", k]):
            with self.subTest(args):
                got = run(*args)
                self.assertEqual((got.returncode, got.stdout), (2, b""))
                self.assertIn(b"levelrun", got.stderr)
                self.fits_the_page(got.stderr)

    def test_a_file_without_a_command_is_told_which_commands_there_are(self):
        said = run(self.kitchen).stderr.decode()
        for command in COMMANDS:
            self.assertIn(command, said)
        self.assertIn("Commands:", run().stderr.decode())

    def test_a_command_with_a_slip_is_told_the_one_that_is_near(self):
        for written, meant in (("leg", "legs"), ("chek", "check"), ("asbuilt", "as-built"),
                               ("plinth", "plinths")):
            got = run(written, self.kitchen)
            self.assertEqual(got.returncode, 2)
            self.assertIn(f"there is no command {written}: {meant}?", got.stderr.decode())
        said = squeezed(run(self.kitchen).stderr.decode())
        for command in ("report", "as-built"):
            self.assertIn(command, said)

    def test_the_help_of_each_command_says_its_exit_codes(self):
        for command in COMMANDS + ["compare", "draw", "report", "as-built"]:
            said = squeezed(run(command, "--help").stdout.decode())
            self.assertIn("2 wrong usage, or a file that could not be used", said)
            self.assertEqual("1 a hold" in said, command == "check")

    # What each command prints

    def test_a_unit_of_no_known_kind_is_a_hold_and_named_before_the_lists_it_is_missing_from(self):
        path = self.changed("bse.json", lambda s: s["rooms"][0]["runs"][0]["units"][1].update(
            kind="bse"))
        got = run("check", path)
        said = "B2 left out: its kind “bse” is not known."
        self.assertEqual(got.returncode, 1)
        self.assertIn(said, squeezed(got.stdout.decode()))
        for command in ("legs", "plinths", "quantities"):
            page = run(command, path).stdout
            self.fits_the_page(page)
            self.assertIn(said, squeezed(page.decode())[:300])
            self.assertNotIn("left out", run(command, self.kitchen).stdout.decode())

    def test_the_surveys_that_the_readme_shows_can_be_used_and_have_no_hold(self):
        with open(os.path.join(SOURCE, "README.md"), encoding="utf-8") as file:
            blocks = re.findall(r'(?m)^    \{"format": "levelrun-survey"(?:.*\n)(?:    .*\n)*', file.read())
        self.assertEqual(len(blocks), 2)
        for block in blocks:
            path = self.save("readme.levelrun.json", block.encode())
            got = run("check", path)
            self.assertEqual((got.returncode, got.stderr), (0, b""))
            self.assertIn("within", run("legs", path).stdout.decode())
        room = self.solved(path)["rooms"][0]
        self.assertEqual((room["missing"][0]["what"], len(room["corners"]), len(room["legs"])),
                         ("offsets of W1 behind run S", 4, 16))

    def test_every_sample_and_the_kitchen_go_through_every_command(self):
        self.assertTrue(SAMPLES)
        for path in SAMPLES + [self.kitchen]:
            for args in (["check"], ["legs"], ["plinths"], ["plinths", "--boards"], ["tasks"],
                         ["quantities"]):
                with self.subTest(path=path, args=args):
                    got = run(*args, path)
                    self.assertIn(got.returncode, (0, 1) if args == ["check"] else (0,))
                    self.assertEqual(got.stderr, b"")
                    self.fits_the_page(got.stdout, path)

    def test_solve_gives_finite_numbers_of_at_most_6_decimals_and_always_the_same(self):
        for path in SAMPLES + [self.kitchen]:
            with self.subTest(path):
                text = run("solve", path).stdout.decode()
                self.assertIsNone(re.search(r"\d\.\d{7}", text))
                self.assertEqual(self.solved(path)["format"], "levelrun-results")
                self.assertEqual(run("solve", path, env={"LC_ALL": "de_DE.UTF-8"}).stdout.decode(),
                                 text)

    def test_the_leg_schedule_shows_every_leg_to_a_tenth(self):
        for path in SAMPLES + [self.kitchen]:
            with self.subTest(path):
                legs = [leg for room in self.solved(path)["rooms"] for leg in room["legs"]]
                self.assertTrue(legs)
                rows = list(csv.DictReader(io.StringIO(
                    run("legs", "--csv", path).stdout.decode(), newline="")))
                self.assertEqual(sorted((r["unit"], r["position"]) for r in rows),
                                 sorted((l["unit"], l["position"]) for l in legs))
                page = squeezed(run("legs", path).stdout.decode()).replace(",", ".")
                for leg in legs:
                    row = next(r for r in rows if (r["unit"], r["position"]) ==
                               (leg["unit"], leg["position"]))
                    if leg["height"] is None:
                        self.assertEqual(row["height"], "")
                        continue
                    self.assertAlmostEqual(float(row["height"]), leg["height"], delta=0.00501)
                    shown = f"{leg['height'] + 5e-8:.1f}"
                    self.assertIn(shown.replace("-", "−"), page)

    def test_the_kitchen_has_its_heights_in_rows_of_unit_and_leg(self):
        page = run("legs", self.kitchen).stdout.decode()
        self.assertIn("T-100, revision 3", page)
        self.assertIn("Kitchen", page)
        self.assertRegex(page, r"(?m)^B1 +back left +1\d\d\.\d +\d\.\d +[+−]?\d+\.\d +\w+")

    def test_plinths_as_csv_are_one_table_of_pieces_or_of_boards(self):
        for path in SAMPLES + [self.kitchen]:
            with self.subTest(path):
                rooms = self.solved(path)["rooms"]
                pieces = [p for room in rooms for p in room["plinths"]]
                text = run("plinths", "--csv", path).stdout
                self.assertEqual(text.count(b"\n"), text.count(b"\r\n"))
                rows = list(csv.DictReader(io.StringIO(text.decode(), newline="")))
                self.assertEqual([(r["run"], r["face"], r["top"], r["bottom"]) for r in rows],
                                 [(p["run"], p["face"], p["top"], p["bottom"]) for p in pieces])
                for row, piece in zip(rows, pieces):
                    for name in ("length", "height_left", "height_right", "floor_gap"):
                        self.assertAlmostEqual(float(row[name]), piece[name], delta=0.00501)
                    self.assertEqual(row["sealed_edge_down"] == "yes", piece["sealed_edge_down"])
                boards = list(csv.DictReader(io.StringIO(
                    run("plinths", "--csv", "--boards", path).stdout.decode(), newline="")))
                self.assertEqual(len(boards),
                                 sum(len(b["pieces"]) for room in rooms for b in room["boards"]))
                if pieces:
                    self.assertTrue(boards)

    def test_the_board_list_says_when_none_fewer_is_possible(self):
        room = self.solved(self.kitchen)["rooms"][0]
        page = run("plinths", self.kitchen).stdout.decode()
        self.assertEqual("none fewer possible" in page, len(room["boards"]) == room["boards_bound"])

    def test_json_is_the_same_part_of_the_results(self):
        whole = self.solved(self.kitchen)
        legs = strict_json(run("legs", "--json", self.kitchen).stdout.decode())
        self.assertEqual(legs["rooms"][0]["legs"], whole["rooms"][0]["legs"])
        self.assertEqual(legs["rooms"][0]["groups"], whole["rooms"][0]["groups"])
        self.assertEqual(legs["survey"], whole["survey"])
        plinths = strict_json(run("plinths", "--json", self.kitchen).stdout.decode())
        self.assertEqual(plinths["rooms"][0]["plinths"], whole["rooms"][0]["plinths"])
        self.assertEqual(plinths["rooms"][0]["boards_bound"], whole["rooms"][0]["boards_bound"])
        check = strict_json(run("check", "--json", self.kitchen).stdout.decode())
        self.assertEqual(check["files"][0]["findings"], whole["findings"])

    # Findings

    def test_check_tells_every_finding_worst_first_and_exits_1_on_an_open_hold(self):
        codes = set()
        for path in SAMPLES + [self.kitchen]:
            with self.subTest(path):
                findings = self.solved(path)["findings"]
                with open(path, encoding="utf-8") as file:
                    install = json.load(file).get("install", {})
                answered = {a["finding"] for a in install.get("answers", [])}
                holds = [f for f in findings
                         if f["severity"] == "hold" and f["id"] not in answered]
                for options in ([], ["--all"]):
                    got = run("check", *options, path)
                    codes.add(got.returncode)
                    self.assertEqual(got.returncode, 1 if holds else 0)
                    page = got.stdout.decode()
                    for finding in findings:
                        if not options and (finding["severity"] == "note"
                                            or finding["id"] in answered):
                            continue
                        said = squeezed(finding["says"]).rstrip(".")
                        self.assertIn(said, squeezed(page))
                        if finding.get("remedy") and finding["id"] not in answered:
                            self.assertIn(squeezed(finding["remedy"]).rstrip("."), squeezed(page))
                        if options and finding.get("source"):
                            self.assertIn(squeezed(finding["source"]), squeezed(page))
                    headings = re.findall(
                        r"(?m)^. (\d+) (hold|quer|note|caution|answered)(?:s|y|ies)?\b", page)
                    self.assertEqual(sum(int(n) for n, _ in headings), len(findings))
                    kinds = [kind for _, kind in headings]
                    self.assertEqual(kinds, sorted(set(kinds), key=[
                        "hold", "quer", "note", "caution", "answered"].index))
                    self.assertRegex(page.splitlines()[-1],
                                     r"^(no|\d+) holds?, (no queries|1 query|\d+ queries), ")
        self.assertEqual(codes, {0, 1})

    def test_check_names_a_place_once_and_gives_a_note_one_line(self):
        page = run("check", sample("full-of-trouble")).stdout.decode()
        holds = page[page.index("■ "):page.index("[ ")]
        self.assertEqual(len(re.findall(r"(?m)^  run S$", holds)), 1)
        self.assertGreater(len(re.findall(r"(?m)^    \S", holds)), 1)
        path = sample("small-l-kitchen")
        notes = [f for f in self.solved(path)["findings"] if f["severity"] == "note"]
        self.assertTrue(notes)
        page = run("check", path).stdout.decode()
        lines = re.findall(r"(?m)^    (?=\S)", page[page.index("• "):])
        safety = sum(f.get("safety", False) for f in notes)
        self.assertEqual(len(lines), len(notes) - safety)
        self.assertNotIn("→", page[page.index("• "):])

    def test_a_folder_is_every_survey_below_it_in_order(self):
        self.save("many/b/2.levelrun.json", KITCHEN)
        self.save("many/a/9.levelrun.json", KITCHEN)
        self.save("many/b/10.levelrun.json", KITCHEN)
        self.save("many/b/other.json", b"not a survey")
        os.symlink("..", os.path.join(self.folder.name, "many", "b", "loop"))
        got = run("check", "many", cwd=self.folder.name)
        self.assertEqual((got.returncode, got.stderr), (run("check", self.kitchen).returncode, b""))
        page = got.stdout.decode()
        self.assertEqual(re.findall(r"(?m)^many/\S+", page),
                         ["many/a/9.levelrun.json", "many/b/10.levelrun.json",
                          "many/b/2.levelrun.json"])
        self.assertRegex(page.splitlines()[-1], "^3 files: . with holds, 0 could not be used")

    def test_one_broken_file_does_not_keep_the_others_from_being_checked(self):
        self.save("many/a.levelrun.json", b"{")
        good = self.save("many/b.levelrun.json", KITCHEN)
        for json_too in ([], ["--json"]):
            got = run("check", *json_too, os.path.dirname(good))
            self.assertEqual(got.returncode, 2)
            self.assertIn(b"b.levelrun.json", got.stdout)
            self.assertRegex(got.stderr.decode(), PROBLEM_LINE)
        files = strict_json(got.stdout.decode())["files"]
        self.assertEqual([len(f.get("problems", [])) > 0 for f in files], [True, False])

    def test_a_folder_without_surveys_is_no_success(self):
        empty = os.path.join(self.folder.name, "empty")
        os.mkdir(empty)
        got = run("check", empty)
        self.assertEqual((got.returncode, got.stdout), (2, b""))
        self.assertRegex(got.stderr.decode(), PROBLEM_LINE)

    # Input

    def test_a_dash_is_standard_input(self):
        with open(self.kitchen, "rb") as file:
            text = file.read()
        for command in ("solve", "legs", "plinths"):
            with self.subTest(command):
                self.assertEqual(run(command, "-", stdin=text).stdout,
                                 run(command, self.kitchen).stdout)
        self.assertIn(b"T-100", run("check", "-", stdin=text).stdout)
        got = run("legs", "-", stdin=b"nothing")
        self.assertEqual(got.returncode, 2)
        self.assertTrue(got.stderr.startswith(b"-: "))

    def test_a_file_that_cannot_be_used_is_refused_with_nothing_on_standard_output(self):
        text = json.dumps(KITCHEN).encode()
        broken = {
            "missing": os.path.join(self.folder.name, "missing"),
            "folder": self.folder.name,
            "empty": self.save("empty.json", b""),
            "truncated": self.save("truncated.json", text[:len(text) // 2]),
            "not UTF-8": self.save("latin.json", text.replace(b"Kitchen", b"K\xfcche")),
            "deep": self.save("deep.json", b"[" * 100000),
            "list": self.save("list.json", b"[]"),
            "duplicate key": self.save("twice.json", text.replace(
                b'"version": 1', b'"version": 1, "version": 1')),
            "another version": self.changed("v2.json", lambda s: s.update(version=2)),
        }
        for what, path in broken.items():
            for command in COMMANDS:
                if (what, command) == ("folder", "check"):
                    continue
                with self.subTest(what=what, command=command):
                    got = run(command, path)
                    self.assertEqual((got.returncode, got.stdout), (2, b""))
                    lines = got.stderr.decode().splitlines()
                    self.assertTrue(lines)
                    for line in lines:
                        self.assertRegex(line, PROBLEM_LINE)
                        self.assertTrue(line.startswith(path + ": "))

    def test_all_problems_are_told_with_their_places(self):
        def spoil(survey):
            room = survey["rooms"][0]
            room["walls"][2]["lengths"][0]["length"] = "2.4m"
            room["runs"][0]["units"][1]["width"] = None
            room["levels"]["setups"][0]["readings"][0]["point"] = "nowhere"
        path = self.changed("spoilt.json", spoil)
        got = run("solve", path)
        self.assertEqual((got.returncode, got.stdout), (2, b""))
        said = got.stderr.decode()
        self.assertIn(path + ': /rooms/0/walls/2/lengths/0/length: found "2.4m", expected a number'
                      " of mm", said)
        self.assertIn(": /rooms/0/runs/0/units/1/width: found ", said)
        self.assertIn(": /rooms/0/levels/setups/0/readings/0/point: found ", said)

    def test_a_file_whose_name_begins_with_a_dash_comes_after_two(self):
        self.save("-k.json", KITCHEN)
        self.assertEqual(run("solve", "--", "-k.json", cwd=self.folder.name).returncode, 0)

    # Awkward text

    def test_what_the_file_says_can_steer_neither_terminal_nor_spreadsheet(self):
        def spoil(survey):
            survey["job"]["reference"] = "T\u001b[31m\n-100"
            survey["rooms"][0]["name"] = "\u202eK\u0007"
            units = survey["rooms"][0]["runs"][0]["units"]
            units[0]["id"], units[1]["id"] = "=1+1", '@a,"b'
        path = self.changed("awkward.json", spoil)
        for command in ("legs", "plinths", "check", "quantities"):
            text = run(command, path).stdout
            self.fits_the_page(text, path)
            self.assertNotIn("\u202e", text.decode())
            self.assertNotIn(b"\007", text)
        rows = list(csv.DictReader(io.StringIO(run("legs", "--csv", path).stdout.decode(),
                                               newline="")))
        self.assertEqual({r["unit"] for r in rows}, {"'=1+1", "'@a,\"b", "B3", "B4"})
        path = self.changed("control.json", lambda s: s["job"].update(revision="\u001b[31m"))
        self.assertNotIn(b"\033", run("check", path).stderr)

    def test_long_and_wide_names_keep_to_the_page(self):
        def lengthen(survey):
            survey["rooms"][0]["name"] = "北向きの台所" * 8
            survey["job"]["show"] = {"units": "inch", "decimal": ","}
            units = survey["rooms"][0]["runs"][0]["units"]
            units[0]["id"], units[1]["id"] = "u" * 40, "北" * 40
            survey["rooms"][0]["runs"][0]["id"] = "r" * 40
        path = self.changed("long.json", lengthen)
        for args in (["legs"], ["plinths"], ["check"], ["quantities"]):
            self.fits_the_page(run(*args, path).stdout, path)

    def test_the_job_says_the_decimal_sign_and_asks_for_inches(self):
        path = self.changed("inch.json", lambda s: s["job"].update(
            show={"units": "inch", "decimal": ","}))
        page = run("legs", path).stdout.decode()
        self.assertRegex(page, r'(?m)^B1 +back left +1\d\d,\d +\d( \d+/(2|4|8|16))?" ')
        self.assertIsNone(re.search(r"\d\.\d", page))
        self.assertEqual(run("legs", "--csv", path).stdout,
                         run("legs", "--csv", self.kitchen).stdout)

    # Where the output goes

    def test_a_closed_pipe_ends_it_quietly(self):
        for restore in (True, False):  # the signal killing as by default, and ignored
            reader, writer = os.pipe()
            os.close(reader)
            got = subprocess.run([PROGRAM, "solve", self.kitchen], stdout=writer, timeout=60,
                                 stderr=subprocess.PIPE, restore_signals=restore)
            os.close(writer)
            self.assertEqual((got.returncode, got.stderr), (0, b""))

    @unittest.skipUnless(os.path.exists("/dev/full"), "no full device here")
    def test_a_full_disk_is_told(self):
        with open("/dev/full", "wb") as full:
            got = subprocess.run([PROGRAM, "solve", self.kitchen], stdout=full, timeout=60,
                                 stderr=subprocess.PIPE)
        self.assertEqual(got.returncode, 2)
        self.assertIn(b"standard output", got.stderr)

    def errors_on_a_terminal(self, *args):
        try:
            master, terminal = pty.openpty()
        except OSError:
            self.skipTest("no terminals here")
        process = subprocess.Popen([PROGRAM, *args], stderr=terminal, stdout=subprocess.DEVNULL,
                                   env={**os.environ, "TERM": "xterm"}, cwd=self.folder.name)
        os.close(terminal)
        text = b""
        try:
            while part := os.read(master, 65536):
                text += part
        except OSError:  # the other end has closed
            pass
        os.close(master)
        self.assertEqual(process.wait(timeout=60), 2)
        return text.replace(b"\r\n", b"\n")

    def test_a_terminal_shows_problems_wrapped_to_the_page(self):
        def spoil(survey):
            length = survey["rooms"][0]["walls"][2]["lengths"][0]
            length["lenght"] = length.pop("length")
        self.changed("spoilt.json", spoil)
        said = self.errors_on_a_terminal("legs", "spoilt.json")
        self.fits_the_page(said)
        self.assertEqual(squeezed(said.decode()),
                         "spoilt.json: /rooms/0/walls/2/lengths/0/length: found nothing, expected a"
                         ' number of mm; "lenght" stands there (wall W3)')
        self.assertEqual(self.errors_on_a_terminal("legs", "nosuch"),
                         b"nosuch: there is no such file\n")

    def on_a_terminal(self, *args, **env):
        try:
            master, terminal = pty.openpty()
        except OSError:
            self.skipTest("no terminals here")
        variables = {k: v for k, v in os.environ.items() if k != "NO_COLOR"}
        process = subprocess.Popen([PROGRAM, *args], stdout=terminal,
                                   env={**variables, "TERM": "xterm", **env})
        os.close(terminal)
        text = b""
        try:
            while part := os.read(master, 65536):
                text += part
        except OSError:  # the other end has closed
            pass
        os.close(master)
        process.wait(timeout=60)
        return text

    def test_a_terminal_shows_weight_but_never_colour_and_neither_with_no_color(self):
        styled = self.on_a_terminal("legs", self.kitchen)
        self.assertIn(b"\033[1m", styled)
        self.assertEqual(set(re.findall(rb"\033\[([0-9;]*)m", styled)) - {b"0", b"1", b"1;7"},
                         set())
        plain = run("legs", self.kitchen).stdout
        self.assertEqual(re.sub(rb"\033\[[0-9;]*m", b"", styled).replace(b"\r\n", b"\n"), plain)
        for env in ({"NO_COLOR": "1"}, {"TERM": "dumb"}):
            self.assertEqual(self.on_a_terminal("legs", self.kitchen, **env)
                             .replace(b"\r\n", b"\n"), plain)
        self.assertIn(b"\033[1m", self.on_a_terminal("legs", self.kitchen, NO_COLOR=""))

    # What is installed with it

    def completed(self, *words):
        script = ('. "$1"; shift; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _levelrun; '
                  'printf "%s\\n" "${COMPREPLY[@]}"')
        got = subprocess.run(
            ["bash", "-c", script, "-", os.path.join(SOURCE, "app", "levelrun.bash"), *words],
            capture_output=True, cwd=self.folder.name, text=True, timeout=60)
        return got.stdout.split()

    def test_bash_completes_commands_options_and_surveys(self):
        self.assertEqual(self.completed("levelrun", ""), COMMANDS + ["compare", "draw", "report", "as-built", "--help",
                                                              "--version"])
        self.assertEqual(self.completed("levelrun", "pl"), ["plinths"])
        self.assertEqual(self.completed("levelrun", "legs", "--c"), ["--csv"])
        self.save("other.json", b"")
        self.assertEqual(self.completed("levelrun", "legs", "--csv", ""), ["kitchen.levelrun.json"])

    def test_the_manual_page_knows_every_command_and_option(self):
        with open(os.path.join(SOURCE, "app", "levelrun.1"), encoding="utf-8") as file:
            page = file.read().replace("\\-", "-")
        synopsis = page[page.index(".SH SYNOPSIS"):page.index(".SH DESCRIPTION")]
        for command in COMMANDS + ["compare", "draw", "report", "as-built"]:
            self.assertIn(f".B levelrun {command}\n", synopsis)
        self.assertIn("--all", synopsis)
        for command in COMMANDS:
            self.assertRegex(page, rf"\n\.B[RI] {command} ")
            for option in re.findall(r"--\w+", run(command, "--help").stdout.decode()):
                self.assertIn(option, page)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
