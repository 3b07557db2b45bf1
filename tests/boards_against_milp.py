#!/usr/bin/python3
"""Board counts against integer programming (scipy.optimize.milp, HiGHS).

Usage: boards_against_milp.py DRIVER
DRIVER is the program boards_driver. Random lists with a fixed seed; every count must be the
optimum, and every bound must equal it: household sizes are proved.
"""
import subprocess
import sys
import time

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

SEED = 3
LISTS = 60


def random_lists():
    """Board, kerf and lengths: 4 to 16 pieces, of plinths and of nearly full boards."""
    random = np.random.default_rng(SEED)
    for i in range(LISTS):
        pieces = int(random.integers(4, 17))
        kerf = float(random.choice([0, 3.2, 4]))
        board = float(random.choice([2400, 3000, 3050]))
        kind = i % 4
        if kind == 0:  # anything, to a tenth
            lengths = np.round(random.uniform(200, board, pieces), 1)
        elif kind == 1:  # widths of units, so many are alike
            lengths = random.choice([300, 400, 450, 500, 600, 800, 900, 1000, 1200], pieces)
        elif kind == 2:  # two or three to a board
            lengths = np.round(random.uniform(0.26 * board, 0.48 * board, pieces), 0)
        else:  # boards cut up without waste, so that only an exact fit is good enough
            lengths = []
            while len(lengths) + 4 <= pieces:
                cuts = np.sort(np.round(random.uniform(0.15, 0.85, 2) * board, 1))
                ends = np.concatenate([[-kerf], cuts, [board]])
                lengths += [x for x in np.round(np.diff(ends) - kerf, 6) if x > 1]
            lengths = lengths or [board / 2, board / 2, board / 3, board / 3]
        yield board, kerf, [float(x) for x in lengths]


def optimum(board, kerf, lengths):
    """Fewest boards. x[i, j]: piece i is cut from board j; u[j]: board j is used.

    Pieces share a board when sum(length + kerf) <= board + kerf. Boards are named by their
    first piece, so piece i is on board j <= i; that only breaks ties.
    """
    n = len(lengths)
    sizes = np.sort(np.array(lengths) + kerf)[::-1]
    # Lengths are whole tenths, so a fit is exact or fails by far more than any tolerance here.
    room = board + kerf + 1e-6
    cells = [(i, j) for i in range(n) for j in range(i + 1)]
    index = {cell: k for k, cell in enumerate(cells)}
    rows, low, high = [], [], []
    for i in range(n):  # every piece once
        row = np.zeros(len(cells))
        for j in range(i + 1):
            row[index[i, j]] = 1
        rows.append(row), low.append(1), high.append(1)
    for j in range(n):  # board j is used when its first piece, j, is on it
        row = np.zeros(len(cells))
        for i in range(j + 1, n):
            row[index[i, j]] = sizes[i] / room
        row[index[j, j]] = -(room - sizes[j]) / room
        rows.append(row), low.append(-np.inf), high.append(0)
    for i, j in cells:  # and no piece is on a board that is not used
        if i != j:
            row = np.zeros(len(cells))
            row[index[i, j]], row[index[j, j]] = 1, -1
            rows.append(row), low.append(-np.inf), high.append(0)
    cost = np.array([1.0 if i == j else 0.0 for i, j in cells])
    found = milp(cost, integrality=np.ones(len(cells)), bounds=Bounds(0, 1),
                 constraints=LinearConstraint(np.array(rows), low, high),
                 options={"mip_rel_gap": 0})
    assert found.status == 0, found.message
    return round(found.fun)


def main():
    lists = list(random_lists())
    text = "".join(f"{b!r} {k!r} {' '.join(map(repr, ls))}\n" for b, k, ls in lists)
    out = subprocess.run([sys.argv[1]], input=text, capture_output=True, text=True, check=True)
    ours = [tuple(map(int, line.split())) for line in out.stdout.splitlines()]
    assert len(ours) == len(lists), f"{len(ours)} answers to {len(lists)} lists"
    wrong, started = 0, time.time()
    for (board, kerf, lengths), (count, bound) in zip(lists, ours):
        best = optimum(board, kerf, lengths)
        if count != best or bound != best:
            wrong += 1
            print(f"board {board} kerf {kerf} {lengths}: {count} boards, bound {bound},"
                  f" optimum {best}")
    print(f"{len(lists)} lists, {wrong} wrong, milp took {time.time() - started:.1f} s")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
