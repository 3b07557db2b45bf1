#!/usr/bin/python3
"""Room plans computed again by scipy.optimize.least_squares and compared with `levelrun solve`.

The model is written from its description: corners at 900 high, a lean per measured pair of corners
(0 +- 4 mm/m), a scale per instrument that states sd_per_m, nominal angles (0.6 degrees) where a
case says that corners are assumed. Nothing is eliminated: every term is an unknown and its prior a
row; slopes are SciPy's differences, from the true corners. Compared: corners, angles, area, their
sds, residuals, redundancies, smallest detectable errors, sigma-nought, degrees of freedom, the
verdict of the tests.

Usage: plan_against_scipy.py LEVELRUN"""
import json
import math
import subprocess
import sys

import numpy as np
from scipy import optimize, stats

LEVELRUN = sys.argv[1]
PRINTED = 1e-6  # results have 6 decimals
SDS = {"tape": 2.0, "meter": 1.2, "laser": 1.0, "square": 0.2}
SCALES = {"laser": 0.8}  # mm/m

RECTANGLE = [(0, 0), (4200, 0), (4232, -3105), (-14, -3049)]
L_ROOM = [(0, 0), (5000, 0), (5012, -2003), (3004, -2014), (3009, -4096), (-8, -4081)]
BREAST = [(0, 0), (1500, 0), (1496, -410), (2890, -404), (2894, 3), (4603, -6), (4611, -3503),
          (9, -3488)]
BAY = [(0, 0), (900, 0), (1607, 704), (3010, 700), (3711, -6), (4610, 0), (4604, -3204), (5, -3190)]


def stairs(steps):
    """A room of 2 steps + 2 corners, down on the right."""
    out = [(0.0, 0.0)]
    for k in range(steps):
        x = 1500.0 + 700 * k
        out += [(x, -600.0 * k), (x + 4, -600.0 * (k + 1) + 3)]
    return out + [(6.0, -600.0 * steps)]


def interior(p, c):
    a, o, b = p[c - 1], p[c], p[(c + 1) % len(p)]
    turn = math.atan2(b[1] - o[1], b[0] - o[0]) - math.atan2(a[1] - o[1], a[0] - o[0])
    return math.degrees(turn) % 360


