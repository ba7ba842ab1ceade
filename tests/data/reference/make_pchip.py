"""Writes pchip_scipy.json: random tables with values and slopes by scipy's PchipInterpolator.

Run it from this folder: python make_pchip.py
It needs numpy and scipy; their versions are written into the file.
"""

import json

import numpy
import scipy
from scipy.interpolate import PchipInterpolator

SEED = 20_240_501
TABLES = 200
PLACES = 6


def abscissas(rng, count, kind):
    """Rising ESPs: even tenths, uneven steps, or steps that differ a hundredfold."""
    if kind == "even":
        return numpy.round(0.1 * numpy.arange(1, count + 1), 1)
    low = 0.001 if kind == "wild" else 0.02
    return numpy.round(rng.uniform(0.0, 0.2) + numpy.cumsum(rng.uniform(low, 0.3, count)), 4)


def ordinates(rng, count, kind):
    """Airflows: falling, falling with flat stretches, or up and down."""
    start = rng.uniform(500.0, 2000.0)
    if kind == "turning":
        return numpy.round(start + rng.uniform(-200.0, 200.0, count))
    falls = rng.uniform(1.0, 120.0, count)
    if kind == "flat":
        falls[rng.random(count) < 0.4] = 0.0
    return numpy.round(start - numpy.cumsum(falls), 1)


def table(rng):
    count = int(rng.integers(2, 13))
    spacing = str(rng.choice(["even", "uneven", "wild"]))
    shape = str(rng.choice(["falling", "flat", "turning"]))
    x, y = abscissas(rng, count, spacing), ordinates(rng, count, shape)
    curve = PchipInterpolator(x, y)
    at = numpy.sort(numpy.round(rng.uniform(x[0], x[-1], PLACES), 6))
    at = numpy.clip(at, x[0], x[-1])
    return {
        "spacing": spacing,
        "shape": shape,
        "x": x.tolist(),
        "y": y.tolist(),
        "slopes": curve(x, 1).tolist(),
        "at": at.tolist(),
        "values": curve(at).tolist(),
    }


def main():
    rng = numpy.random.default_rng(SEED)
    meta = {"scipy": scipy.__version__, "numpy": numpy.__version__, "seed": SEED}
    rows = ",\n".join(json.dumps(table(rng)) for _ in range(TABLES))
    with open("pchip_scipy.json", "w", encoding="utf-8") as file:
        file.write('{"meta": ' + json.dumps(meta) + ',\n"tables": [\n' + rows + "\n]}\n")


main()
