#!/usr/bin/python3
"""The mathematics of one kitchen in vectorised NumPy and SciPy on one thread, and how many times
longer it takes than the program's, both in this run.

The same sizes and the same work as `bench` same_mathematics: 60 floor readings from two set-ups with a
benchmark, eight walls three times each with four diagonals (Gauss-Newton, five rounds, residuals and
redundancies), the grid of 35 parameter pairs on 24 readings, the surface on all 62 rows, 130 heights
with bands and 220 without. Both leave out bounds, plinths, findings and text.

Usage: numpy_kitchen.py BENCH"""
import json
import os
import subprocess
import sys
import time

for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"
import numpy as np
from scipy import linalg

random = np.random.default_rng(1)
SDS, RANGES = [0.5, 0.8, 1.25, 2.0, 3.2, 5.0, 8.0], [600, 950, 1500, 2400, 3800]


def matern(d, range_):
    a = d * (np.sqrt(5) / range_)
    return (1 + a + a * a / 3) * np.exp(-a)


def distances(a, b):
    return np.sqrt(((a[:, None] - b[None])**2).sum(axis=2))


def levels(A, y):
    N = linalg.cho_factor(A.T @ A)
    x = linalg.cho_solve(N, A.T @ y)
    v = A @ x - y
    r = 1 - np.einsum("ij,ji->i", A, linalg.cho_solve(N, A.T))
    return x, v, r


def plan(corners, walls, diagonals, lengths):
    """Corners (all but the first free, the second along x) and a lean a wall."""
    n = len(corners)
    pairs = np.array([w for w in walls for _ in range(3)] + diagonals)
    heights = np.array([0.1, 0.9, 2.0] * len(walls) + [0.9] * len(diagonals)) - 0.9
    p = corners.copy()
    lean = np.zeros(len(walls))
    free = [1] + list(range(4, 2 * n))
    for _ in range(5):
        d = p[pairs[:, 1]] - p[pairs[:, 0]]
        s = np.linalg.norm(d, axis=1)
        J = np.zeros((len(pairs) + len(walls), 2 * n + len(walls)))
        rows = np.arange(len(pairs))
        for k in (0, 1):
            J[rows, 2 * pairs[:, 0] + k] = -d[:, k] / s
            J[rows, 2 * pairs[:, 1] + k] = d[:, k] / s
        J[rows[:3 * len(walls)], 2 * n + np.repeat(np.arange(len(walls)), 3)] = \
            heights[:3 * len(walls)]
        J[len(pairs) + np.arange(len(walls)), 2 * n + np.arange(len(walls))] = 1 / 4
        model = s.copy()
        model[:3 * len(walls)] += heights[:3 * len(walls)] * np.repeat(lean, 3)
        f = np.concatenate([lengths - model, -lean / 4])
        use = J[:, [2, *range(4, 2 * n), *range(2 * n, 2 * n + len(walls))]]
        N = linalg.cho_factor(use.T @ use)
        step = linalg.cho_solve(N, use.T @ f)
        p[1, 0] += step[0]
        p[2:] += step[1:1 + 2 * (n - 2)].reshape(-1, 2)
        lean += step[1 + 2 * (n - 2):]
    r = 1 - np.einsum("ij,ji->i", use, linalg.cho_solve(N, use.T))
    return p, r


def likelihood(V, X, y, J, j):
    L = linalg.cholesky(V, lower=True, check_finite=False)
    W = linalg.solve_triangular(L, np.column_stack([X, y]), lower=True, check_finite=False)
    A, z = W[:, :-1], W[:, -1]
    N = A.T @ A + J
    c = linalg.cho_factor(N, check_finite=False)
    right = A.T @ z + j
    return -0.5 * (2 * np.log(np.diag(L)).sum() + np.linalg.slogdet(N)[1] + z @ z
                   - right @ linalg.cho_solve(c, right))


