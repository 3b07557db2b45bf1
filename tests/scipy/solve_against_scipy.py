#!/usr/bin/python3
"""Surveys computed again, independently, with NumPy and SciPy, and compared with `levelrun solve`.

  levels   heights, sds, residuals, redundancies, tests, verdicts: level_model.py, dense least squares
  floor    the surface at every leg, and the weights its grid is averaged with: floor_model.py
  places   legs and plinth boards in plan: kitchen_model.py
  datum    every bound, U, lowest, highest, conflict: datum_model.py, linear programming
  legs     height, turns, verdict
  plinths  hull, as-cut heights, gaps; fewest boards: board_model.py
  spare    the new floor made as much thicker or thinner as is said, a hair less, and a hair more

Usage: solve_against_scipy.py LEVELRUN SAMPLE_FOLDER"""
import json
import pathlib
import subprocess
import sys
from collections import Counter

import numpy as np

from board_model import cut, fewest, resting, stand
from datum_model import BAND, ORDER, Bounds, datum, job_top
from floor_model import AVERAGED_UP_TO, JOINT_UP_TO, Floor, bearing, under_plinth
from kitchen_model import DEFAULTS, merged, pieces, placed_runs, profile
from level_model import Levels
from surveys import CASES

LEVELRUN, SAMPLES = sys.argv[1], pathlib.Path(sys.argv[2])
PRINTED = 1e-5   # mm; results have 6 decimals
AWAY = 1e-4      # mm; a verdict is compared where its number is this far from its limit
HAIR = 0.01      # mm, of new floor
FINER = 0.2      # mm; what profiles every 5 mm may find that profiles every 100 mm do not

worst = {}       # quantity -> (difference, allowed, case)
counted = Counter()
failures = []


def compare(case, what, ours, theirs, allowed=PRINTED):
    ours = np.atleast_1d(np.array(ours, float))
    theirs = np.atleast_1d(np.array(theirs, float))
    if ours.shape != theirs.shape or (np.isnan(ours) != np.isnan(theirs)).any():
        failures.append(f"{case}: {what}: SciPy {ours}, levelrun {theirs}")
        return
    counted[what] += ours.size
    off = np.nan_to_num(np.abs(ours - theirs))
    i = int(off.argmax()) if off.size else 0
    largest = float(off.max(initial=0))
    if largest >= worst.get(what, (-1,))[0]:
        worst[what] = (largest, allowed, case)
    if largest > allowed:
        failures.append(f"{case}: {what} differs by {largest:.3g} at {i} (SciPy {ours[i]:.6f}, "
                        f"levelrun {theirs[i]:.6f}, allowed {allowed:g})")


def same(case, what, ours, theirs):
    counted[what] += 1
    worst.setdefault(what, (0, 0, case))
    if ours != theirs:
        worst[what] = (float("inf"), 0, case)
        failures.append(f"{case}: {what}: SciPy says {ours}, levelrun {theirs}")


def solve(facts):
    done = subprocess.run([LEVELRUN, "solve", "-"], input=json.dumps(facts), capture_output=True,
                          text=True)
    if done.returncode:
        raise SystemExit(done.stderr)
    return json.loads(done.stdout)


def verdict(value, sd, least, most):
    """within, doubtful or outside; None too near a limit to say."""
    edges = [x + sign * BAND * sd - limit for limit in (least, most) if limit is not None
             for x in (value,) for sign in (-1, 1)]
    if min(map(abs, edges)) < AWAY:
        return None
    words = []
    for x, limit in ((-value, None if least is None else -least), (value, most)):
        if limit is not None:
            words.append(0 if x + BAND * sd <= limit else 2 if x - BAND * sd > limit else 1)
    return ("within", "doubtful", "outside")[max(words)]


