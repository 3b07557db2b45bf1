"""Where units, legs and plinth boards stand, from the survey and the adjusted corners alone, as
the survey format, checks/placing.h, run_line.h and plinth_faces.h state it."""
import copy
import math

import numpy as np

from floor_model import walls_in_plan

DEFAULTS = {  # of the survey format
    "base_height": 720, "base_depth": 560, "back": "recessed", "void_depth": 42, "tall_height": 0,
    "wall_unit": {"height": 720, "depth": 300, "above_worktop": 450}, "cornice": 0,
    "worktop": {"thickness": 38, "upstand": {"height": 0}}, "infill": {"max": 100}, "legs": [],
    "plinth": {"height": 150, "thickness": 16, "setback": 50, "top_gap_min": 3, "top_gap_max": 15,
               "floor_gap_max": 3, "stock_length": 3000, "kerf": 4, "sealed_edges": "long"}}
LEG = {"front_inset": 100, "back_inset": 60, "side_inset": 50, "span": 900}
SAME_LINE = 20          # mm: readings this close in height make one level line
CLEAR_OF_NICHE = 150    # mm: no plinth joint nearer
SHORTEST_FACE = 20      # mm
CORNER_REACH = 1500     # mm
STEP = 100              # mm: the plinth floor's profile
SIDE = 2e-6             # mm: the floor just before and just beyond a step


def merged(base, over):
    out = copy.deepcopy(base)
    for key, value in over.items():
        both = isinstance(value, dict) and isinstance(out.get(key), dict)
        out[key] = merged(out[key], value) if both else value
    return out


class Run:
    """One run in plan: at(u, v) with u along it and v into the room, and its units as dicts with
    left, right, back, front, offset, top_offset (of its underside and top above U) and legs."""

    def __init__(self, job, room, walls, run):
        self.facts, self.id = run, run["id"]
        self.furniture = f = merged(job, run.get("furniture", {}))
        self.wall = run.get("wall")
        self.length = sum(u["width"] for u in run["units"])
        self.starts, self.ends = run.get("starts_at", "wall"), run.get("ends_at", "wall")
        self.group = run.get("level_group", "A")
        if self.wall:
            origin, self.along, self.out = walls[self.wall]
            wall = next(w for w in room["walls"] if w["id"] == self.wall)
            self.line = self.proudest(wall) + sum(
                y["thickness"] for y in wall.get("finish", []) if y.get("from_height", 0) < 1000)
            self.origin = origin + run.get("from_along", 0) * self.along + self.line * self.out
        else:
            turn = math.radians(run["bearing"])
            self.along = np.array([math.cos(turn), math.sin(turn)])
            self.out = np.array([self.along[1], -self.along[0]])
            self.origin = np.array([run["origin"]["x"], run["origin"]["y"]], float)
        # Worktops of a level group are flush on top.
        self.offset = (job["base_height"] + job["worktop"]["thickness"]
                       - f["base_height"] - f["worktop"]["thickness"])
        self.units, left = [], 0.0
        for unit in run["units"]:
            self.units.append(self.placed(unit, left))
            left += unit["width"]

    def at(self, u, v):
        return self.origin + u * self.along + v * self.out

    def proudest(self, wall):
        """How far the face comes before its chord along the run; straight between readings."""
        lines = []
        for reading in sorted(wall.get("offsets", []), key=lambda o: o["height"]):
            if not lines or reading["height"] - lines[-1][0]["height"] > SAME_LINE:
                lines.append([])
            lines[-1].append(reading)
        lines = [sorted(line, key=lambda o: o["along"]) for line in lines]
        lines = [line for line in lines if line[-1]["along"] - line[0]["along"] > SAME_LINE]
        if not lines:
            return 0.0
        f = self.furniture
        top = f["plinth"]["height"] + f["base_height"] + f["worktop"]["thickness"]
        if any(u["kind"] in ("wall", "tall") for u in self.facts["units"]):
            top = math.inf
        heights = [np.mean([o["height"] for o in line]) for line in lines]
        chord = lines[int(np.argmin([abs(h - 900) for h in heights]))]
        begin = self.facts.get("from_along", 0)
        look = [begin, begin + self.length] + [
            o["along"] for line in lines for o in line
            if begin < o["along"] < begin + self.length]
        proud = []  # a row for each line: how far it stands before the chord
        for line in lines:
            own = line if wall.get("offsets_from") == "line" else chord
            ends = own[0], own[-1]
            slope = (ends[1]["offset"] - ends[0]["offset"]) / (ends[1]["along"] - ends[0]["along"])
            departures = [ends[0]["offset"] + slope * (o["along"] - ends[0]["along"]) - o["offset"]
                          for o in line]
            proud.append(np.interp(look, [o["along"] for o in line], departures))
        proud = np.array(proud)
        within = [h for h in heights if h <= top] + ([top] if top < heights[-1] else [])
        return max(np.interp(within, heights, proud[:, i]).max() for i in range(len(look)))

    def placed(self, unit, left):
        f, kind = self.furniture, unit["kind"]
        back = f["void_depth"] if f["back"] == "standing_off" and kind != "wall" else 0.0
        depth = unit.get("depth", f["wall_unit"]["depth"] if kind == "wall" else f["base_depth"])
        top = self.offset + f["base_height"]
        if kind == "wall":
            under = top + f["worktop"]["thickness"] + f["wall_unit"]["above_worktop"]
            top = under + unit.get("height", f["wall_unit"]["height"])
        elif kind == "tall":
            under, top = self.offset, self.offset + unit.get("height", f["tall_height"])
        else:
            under = top - unit.get("height", f["base_height"])
        out = dict(unit=unit, left=left, right=left + unit["width"], back=back, front=back + depth,
                   offset=under, top_offset=top, legs=[], type=None)
        if kind in ("base", "tall") and f["legs"]:
            types = {t["id"]: {**LEG, **t} for t in f["legs"]}
            out["type"] = types[unit.get("leg", f["legs"][0]["id"])]
            out["legs"] = [(name, self.at(u, v)) for name, u, v in self.legs(out)]
        return out

    def legs(self, placed):
        unit, leg = placed["unit"], placed["type"]
        if unit.get("feet"):
            return [(f"foot_{i + 1}", placed["left"] + foot["from_left"],
                     placed["front"] - foot["from_front"]) for i, foot in enumerate(unit["feet"])]
        columns = 1 + max(1, math.ceil(unit["width"] / leg["span"] - 1e-12))
        at = np.linspace(placed["left"] + leg["side_inset"], placed["right"] - leg["side_inset"],
                         columns)
        names = ["left"] + [str(i) for i in range(2, columns)] + ["right"]
        if columns == 3:
            names[1] = "middle"
        rows = ("front", placed["front"] - leg["front_inset"]), ("back",
                                                                placed["back"] + leg["back_inset"])
        return [(f"{row}_{name}", u, v) for row, v in rows for name, u in zip(names, at)]


