#!/usr/bin/python3
"""The floor map of `levelrun draw --floor`, read back from its SVG and compared with SciPy.

The sheet's scale is stated on it; the room's faces, drawn 0.7 mm wide, give its position. Contours
are straight between grid points, so every point of one lies on a line of the grid, where the height
between the two neighbours, which floor_model.py computes by itself from the readings, must be one
level, the same along the contour. No level between the lowest and the highest may be missing, and
what the straight lines miss of the surface itself is printed. The room's sides are measured too.

Usage: map_against_scipy.py LEVELRUN SAMPLE_FOLDER"""
import json
import pathlib
import re
import subprocess
import sys
import xml.etree.ElementTree as xml

import numpy as np

from floor_model import Floor
from level_model import Levels

LEVELRUN, SAMPLES = sys.argv[1], pathlib.Path(sys.argv[2])
LEAST_STEP, POINTS_ACROSS = 100.0, 48  # of the grid, mm and points
ON_LEVEL = 0.005  # mm
DRAWN = 0.02     # mm of the room: coordinates have 4 decimals of a mm of paper
NAME = "{http://www.w3.org/2000/svg}"

failures = []


def must(fine, words):
    if not fine:
        failures.append(words)


def run(*args):
    done = subprocess.run([LEVELRUN, *args], capture_output=True)
    if done.returncode:
        raise SystemExit(done.stderr.decode())
    return done.stdout


def lines_of(svg):
    """Polylines with their points and attributes."""
    for line in svg.iter(NAME + "polyline"):
        yield line, np.array([[float(v) for v in p.split(",")] for p in
                              line.get("points").split()])


def check(path):
    facts = json.loads(path.read_text())
    results = json.loads(run("solve", str(path)))
    for index, (room, result) in enumerate(zip(facts["rooms"], results["rooms"])):
        svg = xml.fromstring(run("draw", str(path), "--floor", "--room", room["id"]))
        texts = ["".join(t.itertext()) for t in svg.iter(NAME + "text")]
        ratio = next(int(m[1]) for t in texts if (m := re.match(r"1 : (\d+)", t)))
        corners = np.array([[c["x"], c["y"]] for c in result["corners"]])
        faces = np.vstack([p for line, p in lines_of(svg) if line.get("stroke-width") == "0.7"])
        wide, high = np.ptp(faces, axis=0) * ratio
        must(abs(wide - np.ptp(corners[:, 0])) < DRAWN and abs(high - np.ptp(corners[:, 1])) < DRAWN,
             f"{path.name} {room['id']}: drawn {wide:.3f} × {high:.3f}, "
             f"is {np.ptp(corners[:, 0]):.3f} × {np.ptp(corners[:, 1]):.3f}")
        left, top = faces.min(axis=0)

        def in_plan(points):
            return np.column_stack([(points[:, 0] - left) * ratio + corners[:, 0].min(),
                                    corners[:, 1].max() - (points[:, 1] - top) * ratio])

        levels = Levels(facts, room, index)
        floor = Floor(room, result, levels)
        for area in result["floor"]:
            if area["model"]:
                floor.solve(area["area"], area["model"]["how"], area["model"]["grid"])
        contours = [p for line, p in lines_of(svg) if len(p) > 3 and not line.get("stroke-dasharray")
                    and line.get("stroke-width") in ("0.18", "0.35")
                    and line.get("stroke") == "#000"]
        origin = corners.min(axis=0)
        step = max(LEAST_STEP, np.ptp(corners, axis=0).max() / POINTS_ACROSS)

        def surface(at):
            out = np.empty(len(at))
            areas = np.array([floor.area_of(p) for p in at])
            for area in set(areas):
                out[areas == area] = floor.heights(area, at[areas == area])[0]
            return out

        found, worst, bulge, count = set(), 0.0, 0.0, 0
        for line in contours:
            at = in_plan(line)
            cell = (at - origin) / step
            on_line = np.abs(cell - np.round(cell)).min(axis=1) * step
            if (on_line > DRAWN).any():
                continue  # no contour: the arc of a door, say
            along_x = np.abs(cell[:, 1] - np.round(cell[:, 1])) <= np.abs(
                cell[:, 0] - np.round(cell[:, 0]))
            low = np.where(along_x[:, None], np.column_stack([np.floor(cell[:, 0]),
                                                              np.round(cell[:, 1])]),
                           np.column_stack([np.round(cell[:, 0]), np.floor(cell[:, 1])]))
            high = low + np.where(along_x[:, None], [1, 0], [0, 1])
            share = np.where(along_x, cell[:, 0] - low[:, 0], cell[:, 1] - low[:, 1])
            ends = surface(origin + low * step), surface(origin + high * step)
            heights = ends[0] + share * (ends[1] - ends[0])
            level = round(float(np.median(heights)))
            # Across the fall a hair's breadth on the sheet is a height too.
            allowed = ON_LEVEL + DRAWN * np.abs(ends[1] - ends[0]) / step
            off = np.abs(heights - level)
            worst, count = max(worst, float(off.max())), count + len(at)
            bulge = max(bulge, float(np.median(np.abs(surface(at) - level))))
            must((off <= allowed).all(),
                 f"{path.name} {room['id']}: contour {level} is off by {off.max():.3f}")
            found.add(level)
        must(bool(found), f"{path.name} {room['id']}: no contour")
        dots = [c for c in svg.iter(NAME + "circle") if float(c.get("r")) < 0.2]
        if found and not dots:  # dots: where the floor is known too vaguely for contours
            gaps = {b - a for a, b in zip(sorted(found), sorted(found)[1:])}
            must(len(gaps) <= 1 and gaps <= {1, 2, 5, 10},
                 f"{path.name} {room['id']}: levels {sorted(found)}")
        print(f"{path.name} {room['id']}: 1 : {ratio}, {len(contours)} contours, {count} points, "
              f"off their level by at most {worst:.4f} mm; half of each contour within "
              f"{bulge:.3f} mm of the surface itself")


def main():
    for path in sorted(SAMPLES.glob("*.levelrun.json")):
        check(path)
    for line in failures[:40]:
        print("DIFFERS", line)
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
