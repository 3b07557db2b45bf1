"""The floor as a surface, written from its model and not from the program: dense universal
kriging (generalised least squares) over all readings, the set-ups' planes among the unknowns.
SciPy solves it; nothing is eliminated, batched or taken from the program but the plan's corners
and, beyond 24 readings, the node of the parameter grid."""
import math

import numpy as np
from scipy import linalg

SD_GRID = [0.5, 0.8, 1.25, 2.0, 3.2, 5.0, 8.0]
RANGE_GRID = [600, 950, 1500, 2400, 3800]
PRIOR_SD, PRIOR_RANGE = 2.0, 1500.0  # mm, medians
PRIOR_SD_WIDTH, PRIOR_RANGE_WIDTH = 0.8, 0.6  # of the logarithm
NEGLIGIBLE = 1e-3  # of the likeliest node's weight
SLOPE_PRIOR = 5.0  # mm/m
AVERAGED_UP_TO, JOINT_UP_TO, NEIGHBOURS = 24, 200, 32  # readings


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


def distance_outside(outline, p):
    if inside(outline, p):
        return 0.0
    a = np.array(outline, float)
    edge, to = np.roll(a, -1, axis=0) - a, np.asarray(p, float) - a
    t = np.clip(np.sum(to * edge, axis=1) / np.sum(edge**2, axis=1), 0, 1)
    return float(np.linalg.norm(to - t[:, None] * edge, axis=1).min())


