#!/usr/bin/env python3
"""The sample surveys say what sample-surveys/README.md promises, and every leg follows from its
bearing floor. Usage: samples_test.py LEVELRUN REPOSITORY"""
import json
import pathlib
import subprocess
import sys
import unittest

LEVELRUN, ROOT = sys.argv[1], pathlib.Path(sys.argv[2])
SAMPLES = sorted((ROOT / "sample-surveys").glob("*.levelrun.json"))


def run(*words):
    return subprocess.run([LEVELRUN, *map(str, words)], capture_output=True, text=True)


def solved(name):
    path = ROOT / "sample-surveys" / f"{name}.levelrun.json"
    return json.loads(path.read_text()), json.loads(run("solve", path).stdout)


def merged(base, over):
    """A run's furniture: its own fields over the job's, objects merged deeply."""
    out = dict(base)
    for key, value in over.items():
        both = isinstance(value, dict) and isinstance(out.get(key), dict)
        out[key] = merged(out[key], value) if both else value
    return out


class EverySample(unittest.TestCase):
    def test_there_are_four(self):
        self.assertEqual(len(SAMPLES), 4)

    def test_solves_to_the_same_finite_bytes_every_time(self):
        for path in SAMPLES:
            first, second = run("solve", path), run("solve", path)
            self.assertEqual(first.returncode, 0, first.stderr)
            self.assertEqual(first.stdout, second.stdout)
            # Python accepts NaN and Infinity: refuse them.
            json.loads(first.stdout, parse_constant=lambda word: self.fail(f"{path}: {word}"))

    def test_finding_ids_differ_and_each_hold_names_place_source_and_remedy(self):
        for path in SAMPLES:
            findings = json.loads(run("solve", path).stdout)["findings"]
            ids = [f["id"] for f in findings]
            self.assertEqual(len(ids), len(set(ids)), path)
            for f in findings:
                self.assertTrue(f["at"] and f["says"] and f["code"] == f["code"].lower(), f)
                if f["severity"] != "note":
                    self.assertTrue(f["remedy"], f)

    def test_every_leg_is_underside_less_bearing_floor(self):
        checked = 0
        for path in SAMPLES:
            survey, results = json.loads(path.read_text()), json.loads(run("solve", path).stdout)
            job = merged({"base_height": 720, "worktop": {"thickness": 38}},
                         survey.get("furniture", {}))
            for room, result in zip(survey["rooms"], results["rooms"]):
                groups = {g["id"]: g["underside"] for g in result["groups"]}
                home = {u["id"]: (r, u) for r in room["runs"] for u in r["units"]}
                laid = room.get("flooring", {}).get("laid", [])
                for leg in result["legs"]:
                    the_run, unit = home[leg["unit"]]
                    own = merged(job, the_run.get("furniture", {}))
                    offset = (job["base_height"] + job["worktop"]["thickness"]
                              - own["base_height"] - own["worktop"]["thickness"])
                    if unit["kind"] == "base":
                        offset += own["base_height"] - unit.get("height", own["base_height"])
                    underside = groups[the_run.get("level_group", "A")] + offset
                    self.assertAlmostEqual(leg["height"], underside - leg["bearing_floor"], 5)
                    # The sum spells out the same: underside - bare - layers = height.
                    left, right = leg["sum"].split(" = ")
                    terms = [float(t.strip("()").replace("−", "-")) for t in left.split(" − ")]
                    self.assertAlmostEqual(terms[0] - sum(terms[1:]), leg["height"], delta=0.26)
                    self.assertAlmostEqual(float(right.replace("−", "-")), leg["height"],
                                           delta=0.0501)
                    reach = [y["thickness"] for y in laid if y.get("to", "wall") == "wall"]
                    self.assertLessEqual(len(terms) - 2, len(reach))
                    checked += 1
        self.assertGreater(checked, 100)


class SmallLKitchen(unittest.TestCase):
    survey, results = solved("small-l-kitchen")
    room = results["rooms"][0]

    def test_no_hold_and_the_room_closes(self):
        self.assertEqual(self.results["manufacture"]["holds"], 0)
        self.assertEqual(self.room["plan"]["global_test"], "pass")
        self.assertEqual(len(self.room["corners"]), 6)

    def test_the_floor_falls_19(self):
        floor = self.room["floor"][0]
        self.assertAlmostEqual(floor["highest"] - floor["lowest"], 19, delta=0.5)

    def test_the_plinth_of_s_tapers_with_its_sealed_edge_down(self):
        pieces = [p for p in self.room["plinths"] if p["run"] == "S" and p["face"] == "front"]
        self.assertIn("taper", [p["top"] for p in pieces])
        self.assertTrue(all(p["sealed_edge_down"] and p["bottom"] == "none" for p in pieces))