class Room:
    """A room as it is and as it is booked; every booked number with its sd and its equation."""

    def __init__(self, truth, seed, first_wall=0, scales=SCALES):
        self.truth = np.array(truth, float)
        self.n = len(truth)
        self.random = np.random.default_rng(seed)
        self.first = first_wall
        self.nominal = [45 * round(interior(self.truth, c) / 45) for c in range(self.n)]
        self.lean = self.random.normal(0, 3, self.n)
        self.scale = {i: self.random.normal(0, s) for i, s in scales.items()}
        self.walls = [[] for _ in range(self.n)]
        self.diagonals, self.angles = [], []

    def geometry(self, p, a, b, out=0.0):
        """Corner to corner, or `out` in front of that side up to the next walls."""
        d = math.dist(p[a], p[b])
        if out:
            for c in (a, b):
                if self.nominal[c] < 170:
                    d -= out / math.tan(math.radians(interior(p, c)))
        return d

    def booked(self, value, instrument):
        factor = 1 / (1 - self.scale.get(instrument, 0) / 1000)
        return round(value * factor + self.random.normal(0, 0.8 * SDS[instrument]), 1)

    def lengths(self, heights=(900,), instrument="tape", out=0, sides=None):
        for side in range(self.n) if sides is None else sides:
            for height in heights:
                value = self.geometry(self.truth, side, (side + 1) % self.n, out)
                value += (height - 900) / 1000 * self.lean[side]
                one = {"height": height, "length": self.booked(value, instrument),
                       "instrument": instrument}
                self.walls[side].append({**one, "out": out} if out else one)
        return self

    def across(self, pairs, instrument="tape", height=900):
        for a, b in pairs:
            self.diagonals.append({"from": a, "to": b, "instrument": instrument, "height": height,
                                   "length": self.booked(math.dist(*self.truth[[a, b]]), instrument)})
        return self

    def squared(self, corners):
        for c in corners:
            read = round(interior(self.truth, c) + self.random.normal(0, .15), 2)
            self.angles.append({"corner": c, "degrees": read, "instrument": "square"})
        return self

    def set_out(self, corner, a, b):
        turn = math.radians(interior(self.truth, corner))
        across = math.sqrt(a * a + b * b - 2 * a * b * math.cos(turn))
        self.angles.append({"corner": corner, "a": a, "b": b, "across": round(across, 1),
                            "instrument": "tape"})
        return self

    def survey(self):
        name = [f"C{c}" for c in range(self.n)]
        order = [(self.first + k) % self.n for k in range(self.n)]
        instruments = [{"id": i, "kind": "square" if i == "square" else "tape", "sd": sd}
                       for i, sd in SDS.items()]
        for i in instruments:
            if i["id"] in self.scale:
                i["sd_per_m"] = SCALES[i["id"]]
            if i["id"] == "square":
                i["sd_deg"] = i["sd"]
        return {"format": "levelrun-survey", "version": 1, "job": {"reference": "PLAN"},
                "instruments": instruments,
                "furniture": {"legs": [{"id": "A", "min": 100, "max": 200}]},
                "rooms": [{
                    "id": "K",
                    "corners": [{"id": name[c], "angle": self.nominal[c]} for c in range(self.n)],
                    "walls": [{"id": f"W{s}", "from": name[s], "to": name[(s + 1) % self.n],
                               "lengths": self.walls[s]} for s in order],
                    "diagonals": [{**d, "from": name[d["from"]], "to": name[d["to"]]}
                                  for d in self.diagonals],
                    "angles": [{**a, "corner": name[a["corner"]]} for a in self.angles]}]}

    def rows(self, assumed):
        """(kind, value, sd, equation's facts), booked numbers first, in document order."""
        out = []
        for side in [(self.first + k) % self.n for k in range(self.n)]:
            for l in self.walls[side]:
                out.append(("distance", l["length"], SDS[l["instrument"]],
                            (side, (side + 1) % self.n, l["height"], l.get("out", 0),
                             l["instrument"])))
        for d in self.diagonals:
            out.append(("distance", d["length"], SDS[d["instrument"]],
                        (d["from"], d["to"], d["height"], 0, d["instrument"])))
        for a in self.angles:
            if "degrees" in a:
                out.append(("angle", a["degrees"], SDS["square"], (a["corner"],)))
            else:  # legs and across with one tape
                p, q, r, turn = a["a"], a["b"], a["across"], math.radians(self.nominal[a["corner"]])
                slopes = (p - q * math.cos(turn)) / r, (q - p * math.cos(turn)) / r
                out.append(("across", r, SDS["tape"] * math.sqrt(1 + slopes[0]**2 + slopes[1]**2),
                            (a["corner"], p, q)))
        booked = len(out)
        if assumed:
            seen = {a["corner"] for a in self.angles}
            out += [("angle", self.nominal[c], 0.6, (c,)) for c in range(self.n) if c not in seen]
        return out, booked

    def solve(self, assumed, without=()):
        rows, booked = self.rows(assumed)
        n, first, second = self.n, 0, 1  # along +x, wherever that wall is listed
        pairs = sorted({frozenset(f[:2]) for kind, _, _, f in rows if kind == "distance"}, key=sorted)
        scales = sorted(self.scale)

        # Unknowns: x of all corners but the first, y of all but those of the first wall.
        others = list(range(2, n))

        def corners(u):
            p = np.zeros((n, 2))
            p[1:, 0] = u[:n - 1]
            p[others, 1] = u[n - 1:n - 1 + len(others)]
            return p

        coordinates = n - 1 + len(others)

        def value(u, row):
            kind, measured, _, f = row
            p = corners(u)
            if kind == "angle":
                return interior(p, f[0])
            if kind == "across":
                turn = math.radians(interior(p, f[0]))
                return math.sqrt(f[1]**2 + f[2]**2 - 2 * f[1] * f[2] * math.cos(turn))
            a, b, height, out, instrument = f
            d = self.geometry(p, a, b, out)
            d += (height - 900) / 1000 * u[coordinates + pairs.index(frozenset((a, b)))]
            if instrument in scales:
                d += measured / 1000 * u[coordinates + len(pairs) + scales.index(instrument)]
            return d

        prior = [4.0] * len(pairs) + [SCALES[s] for s in scales]
        used = [r for i, r in enumerate(rows) if i not in without]

        def residuals(u):
            return np.array([(value(u, r) - r[1]) / r[2] for r in used] +
                            [t / sd for t, sd in zip(u[coordinates:], prior)])

        turn = self.truth[second] - self.truth[first]
        c, s = turn / np.linalg.norm(turn)
        start = (self.truth - self.truth[0]) @ np.array([[c, -s], [s, c]])
        u0 = np.concatenate([start[1:, 0], start[others, 1], np.zeros(len(prior))])
        u = optimize.least_squares(residuals, u0, jac="3-point", x_scale="jac", xtol=1e-15,
                                   ftol=1e-15, gtol=1e-15).x

        def slopes(function):
            step = 0.02  # their error is least here
            return np.array([(function(u + step * e) - function(u - step * e)) / (2 * step)
                             for e in np.eye(len(u))])

        # It stops where chi-square no longer falls, half the digits short; two steps more.
        for _ in range(2):
            u = u - np.linalg.lstsq(slopes(residuals).T, residuals(u), rcond=None)[0]
        jacobian = slopes(residuals).T
        Q = np.linalg.inv(jacobian.T @ jacobian)

        def sd(function):
            g = slopes(function)
            return math.sqrt(max(g @ Q @ g, 0))

        p = corners(u)
        x, y = p.T
        dof = len(used) - coordinates
        result = dict(
            x=x, y=y, area=(np.dot(np.roll(x, -1), y) - np.dot(x, np.roll(y, -1))) / 2e6, dof=dof,
            chi2=float(residuals(u) @ residuals(u)),
            sd_x=[sd(lambda v, k=k: corners(v)[k, 0]) for k in range(n)],
            sd_y=[sd(lambda v, k=k: corners(v)[k, 1]) for k in range(n)],
            angle=[interior(p, k) for k in range(n)],
            sd_angle=[sd(lambda v, k=k: interior(corners(v), k)) for k in range(n)],
            residual=[], redundancy=[])
        for i, row in enumerate(rows[:booked]):
            known = sd(lambda v, row=row: value(v, row))**2 / row[2]**2
            result["residual"].append(value(u, row) - row[1])
            result["redundancy"].append(1 - known if i not in without else 1 / (1 + known))
        return result, [r[2] for r in rows[:booked]]


