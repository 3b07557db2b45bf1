#!/usr/bin/python3
"""Turns of legs under set cabinets computed again by scipy.optimize.lsq_linear.

A carcass is rigid, so raises of its legs lie in one plane. SciPy bounds single unknowns only: they
are the raises themselves, each within its end stops, and rows of weight 1e4 keep them in a plane.
The level that a group aims at is taken from the results, then checked: no other level within 4 mm
leaves a smaller sum of squares, and none nearer to U one as small.

Usage: turns_against_scipy.py LEVELRUN"""
import json
import subprocess
import sys

import numpy as np
from scipy import optimize

LEVELRUN = sys.argv[1]
STIFF = 1e4     # weight of staying in a plane
CLOSE = 2e-5    # mm: what that weight and 6 printed decimals leave
CORNERS = [("front_left", 0, 1), ("front_right", 1, 1), ("back_left", 0, 0), ("back_right", 1, 0)]


def survey(random):
    widths = random.choice([400, 600, 800, 1000], size=random.integers(1, 4))
    low = 150 - random.uniform(0.5, 6)
    units = [{"id": f"U{i + 1}", "kind": "base", "width": int(w)} for i, w in enumerate(widths)]
    points = [{"id": "BM", "off_floor": True}]
    readings = [{"point": "BM", "staff": 1000}]
    for x in range(0, 4001, 800):
        for y in (0, -800):
            points.append({"id": f"P{len(points)}", "place": {"x": x, "y": y, "sd": 1}})
            readings.append({"point": points[-1]["id"], "staff": 1000})
    levels = []
    for unit in units:
        for corner, _, _ in CORNERS:
            levels.append({"unit": unit["id"], "corner": corner, "setup": "D",
                           "staff": round(1400 - 870 - random.normal(0, 3), 2)})
    return {
        "format": "levelrun-survey", "version": 1, "job": {"reference": "T"},
        "furniture": {"legs": [{"id": "L", "min": round(low, 2), "pitch": 1.5,
                                "max": round(150 + random.uniform(0.5, 6), 2)}]},
        "rooms": [{"id": "K", "corners": [], "walls": [],
                   "levels": {"benchmark": {"point": "BM"}, "points": points,
                              "setups": [{"id": "S", "readings": readings}]},
                   "runs": [{"id": "U", "origin": {"x": 0, "y": 0}, "bearing": 0,
                             "starts_at": "open", "ends_at": "open", "units": units}],
                   "level_groups": [{"id": "A", "underside_set":
                                     {"value": 150, "by": "t", "at": "2026-01-01T00:00:00Z"}}]}],
        "install": {"setups": [{"id": "D", "readings": [{"point": "BM", "staff": 1400}]}],
                    "unit_levels": levels,
                    "set_legs": [{"unit": u["id"], "position": p, "height": 150, "by": "t",
                                  "at": "2026-01-01T00:00:00Z"}
                                 for u in units for p in positions(u["width"])]},
    }


def positions(width):
    columns = ["left", "right"] if width <= 900 else ["left", "middle", "right"]
    return [f"{row}_{c}" for row in ("front", "back") for c in columns]


class Cabinet:
    def __init__(self, width, leg):
        self.low, self.high = leg["min"] - 150, leg["max"] - 150
        columns = [50, width - 50] if width <= 900 else [50, width / 2, width - 50]
        spots = [(u, v) for v in (460, 60) for u in columns]
        plane = lambda uv: np.column_stack([np.ones(len(uv)), np.array(uv) / 1000])
        legs = plane(spots)
        corners = plane([(a * width, b * 560) for _, a, b in CORNERS])
        fit = np.linalg.pinv(legs)
        self.to_corners = corners @ fit
        self.out_of_plane = np.eye(len(spots)) - legs @ fit

    def turn(self, above):
        a = np.vstack([self.to_corners, STIFF * self.out_of_plane])
        b = np.concatenate([-np.array(above), np.zeros(len(self.out_of_plane))])
        got = optimize.lsq_linear(a, b, (self.low, self.high), method="bvls", tol=1e-14,
                                  max_iter=1000)
        return got.x, np.sum((self.to_corners @ got.x + above) ** 2)


def main():
    random = np.random.default_rng(7)
    worst = stops = cabinets = moved = 0
    for case in range(60):
        facts = survey(random)
        ran = subprocess.run([LEVELRUN, "solve", "-"], input=json.dumps(facts).encode(),
                             capture_output=True)
        assert ran.returncode == 0, ran.stderr.decode()
        units = json.loads(ran.stdout)["install"]["unit_levels"]
        assert len(units) == len(facts["rooms"][0]["runs"][0]["units"])
        common = units[0]["common"]
        moved += abs(common) > 1e-6
        models, from_u = [], []
        for unit, asked in zip(units, facts["rooms"][0]["runs"][0]["units"]):
            assert unit["common"] == common
            cabinet = Cabinet(asked["width"], facts["furniture"]["legs"][0])
            above = {c["corner"]: c["above"] for c in unit["corners"]}
            above = np.array([above[name] for name, _, _ in CORNERS])
            order = {leg["position"]: leg for leg in unit["legs"]}
            raises = [order[p]["raise"] for p in positions(asked["width"])]
            want, _ = cabinet.turn(above)
            worst = max(worst, np.max(np.abs(want - raises)))
            stops += sum(leg["end_stop"] != "none" for leg in unit["legs"])
            cabinets += 1
            models.append(cabinet)
            from_u.append(above + common)
        total = lambda level: sum(m.turn(e - level)[1] for m, e in zip(models, from_u))
        here = total(common)
        best = min(total(level) for level in np.linspace(common - 4, common + 4, 33))
        assert here <= best + 1e-5, (case, common, here, best)
        if abs(common) > 0.01:  # nearer to U is worse
            assert total(common * 0.98) > here - 1e-9, (case, common)
    print(f"{cabinets} cabinets, {stops} legs at an end stop, {moved} groups moved off U: "
          f"largest difference {worst:.1e} mm")
    assert worst < CLOSE and stops > 20 and moved > 5
    return 0


if __name__ == "__main__":
    sys.exit(main())