class Floor:
    """One room's bare floor. heights(area, points) gives means and sds."""

    def __init__(self, room, result, levels):
        self.walls = walls_in_plan(room, result)
        self.room = room
        self.areas = [a["id"] for a in room.get("floor_areas", [])] or ["floor"]
        self.outlines = [[tuple(place_xy(p, self.walls)) for p in a["outline"]]
                         for a in room.get("floor_areas", [])]
        self.existing = room.get("flooring", {}).get("existing", [])
        self.points = {p["id"]: p for p in room["levels"]["points"]}
        self.levels, self.setups, self.known = levels, levels.setups, levels.known
        self.readings = [(r["setup"], r["point"], r["drop"], r["sd"]) for r in levels.readings]
        self.fits, self.how = {}, {}

    def on_floor(self, p):
        return not p.get("off_floor", False) and "place" in p

    def area_of(self, xy):
        """The area that holds a place, else the nearest."""
        off = [distance_outside(outline, xy) for outline in self.outlines]
        return self.areas[int(np.argmin(off))] if off else self.areas[0]

    def stripped(self, p, area):
        names = [e["name"] for e in self.existing]
        first = names.index(p["on"]) if "on" in p else 0
        return [i for i in range(first, len(self.existing))
                if self.existing[i].get("strip", True)
                and self.existing[i].get("area", area) == area]

    def system(self, area):
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
        noise_slope = self.noise_slope(area, rows, xy)
        unknown = ["one", "x", "y"] + [("plane", s) for s in self.setups] + [
            o for o in others if o not in self.known or self.known[o][1] > 0]
        column = {u: i for i, u in enumerate(unknown)}
        # Observation equations of the other points, weighted; they join as extra rows.
        A, b = [], []
        for point, seen in others.items():
            for setup, drop, sd in seen:
                line = np.zeros(len(unknown))
                line[column["plane", setup]] = 1
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
        slope_prior = self.slope_prior(rows, xy, centre, column)
        A.extend(slope_prior)
        b.extend([0.0] * (len(A) - len(b)))
        X = np.zeros((n, len(unknown)))
        y = np.zeros(n)
        N = np.zeros((n, n))
        layers = []
        for i, r in enumerate(rows):
            X[i, :3] = 1, (xy[i, 0] - centre[0]) / 1000, (xy[i, 1] - centre[1]) / 1000
            if r["setup"]:
                X[i, column["plane", r["setup"]]] = -1
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
        own = [r["sd"]**2 + (self.points[r["point"]]["place"].get("sd", 20) / 1000 * noise_slope)**2
               for r in rows]
        return dict(rows=rows, xy=xy, centre=centre, X=X, y=y, N=N, noise_slope=noise_slope,
                    noise=np.mean(own)**0.5, slope_prior=slope_prior,
                    A=np.array(A).reshape(-1, len(unknown)), b=np.array(b))

    def bare(self, point, height, area):
        """A height on the surveyed floor, less what is stripped from under it."""
        return height - sum(self.existing[k]["thickness"]
                            for k in self.stripped(self.points[point], area))

    def still_on(self, area):
        """What the surveyed floor stands higher than the bare one, all layers still on it."""
        return sum(self.existing[k]["thickness"] for k in self.stripped({}, area))

    def noise_slope(self, area, rows, xy):
        """mm/m: a plane through the heights, its slopes held to 0 ± 5, and the surface's own."""
        z = [r["value"] + (self.levels.planes[r["setup"]][0] if r["setup"] else 0) for r in rows]
        z = [self.bare(r["point"], h, area) for r, h in zip(rows, z)]
        X = np.column_stack([np.ones(len(z)), (xy - xy[0]) / 1000])
        held = np.array([[0, 1 / SLOPE_PRIOR, 0], [0, 0, 1 / SLOPE_PRIOR]])
        plane = linalg.lstsq(np.vstack([X, held]), np.append(z, [0, 0]))[0]
        # A Matérn 5/2 surface slopes by sd/range * sqrt(5/3) each way; sd and range at the priors.
        surface = math.sqrt(5 / 3) * PRIOR_SD / (PRIOR_RANGE / 1000)
        return math.sqrt(plane[1]**2 + plane[2]**2 + 2 * surface**2)

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
            line[1:3] = vectors[:, axis] / SLOPE_PRIOR
            out.append(line)
        return out

    def point_area(self, p):
        return p.get("area") or self.area_of(place_xy(p["place"], self.walls))

    def solve(self, area, how, nodes):
        """Posterior of the unknowns for each grid node; beyond 24 readings a node is taken from
        the results, up to 24 the weights are our own. Returns the weights."""
        s = self.system(area)
        if how == "averaged":
            weights = self.grid_weights(s)
        else:
            weights = {(n["sd"], n["range"]): n["weight"] for n in nodes}
        self.how[area] = how
        self.fits[area] = (s, [(node, weight, None if how == "local" else self.posterior(s, *node))
                               for node, weight in weights.items()])
        return weights

    def grid_weights(self, s):
        """The averaged grid: restricted likelihood times log-normal priors."""
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
                log -= 0.5 * (math.log(sd / PRIOR_SD) / PRIOR_SD_WIDTH)**2
                log -= 0.5 * (math.log(range_ / PRIOR_RANGE) / PRIOR_RANGE_WIDTH)**2
                found[(sd, range_)] = log
        best = max(found.values())
        weights = {k: math.exp(v - best) for k, v in found.items()
                   if v - best > math.log(NEGLIGIBLE)}
        total = sum(weights.values())
        return {k: w / total for k, w in weights.items()}

    def heights(self, area, at):
        at = np.atleast_2d(at)
        if self.how[area] == "local":
            return tuple(np.transpose([self.local(area, place) for place in at]))
        s, fits = self.fits[area]
        mean = square = within = 0
        for (sd, range_), weight, posterior in fits:
            m, var = self.predicted(s, sd, range_, posterior, at)
            mean = mean + weight * m
            square = square + weight * m**2
            within = within + weight * var
        return mean, np.sqrt(within + np.maximum(0, square - mean**2))

    @staticmethod
    def posterior(s, sd, range_):
        """What the readings say of the unknowns, at one node of the grid."""
        d = np.linalg.norm(s["xy"][:, None] - s["xy"][None], axis=2)
        c = linalg.cho_factor(matern52(d, sd, range_) + s["N"], lower=True)
        VX, Vy = linalg.cho_solve(c, s["X"]), linalg.cho_solve(c, s["y"])
        Q = linalg.inv(s["X"].T @ VX + s["A"].T @ s["A"])
        beta = Q @ (s["X"].T @ Vy + s["A"].T @ s["b"])
        return c, VX, Q, beta, Vy - VX @ beta

    @staticmethod
    def predicted(s, sd, range_, posterior, at):
        c, VX, Q, beta, alpha = posterior
        x = np.zeros((len(at), s["X"].shape[1]))
        x[:, 0] = 1
        x[:, 1:3] = (at - s["centre"]) / 1000
        K = matern52(np.linalg.norm(at[:, None] - s["xy"][None], axis=2), sd, range_)
        r = x - K @ VX
        var = (sd**2 - np.einsum("ij,ji->i", K, linalg.cho_solve(c, K.T))
               + np.einsum("ij,jk,ik->i", r, Q, r))
        return x @ beta + K @ alpha, var

    def local(self, area, place):
        """The 32 nearest readings, and of the set-ups' planes what all readings together say."""
        s, [((sd, range_), _, _)] = self.fits[area]
        near = np.argsort(np.linalg.norm(s["xy"] - place, axis=1), kind="stable")[:NEIGHBOURS]
        planes, covariance = self.levels.planes_known
        held = linalg.cholesky(linalg.inv(covariance))  # whitens what is known of the planes
        A = np.hstack([np.zeros((len(planes), 3)), held])
        prior = np.zeros((len(s["slope_prior"]), A.shape[1]))
        prior[:, :3] = np.array(s["slope_prior"]).reshape(-1, s["X"].shape[1])[:, :3]
        here = dict(s, xy=s["xy"][near], X=s["X"][near, :3 + len(planes)], y=s["y"][near],
                    N=s["N"][np.ix_(near, near)], A=np.vstack([A, prior]),
                    b=np.append(held @ planes, np.zeros(len(prior))))
        m, var = self.predicted(here, sd, range_, self.posterior(here, sd, range_),
                                place.reshape(1, 2))
        return m[0], var[0]**0.5

    def estimates(self, at):
        """The bare floor at places of any area: means and sds, NaN where it was not read."""
        at = np.atleast_2d(np.asarray(at, float))
        areas = np.array([self.area_of(p) for p in at])
        mean, sd = np.full(len(at), np.nan), np.full(len(at), np.nan)
        for area in self.fits:
            here = areas == area
            if here.any():
                mean[here], sd[here] = self.heights(area, at[here])
        return mean, sd

    def laid(self, reaches, at):
        """What is laid over the bare floor at places: thickness, sd, and if the topmost layer of
        the room is among it. reaches: which layers count."""
        layers = self.room.get("flooring", {}).get("laid", [])
        out = []
        for area in [self.area_of(p) for p in np.atleast_2d(np.asarray(at, float))]:
            here = [y for y in layers if y.get("area", area) == area and reaches(y)]
            out.append((sum(y["thickness"] for y in here),
                        sum(y.get("sd", 0.5)**2 for y in here)**0.5,
                        bool(here) and here[-1] is layers[-1]))
        thickness, sd, top = zip(*out)
        return np.array(thickness, float), np.array(sd, float), np.array(top)

    def standing(self, reaches, at):
        """The floor a thing stands on: bare and laid, means and sds."""
        mean, sd = self.estimates(at)
        thickness, thickness_sd, _ = self.laid(reaches, at)
        return mean + thickness, np.hypot(sd, thickness_sd)


# Which laid layers count (checks/flooring.h).
def bearing(layer):
    return layer.get("to", "wall") == "wall"


def under_plinth(layer):
    return layer.get("to", "wall") != "plinth_face"


def in_niche(layer):
    return layer.get("into_niches", True)


def finished(layer):
    return True
