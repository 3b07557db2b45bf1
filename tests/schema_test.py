#!/usr/bin/python3
"""Does assets/survey.schema.json hold for every sample survey, and refuse what is broken?

Usage: schema_test.py            the project's schema and sample-surveys/
       schema_test.py FILE...    those surveys instead of the samples

Needs python3-jsonschema with draft 2020-12 (4.0 or later).
"""
import copy
import json
import pathlib
import sys

import jsonschema

ROOT = pathlib.Path(__file__).resolve().parent.parent

# The least that every part of a broken variant needs around it.
SMALL = {
    "format": "levelrun-survey", "version": 1, "job": {"reference": "S-1"},
    "instruments": [{"id": "T", "sd": 2}],
    "furniture": {"legs": [{"id": "M", "min": 135, "max": 170}], "plinth": {"height": 150}},
    "rooms": [{
        "id": "R",
        "corners": [{"id": "A", "angle": 60}, {"id": "B", "angle": 60}, {"id": "C", "angle": 60}],
        "walls": [{"id": "W", "from": "A", "to": "B", "lengths": [{"height": 900, "length": 3000}]},
                  {"id": "W2", "from": "B", "to": "C"}, {"id": "W3", "from": "C", "to": "A"}],
        "diagonals": [{"from": "A", "to": "C", "length": 3000}],
        "angles": [{"corner": "A", "degrees": 90}, {"corner": "A", "a": 3, "b": 4, "across": 5}],
        "openings": [{"id": "O", "wall": "W", "left": 0, "width": 800, "height": 2000}],
        "ceilings": [{"place": {"x": 0, "y": 0}, "clear": 2400}],
        "levels": {"benchmark": {"point": "P"},
                   "points": [{"id": "P", "off_floor": True}, {"id": "Q", "place": {"x": 1, "y": 1}}],
                   "setups": [{"id": "I", "readings": [{"point": "P", "staff": 1000}]}]},
        "flooring": {"existing": [{"name": "tiles", "thickness": 10}], "laid": []},
        "no_drill": [{"wall": "W", "along": 0, "height": 0, "width": 1, "height_of": 1, "why": "gas"}],
        "services": [{"id": "S", "kind": "gas", "wall": "W", "along": 1, "height": 1}],
        "runs": [{"id": "N", "wall": "W", "from_along": 0,
                  "units": [{"id": "U", "width": 600,
                             "niche": {"min_height": 815, "max_height": 875}}]}],
        "level_groups": [{"id": "A", "asked_height": 900}],
    }],
    "install": {"finished_floor": [{"place": {"x": 0, "y": 0}, "thickness": 19}],
                "tasks": [{"id": "K"}]},
}
GONE = object()
ROOM = ("rooms", 0)
# Where, what is put there.
BROKEN = [
    (("format",), "levelrun-results"), (("format",), GONE), (("version",), 2), (("version",), "1"),
    (("job",), GONE), (("job", "reference"), GONE), (("job", "reference"), 12),
    (("job", "revision"), 0), (("job", "revision"), 1.5), (("job", "new_build"), "yes"),
    (("job", "tolerance_overrides"), [{"row": "floor", "span": 1, "limit": 1, "reason": ""}]),
    (("instruments", 0, "sd"), 0), (("instruments", 0, "sd"), GONE),
    (("instruments", 0, "sd_deg"), -1), (("instruments", 0, "sd_per_m"), -1),
    (("instruments", 0, "kind"), 3),
    (("furniture", "plinth", "height"), -1), (("furniture", "plinth"), []),
    (("furniture", "legs", 0, "max"), GONE), (("furniture", "legs", 0, "min"), None),
    (("furniture", "worktop"), {"upstand": {"height": 100}}),
    (("rooms",), {}), (ROOM + ("id",), ""), (ROOM + ("id",), "x" * 41),
    (ROOM + ("corners",), [{"id": "A"}]), (ROOM + ("corners", 0, "angle"), 0),
    (ROOM + ("corners", 0, "angle"), 360), (ROOM + ("walls", 0, "from"), GONE),
    (ROOM + ("walls", 0, "lengths", 0, "length"), "2.4m"),
    (ROOM + ("walls", 0, "lengths", 0, "length"), 900000),
    (ROOM + ("walls", 0, "lengths", 0, "length"), 0),
    (ROOM + ("walls", 0, "lengths", 0, "height"), GONE),
    (ROOM + ("walls", 0, "skirting"), {"height": 100, "thickness": 18}),
    (ROOM + ("diagonals", 0, "length"), -3000), (ROOM + ("angles", 0, "degrees"), GONE),
    (ROOM + ("angles", 1, "degrees"), 90), (ROOM + ("angles", 1, "across"), GONE),
    (ROOM + ("openings", 0, "width"), 0), (ROOM + ("openings", 0, "left"), GONE),
    (ROOM + ("ceilings", 0, "height"), 2400), (ROOM + ("ceilings", 0, "clear"), GONE),
    (ROOM + ("ceilings", 0, "place", "wall"), "W"), (ROOM + ("ceilings", 0, "place", "y"), GONE),
    (ROOM + ("ceilings", 0, "place", "sd"), 0),
    (ROOM + ("levels", "benchmark"), GONE), (ROOM + ("levels", "points", 0, "off_floor"), False),
    (ROOM + ("levels", "points", 1, "place"), GONE),
    (ROOM + ("levels", "setups", 0, "readings", 0, "staff"), GONE),
    (ROOM + ("levels", "setups", 0, "readings", 0, "staff"), 1000001),
    (ROOM + ("flooring", "existing", 0, "thickness"), -1),
    (ROOM + ("no_drill", 0, "width"), GONE), (ROOM + ("no_drill", 0, "outline"), []),
    (ROOM + ("services", 0, "kind"), GONE), (ROOM + ("services", 0, "height"), GONE),
    (ROOM + ("services", 0, "width"), 86), (ROOM + ("services", 0, "place"), {"x": 0, "y": 0}),
    (ROOM + ("runs", 0, "from_along"), GONE), (ROOM + ("runs", 0, "bearing"), 90),
    (ROOM + ("runs", 0, "units", 0, "width"), 0),
    (ROOM + ("runs", 0, "units", 0, "niche", "max_height"), GONE),
    (ROOM + ("level_groups", 0, "asked_height"), "900"),
    (("install", "finished_floor", 0, "staff"), 1000),
    (("install", "finished_floor", 0, "thickness"), GONE), (("install", "tasks", 0, "id"), GONE),
    (("furniture", "legs"), [{"id": str(i), "min": 1, "max": 2} for i in range(101)]),
    (("later",), {"deep": [1e7]}), ((ROOM + ("later",)), -1000001),
]
# Still a survey: words and fields of a later version, parts left out.
STILL_GOOD = [
    (("later",), {"deep": [1, "x", None]}), (("rooms",), GONE), (("furniture",), GONE),
    (ROOM + ("services", 0, "kind"), "solar"), (ROOM + ("runs", 0, "units"), GONE),
    (ROOM + ("levels",), {}), (ROOM + ("corners",), []), (("instruments", 0, "kind"), "theodolite"),
    (ROOM + ("runs", 0, "furniture"), {"worktop": {"upstand": {"height": 60}}}),
]


