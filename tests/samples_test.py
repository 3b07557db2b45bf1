#!/usr/bin/env python3
"""The sample surveys say what sample-surveys/README.md promises, and every leg follows from its
bearing floor. Usage: samples_test.py LEVELRUN REPOSITORY"""
import copy
import json
import pathlib
import re
import subprocess
import sys
import unittest

import numpy as np

LEVELRUN, ROOT = sys.argv[1], pathlib.Path(sys.argv[2])
SAMPLES = sorted((ROOT / "sample-surveys").glob("*.levelrun.json"))


def run(*words):
    return subprocess.run([LEVELRUN, *map(str, words)], capture_output=True, text=True)


def solved(name):
    path = ROOT / "sample-surveys" / f"{name}.levelrun.json"
    return json.loads(path.read_text()), json.loads(run("solve", path).stdout)


def solved_again(survey):
    words = [LEVELRUN, "solve", "-"]
    run_again = subprocess.run(words, input=json.dumps(survey), capture_output=True, text=True)
    return json.loads(run_again.stdout)


def terms_of(text):
    """A sum's terms, "158.0 − (−12.4) − 15.0" -> [158.0, −12.4, 15.0]."""
    return [float(term.strip("()").replace("−", "-")) for term in text.split(" − ")]


def inside(outline, x, y):
    """Even-odd rule."""
    odd = False
    for a, b in zip(outline, outline[1:] + outline[:1]):
        if (a["y"] > y) != (b["y"] > y):
            odd ^= x < a["x"] + (b["x"] - a["x"]) * (y - a["y"]) / (b["y"] - a["y"])
    return odd


def area_at(room, x, y):
    areas = [a["id"] for a in room.get("floor_areas", []) if inside(a["outline"], x, y)]
    return areas[0] if areas else None


