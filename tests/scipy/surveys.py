"""Surveys with fixed seeds for the comparison: runs by origin and bearing, floor points by x, y."""
import math

import numpy as np

WIDTH, DEPTH = 4200.0, 3300.0


def survey(seed, readings, setups=1, benchmark_on_floor=False, strip=False, laid=True, niche=False,
           fall=6.0, legs=(60, 260), asked=None, set_at=None, areas=False, in_line=False,
           known=False, blunder=None, group=None, plinth=None, starts="wall", ends="wall",
           share=2, waves=1.0, noise=0.7, top_to="front_legs"):
    """share: how many set-ups read every fifth point. blunder: of one staff reading so shared."""
    random = np.random.default_rng(seed)
    phase, tilt = random.uniform(0, 6, 3), random.normal(0, fall / 4000, 2)

    def floor(x, y):
        step = 34.0 if areas and x > 2200 else 0.0
        return (tilt[0] * x + tilt[1] * y + step + waves * (
            2.5 * math.sin(x / 700 + phase[0]) + 1.5 * math.cos(y / 500 + phase[1])))

    points, read = [{"id": "BM", "off_floor": True}], [[] for _ in range(setups)]
    if benchmark_on_floor:
        points[0] = {"id": "BM", "place": {"x": 150.0, "y": -2900.0, "sd": 10}}
    planes = random.uniform(900, 1400, setups).round(1)
    bm = floor(150.0, -2900.0) if benchmark_on_floor else 0.0
    for s in range(setups):
        if s == 0 or not benchmark_on_floor:
            read[s].append({"point": "BM", "staff": round(planes[s] + random.normal(0, noise), 1)})
    for i in range(readings):
        x = round(float(random.uniform(50, WIDTH - 50)), 0)
        y = round(float(random.uniform(-DEPTH + 50, -50)), 0) if not in_line else -300.0 - i
        tiled = strip and y < -700
        point = {"id": f"P{i}", "place": {"x": x, "y": y}}
        if strip:
            point["on"] = "tile" if tiled else "screed"
        points.append(point)
        height = floor(x, y) - bm + (20 if tiled else 0)
        for s in sorted({(i + k) % setups for k in range(share if i % 5 == 0 else 1)}):
            read[s].append({"point": f"P{i}",
                            "staff": round(planes[s] - height + random.normal(0, noise), 1)})
    if blunder:  # one staff reading of a point that several set-ups read
        next(r for r in read[0] if r["point"] == "P5" or setups > 2 and r["point"] == "P10"
             )["staff"] += blunder
    units = [{"id": f"U{i}", "kind": "base", "width": 400 if i % 2 else 600} for i in range(7)]
    if niche:
        units[3].update(kind="appliance", width=600,
                        niche={"min_height": 815, "max_height": 900, "slide_in": 3})
    room = {"id": "K",
            "levels": {"benchmark": {"point": "BM"}, "points": points,
                       "setups": [{"id": f"S{s}", "instrument": "L", "readings": read[s]}
                                  for s in range(setups)]},
            "flooring": {},
            "runs": [{"id": "R", "origin": {"x": 100, "y": 0}, "bearing": 0, "units": units,
                      "starts_at": starts, "ends_at": ends}]}
    if known:  # marks of known height, one of them on the floor; a collimation error
        room["levels"]["points"].append({"id": "MARK", "off_floor": True})
        room["levels"]["known"] = [{"point": "MARK", "height": 1000.0, "sd": 0.5},
                                   {"point": "P3", "height": round(floor(*at(points, "P3")), 1),
                                    "sd": 0.4}]
        for plane, setup in zip(planes, room["levels"]["setups"]):
            setup["readings"].append({"point": "MARK", "staff": round(plane - 1000.2, 1)})
            setup["collimation"] = 0.08
            for k, reading in enumerate(setup["readings"]):
                reading["distance_m"] = 1.5 + k % 5
                reading["staff"] = round(reading["staff"] + 0.08 * reading["distance_m"], 2)
    if strip:
        room["flooring"]["existing"] = [{"name": "tile", "thickness": 20, "sd": 0.6, "strip": True},
                                        {"name": "screed", "thickness": 50, "strip": False}]
    if laid:
        room["flooring"]["laid"] = [{"name": "levelling", "thickness": 6, "sd": 0.4, "to": "wall"},
                                    {"name": "boards", "thickness": 15, "to": top_to}]
    if areas:
        room["floor_areas"] = [
            {"id": name, "outline": [{"x": a, "y": 0}, {"x": b, "y": 0}, {"x": b, "y": -DEPTH},
                                     {"x": a, "y": -DEPTH}]}
            for name, a, b in (("low", 0, 2200), ("high", 2200, WIDTH))]
    group = {"id": "A", **(group or {})}
    if asked:
        group["asked_height"] = asked
    if set_at is not None:
        group["underside_set"] = {"value": set_at, "by": "k.r.", "at": "2026-03-02T10:00:00+00:00"}
    room["level_groups"] = [group]
    return {"format": "levelrun-survey", "version": 1, "job": {"reference": f"SP-{seed}"},
            "instruments": [{"id": "L", "kind": "laser_level", "sd": 0.7}],
            "furniture": {"plinth": {"height": 150, **(plinth or {})},
                          "legs": [{"id": "A", "min": legs[0], "max": legs[1], "supplied": 150,
                                    "pitch": 1.5}]},
            "rooms": [room]}


