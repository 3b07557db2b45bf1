"""Surveys with fixed seeds for the comparison: runs by origin and bearing, floor points by x, y."""
import math

import numpy as np

WIDTH, DEPTH = 4200.0, 3300.0


def survey(seed, readings, setups=1, benchmark_on_floor=False, strip=False, laid=True, niche=False,
           fall=6.0, legs=(60, 260), asked=None, set_at=None, areas=False):
    random = np.random.default_rng(seed)
    phase, tilt = random.uniform(0, 6, 3), random.normal(0, fall / 4000, 2)

    def floor(x, y):
        step = 34.0 if areas and x > 2200 else 0.0
        return (tilt[0] * x + tilt[1] * y + 2.5 * math.sin(x / 700 + phase[0]) +
                1.5 * math.cos(y / 500 + phase[1]) + step)

    points, read = [{"id": "BM", "off_floor": True}], [[] for _ in range(setups)]
    if benchmark_on_floor:
        points[0] = {"id": "BM", "place": {"x": 150.0, "y": -2900.0, "sd": 10}}
    planes = random.uniform(900, 1400, setups).round(1)
    bm = floor(150.0, -2900.0) if benchmark_on_floor else 0.0
    for s in range(setups):
        if s == 0 or not benchmark_on_floor:
            read[s].append({"point": "BM", "staff": round(planes[s] + random.normal(0, .7), 1)})
    for i in range(readings):
        x = round(float(random.uniform(50, WIDTH - 50)), 0)
        y = round(float(random.uniform(-DEPTH + 50, -50)), 0)
        tiled = strip and y < -700
        point = {"id": f"P{i}", "place": {"x": x, "y": y}}
        if strip:
            point["on"] = "tile" if tiled else "screed"
        points.append(point)
        height = floor(x, y) - bm + (20 if tiled else 0)
        for s in {i % setups, (i // 5) % setups if i % 5 == 0 else i % setups}:
            read[s].append({"point": f"P{i}",
                            "staff": round(planes[s] - height + random.normal(0, .7), 1)})
    units = [{"id": f"U{i}", "kind": "base", "width": 400 if i % 2 else 600} for i in range(7)]
    if niche:
        units[3].update(kind="appliance", width=600,
                        niche={"min_height": 815, "max_height": 900, "slide_in": 3})
    room = {"id": "K",
            "levels": {"benchmark": {"point": "BM"}, "points": points,
                       "setups": [{"id": f"S{s}", "instrument": "L", "readings": read[s]}
                                  for s in range(setups)]},
            "flooring": {},
            "runs": [{"id": "R", "origin": {"x": 100, "y": 0}, "bearing": 0, "units": units}]}
    if strip:
        room["flooring"]["existing"] = [{"name": "tile", "thickness": 20, "sd": 0.6, "strip": True},
                                        {"name": "screed", "thickness": 50, "strip": False}]
    if laid:
        room["flooring"]["laid"] = [{"name": "levelling", "thickness": 6, "sd": 0.4, "to": "wall"},
                                    {"name": "boards", "thickness": 15, "to": "front_legs"}]
    if areas:
        room["floor_areas"] = [
            {"id": name, "outline": [{"x": a, "y": 0}, {"x": b, "y": 0}, {"x": b, "y": -DEPTH},
                                     {"x": a, "y": -DEPTH}]}
            for name, a, b in (("low", 0, 2200), ("high", 2200, WIDTH))]
    group = {"id": "A"}
    if asked:
        group["asked_height"] = asked
    if set_at is not None:
        group["underside_set"] = {"value": set_at, "by": "k.r.", "at": "2026-03-02T10:00:00+00:00"}
    room["level_groups"] = [group]
    return {"format": "levelrun-survey", "version": 1, "job": {"reference": f"SP-{seed}"},
            "instruments": [{"id": "L", "kind": "laser_level", "sd": 0.7}],
            "furniture": {"plinth": {"height": 150},
                          "legs": [{"id": "A", "min": legs[0], "max": legs[1], "supplied": 150,
                                    "pitch": 1.5}]},
            "rooms": [room]}


CASES = {
    "three readings": dict(seed=1, readings=3),
    "five": dict(seed=2, readings=5, asked=900),
    "twelve, niche": dict(seed=3, readings=12, niche=True),
    "twenty, stripped": dict(seed=4, readings=20, strip=True),
    "twenty-four, two set-ups": dict(seed=5, readings=20, setups=2),
    "sixty": dict(seed=6, readings=60, asked=910),
    "sixty, three set-ups": dict(seed=7, readings=60, setups=3, niche=True),
    "benchmark on the floor": dict(seed=8, readings=15, benchmark_on_floor=True),
    "benchmark on the floor, sixty, stripped": dict(seed=9, readings=60, benchmark_on_floor=True,
                                                   strip=True, setups=2),
    "a hundred and fifty": dict(seed=10, readings=150, setups=2),
    "set underside": dict(seed=11, readings=30, set_at=160.0, niche=True),
    "legs too short": dict(seed=12, readings=30, fall=60.0, legs=(120, 150)),
    "two areas": dict(seed=13, readings=40, areas=True, legs=(60, 300)),
    "no new floor": dict(seed=14, readings=30, laid=False, asked=880),
}