def check_levels(case, levels, result):
    got = {e["point"]: e for e in result["levels"]}
    names = [p for p in levels.points if p in levels.heights]
    compare(case, "level heights", [levels.heights[p][0] for p in names],
            [got[p]["height"] for p in names])
    compare(case, "level sds", [levels.heights[p][1] for p in names], [got[p]["sd"] for p in names])
    untied = {e["at"] for e in result["level_readings"] if e["redundancy"] is None}
    same(case, "readings left out", set(levels.untied) | set(levels.rejected), untied)
    for entry in result["level_readings"]:
        check = levels.check.get(entry["at"])
        same(case, "staff verdicts", levels.verdict(entry["at"]), entry["verdict"])
        if not check or entry["at"] in levels.rejected:
            continue
        compare(case, "staff residuals", check["residual"], entry["residual"])
        compare(case, "staff redundancies", check["redundancy"], entry["redundancy"])
        compare(case, "staff adjusted", entry["measured"] + check["residual"], entry["adjusted"])
        compare(case, "standardised residuals", check["standardised"], entry["standardised"])
        compare(case, "detectable errors", check["detectable"], entry["detectable"])
    net = result["level_net"]
    same(case, "level dof", levels.dof, net["dof"])
    same(case, "level global test", levels.global_test(), net["global_test"])
    sigma0 = (levels.chi_square / levels.dof)**0.5 if levels.dof else None
    compare(case, "sigma-nought", sigma0, net["sigma0"])


def check_floor(case, floor, result):
    """Solves each area that was read."""
    for area in result["floor"]:
        name, model = area["area"], area["model"]
        read = [p for _, p, _, _ in floor.readings
                if floor.on_floor(floor.points[p]) and floor.point_area(floor.points[p]) == name]
        same(case, "areas read", bool(read), model is not None)
        if model is None:
            continue
        bare = [floor.bare(p, floor.levels.heights[p][0], name) for p in read]
        compare(case, "floor lowest, highest", [min(bare), max(bare)],
                [area["lowest"], area["highest"]])
        weights = floor.solve(name, model["how"], model["grid"])
        system, _ = floor.fits[name]
        n = len(system["y"])
        how = "averaged" if n <= AVERAGED_UP_TO else "joint" if n <= JOINT_UP_TO else "local"
        same(case, "model", ("matern52", how), (model["kernel"], model["how"]))
        compare(case, "noise slope", system["noise_slope"], model["noise_slope"])
        compare(case, "noise", system["noise"], model["noise"])
        got = {(g["sd"], g["range"]): g["weight"] for g in model["grid"]}
        keys = sorted(set(weights) | set(got))
        compare(case, "grid weights", [weights.get(k, 0) for k in keys],
                [got.get(k, 0) for k in keys])
        same(case, "likeliest node", max(weights, key=weights.get), (model["sd"], model["range"]))


def check_legs(case, floor, runs, result):
    undersides = {g["id"]: g["underside"] for g in result["groups"]}
    ours = [(run, unit, name, at) for run in runs for unit in run.units
            for name, at in unit["legs"]]
    same(case, "leg names", [(u["unit"]["id"], n, u["type"]["id"]) for _, u, n, _ in ours],
         [(g["unit"], g["position"], g["type"]) for g in result["legs"]])
    if not ours or len(ours) != len(result["legs"]):
        return
    compare(case, "leg places", np.ravel([at for *_, at in ours]),
            np.ravel([(g["x"], g["y"]) for g in result["legs"]]))
    mean, sd = floor.standing(bearing, [at for *_, at in ours])
    compare(case, "bearing floor", mean, [g["bearing_floor"] for g in result["legs"]])
    compare(case, "leg sds", sd, [g["sd"] for g in result["legs"]])
    for (run, unit, _, _), m, s, leg in zip(ours, mean, sd, result["legs"]):
        if np.isnan(m) or run.group not in undersides:
            same(case, "legs without height", None, leg["height"])
            continue
        height = undersides[run.group] + unit["offset"] - m
        compare(case, "leg heights", height, leg["height"])
        kind = unit["type"]
        turns = (height - kind["supplied"]) / kind["pitch"] if {"supplied", "pitch"} <= {*kind} \
            else None
        compare(case, "turns", turns, leg["turns"])
        word = verdict(height, s, kind["min"], kind["max"])
        same(case, "leg verdicts", word or leg["verdict"], leg["verdict"])


