"""The floor as a surface, written from its model and not from the program: dense universal
kriging (generalised least squares) over all readings, the set-ups' planes among the unknowns.
SciPy solves it; nothing is eliminated, batched or taken from the program but the plan's corners."""
import math

import numpy as np
from scipy import linalg

SD_GRID = [0.5, 0.8, 1.25, 2.0, 3.2, 5.0, 8.0]
RANGE_GRID = [600, 950, 1500, 2400, 3800]


def matern52(d, sd, range_):
    a = np.sqrt(5.0) * d / range_
    return sd**2 * (1 + a + a**2 / 3) * np.exp(-a)


def walls_in_plan(room, result):
    """Origin, along and out of each wall, from the results' corners."""
    at = {c["id"]: (c["x"], c["y"]) for c in result["corners"]}
    out = {}
    for wall in room.get("walls", []):
        a, b = np.array(at[wall["from"]]), np.array(at[wall["to"]])
        along = (b - a) / np.linalg.norm(b - a)
        out[wall["id"]] = (a, along, np.array([along[1], -along[0]]))
    return out


def place_xy(place, walls):
    if "wall" in place:
        origin, along, out = walls[place["wall"]]
        return origin + place["along"] * along + place["out"] * out
    return np.array([place["x"], place["y"]], float)


def inside(outline, p):
    hit = False
    for (ax, ay), (bx, by) in zip(outline, outline[1:] + outline[:1]):
        if (ay > p[1]) != (by > p[1]) and p[0] < (bx - ax) * (p[1] - ay) / (by - ay) + ax:
            hit = not hit
    return hit


