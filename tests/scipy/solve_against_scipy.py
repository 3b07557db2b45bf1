#!/usr/bin/python3
"""Surveys computed again, independently, with NumPy and SciPy, and compared with `levelrun solve`.

  levels   heights, sds, residuals, redundancies, sigma-nought: dense scipy.linalg least squares
  floor    bearing floor and its sd at every leg: dense kriging (floor_model.py), averaged or not,
           and the weights that the grid is averaged with
  datum    U, lowest, highest: linear programming (scipy.optimize.linprog)
  plinths  as-cut heights and gaps of straight fronts: scipy.spatial.ConvexHull
  boards   fewest boards: integer programming (scipy.optimize.milp)

Usage: solve_against_scipy.py LEVELRUN SAMPLE_FOLDER"""
import json
import pathlib
import subprocess
import sys

import numpy as np
from scipy import linalg, optimize, spatial

from floor_model import Floor, place_xy
from surveys import CASES, survey

LEVELRUN, SAMPLES = sys.argv[1], pathlib.Path(sys.argv[2])
# Surface heights are averaged with weights that the results print to 6 decimals.
BY_PRINTED_WEIGHTS = 1e-4

worst = {}
failures = []


def compare(case, what, ours, theirs, tolerance):
    ours, theirs = np.atleast_1d(np.asarray(ours, float)), np.atleast_1d(np.asarray(theirs, float))
    if ours.shape != theirs.shape or np.isnan(theirs).any():
        failures.append(f"{case}: {what}: shapes {ours.shape} and {theirs.shape}, or unknown")
        return
    off = float(np.abs(ours - theirs).max(initial=0))
    if off > worst.get(what, (0, 0, ""))[0] or what not in worst:
        worst[what] = (off, tolerance, case)
    if off > tolerance:
        i = int(np.abs(ours - theirs).argmax())
        failures.append(f"{case}: {what} differs by {off:.3g} (SciPy {ours[i]:.6f}, "
                        f"levelrun {theirs[i]:.6f})")


def solve(text):
    done = subprocess.run([LEVELRUN, "solve", "-"], input=text, capture_output=True, text=True)
    if done.returncode:
        raise SystemExit(done.stderr)
    return json.loads(done.stdout)


def check_levels(case, floor, room, result):
    known = floor.known
    points = [p["id"] for p in room["levels"]["points"]]
    read = {p for _, p, _, _ in floor.readings} | set(known)
    unknown = floor.setups + [p for p in points if p in read and known.get(p, (0, 1))[1] > 0]
    column = {u: i for i, u in enumerate(unknown)}
    A, b, w = [], [], []
    for setup, point, drop, sd in floor.readings:
        line = np.zeros(len(unknown))
        line[column[setup]] = 1
        value = drop
        if point in column:
            line[column[point]] = -1
        else:
            value += known[point][0]
        A.append(line)
        b.append(value)
        w.append(sd)
    for point, (height, sd) in known.items():
        if sd > 0:
            line = np.zeros(len(unknown))
            line[column[point]] = 1
            A.append(line)
            b.append(height)
            w.append(sd)
    A, b, w = np.array(A), np.array(b), np.array(w)
    x = linalg.lstsq(A / w[:, None], b / w)[0]
    Q = linalg.inv((A / w[:, None]).T @ (A / w[:, None]))
    v = A @ x - b
    r = 1 - np.einsum("ij,jk,ik->i", A, Q, A) / w**2
    got = {e["point"]: e for e in result["levels"]}
    names = [p for p in points if p in column]
    compare(case, "level heights", [x[column[p]] for p in names],
            [got[p]["height"] for p in names], 1e-5)
    compare(case, "level sds", [Q[column[p], column[p]]**0.5 for p in names],
            [got[p]["sd"] for p in names], 1e-5)
    used = [e for e in result["level_readings"] if e["redundancy"] is not None]
    n = len(floor.readings)
    compare(case, "staff residuals", v[:n], [e["residual"] for e in used], 1e-5)
    compare(case, "staff redundancies", r[:n], [e["redundancy"] for e in used], 1e-5)
    dof = len(b) - len(unknown)
    compare(case, "level dof", dof, result["level_net"]["dof"], 0)
    if dof:
        compare(case, "sigma-nought", (np.sum((v / w)**2) / dof)**0.5,
                result["level_net"]["sigma0"], 1e-5)


def layers(room, area, reach):
    return [y for y in room.get("flooring", {}).get("laid", [])
            if y.get("area", area) == area and reach(y)]