def check_group(case, room, job, bounds, levels, group):
    asked = next((g for g in room.get("level_groups", []) if g["id"] == group["id"]), {})
    expected = bounds.of(group["id"])
    got = {(b["kind"], b["at"], b["side"]): b for b in group["bounds"]}
    same(case, "which bounds", set(expected), set(got))
    for key, (value, sd) in expected.items():
        if key in got:
            compare(case, f"bound {key[0]}", value, got[key]["value"])
            compare(case, "bound sds", sd, got[key]["sd"])
            hard = key[0] not in ORDER
            same(case, "hard or soft", hard, got[key]["hard"])
            tighter = (BAND if key[2] == "lower" else -BAND) * sd if hard else 0
            compare(case, "tightened bounds", value + tighter, got[key]["applied"])
    set_at = asked.get("underside_set", {}).get("value")
    same(case, "set", set_at is not None, group["set"])
    told = datum(group["bounds"], bounds.wish, asked.get("order", []), set_at)
    same(case, "feasible", told["feasible"], group["feasible"])
    compare(case, "lowest, highest", [told["lowest"], told["highest"]],
            [group["lowest"], group["highest"]])
    compare(case, "U" if told["feasible"] else "U where none suits all", told["underside"],
            group["underside"])
    conflict = group.get("conflict")
    same(case, "conflict", told["conflict"] is not None, conflict is not None)
    if told["conflict"] and conflict:
        low, high = told["conflict"]["lower"], told["conflict"]["upper"]
        same(case, "bounds in conflict", [f"{b['kind']} {b['at']}" for b in (low, high)],
             [conflict["lower"], conflict["upper"]])
        compare(case, "conflict by, sd", [low["value"] - high["value"],
                                          np.hypot(low["sd"], high["sd"])],
                [conflict["by"], conflict["sd"]])
    top = group["underside"] + job_top(job)
    over = group["worktop_above_floor"]
    compare(case, "worktop above floor", [top - bounds.at[0], top - bounds.front[1],
                                          top - bounds.front[0]],
            [over["at"], over["least"], over["greatest"]])
    same(case, "level lines", levels.setups, [e["setup"] for e in group["level_lines"]])
    for line in group["level_lines"]:
        plane, sd = levels.planes[line["setup"]]
        compare(case, "down from level lines", [plane - group["underside"], sd],
                [line["down"], line["sd"]])


def check_plinths(case, plinths, result):
    undersides = {g["id"]: g["underside"] for g in result["groups"]}
    ours = [p for p in plinths if p["hull"] is not None and p["run"].group in undersides]
    same(case, "plinth pieces", [(p["run"].id, p["face"], p["piece"]) for p in ours],
         [(p["run"], p["face"], p["piece"]) for p in result["plinths"]])
    for mine, theirs in zip(ours, result["plinths"]):
        plinth = mine["run"].furniture["plinth"]
        told = cut(mine, undersides[mine["run"].group] + mine["run"].offset)
        compare(case, "plinth lengths", mine["length"], theirs["length"])
        compare(case, "hollow under a board", told["floor_gap"], theirs["floor_gap"])
        compare(case, "plinth sds", mine["sd"], theirs["sd"])
        same(case, "plinth cuts", (told["top"], "scribe" if told["scribe"] else "none"),
             (theirs["top"], theirs["bottom"]))
        same(case, "sealed edge down", not told["scribe"] and plinth["sealed_edges"] != "none",
             theirs["sealed_edge_down"])
        compare(case, "top gaps", [told["least"], told["greatest"]],
                [theirs["top_gap"]["least"], theirs["top_gap"]["greatest"]])
        ordinates = theirs["ordinates"]
        at = [o["along"] for o in ordinates]
        # A board that is not cut is stated as supplied: cuts under 0.05 are none.
        heights = [plinth["height"]] * len(at) if (theirs["top"], theirs["bottom"]) == ("none",) * 2 \
            else told["height"](at)
        compare(case, "plinth heights as cut", heights, [o["height"] for o in ordinates])
        compare(case, "plinth ends as cut", [heights[0], heights[-1]],
                [theirs["height_left"], theirs["height_right"]])
        # Between the ordinates stated the cut is straight.
        if told["top"] == "taper" or told["scribe"]:
            fine = np.linspace(0, mine["length"], 200)
            compare(case, "cuts between ordinates", told["height"](fine),
                    np.interp(fine, at, [o["height"] for o in ordinates]))
        word = verdict(told["greatest"], mine["sd"], None, plinth["top_gap_max"])
        if told["heights"].min() <= 0:
            word = "outside"
        same(case, "plinth verdicts", word or theirs["verdict"], theirs["verdict"])