def at(points, name):
    place = next(p["place"] for p in points if p["id"] == name)
    return place["x"], place["y"]


def walled(seed, readings, setups=2, lean=4.0, niche=True, finish=0.0, asked=None, fall=8.0,
           offsets_from="plumb_plane", stock=3000, strip=False):
    """A room of four walls: an L of two runs, wall units, a tall unit, and an island with its own
    furniture and level group."""
    random = np.random.default_rng(seed)
    facts = survey(seed, readings, setups=setups, strip=strip, fall=fall)
    room = facts["rooms"][0]
    lengths = [WIDTH, DEPTH, WIDTH, DEPTH]
    room["corners"] = [{"id": f"C{i}"} for i in range(4)]
    room["walls"] = []
    for i, length in enumerate(lengths):
        wall = {"id": f"W{i}", "from": f"C{i}", "to": f"C{(i + 1) % 4}", "lengths": [
            {"height": h, "length": round(length + random.normal(0, 1.5), 0), "instrument": "DM"}
            for h in (150, 900, 2000)]}
        if i < 2:
            wall["offsets_from"] = offsets_from
            wall["offsets"] = [
                {"along": along, "height": h + k, "offset": round(
                    60 + lean * h / 1000 + 3 * math.sin(along / 600 + i) + random.normal(0, 1), 1)}
                for h in (150, 900, 2000) for k, along in enumerate(range(100, int(length), 480))]
        room["walls"].append(wall)
    if finish:
        room["walls"][0]["finish"] = [{"name": "skim", "thickness": finish},
                                      {"name": "splash panel", "thickness": 9, "from_height": 1000}]
    diagonal = math.hypot(WIDTH, DEPTH)
    room["diagonals"] = [{"from": a, "to": b, "instrument": "DM",
                          "length": round(diagonal + random.normal(0, 1), 0)}
                         for a, b in (("C0", "C2"), ("C1", "C3"))]
    room["openings"] = [
        {"id": "window", "wall": "W0", "kind": "window", "left": 1300, "width": 1100,
         "sill": 1120, "height": 900, "board": {"projection": 30, "thickness": 22}},
        {"id": "light", "wall": "W1", "kind": "window", "left": 1200, "width": 600,
         "sill": 60, "from": "S0", "height": 700}]
    room["ceilings"] = [{"place": {"x": 400, "y": -300}, "clear": 2405},
                        {"place": {"x": 2200, "y": -900}, "clear": 2399},
                        {"place": {"x": 3900, "y": -700}, "height": 1250, "from": "S0"},
                        {"place": {"x": 3900, "y": -2600}, "clear": 2380}]
    appliance = {"id": "N3", "kind": "appliance", "width": 600}
    if niche:
        appliance["niche"] = {"min_height": 815, "max_height": 900, "slide_in": 4}
    room["runs"] = [
        {"id": "N", "wall": "W0", "from_along": 35, "starts_at": "wall", "ends_at": "corner",
         "units": [{"id": "N0", "kind": "base", "width": 400},
                   {"id": "N1", "kind": "base", "width": 1000, "leg": "B"},
                   {"id": "N2", "kind": "base", "width": 600, "height": 600, "depth": 480},
                   appliance, {"id": "N4", "kind": "space", "width": 60},
                   {"id": "N5", "kind": "base", "width": 850}]},
        {"id": "E", "wall": "W1", "from_along": 640, "starts_at": "corner", "ends_at": "open",
         "units": [{"id": "E0", "kind": "base", "width": 600, "feet": [
                       {"from_left": 60, "from_front": 90}, {"from_left": 540, "from_front": 90},
                       {"from_left": 300, "from_front": 500}]},
                   {"id": "E1", "kind": "base", "width": 600},
                   {"id": "E2", "kind": "tall", "width": 600, "height": 2080}]},
        {"id": "H", "wall": "W0", "from_along": 35, "starts_at": "open", "ends_at": "open",
         "units": [{"id": "H0", "kind": "wall", "width": 900},
                   {"id": "H1", "kind": "wall", "width": 600, "height": 900}]},
        {"id": "I", "origin": {"x": 3000, "y": -2100}, "bearing": 176, "starts_at": "open",
         "ends_at": "open", "level_group": "B",
         "furniture": {"base_height": 690, "back": "standing_off", "void_depth": 30,
                       "worktop": {"thickness": 60}, "plinth": {"height": 140, "kerf": 3}},
         "units": [{"id": "I0", "kind": "base", "width": 800}, {"id": "I1", "kind": "base",
                                                                "width": 1000}]}]
    room["level_groups"] = [{"id": "A", **({"asked_height": asked} if asked else {}),
                             "height_at": {"x": 2000, "y": -1200}},
                            {"id": "B", "asked_height": 935, "tolerance": 6}]
    facts["instruments"].append({"id": "DM", "kind": "distance_meter", "sd": 1.5})
    facts["furniture"].update(cornice=40, tall_height=2000,
                              worktop={"thickness": 30, "upstand": {"height": 50, "thickness": 12}})
    facts["furniture"]["plinth"].update(stock_length=stock, other_heights=[125])
    facts["furniture"]["legs"].append({"id": "B", "min": 90, "max": 240, "front_inset": 70,
                                       "back_inset": 90, "side_inset": 40, "span": 450})
    return facts