def rectangle(seed):
    return Room(RECTANGLE, seed)


def every(n, skip=()):
    return [(a, b) for a in range(n) for b in range(a + 2, n)
            if (a, b) != (0, n - 1) and (a, b) not in skip]


# A room, whether corners are assumed, a slip (index of the booked number, by how much).
CASES = {
    "rectangle, three heights": (rectangle(1).lengths((150, 900, 2000)).across(every(4)), False, None),
    "rectangle without diagonals": (rectangle(2).lengths((900, 2000)), True, None),
    "two lengths missing": (rectangle(3).lengths(sides=[0, 1]), True, None),
    "one length missing": (rectangle(4).lengths(sides=[0, 1, 3]).across(every(4) * 2), False, None),
    "one square among assumed": (Room(L_ROOM, 5).lengths((150, 900)).squared([1]), True, None),
    "L, each once": (Room(L_ROOM, 6).lengths().across(every(6)), False, None),
    "L, walls listed from the middle": (Room(L_ROOM, 7, 3).lengths((900, 1800), "meter")
                                        .across(every(6), "meter"), False, None),
    "L, diagonals at two heights": (Room(L_ROOM, 8).lengths((150, 900)).across(every(6))
                                    .across(every(6), height=1600), False, None),
    "in front of the walls": (rectangle(9).lengths(out=650).lengths(sides=[0, 2]).across(every(4)),
                              False, None),
    "in front, L": (Room(L_ROOM, 10).lengths(out=400).across(every(6)), False, None),
    "chimney breast": (Room(BREAST, 11).lengths((150, 900, 2000), "meter")
                       .across([(1, 6), (5, 7), (4, 7), (2, 7), (3, 6), (2, 6), (3, 7), (0, 5)]),
                       False, None),
    "bay": (Room(BAY, 12).lengths((900, 2000)).across(every(8)), False, None),
    "bay, assumed": (Room(BAY, 13).lengths().across([(0, 6), (5, 7)]), True, None),
    "scale of a meter": (Room(L_ROOM, 14).lengths((900,), "laser").lengths((900,), "tape")
                         .across(every(6), "laser"), False, None),
    "scale of a meter alone": (rectangle(15).lengths((900, 1500), "laser").across(every(4), "laser"),
                               False, None),
    "set-out triangle": (rectangle(16).lengths().set_out(0, 1500, 2000), False, None),
    "squares and triangles": (Room(L_ROOM, 17).lengths((150, 900)).squared([0, 1, 2, 3, 4])
                              .set_out(5, 900, 1200).set_out(0, 1800, 2400), False, None),
    "forty corners": (Room(stairs(19), 18).lengths((900, 1900)).squared(range(40))
                      .across([(0, k) for k in range(3, 38, 4)]), False, None),
    "a metre out": (rectangle(19).lengths((150, 900, 2000)).across(every(4)), False, (4, 1000.0)),
    "swapped digits": (Room(L_ROOM, 20).lengths((150, 900, 2000)).across(every(6)), False, (7, -90.0)),
    "a diagonal out": (Room(BREAST, 21).lengths((150, 900)).across(every(8)), False, (20, 300.0)),
}