def placed_runs(survey, room, result):
    job = merged(DEFAULTS, survey.get("furniture", {}))
    walls = walls_in_plan(room, result)
    return [Run(job, room, walls, run) for run in room["runs"]]


def carries_plinth(unit):
    return unit["unit"]["kind"] not in ("space", "end_panel", "wall")


def corner_end(runs, run, at_end, v):
    """Where this run's face meets the face of the other run at an inside corner; the run that
    ends there passes behind the one that starts."""
    for other in runs:
        if other is run or (other.starts if at_end else other.ends) != "corner":
            continue
        boarded = [u for u in other.units if carries_plinth(u)]
        if not boarded or abs(np.linalg.det([run.along, other.along])) < 0.1:
            continue
        face = boarded[0 if at_end else -1]["front"] - other.furniture["plinth"]["setback"]
        # run.at(u, v) = other.at(w, face)
        u, _ = np.linalg.solve(np.column_stack([run.along, -other.along]),
                               other.at(0, face) - run.at(0, v))
        if abs(u - (run.length if at_end else 0)) <= CORNER_REACH:
            return u + (other.furniture["plinth"]["thickness"] if at_end else 0)
    return None


def faces(runs, run, walls_length):
    """(name, from, to, niches along it), left to right as seen facing it."""
    plinth, out = run.furniture["plinth"], []
    stretches, last = [], None
    for i, unit in enumerate(run.units):
        if not carries_plinth(unit):
            last = None
            continue
        if last is None or abs(unit["front"] - stretches[-1][0][1]["front"]) >= 1:
            stretches.append([])
        stretches[-1].append((i, unit))
        last = unit
    fronts = [s for s in stretches if any(u["unit"]["kind"] in ("base", "tall") for _, u in s)]
    if not fronts:
        return []
    for number, stretch in enumerate(fronts, 1):
        (first, left), (end, right) = stretch[0], stretch[-1]
        v = left["front"] - plinth["setback"]
        u1, u2, infill = left["left"], right["right"], run.furniture["infill"]["max"]
        if first == 0:
            begin = run.facts.get("from_along", 0)
            if run.starts == "open":
                u1 += plinth["setback"]
            elif run.starts == "wall" and run.wall and begin <= infill:
                u1 = -begin
            elif run.starts == "corner":
                met = corner_end(runs, run, False, v)
                u1 = u1 if met is None else met
        if end == len(run.units) - 1:
            if run.ends == "open":
                u2 -= plinth["setback"]
            elif run.ends == "wall" and run.wall:
                to_wall = walls_length[run.wall] - run.facts.get("from_along", 0)
                u2 = to_wall if to_wall - u2 <= infill else u2
            elif run.ends == "corner":
                met = corner_end(runs, run, True, v)
                u2 = u2 if met is None else met
        niches = [(u["left"] - u1, u["right"] - u1) for _, u in stretch if "niche" in u["unit"]]
        name = "front" if number == 1 else f"front_{number}"
        out.append((name, (u1, v), (u2, v), niches))
    # Returns butt against the back of the front board; an island's against that of its back.
    behind = 0 if run.wall else plinth["setback"] + plinth["thickness"]
    left_u = plinth["setback"] if run.starts == "open" else 0
    right_u = run.length - (plinth["setback"] if run.ends == "open" else 0)
    if run.starts == "open":
        out.append(("left", (left_u, behind), (left_u, out[0][1][1] - plinth["thickness"]), []))
    if run.ends == "open":
        front = [f for f in out if f[0].startswith("front")][-1][1][1]
        out.append(("right", (right_u, front - plinth["thickness"]), (right_u, behind), []))
    if not run.wall and "open" in (run.starts, run.ends):
        out.append(("back", (right_u, plinth["setback"]), (left_u, plinth["setback"]), []))
    return out