OPEN_FLOOR = {
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
    "one reading": dict(seed=15, readings=1),
    "two readings": dict(seed=16, readings=2, asked=900),
    "in one line": dict(seed=17, readings=14, in_line=True),
    "known marks, collimation": dict(seed=18, readings=22, setups=2, known=True),
    "a hundred and fifty, known marks": dict(seed=19, readings=150, setups=3, known=True),
    "neighbourhoods": dict(seed=29, readings=260, setups=3, share=1),
    "one staff reading 10 out": dict(seed=20, readings=40, setups=3, share=3, blunder=10.0),
    "one of two staff readings 10 out": dict(seed=20, readings=40, setups=2, blunder=10.0,
                                             asked=900),
    "new floor under the legs": dict(seed=36, readings=40, top_to="wall", set_at=150.0,
                                     legs=(110, 140)),
    "new floor up to the plinth, niche": dict(seed=37, readings=40, top_to="plinth_face",
                                              niche=True, legs=(60, 125), asked=880),
    "a level floor": dict(seed=38, readings=30, fall=0.0, waves=0.0, noise=0.0, asked=898,
                          group={"tolerance": 1, "height_at": {"x": 900, "y": -800}}),
    "benchmark on the floor, few, stripped": dict(seed=21, readings=4, benchmark_on_floor=True,
                                                 strip=True),
    "asked height out of reach": dict(seed=22, readings=30, asked=1010, legs=(100, 190)),
    "asked height last": dict(seed=23, readings=30, fall=20.0, legs=(120, 190), asked=930,
                              group={"order": ["board_whole", "board_reaches", "asked_height"],
                                     "tolerance": 4}),
    "boards cut": dict(seed=24, readings=30, fall=30.0, legs=(120, 175), asked=905,
                       group={"tolerance": 3}, starts="open", ends="open",
                       plinth={"sealed_edges": "none", "stock_length": 1500}),
    "boards scribed": dict(seed=25, readings=60, fall=30.0, plinth={"floor_gap_max": 0.5}),
    "niche against set underside": dict(seed=26, readings=30, set_at=90.0, niche=True),
    "set too high and too low": dict(seed=27, readings=30, fall=60.0, legs=(120, 150),
                                     set_at=170.0),
    "two areas, stripped": dict(seed=28, readings=80, areas=True, strip=True, setups=2,
                                legs=(40, 300)),
}
WALLED = {
    "walls": dict(seed=31, readings=24),
    "walls, lean forward": dict(seed=32, readings=60, lean=-5.0, finish=12.0, asked=880),
    "walls, offsets from a line": dict(seed=33, readings=50, setups=3, offsets_from="line",
                                       niche=False),
    "walls, short stock": dict(seed=34, readings=40, stock=1200, asked=930, fall=25.0),
    "walls, stripped": dict(seed=35, readings=20, strip=True, stock=2000),
}
CASES = ({name: survey(**how) for name, how in OPEN_FLOOR.items()}
         | {name: walled(**how) for name, how in WALLED.items()})