class Floor:
    """One room's bare floor. heights(area, points) gives means and sds."""

    def __init__(self, survey, room, result):
        self.walls = walls_in_plan(room, result)
        self.room = room
        self.areas = [a["id"] for a in room.get("floor_areas", [])] or ["floor"]
        self.outlines = [[tuple(place_xy(p, self.walls)) for p in a["outline"]]
                         for a in room.get("floor_areas", [])]
        sds = {i["id"]: i["sd"] for i in survey.get("instruments", [])}
        levels = room["levels"]
        self.existing = room.get("flooring", {}).get("existing", [])
        points = {p["id"]: p for p in levels["points"]}
        self.points = points
        # Readings of set-ups that are tied to the benchmark.
        setups = levels["setups"]
        tied, grown = {levels["benchmark"]["point"]} | {k["point"] for k in levels.get("known", [])}, True
        used = []
        while grown:
            grown = False
            for s in setups:
                ids = {r["point"] for r in s["readings"]}
                if s["id"] not in used and ids & tied:
                    used.append(s["id"])
                    tied |= ids
                    grown = True
        self.setups = [s["id"] for s in setups if s["id"] in used]
        self.readings = [(s["id"], r["point"],
                          r["staff"] - s.get("collimation", 0) * r.get("distance_m", 0),
                          sds.get(s.get("instrument"), 2.0))
                         for s in setups if s["id"] in used for r in s["readings"]]
        self.known = {levels["benchmark"]["point"]: (levels["benchmark"].get("height", 0.0), 0.0)}
        for k in levels.get("known", []):
            self.known.setdefault(k["point"], (k["height"], k["sd"]))
        self.fits = {}

    def on_floor(self, p):
        return not p.get("off_floor", False)

    def area_of(self, xy):
        for i, outline in enumerate(self.outlines):
            if inside(outline, xy):
                return self.areas[i]
        return self.areas[0]

    def stripped(self, p, area):
        names = [e["name"] for e in self.existing]
        first = names.index(p["on"]) if "on" in p else 0
        return [i for i in range(first, len(self.existing))
                if self.existing[i].get("strip", True)
                and self.existing[i].get("area", area) == area]

    def system(self, area, noise_slope):
        """Rows of the floor in this area and of every other point read: one dense model."""
        rows = []
        others = {}
        for point, (height, sd) in self.known.items():
            p = self.points[point]
            if self.on_floor(p) and self.point_area(p) == area:
                rows.append(dict(point=point, value=height, sd=max(sd, 0.01), setup=None))
        for setup, point, drop, sd in self.readings:
            p = self.points[point]
            if self.on_floor(p) and self.point_area(p) == area:
                rows.append(dict(point=point, value=-drop, sd=sd, setup=setup))
            else:
                others.setdefault(point, []).append((setup, drop, sd))
        n = len(rows)
        xy = np.array([place_xy(self.points[r["point"]]["place"], self.walls) for r in rows])
        centre = xy.mean(axis=0)
        unknown = ["one", "x", "y"] + self.setups + [o for o in others if o not in self.known
                                                     or self.known[o][1] > 0]
        column = {u: i for i, u in enumerate(unknown)}
        # Observation equations of the other points, weighted; they join as extra rows.
        A, b = [], []
        for point, seen in others.items():
            for setup, drop, sd in seen:
                line = np.zeros(len(unknown))
                line[column[setup]] = 1
                value = drop
                if point in column:
                    line[column[point]] = -1
                else:
                    value += self.known[point][0]
                A.append(line / sd)
                b.append(value / sd)
            if point in column and point in self.known:
                line = np.zeros(len(unknown))
                line[column[point]] = 1
                A.append(line / self.known[point][1])
                b.append(self.known[point][0] / self.known[point][1])
        A.extend(self.slope_prior(rows, xy, centre, column))
        b.extend([0.0] * (len(A) - len(b)))
        X = np.zeros((n, len(unknown)))
        y = np.zeros(n)
        N = np.zeros((n, n))
        layers = []
        for i, r in enumerate(rows):
            X[i, :3] = 1, (xy[i, 0] - centre[0]) / 1000, (xy[i, 1] - centre[1]) / 1000
            if r["setup"]:
                X[i, column[r["setup"]]] = -1
            under = self.stripped(self.points[r["point"]], area)
            layers.append(under)
            y[i] = r["value"] - sum(self.existing[k]["thickness"] for k in under)
        for i in range(n):
            for k in range(n):
                N[i, k] = sum(self.existing[e].get("sd", 0.5)**2
                              for e in layers[i] if e in layers[k])
                if rows[i]["point"] == rows[k]["point"]:
                    place_sd = self.points[rows[i]["point"]]["place"].get("sd", 20)
                    N[i, k] += (place_sd / 1000 * noise_slope)**2
            N[i, i] += rows[i]["sd"]**2
        return dict(rows=rows, xy=xy, centre=centre, X=X, y=y, N=N,
                    A=np.array(A).reshape(-1, len(unknown)), b=np.array(b))

    def slope_prior(self, rows, xy, centre, column):
        distinct = {r["point"]: p for r, p in zip(rows, xy)}
        d = np.array(list(distinct.values())) - centre
        values, vectors = np.linalg.eigh(d.T @ d)
        out = []
        for axis, needed in ((0, 4), (1, 2)):
            t = d @ vectors[:, axis]
            if len(distinct) >= needed and max(t.max(), 0) - min(t.min(), 0) >= 300:
                continue
            line = np.zeros(len(column))
            line[1:3] = vectors[:, axis] / 5
            out.append(line)
        return out

    def point_area(self, p):
        return p.get("area") or self.area_of(place_xy(p["place"], self.walls))

    def solve(self, area, model):
        """Posterior of the unknowns for each grid node."""
        s = self.system(area, model["noise_slope"])
        d = np.linalg.norm(s["xy"][:, None] - s["xy"][None], axis=2)
        fits = []
        total = sum(node["weight"] for node in model["grid"])  # printed to 6 decimals
        for node in model["grid"]:
            node = dict(node, weight=node["weight"] / total)
            V = matern52(d, node["sd"], node["range"]) + s["N"]
            c = linalg.cho_factor(V, lower=True)
            VX, Vy = linalg.cho_solve(c, s["X"]), linalg.cho_solve(c, s["y"])
            normal = s["X"].T @ VX + s["A"].T @ s["A"]
            Q = linalg.inv(normal)
            beta = Q @ (s["X"].T @ Vy + s["A"].T @ s["b"])
            fits.append((node, c, VX, Q, beta, Vy - VX @ beta))
        self.fits[area] = (s, fits)

    def grid_weights(self, area, model):
        """The averaged grid again: restricted likelihood times log-normal priors."""
        s = self.system(area, model["noise_slope"])
        d = np.linalg.norm(s["xy"][:, None] - s["xy"][None], axis=2)
        found = {}
        for range_ in RANGE_GRID:
            for sd in SD_GRID:
                V = matern52(d, sd, range_) + s["N"]
                # The other rows are observations too: one big least-squares problem.
                big = linalg.block_diag(V, np.eye(len(s["b"])))
                X = np.vstack([s["X"], s["A"]])
                y = np.concatenate([s["y"], s["b"]])
                c = linalg.cho_factor(big, lower=True)
                normal = X.T @ linalg.cho_solve(c, X)
                beta = linalg.solve(normal, X.T @ linalg.cho_solve(c, y), assume_a="pos")
                v = y - X @ beta
                log = -0.5 * (2 * np.log(np.diag(c[0])).sum() + np.linalg.slogdet(normal)[1]
                              + v @ linalg.cho_solve(c, v))
                log -= 0.5 * (math.log(sd / 2) / 0.8)**2 + 0.5 * (math.log(range_ / 1500) / 0.6)**2
                found[(sd, range_)] = log
        best = max(found.values())
        weights = {k: math.exp(v - best) for k, v in found.items() if v - best > math.log(1e-3)}
        total = sum(weights.values())
        return {k: w / total for k, w in weights.items()}

    def heights(self, area, at):
        s, fits = self.fits[area]
        at = np.atleast_2d(at)
        x = np.zeros((len(at), s["X"].shape[1]))
        x[:, 0] = 1
        x[:, 1:3] = (at - s["centre"]) / 1000
        d = np.linalg.norm(at[:, None] - s["xy"][None], axis=2)
        mean = square = within = 0
        for node, c, VX, Q, beta, alpha in fits:
            K = matern52(d, node["sd"], node["range"])
            m = x @ beta + K @ alpha
            r = x - K @ VX
            var = node["sd"]**2 - np.einsum("ij,ji->i", K, linalg.cho_solve(c, K.T)) \
                + np.einsum("ij,jk,ik->i", r, Q, r)
            mean = mean + node["weight"] * m
            square = square + node["weight"] * m**2
            within = within + node["weight"] * var
        return mean, np.sqrt(within + np.maximum(0, square - mean**2))