def pieces(runs, walls_length):
    """Every plinth board: run, face, piece, from and to in plan, length."""
    out = []
    for run in runs:
        for name, a, b, niches in faces(runs, run, walls_length):
            a, b = run.at(*a), run.at(*b)
            length, stock = float(np.linalg.norm(b - a)), run.furniture["plinth"]["stock_length"]
            if length < SHORTEST_FACE:
                continue
            cuts = [0.0]
            while length - cuts[-1] > stock + 1e-6:
                joint = cuts[-1] + stock
                for low, high in sorted(niches, reverse=True):  # back, clear of each niche
                    if (low - CLEAR_OF_NICHE < joint < high + CLEAR_OF_NICHE
                            and low - CLEAR_OF_NICHE > cuts[-1] + SHORTEST_FACE):
                        joint = low - CLEAR_OF_NICHE
                cuts.append(joint)
            cuts.append(length)
            for k, (t, u) in enumerate(zip(cuts, cuts[1:]), 1):
                out.append(dict(run=run, face=name, piece=k, length=u - t,
                                a=a + (b - a) * t / length, b=a + (b - a) * u / length))
    return out


def steps(piece, outlines):
    """Where a board crosses the edges of floor areas: along, from its left end."""
    out, way = [], piece["b"] - piece["a"]
    for outline in outlines:
        corners = np.array(outline, float)
        for p, q in zip(corners, np.roll(corners, -1, axis=0)):
            if abs(np.linalg.det([way, q - p])) > 1e-6:  # a + t way = p + s (q - p)
                t, s = np.linalg.solve(np.column_stack([way, p - q]), p - piece["a"])
                if 0 < t < 1 and 0 <= s <= 1:
                    out.append(t * piece["length"])
    return out


def profile(piece, outlines, step=STEP):
    """along and places under a board's face: every step, at its end, and both sides of a step
    between floor areas."""
    both = [x + side for x in steps(piece, outlines) for side in (-SIDE, SIDE)]
    along = np.unique(np.concatenate([np.arange(0, piece["length"] - 1e-6, step), both,
                                      [piece["length"]]]))
    return along, piece["a"] + np.outer(along / piece["length"], piece["b"] - piece["a"])