class UShapeIsland(unittest.TestCase):
    survey, results = solved("u-shape-island")
    room = results["rooms"][0]

    def test_no_hold(self):
        self.assertEqual(self.results["manufacture"]["holds"], 0)

    def test_legs_stand_on_the_bare_floor(self):
        for leg in self.room["legs"]:
            self.assertEqual(leg["sum"].split(" = ")[0].count(" − "), 1, leg)

    def test_the_niche_and_the_way_into_it_pass(self):
        group = self.room["groups"][0]
        kinds = {(b["kind"], b["side"]): b for b in group["bounds"] if b["at"] == "Q2"}
        self.assertLess(kinds["niche", "lower"]["applied"], group["underside"])
        self.assertGreater(kinds["niche", "upper"]["applied"], group["underside"])
        self.assertLess(kinds["slide_in", "lower"]["applied"], group["underside"])
        # The boards run into the niche, so both floors are the same there: 3 apart by slide_in.
        self.assertAlmostEqual(kinds["slide_in", "lower"]["value"] - kinds["niche", "lower"]["value"],
                               3, delta=2)

    def test_the_island_has_four_faces(self):
        faces = [p["face"] for p in self.room["plinths"] if p["run"] == "I"]
        self.assertEqual(faces, ["front", "left", "right", "back"])

    def test_two_set_ups_agree(self):
        self.assertEqual(self.room["level_net"]["global_test"], "pass")
        self.assertGreaterEqual(self.room["level_net"]["dof"], 4)


class KnockedThrough(unittest.TestCase):
    survey, results = solved("knocked-through")
    room = results["rooms"][0]

    def test_no_hold_and_two_level_groups(self):
        self.assertEqual(self.results["manufacture"]["holds"], 0)
        self.assertEqual([g["id"] for g in self.room["groups"]], ["A", "B"])

    def test_the_floors_are_34_apart_and_never_mix(self):
        kitchen, dining = self.room["floor"]
        self.assertLess(kitchen["highest"], 4)
        self.assertGreater(dining["lowest"], 30)
        for leg in self.room["legs"]:
            bare = leg["bearing_floor"] - (16 if leg["unit"].startswith("S") else 0)
            self.assertAlmostEqual(bare, 0 if leg["unit"].startswith("S") else 34, delta=5)


class FullOfTrouble(unittest.TestCase):
    survey, results = solved("full-of-trouble")
    by_code = {f["code"]: f for f in results["findings"]}

    def test_it_may_not_be_made(self):
        path = ROOT / "sample-surveys" / "full-of-trouble.levelrun.json"
        self.assertEqual(run("check", path).returncode, 1)
        self.assertFalse(self.results["manufacture"]["open"])

    def test_the_loose_set_up_is_named(self):
        f = self.by_code["set-up tied to nothing"]
        self.assertEqual(f["severity"], "hold")
        self.assertIn("Set-up B", f["says"])

    def test_the_swapped_digits_are_found_and_left_out(self):
        rejected = [o for o in self.results["rooms"][0]["observations"]
                    if o["verdict"] == "rejected"]
        self.assertEqual([o["at"] for o in rejected], ["/rooms/0/walls/1/lengths/1"])
        self.assertEqual(rejected[0]["measured"], 3210)
        self.assertAlmostEqual(rejected[0]["adjusted"], 3120, delta=2)
        self.assertEqual(self.results["rooms"][0]["plan"]["global_test"], "cured")

    def test_the_hollow_is_beyond_the_legs_and_ways_out_are_computed(self):
        f = self.by_code["no level suits all"]
        self.assertEqual(f["severity"], "hold")
        self.assertIn("Ways out", f["remedy"])
        group = self.results["rooms"][0]["groups"][0]
        self.assertFalse(group["feasible"])
        self.assertTrue({"compound", "leg type"} <= {w["kind"] for w in group["ways_out"]})
        self.assertIn("leg too short for the floor", self.by_code)

    def test_the_pipe_is_deeper_than_the_void(self):
        f = self.by_code["void too shallow"]
        self.assertEqual((f["severity"], f["measured"]), ("hold", 68))
        self.assertLess(f["limit"], 60)
        self.assertIn("S2", f["says"])

    def test_the_unknown_word_is_asked_about(self):
        self.assertIn("cob", self.by_code["word not known"]["says"])


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