def changed(path, value):
    survey = copy.deepcopy(SMALL)
    at = survey
    for step in path[:-1]:
        at = at[step]
    if value is GONE:
        del at[path[-1]]
    else:
        at[path[-1]] = value
    return survey


def main():
    schema = json.loads((ROOT / "assets/survey.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    wrong = []

    samples = [pathlib.Path(name) for name in sys.argv[1:]]
    samples = samples or sorted((ROOT / "sample-surveys").glob("*.levelrun.json"))
    if not samples:
        wrong.append("sample-surveys/ has no *.levelrun.json")
    for sample in samples:
        for error in validator.iter_errors(json.loads(sample.read_text(encoding="utf-8"))):
            wrong.append(f"{sample.name}: {error.json_path}: {error.message[:200]}")
    for error in validator.iter_errors(SMALL):
        wrong.append(f"the small survey: {error.json_path}: {error.message[:200]}")
    for path, value in BROKEN:
        if validator.is_valid(changed(path, value)):
            wrong.append(f"passes though broken: {path} = {'left out' if value is GONE else value}")
    for path, value in STILL_GOOD:
        for error in validator.iter_errors(changed(path, value)):
            wrong.append(f"refused though good: {path}: {error.message[:200]}")

    for line in wrong:
        print(line)
    print(f"{len(samples)} samples, {len(BROKEN)} broken, {len(STILL_GOOD)} good variants,"
          f" {len(wrong)} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