def check_legs(case, floor, room, result):
    for area in result["floor"]:
        if area["model"] is None or area["model"]["how"] == "local":
            continue
        name, model = area["area"], area["model"]
        floor.solve(name, model)
        if model["how"] == "averaged":
            expected = floor.grid_weights(name, model)
            got = {(g["sd"], g["range"]): g["weight"] for g in model["grid"]}
            keys = sorted(set(expected) | set(got))
            compare(case, "grid weights", [expected.get(k, 0) for k in keys],
                    [got.get(k, 0) for k in keys], 2e-5)
        legs = [g for g in result["legs"] if floor.area_of((g["x"], g["y"])) == name]
        if not legs:
            continue
        mean, sd = floor.heights(name, [(g["x"], g["y"]) for g in legs])
        to_wall = layers(room, name, lambda y: y.get("to", "wall") == "wall")
        thick = sum(y["thickness"] for y in to_wall)
        sd = np.sqrt(sd**2 + sum(y.get("sd", 0.5)**2 for y in to_wall))
        compare(case, "bearing floor", mean + thick, [g["bearing_floor"] for g in legs], BY_PRINTED_WEIGHTS)
        compare(case, "leg sds", sd, [g["sd"] for g in legs], BY_PRINTED_WEIGHTS)


def check_datum(case, room, group):
    bounds = group["bounds"]
    for b in bounds:
        sign = 1.96 if b["side"] == "lower" else -1.96
        compare(case, "tightened bounds", b["value"] + (sign * b["sd"] if b["hard"] else 0),
                b["applied"], 2e-6)
    # Rows of A u <= b.
    def rows(kinds, key):
        A, c = [], []
        for b in bounds:
            if b["kind"] in kinds:
                A.append([-1.0 if b["side"] == "lower" else 1.0])
                c.append(-b[key] if b["side"] == "lower" else b[key])
        return np.array(A).reshape(-1, 1), np.array(c)

    hard = {b["kind"] for b in bounds if b["hard"]}
    A, c = rows(hard, "applied")
    lowest = optimize.linprog([1], A_ub=A, b_ub=c, bounds=[(None, None)], method="highs")
    highest = optimize.linprog([-1], A_ub=A, b_ub=c, bounds=[(None, None)], method="highs")
    feasible = lowest.status == 0
    compare(case, "feasible", feasible, group["feasible"], 0)
    asked = room["level_groups"][0] if room.get("level_groups") else {}
    if group["set"]:
        return
    if not feasible:
        # The least greatest violation.
        best = optimize.linprog([0, 1], A_ub=np.hstack([A, -np.ones((len(A), 1))]), b_ub=c,
                                bounds=[(None, None), (0, None)], method="highs")
        compare(case, "U where none suits all", best.x[0], group["underside"], 1e-5)
        return
    compare(case, "hard interval", [lowest.x[0], highest.x[0]],
            [group["lowest"], group["highest"]], 1e-5)
    # Soft kinds one after the other: least violation, kept from then on.
    for kind in ["asked_height", "board_reaches", "board_whole"]:
        S, t = rows({kind}, "value")
        if not len(S):
            continue
        big = np.vstack([np.hstack([A, np.zeros((len(A), 1))]),
                         np.hstack([S, -np.ones((len(S), 1))])])
        least = optimize.linprog([0, 1], A_ub=big, b_ub=np.concatenate([c, t]),
                                 bounds=[(None, None), (0, None)], method="highs")
        A, c = np.vstack([A, S]), np.concatenate([c, t + least.x[1] + 1e-9])
    target = asked.get("asked_height")
    if target is None:
        u = optimize.linprog([1], A_ub=A, b_ub=c, bounds=[(None, None)], method="highs").x[0]
    else:
        both = [b["value"] for b in bounds if b["kind"] == "asked_height"]
        wish = sum(both) / 2
        far = optimize.linprog([0, 1], A_ub=np.vstack([np.hstack([A, np.zeros((len(A), 1))]),
                                                       [[1, -1], [-1, -1]]]),
                               b_ub=np.concatenate([c, [wish, -wish]]),
                               bounds=[(None, None), (0, None)], method="highs")
        u = far.x[0]
    compare(case, "U", u, group["underside"], 1e-5)


