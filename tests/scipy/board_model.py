"""Plinth boards: what floor each stands on, how it rests there (scipy.spatial.ConvexHull), how it
is cut (checks/plinth_cuts.h), and the fewest stock boards (scipy.optimize.milp)."""
import numpy as np
from scipy import optimize, spatial

from floor_model import under_plinth
from kitchen_model import profile

NO_CUT = 0.05  # mm


def resting(along, floor):
    """The upper hull's height at each place of a profile."""
    low = floor.min() - 1000  # two feet far below: what is left of the hull is its upper side
    points = np.column_stack([np.append(along, along[[0, -1]]), np.append(floor, [low, low])])
    top = sorted(i for i in spatial.ConvexHull(points).vertices if i < len(along))
    return np.interp(along, along[top], floor[top])


def stand(floor, piece):
    """Adds the plinth floor under a board, its hull and its band; None where it was not read."""
    along, at = profile(piece, floor.outlines)
    under, _ = floor.standing(under_plinth, at)
    ends = [piece["a"], (piece["a"] + piece["b"]) / 2, piece["b"]]
    read = not np.isnan(under).any()
    piece.update(along=along, floor=under, hull=resting(along, under) if read else None,
                 sd=float(floor.standing(under_plinth, ends)[1].max()) if read else None)


def cut(piece, underside):
    """What plinth_cuts.h says of a board at its run's underside: heights along it, as cut."""
    plinth = piece["run"].furniture["plinth"]
    gap = float((piece["hull"] - piece["floor"]).max())
    scribe = gap > plinth["floor_gap_max"] + NO_CUT

    def top(along):
        hull = np.interp(along, piece["along"], piece["hull"])
        uncut = hull + plinth["height"] - (gap if scribe else 0)
        return np.minimum(uncut, underside - plinth["top_gap_min"]), uncut

    def height(along):
        foot = piece["floor"] if scribe else piece["hull"]
        return top(along)[0] - np.interp(along, piece["along"], foot)

    at = np.linspace(0, piece["length"], 1 + int(np.ceil(piece["length"] / 2)))  # bends between
    at = np.union1d(at, piece["along"])
    tops, uncut = top(at)
    heights = height(at)
    is_cut = (uncut - tops).max() >= NO_CUT
    return dict(floor_gap=gap, scribe=scribe, height=height, heights=heights,
                top="none" if not is_cut else "taper" if np.ptp(heights) >= NO_CUT else "parallel",
                least=underside - tops.max(), greatest=underside - tops.min())


def fewest(lengths, stock, kerf):
    """Fewest boards: y_j, board j is used; x_ij, piece i comes from board j, j <= i."""
    n = len(lengths)
    cells = [(i, j) for i in range(n) for j in range(i + 1)]
    size = n + len(cells)
    A, low, high = [], [], []
    for i in range(n):  # every piece once
        A.append([0.0] * n + [float(a == i) for a, _ in cells])
        low.append(1), high.append(1)
    for j in range(n):  # sum of lengths + kerf between them fits
        A.append([-(stock + kerf) * (k == j) for k in range(n)]
                 + [(lengths[a] + kerf) * (b == j) for a, b in cells])
        low.append(-np.inf), high.append(1e-6)
    best = optimize.milp([1.0] * n + [0.0] * len(cells), integrality=np.ones(size),
                         bounds=optimize.Bounds(0, 1),
                         constraints=optimize.LinearConstraint(np.array(A), low, high),
                         options={"mip_rel_gap": 0})
    assert best.status == 0, best.message
    return round(best.fun)