def booked_floor(room):
    """(area, x, y, bare floor) by plain booking: benchmark less staff, less what is stripped."""
    layers = room.get("flooring", {}).get("existing", [])
    points = {p["id"]: p for p in room["levels"]["points"]}
    out = []
    for setup in room["levels"]["setups"]:
        staffs = [(r["point"], r["staff"]) for r in setup["readings"]]
        on_benchmark = [s for p, s in staffs if p == room["levels"]["benchmark"]["point"]]
        if not on_benchmark:
            continue
        plane = sum(on_benchmark) / len(on_benchmark)
        for name, staff in staffs:
            point = points[name]
            if point.get("off_floor"):
                continue
            here = [y for y in layers if y.get("area") in (None, point.get("area"))]
            top = [y["name"] for y in here].index(point["on"]) if "on" in point else 0
            bare = plane - staff - sum(y["thickness"] for y in here[top:] if y.get("strip", True))
            out.append((point.get("area"), point["place"]["x"], point["place"]["y"], bare))
    return out


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

    def test_check_exits_1_for_the_troubled_one_alone(self):
        for path in SAMPLES:
            with self.subTest(path.name):
                troubled = path.name.startswith("full-of-trouble")
                self.assertEqual(run("check", path).returncode, 1 if troubled else 0)

    def test_bare_floors_agree_with_the_readings_round_them(self):
        """A plane through the readings, near ones weighing most: no model of the floor in it."""
        reach, most = 400, {"full-of-trouble": 8}  # mm; its hollow is no plane
        for path in SAMPLES:
            survey, results = json.loads(path.read_text()), json.loads(run("solve", path).stdout)
            for room, result in zip(survey["rooms"], results["rooms"]):
                floor = booked_floor(room)
                for leg in result["legs"]:
                    area = area_at(room, leg["x"], leg["y"])
                    booked = np.array([[1, x - leg["x"], y - leg["y"], height]
                                       for a, x, y, height in floor if a == area])
                    weight = np.exp(-(booked[:, 1] ** 2 + booked[:, 2] ** 2) / (2 * reach ** 2))
                    plane = np.linalg.lstsq(booked[:, :3] * weight[:, None],
                                            booked[:, 3] * weight, rcond=None)[0]
                    bare = terms_of(leg["sum"].split(" = ")[0])[1]
                    self.assertAlmostEqual(bare, plane[0], msg=leg,
                                           delta=most.get(path.name.split(".")[0], 1.5))

    def test_a_wall_whose_lengths_are_taken_out_is_asked_for_by_its_name(self):
        for path in SAMPLES:
            for r, room in enumerate(json.loads(path.read_text())["rooms"]):
                for w, wall in enumerate(room["walls"]):
                    survey = json.loads(path.read_text())
                    survey["rooms"][r]["walls"][w]["lengths"] = []
                    missing = solved_again(survey)["rooms"][r]["missing"]
                    self.assertIn(f"length of {wall['id']}", [m["what"] for m in missing])

    def test_every_whole_plinth_s_sum_is_its_top_gap(self):
        for path in SAMPLES:
            for room in json.loads(run("solve", path).stdout)["rooms"]:
                for piece in room["plinths"]:
                    if piece["top"] != "none":
                        continue
                    left, right = piece["sum"].split(" = ")
                    terms = left.split(" + ")
                    first, *less = terms_of(terms[0])
                    gap = first - sum(less) + sum(map(float, terms[1:]))
                    self.assertAlmostEqual(gap, float(right.split()[0]), delta=0.26)
                    self.assertAlmostEqual(gap, piece["top_gap"]["greatest"], delta=0.26)

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
                    terms = terms_of(left)
                    self.assertAlmostEqual(terms[0] - sum(terms[1:]),
                                           float(right.replace("−", "-")), 6)
                    self.assertAlmostEqual(float(right.replace("−", "-")), leg["height"],
                                           delta=0.0501)
                    area = area_at(room, leg["x"], leg["y"])
                    reach = [y["thickness"] for y in laid if y.get("to", "wall") == "wall"
                             and y.get("area") in (None, area)]
                    self.assertEqual(terms[2:], reach)
                    # The floor's term takes up the others' rounding, so that the sum adds.
                    self.assertAlmostEqual(leg["bearing_floor"] - sum(reach), terms[1],
                                           delta=0.1001)
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

    def test_plinths_stand_on_the_boards_18_higher(self):
        """Each end of a front against the front leg nearest to it, which stands on bare floor."""
        for run_id in "PQRI":
            units = [u["id"] for r in self.survey["rooms"][0]["runs"] if r["id"] == run_id
                     for u in r["units"]]
            bare = [leg["bearing_floor"] for leg in self.room["legs"]
                    if leg["unit"] in units and leg["position"].startswith("front")]
            fronts = [p for p in self.room["plinths"]
                      if p["run"] == run_id and p["face"] == "front"]
            lowest = min(terms_of(p["sum"].split(" = ")[0])[1] for p in fronts)
            self.assertAlmostEqual(lowest - min(bare), 18, delta=1)

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

    def test_the_socket_behind_the_dishwasher_is_asked_about(self):
        queries = [f for f in self.results["findings"] if f["severity"] == "query"]
        self.assertEqual([f["code"] for f in queries], ["plug out of reach"])
        self.assertIn("SO1 is behind Q2", queries[0]["says"])

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
        # Another reading would not help legs that stand at the least bad underside.
        for f in self.results["findings"]:
            self.assertNotIn("these legs again", f.get("remedy", ""))

    def test_the_schedule_names_what_conflicts_as_people_say_it(self):
        page = run("legs", ROOT / "sample-surveys" / "full-of-trouble.levelrun.json").stdout
        said = " ".join(page.split())
        self.assertIn("the shortest leg at S1 back left against the longest leg at S6 back left",
                      said)

    def test_each_way_out_solved_again_is_one(self):
        ways = {w["kind"]: w["what"] for w in self.results["rooms"][0]["groups"][0]["ways_out"]}
        longer = re.findall(r"(\w+) \(\d+–\d+\) at (\w+)", ways["leg type"])
        self.assertEqual([unit for _, unit in longer], ["S5", "S6", "S7"])
        other_legs = copy.deepcopy(self.survey)
        for unit in other_legs["rooms"][0]["runs"][0]["units"]:
            unit.update({"leg": leg for leg, name in longer if name == unit["id"]})
        # Compound fills whatever lies under its level, and is read again under each leg it bears.
        level = float(re.search(r"up to (−?[\d.]+)", ways["compound"])[1].replace("−", "-"))
        filled = copy.deepcopy(self.survey)
        levels = filled["rooms"][0]["levels"]
        readings = levels["setups"][0]["readings"]
        poured = readings[0]["staff"] - level
        for reading in readings:
            reading["staff"] = min(reading["staff"], poured)
        for leg in self.results["rooms"][0]["legs"]:
            if leg["bearing_floor"] < level:
                name = f"{leg['unit']} {leg['position']}"
                levels["points"].append({"id": name, "place": {"x": leg["x"], "y": leg["y"]}})
                readings.append({"point": name, "staff": poured})
        for survey in (other_legs, filled):
            results = solved_again(survey)
            self.assertTrue(results["rooms"][0]["groups"][0]["feasible"])
            self.assertFalse([f for f in results["findings"] if f["code"].startswith("leg too")])

    def test_each_hold_names_place_number_limit_source_and_remedy(self):
        holds = [f for f in self.results["findings"] if f["severity"] == "hold"]
        self.assertGreaterEqual(len(holds), 4)
        for f in holds:
            self.assertTrue(f["at"].startswith("/rooms/0/"), f)
            self.assertIsInstance(f["measured"], (int, float), f)
            self.assertIsInstance(f["limit"], (int, float), f)
            self.assertTrue(f["unit"] and f["source"] and f["remedy"], f)

    def test_what_was_skipped_is_kept_with_its_reason(self):
        self.assertEqual([s["why"] for s in self.survey["rooms"][0]["skipped"]],
                         ["range still connected"])
        self.assertIn({"what": "floor behind the old range, W2", "at": "/rooms/0/skipped/0",
                       "why": "range still connected"}, self.results["rooms"][0]["missing"])
        f = self.by_code["skipped"]
        self.assertEqual(f["severity"], "query")
        self.assertIn("after strip-out", f["remedy"])

    def test_the_pipe_is_deeper_than_the_void(self):
        f = self.by_code["void too shallow"]
        self.assertEqual((f["severity"], f["measured"]), ("hold", 68))
        self.assertLess(f["limit"], 60)
        self.assertIn("S2", f["says"])

    def test_the_unknown_word_is_asked_about(self):
        f = self.by_code["word not known"]
        self.assertIn("cob", f["says"])
        self.assertEqual(f["room"], "kitchen")


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
