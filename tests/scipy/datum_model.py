"""What bounds a level group's U, worked out again from survey, levels and floor (checks/
group_bounds.h), and U from stated bounds by linear programming (scipy.optimize.linprog)."""
import math

import numpy as np
from scipy import optimize

from floor_model import bearing, finished, in_niche, place_xy

BAND = 1.96
TAPE = 2.0            # mm: sd of a height taken with a tape
FRONT_STEP = 300      # mm between places looked at along the fronts
SLIDE_IN_DEPTH = 600  # mm of floor in front of a niche
CEILINGS_NEAR = 3
ORDER = ["asked_height", "board_reaches", "board_whole"]


def job_top(job):
    return job["base_height"] + job["worktop"]["thickness"]


class Bounds:
    """of(group): {(kind, at, side): (value, sd)} for each bound of the contract."""

    def __init__(self, job, room, floor, levels, runs, plinths):
        self.job, self.room, self.floor, self.levels = job, room, floor, levels
        self.runs, self.plinths = runs, plinths

    def of(self, group):
        self.out = {}
        runs = [r for r in self.runs if r.group == group]
        asked = next((g for g in self.room.get("level_groups", []) if g["id"] == group), {})
        for run in runs:
            self.legs(run)
            self.niches(run)
            self.sills(run)
            self.ceilings(run)
            self.boards(run)
        if "underside_set" in asked:
            for side in ("lower", "upper"):
                self.add("set", f"group {group}", side, asked["underside_set"]["value"], 0)
        self.asked(group, runs, asked)
        return self.out

    def add(self, kind, at, side, value, sd):
        if not math.isnan(value):
            self.out[kind, at, side] = (value, sd)

    def legs(self, run):
        for unit in run.units:
            if not unit["legs"]:
                continue
            mean, sd = self.floor.standing(bearing, [xy for _, xy in unit["legs"]])
            for (name, _), m, s in zip(unit["legs"], mean, sd):
                at = f"{unit['unit']['id']} {name}"
                self.add("leg_min", at, "lower", m + unit["type"]["min"] - unit["offset"], s)
                self.add("leg_max", at, "upper", m + unit["type"]["max"] - unit["offset"], s)

    def niches(self, run):
        top = run.offset + run.furniture["base_height"]
        for unit in run.units:
            niche = unit["unit"].get("niche")
            if not niche:
                continue
            us = np.linspace(unit["left"], unit["right"], 3)
            depth = np.linspace(unit["back"], unit["front"], 3)
            ahead = unit["front"] + np.linspace(0, SLIDE_IN_DEPTH, 3)
            inside, sd = self.floor.standing(in_niche, [run.at(u, v) for v in depth for u in us])
            front, front_sd = self.floor.standing(finished,
                                                  [run.at(u, v) for v in ahead for u in us])
            at, high, low = unit["unit"]["id"], inside.argmax(), inside.argmin()
            self.add("niche", at, "lower", inside[high] + niche["min_height"] - top, sd[high])
            self.add("niche", at, "upper", inside[low] + niche["max_height"] - top, sd[low])
            high = front.argmax()
            self.add("slide_in", at, "lower", front[high] + niche["min_height"]
                     + niche.get("slide_in", 3) - top, front_sd[high])

    def height(self, value, setup, xy):
        """A height from a set-up's plane, or from the surveyed floor at a place; with a tape."""
        if setup != "floor":
            plane, sd = self.levels.planes[setup]
        else:
            area = self.floor.area_of(xy)
            mean, sds = self.floor.estimates(xy)
            plane, sd = mean[0] + self.floor.still_on(area), sds[0]
        return plane + value, math.hypot(sd, TAPE)

    def sills(self, run):
        f = run.furniture
        top = (run.offset + f["base_height"] + f["worktop"]["thickness"]
               + f["worktop"]["upstand"]["height"])
        for window in self.room.get("openings", []):
            if window["kind"] != "window" or window["wall"] != run.wall or not window.get("sill"):
                continue
            place = {"wall": run.wall, "along": window["left"] + window["width"] / 2, "out": 0}
            sill, sd = self.height(window["sill"], window.get("from", "floor"),
                                   place_xy(place, self.floor.walls))
            begin = run.facts.get("from_along", 0)
            under = [u for u in run.units if u["unit"]["kind"] not in ("wall", "tall")
                     and begin + u["right"] > window["left"]
                     and begin + u["left"] < window["left"] + window["width"]]
            if under:
                self.add("sill", f"{window['id']} over {under[0]['unit']['id']}", "upper",
                         sill - window.get("board", {}).get("thickness", 0) - top, sd)

    def ceilings(self, run):
        readings = [(place_xy(c["place"], self.floor.walls), c)
                    for c in self.room.get("ceilings", [])]
        for unit in run.units:
            kind = unit["unit"]["kind"]
            hangs = kind == "wall" and "bottom" not in unit["unit"]
            stands = kind == "tall" and unit["top_offset"] > unit["offset"]
            if not readings or not (hangs or stands):
                continue
            middle = run.at((unit["left"] + unit["right"]) / 2, (unit["back"] + unit["front"]) / 2)
            near = sorted(readings, key=lambda r: np.linalg.norm(r[0] - middle))[:CEILINGS_NEAR]
            lowest, sd = min(self.height(c.get("clear", c.get("height")),
                                         c.get("from", "floor") if "clear" not in c else "floor",
                                         xy) for xy, c in near)
            self.add("ceiling", unit["unit"]["id"], "upper",
                     lowest - unit["top_offset"] - run.furniture["cornice"], sd)

    def boards(self, run):
        plinth = run.furniture["plinth"]
        for piece in self.plinths:
            if piece["run"] is not run or piece["hull"] is None:
                continue
            at, hull = f"{run.id} {piece['face']} {piece['piece']}", piece["hull"]
            stands = plinth["height"] - run.offset
            self.add("board_reaches", at, "upper", hull.min() + stands + plinth["top_gap_max"],
                     piece["sd"])
            self.add("board_whole", at, "lower", hull.max() + stands + plinth["top_gap_min"],
                     piece["sd"])

    def asked(self, group, runs, asked):
        """Also sets what the worktop stands over: at, least and greatest floor."""
        places = [run.at(u, unit["front"]) for run in runs for unit in run.units
                  if unit["unit"]["kind"] != "wall"
                  for u in np.linspace(unit["left"], unit["right"],
                                       1 + max(1, math.ceil(unit["unit"]["width"] / FRONT_STEP)))]
        mean, sd = self.floor.standing(finished, places)
        self.front = float(np.nanmin(mean)), float(np.nanmax(mean))
        if "height_at" in asked:
            at, at_sd = self.floor.standing(finished,
                                            place_xy(asked["height_at"], self.floor.walls))
            self.at = at[0], at_sd[0]
        else:
            self.at = mean[np.nanargmax(mean)], sd[np.nanargmax(mean)]
        self.wish = None
        if "asked_height" in asked:
            self.wish = self.at[0] + asked["asked_height"] - job_top(self.job)
            tolerance = asked.get("tolerance", 10)
            self.add("asked_height", f"group {group}", "lower", self.wish - tolerance, self.at[1])
            self.add("asked_height", f"group {group}", "upper", self.wish + tolerance, self.at[1])


