"""Writes least_squares_scipy.json: random weighted problems, solved by scipy's nnls and, without the limit at nought, by its lsq_linear.

Run it from this folder: python make_least_squares.py
It needs numpy and scipy; their versions are written into the file.
"""

import json

import numpy
import scipy
from scipy.linalg import cholesky, solve_triangular
from scipy.optimize import lsq_linear, nnls

SEED = 20_261_130
PROBLEMS = 60


def problem(rng):
    """Rows as a visit makes them: which unknowns a row has, each near 1; causes that all rows share, and one of each row alone."""
    unknowns = int(rng.integers(1, 9))
    count = int(rng.integers(unknowns + 1, 25))
    while True:
        rows = (rng.random((count, unknowns)) < 0.6) * rng.uniform(0.8, 1.25, (count, unknowns))
        if numpy.linalg.matrix_rank(rows) == unknowns and numpy.linalg.cond(rows) < 1e3:
            break
    # Some drops are nought, so that errors push them below it.
    truth = rng.uniform(0.0, 0.3, unknowns) * (rng.random(unknowns) < 0.75)
    shared = rng.normal(0.0, 0.01, (int(rng.integers(0, 5)), count))
    alone = numpy.diag(rng.uniform(0.001, 0.01, count))
    causes = numpy.vstack([shared, alone])
    right = rows @ truth + causes.T @ rng.normal(0.0, 1.0, len(causes))
    lower = cholesky(causes.T @ causes, lower=True)
    whitened = solve_triangular(lower, rows, lower=True)
    seen = solve_triangular(lower, right, lower=True)
    held, norm = nnls(whitened, seen)
    free = lsq_linear(whitened, seen)
    covariance = numpy.linalg.inv(whitened.T @ whitened)
    return {
        "rows": rows.tolist(),
        "right": right.tolist(),
        "shared": shared.tolist(),
        "alone": numpy.diag(alone).tolist(),
        "unknowns": held.tolist(),
        "chi_squared": norm**2,
        "free": free.x.tolist(),
        "variances": numpy.diag(covariance).tolist(),
    }


rng = numpy.random.default_rng(SEED)
problems = [problem(rng) for _ in range(PROBLEMS)]
meta = {"scipy": scipy.__version__, "numpy": numpy.__version__, "seed": SEED}
with open("least_squares_scipy.json", "w", encoding="utf-8") as file:
    file.write("{\n" + f'"meta": {json.dumps(meta)},\n"problems": [\n')
    file.write(",\n".join(json.dumps(one) for one in problems))
    file.write("\n]\n}\n")