def check_finer(case, floor, plinths):
    """Boards on a profile twenty times as fine: what looking every 100 mm costs."""
    for piece in plinths:
        if piece["hull"] is not None:
            along, at = profile(piece, floor.outlines, 5)
            under, _ = floor.standing(under_plinth, at)
            compare(case, "hull, profile every 5", resting(along, under),
                    np.interp(along, piece["along"], piece["hull"]), FINER)


def check_boards(case, plinths, result):
    stocks = {}
    for piece in plinths:
        p = piece["run"].furniture["plinth"]
        key = p["stock_length"], p["height"], p["thickness"], p["kerf"]
        stocks.setdefault(key, []).append(piece["length"])
    least = Counter()
    for (stock, height, _, kerf), lengths in stocks.items():
        least[stock, height] += fewest(lengths, stock, kerf)
    got = Counter((b["stock_length"], b["height"]) for b in result["boards"])
    same(case, "boards", dict(least), dict(got))
    same(case, "boards_bound", sum(least.values()), result["boards_bound"])
    compare(case, "pieces on boards", sorted(p["length"] for p in plinths),
            sorted(p["length"] for b in result["boards"] for p in b["pieces"]))
    kerf = min((k[3] for k in stocks), default=0)
    for board in result["boards"]:
        needed = sum(p["length"] for p in board["pieces"]) + kerf * (len(board["pieces"]) - 1)
        compare(case, "pieces beyond their board", max(0, needed - board["stock_length"]), 0, 1e-6)


def check_spare(case, facts, index, results):
    """Just inside the room to spare all still fits, just beyond nothing does."""
    laid = facts["rooms"][index].get("flooring", {}).get("laid", [])
    if not laid:
        return
    thick = laid[-1]["thickness"]

    def fits(change):
        again = json.loads(json.dumps(facts))
        again["rooms"][index]["flooring"]["laid"][-1]["thickness"] = thick + change
        return [g["feasible"] for g in solve(again)["rooms"][index]["groups"]]

    for g, group in enumerate(results["rooms"][index]["groups"]):
        if not group["feasible"]:
            continue
        for way, name, unlimited in ((1, "flooring_up", 500), (-1, "flooring_down", thick - HAIR)):
            spare = group["spare"][name]
            if spare is None:  # nothing limits it
                same(case, f"{name} unlimited", True, fits(way * unlimited)[g])
                continue
            if spare > HAIR:
                same(case, f"{name} a hair less", True, fits(way * (spare - HAIR))[g])
            if way > 0 or spare + HAIR < thick:
                same(case, f"{name} a hair more", False, fits(way * (spare + HAIR))[g])


def check_case(case, facts):
    results = solve(facts)
    job = merged(DEFAULTS, facts.get("furniture", {}))
    for index, (room, result) in enumerate(zip(facts["rooms"], results["rooms"])):
        levels = Levels(facts, room, index)
        check_levels(case, levels, result)
        floor = Floor(room, result, levels)
        check_floor(case, floor, result)
        runs = placed_runs(facts, room, result)
        at = {c["id"]: np.array((c["x"], c["y"])) for c in result["corners"]}
        plinths = pieces(runs, {w["id"]: np.linalg.norm(at[w["to"]] - at[w["from"]])
                                for w in room.get("walls", [])})
        for piece in plinths:
            stand(floor, piece)
        check_legs(case, floor, runs, result)
        bounds = Bounds(job, room, floor, levels, runs, plinths)
        for group in result["groups"]:
            check_group(case, room, job, bounds, levels, group)
        check_plinths(case, plinths, result)
        check_finer(case, floor, plinths)
        check_boards(case, plinths, result)
        check_spare(case, facts, index, results)


def main():
    cases = dict(CASES)
    for path in sorted(SAMPLES.glob("*.levelrun.json")):
        cases[path.name] = json.loads(path.read_text())
    for case, facts in cases.items():
        check_case(case, facts)
    print(f"{len(cases)} surveys\n{'quantity':26} {'compared':>8} {'largest difference':>18}"
          f" {'allowed':>8}  where")
    for what, (off, allowed, case) in worst.items():
        print(f"{what:26} {counted[what]:8} {off:18.1e} {allowed:8.0e}  {case}")
    for line in failures[:40]:
        print("DIFFERS", line)
    if failures:
        print(f"{len(failures)} differences beyond what is allowed")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