def surface(xy, X, y, noise, J, j, with_band, without):
    some = np.arange(0, len(y), 3)[:24]
    d = distances(xy[some], xy[some])
    best = (-np.inf, 0, 0)
    for range_ in RANGES:
        R = matern(d, range_)
        for sd in SDS:
            value = likelihood(sd**2 * R + np.diag(noise[some]), X[some], y[some], J, j)
            best = max(best, (value, sd, range_))
    _, sd, range_ = best
    V = sd**2 * matern(distances(xy, xy), range_) + np.diag(noise)
    c = linalg.cho_factor(V, check_finite=False)
    VX = linalg.cho_solve(c, X)
    Q = linalg.inv(X.T @ VX + J)
    beta = Q @ (VX.T @ y + j)
    alpha = linalg.cho_solve(c, y - X @ beta)
    M = linalg.cho_solve(c, np.eye(len(y))) - VX @ Q @ VX.T
    left_out = alpha / np.diag(M)
    out = [left_out]
    for at, band in ((with_band, True), (without, False)):
        K = sd**2 * matern(distances(at, xy), range_)
        x = np.zeros((len(at), X.shape[1]))
        x[:, 0], x[:, 1:3] = 1, at / 1000
        out.append(x @ beta + K @ alpha)
        if band:
            r = x - K @ VX
            out.append(sd**2 - np.einsum("ij,ji->i", K, linalg.cho_solve(c, K.T))
                       + np.einsum("ij,jk,ik->i", r, Q, r))
    return out


def kitchen():
    n = 60
    A = np.zeros((n + 2, n + 2))
    A[np.arange(n), np.arange(n)] = -1
    A[np.arange(n), n + np.arange(n) % 2] = 1
    A[n, n] = A[n + 1, n + 1] = 1
    level = (A / 0.7, random.normal(1200, 5, n + 2) / 0.7)

    corners = np.array([[0, 0], [6700, 0], [6700, -3200], [4467, -3200], [4467, -3350],
                        [2233, -3350], [2233, -3200], [0, -3200]], float)
    walls = [(i, (i + 1) % 8) for i in range(8)]
    # The nominal angles, as distances across each corner.
    diagonals = [(0, 2), (0, 2), (1, 7), (1, 7)] + [(i, (i + 2) % 8) for i in range(8)]
    pairs = np.array([w for w in walls for _ in range(3)] + diagonals)
    lengths = np.linalg.norm(corners[pairs[:, 1]] - corners[pairs[:, 0]], axis=1)
    lengths = lengths + random.normal(0, 1, len(lengths))

    xy = np.column_stack([random.uniform(0, 6700, n), random.uniform(-3000, 0, n)])
    X = np.zeros((n, 5))
    X[:, 0], X[:, 1:3] = 1, xy / 1000
    X[np.arange(n), 3 + np.arange(n) % 2] = -1
    y = random.normal(-1200, 4, n)
    J, j = np.diag([0, 0, 0, 2.0, 2.0]), np.array([0, 0, 0, 2400.0, 2400.0])
    at = np.column_stack([random.uniform(0, 6700, 350), random.uniform(-600, 0, 350)])

    def once():
        levels(*level)
        plan(corners, walls, diagonals, lengths)
        surface(xy, X, y, np.full(n, 0.5), J, j, at[:130], at[130:])
    return once


def main():
    once = kitchen()
    for _ in range(10):
        once()
    times = []
    for _ in range(60):
        start = time.perf_counter()
        once()
        times.append(time.perf_counter() - start)
    numpy_us = 1e6 * sorted(times)[len(times) // 2]
    done = subprocess.run([sys.argv[1], "--benchmark_filter=^same_mathematics$",
                           "--benchmark_min_time=0.3", "--benchmark_repetitions=5",
                           "--benchmark_format=json"], capture_output=True, text=True, check=True)
    ours = [b["real_time"] for b in json.loads(done.stdout)["benchmarks"]
            if b.get("aggregate_name") == "median"][0]
    print(f"the mathematics of one kitchen: NumPy/SciPy {numpy_us / 1000:.2f} ms, levelrun {ours / 1000:.2f} ms: "
          f"{numpy_us / ours:.1f} times slower")


if __name__ == "__main__":
    main()
