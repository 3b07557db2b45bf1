"""Levels from the staff readings: dense least squares by SciPy, and its tests, as the survey
format and checks/room_levels.h state them. Nothing is taken from the program's results."""
import numpy as np
from scipy import linalg, stats

GLOBAL_ALPHA = 0.001  # of the chi-square test
FALSE_ALARMS = 0.005  # a room, all residuals together (Šidák)
TESTABLE = 1e-6       # least redundancy that checks anything
DISTINCT = 2          # in w squared
MOST_REJECTIONS = 3
DETECTABLE, DETECTABLE_MOST = 4.13, 30  # sd / sqrt(redundancy); mm
TAPE = 2.0            # mm; the sd where no instrument is named


class Levels:
    """heights and planes: id -> (value, sd). check: pointer -> what the net says of a reading."""

    def __init__(self, survey, room, index):
        sds = {i["id"]: i.get("sd", TAPE) for i in survey.get("instruments", [])}
        levels = room["levels"]
        self.known = {levels["benchmark"]["point"]: (levels["benchmark"].get("height", 0.0), 0.0)}
        for k in levels.get("known", []):
            self.known.setdefault(k["point"], (k["height"], k["sd"]))
        self.points = [p["id"] for p in levels["points"]]
        tied = self.tied_setups(levels)
        self.setups = [s["id"] for s in levels["setups"] if s["id"] in tied]
        self.untied = [f"/rooms/{index}/levels/setups/{i}/readings/{k}"
                       for i, s in enumerate(levels["setups"]) if s["id"] not in tied
                       for k in range(len(s["readings"]))]
        self.readings = [
            dict(at=f"/rooms/{index}/levels/setups/{i}/readings/{k}", setup=s["id"],
                 point=r["point"], staff=r["staff"], sd=sds.get(s.get("instrument"), TAPE),
                 drop=r["staff"] - s.get("collimation", 0) * r.get("distance_m", 0))
            for i, s in enumerate(levels["setups"]) if s["id"] in tied
            for k, r in enumerate(s["readings"])]
        self.rejected, self.suspected = [], []
        self.adjust()
        self.snoop()

    def tied_setups(self, levels):
        points, setups, grown = set(self.known), set(), True
        while grown:
            grown = False
            for s in levels["setups"]:
                seen = {r["point"] for r in s["readings"]}
                if s["id"] not in setups and seen & points:
                    setups.add(s["id"])
                    points |= seen
                    grown = True
        return setups

    def adjust(self):
        read = {r["point"] for r in self.readings} | set(self.known)
        free = [p for p in self.points if p in read and self.known.get(p, (0, 1))[1] > 0]
        column = {u: i for i, u in enumerate([("plane", s) for s in self.setups] +
                                             [("point", p) for p in free])}
        A, b, w = [], [], []

        def observe(value, sd, *terms):
            line = np.zeros(len(column))
            for key, factor in terms:
                line[column[key]] = factor
            A.append(line), b.append(value), w.append(sd)

        for r in self.readings:  # drop = plane - height
            if r["point"] in free:
                observe(r["drop"], r["sd"], (("plane", r["setup"]), 1), (("point", r["point"]), -1))
            else:
                observe(r["drop"] + self.known[r["point"]][0], r["sd"], (("plane", r["setup"]), 1))
        for point, (height, sd) in self.known.items():
            if sd > 0:
                observe(height, sd, (("point", point), 1))
        A, b, w = np.array(A), np.array(b), np.array(w)
        x = linalg.lstsq(A / w[:, None], b / w)[0]
        Q = linalg.inv((A / w[:, None]).T @ (A / w[:, None]))
        v = A @ x - b
        r = 1 - np.einsum("ij,jk,ik->i", A, Q, A) / w**2
        self.dof = len(b) - len(column)
        self.chi_square = float(np.sum((v / w)**2))
        value = {k: (x[i], Q[i, i]**0.5) for k, i in column.items()}
        self.planes = {s: value["plane", s] for s in self.setups}
        n = len(self.setups)
        self.planes_known = x[:n], Q[:n, :n]  # all of them together, in the order of setups
        self.heights = {p: value["point", p] for p in free}
        for p, (height, sd) in self.known.items():
            if sd == 0:
                self.heights[p] = (height, 0.0)
        self.check = {}
        for reading, residual, redundancy in zip(self.readings, v, r):
            seen = redundancy >= TESTABLE
            self.check[reading["at"]] = dict(
                residual=residual, redundancy=redundancy, sd=reading["sd"],
                standardised=residual / (reading["sd"] * redundancy**0.5) if seen else None,
                detectable=DETECTABLE * reading["sd"] / redundancy**0.5 if seen else None)

    def snoop(self):
        for _ in range(MOST_REJECTIONS + 1):
            w = {at: abs(c["standardised"]) for at, c in self.check.items()
                 if c["standardised"] is not None}
            if not w:
                return
            limit = stats.norm.isf((1 - (1 - FALSE_ALARMS)**(1 / len(w))) / 2)
            worst = max(w, key=w.get)
            if w[worst] <= limit:
                return
            self.suspected = [at for at, x in w.items() if x**2 > w[worst]**2 - DISTINCT]
            if len(self.suspected) > 1 or len(self.rejected) == MOST_REJECTIONS:
                return
            self.rejected += self.suspected
            self.suspected = []
            self.readings = [r for r in self.readings if r["at"] != worst]
            self.adjust()

    def verdict(self, at):
        if at in self.rejected:
            return "rejected"
        if at in self.suspected:
            return "one_of"
        detectable = self.check.get(at, {}).get("detectable")
        return "unchecked" if detectable is None or detectable > DETECTABLE_MOST else "agrees"

    def global_test(self):
        if not self.dof:
            return None
        if self.chi_square > stats.chi2.isf(GLOBAL_ALPHA, self.dof):
            return "fail"
        return "cured" if self.rejected else "pass"