def rows(bounds, key):
    """A u <= c."""
    sign = np.array([-1.0 if b["side"] == "lower" else 1.0 for b in bounds])
    return sign.reshape(-1, 1), sign * np.array([b[key] for b in bounds])


def programme(cost, A, c, slack=()):
    """Minimise cost over u (and a violation t >= 0 that `slack` rows may use)."""
    if len(cost) == 2:
        A = np.hstack([A, -np.array(slack, float).reshape(-1, 1)])
    limits = [(None, None), (0, None)][:len(cost)]
    return optimize.linprog(cost, A_ub=A, b_ub=c, bounds=limits, method="highs")


def datum(bounds, wish, order, set_at):
    """U, lowest, highest, feasible and the conflicting pair, from bounds by linear programming."""
    hard = [b for b in bounds if b["hard"]]
    A, c = rows(hard, "applied")
    end = {}
    for side, name, cost in (("lower", "lowest", [1]), ("upper", "highest", [-1])):
        here = [b for b in hard if b["side"] == side]
        end[name] = programme(cost, *rows(here, "applied")).x[0] if here else None
    feasible = programme([0], A, c).status == 0 if hard else True
    out = dict(end, feasible=feasible, conflict=None)
    if not feasible:  # the least greatest violation; its price falls on the bounds that conflict
        least = programme([0, 1], A, c, np.ones(len(hard)))
        price = -least.ineqlin.marginals
        pair = {side: hard[max((i for i in range(len(hard)) if hard[i]["side"] == side),
                               key=lambda i: price[i])] for side in ("lower", "upper")}
        out.update(conflict=pair, underside=least.x[0])
    if set_at is not None:
        return dict(out, underside=set_at)
    if not feasible:
        return out
    for kind in order + [k for k in ORDER if k not in order]:
        S, t = rows([b for b in bounds if b["kind"] == kind], "value")
        if len(S) == 0:
            continue
        least = programme([0, 1], np.vstack([A, S]), np.append(c, t),
                          np.append(np.zeros(len(A)), np.ones(len(S))))
        # Met where it can be; where not, the end that violates it least, and no further.
        A, c = np.vstack([A, S]), np.append(c, t + least.x[1] + 1e-9)
    if wish is None:
        lowest = programme([1], A, c)
        return dict(out, underside=lowest.x[0] if lowest.status == 0 else end["highest"])
    near = programme([0, 1], np.vstack([A, [[1], [-1]]]), np.append(c, [wish, -wish]),
                     np.append(np.zeros(len(A)), [1, 1]))
    return dict(out, underside=near.x[0])