worst, failures = {}, []


def compare(case, what, scipy_says, we_say, tolerance):
    ours, theirs = np.asarray(we_say, float), np.asarray(scipy_says, float)
    if ours.shape != theirs.shape or not np.isfinite(ours).all():
        failures.append(f"{case}: {what}: unknown, or {ours.shape} for {theirs.shape}")
        return
    off = float(np.abs(ours - theirs).max(initial=0))
    if off > worst.get(what, (-1,))[0]:
        worst[what] = (off, tolerance, case)
    if not off <= tolerance:
        k = int(np.abs(ours - theirs).argmax())
        failures.append(f"{case}: {what} {k}: SciPy {theirs.flat[k]:.7f}, "
                        f"levelrun {ours.flat[k]:.7f}")


for case, (room, assumed, slip) in CASES.items():
    if slip:
        index, by = slip
        flat = [l for s in range(room.n) for l in room.walls[s]] + room.diagonals
        flat[index]["length"] = round(flat[index]["length"] + by, 1)
    done = subprocess.run([LEVELRUN, "solve", "-"], input=json.dumps(room.survey()), text=True,
                          capture_output=True)
    if done.returncode != 0:
        failures.append(f"{case}: {done.stderr.strip()}")
        continue
    result = json.loads(done.stdout)["rooms"][0]
    plan, corners, readings = result["plan"], result["corners"], result["observations"]
    want, sds = room.solve(assumed, {slip[0]} if slip else ())
    for k, c in enumerate(corners):
        measured = any(a["corner"] == k for a in room.angles)
        if c["assumed"] != (assumed and not measured):
            failures.append(f"{case}: corner {k} assumed: {c['assumed']}")
    for what, tolerance in (("x", PRINTED), ("y", PRINTED), ("sd_x", PRINTED), ("sd_y", PRINTED),
                            ("angle", PRINTED), ("sd_angle", PRINTED)):
        compare(case, what, want[what], [c[what] for c in corners], tolerance)
    compare(case, "area", want["area"], plan["area"], PRINTED)
    compare(case, "dof", want["dof"], plan["dof"], 0)
    compare(case, "residual", want["residual"], [o["residual"] for o in readings], PRINTED)
    compare(case, "redundancy", want["redundancy"], [o["redundancy"] for o in readings], PRINTED)
    checked = [k for k, r in enumerate(want["redundancy"]) if r > 1e-4]
    root = [math.sqrt(want["redundancy"][k]) for k in checked]
    # 4.13 sd / sqrt(r): 3.2905 + 0.8416 (normal quantiles) to two decimals.
    compare(case, "detectable", [4.13 * sds[k] / r for k, r in zip(checked, root)],
            [readings[k]["detectable"] for k in checked], 1e-4)
    w = [want["residual"][k] / sds[k] / r for k, r in zip(checked, root)]
    if slip:  # against a solution without it
        k = checked.index(slip[0])
        w[k] = want["residual"][slip[0]] / sds[slip[0]] * root[k]
    compare(case, "standardised", w, [readings[k]["standardised"] for k in checked], 1e-4)
    test = "cured" if slip else None
    if want["dof"] > 0:
        compare(case, "sigma0", math.sqrt(want["chi2"] / want["dof"]), plan["sigma0"], PRINTED)
        limit = stats.norm.ppf(1 - (1 - (1 - 0.005)**(1 / len(checked))) / 2) if checked else 99
        passes = (stats.chi2.sf(want["chi2"], want["dof"]) >= 0.001
                  and max(map(abs, w), default=0) <= limit)
        test = test or ("pass" if passes else "not pass")
    if plan["global_test"] != test or plan["scaled"]:
        failures.append(f"{case}: test {plan['global_test']}, scaled {plan['scaled']}; SciPy {test}")
    for k, o in enumerate(readings):
        if (o["verdict"] == "rejected") != (bool(slip) and k == slip[0]):
            failures.append(f"{case}: {o['at']} is {o['verdict']}")

for what, (off, tolerance, case) in worst.items():
    print(f"{what:12} largest difference {off:8.1e}  (allowed {tolerance:.0e})  {case}")
print(f"{len(CASES)} rooms, {len(failures)} differences")
for failure in failures:
    print(failure)
sys.exit(1 if failures else 0)