def check_front(case, floor, room, result, plinth):
    """The front of a free run between walls, in one piece."""
    run = room["runs"][0]
    pieces = [p for p in result["plinths"] if p["run"] == run["id"] and p["face"] == "front"]
    if "origin" not in run or len(result["floor"]) != 1 or not pieces or len(result["groups"]) != 1:
        return
    if result["floor"][0]["model"]["how"] == "local":
        return
    u = result["groups"][0]["underside"]
    on_it = layers(room, "floor", lambda y: y.get("to", "wall") != "plinth_face")
    x0 = run["origin"]["x"]
    for piece in pieces:
        along = np.append(np.arange(0, piece["length"] - 1e-6, 100), piece["length"])
        at = np.column_stack([x0 + along, np.full(len(along), run["origin"]["y"] - 510.0)])
        profile = floor.heights("floor", at)[0] + sum(y["thickness"] for y in on_it)
        points = np.column_stack([along, profile])
        base = profile.min() - 1000
        hull = spatial.ConvexHull(np.vstack([points, [along[0], base], [along[-1], base]]))
        top = sorted(i for i in hull.vertices if i < len(along))
        line = np.interp(along, along[top], profile[top])
        gap = float((line - profile).max())
        x0 += piece["length"]
        compare(case, "hollow under a board", gap, piece["floor_gap"], BY_PRINTED_WEIGHTS)
        if piece["bottom"] == "scribe":
            continue
        ordinates = piece["ordinates"]
        hull_at = np.interp([o["along"] for o in ordinates], along[top], profile[top])
        expected = np.minimum(plinth["height"], u - hull_at - plinth.get("top_gap_min", 3))
        compare(case, "plinth heights as cut", expected, [o["height"] for o in ordinates], 0.05
                if piece["top"] == "none" else BY_PRINTED_WEIGHTS)
        greatest = max(u - line - np.minimum(plinth["height"],
                                             u - line - plinth.get("top_gap_min", 3)))
        compare(case, "greatest top gap", greatest, piece["top_gap"]["greatest"], BY_PRINTED_WEIGHTS)


def check_boards(case, survey_, result):
    kerf = survey_.get("furniture", {}).get("plinth", {}).get("kerf", 4)
    stocks = {}
    for board in result["boards"]:
        entry = stocks.setdefault((board["stock_length"], board["height"]), [0, []])
        entry[0] += 1
        entry[1] += [p["length"] for p in board["pieces"]]
        compare(case, "pieces beyond their board",
                max(0, sum(p["length"] for p in board["pieces"])
                    + kerf * (len(board["pieces"]) - 1) - board["stock_length"]), 0, 1e-6)
    for (length, _), (count, pieces) in stocks.items():
        n = len(pieces)
        # y_j: board j used; x_ij: piece i from board j. Boards are used in order.
        size = n + n * n
        cost = np.concatenate([np.ones(n), np.zeros(n * n)])
        A, low, high = [], [], []
        for i in range(n):
            line = np.zeros(size)
            line[n + i * n:n + (i + 1) * n] = 1
            A.append(line), low.append(1), high.append(1)
        for j in range(n):
            line = np.zeros(size)
            line[j] = -(length + kerf)
            line[n + j::n] = [p + kerf for p in pieces]
            A.append(line), low.append(-np.inf), high.append(1e-6)
            if j:
                line = np.zeros(size)
                line[j], line[j - 1] = 1, -1
                A.append(line), low.append(-np.inf), high.append(0)
        best = optimize.milp(cost, constraints=optimize.LinearConstraint(np.array(A), low, high),
                             integrality=np.ones(size), bounds=optimize.Bounds(0, 1))
        compare(case, "boards", round(best.fun), count, 0)
    compare(case, "boards against their bound", result["boards_bound"], len(result["boards"]), 0)


def check_spare(case, survey_, result):
    """Just inside the room to spare all still fits, just beyond nothing does."""
    group = result["groups"][0]
    spare = group["spare"]
    if spare["flooring_up"] is None or group["set"] or not group["feasible"]:
        return
    for beyond, fits in ((-0.01, True), (0.01, False)):
        text = json.dumps(survey_)
        changed = json.loads(text)
        changed["rooms"][0]["flooring"]["laid"][-1]["thickness"] += spare["flooring_up"] + beyond
        again = solve(json.dumps(changed))["rooms"][0]["groups"][0]["feasible"]
        compare(case, "room to spare", fits, again, 0)


def main():
    cases = {name: survey(**how) for name, how in CASES.items()}
    for path in sorted(SAMPLES.glob("*.levelrun.json")):
        cases[path.name] = json.loads(path.read_text())
    for name, facts in cases.items():
        results = solve(json.dumps(facts))
        for room, result in zip(facts["rooms"], results["rooms"]):
            floor = Floor(facts, room, result)
            check_levels(name, floor, room, result)
            check_legs(name, floor, room, result)
            for group in result["groups"]:
                described = [g for g in room.get("level_groups", []) if g["id"] == group["id"]]
                check_datum(name, {"level_groups": described}, group)
            check_front(name, floor, room, result, facts["furniture"]["plinth"])
            check_boards(name, facts, result)
            if "origin" in room["runs"][0]:
                check_spare(name, facts, result)
    print(f"{len(cases)} surveys\n{'quantity':28} {'largest difference':>18} {'allowed':>9}  where")
    for what, (off, tolerance, case) in worst.items():
        print(f"{what:28} {off:18.2e} {tolerance:9.0e}  {case}")
    for line in failures[:40]:
        print("DIFFERS", line)
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
