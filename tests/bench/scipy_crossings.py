"""The crossings of tests/bench/crossing.rs and changes.rs by scipy: PchipInterpolator and brentq, time per crossing.

Run it beside `cargo bench --bench crossing` and `cargo bench --bench changes -- parts`: python tests/bench/scipy_crossings.py
The eight parts are those of changes.rs; they meet the curves of table A here, those of a shipped table there.
It needs numpy and scipy.
"""

import sys
import timeit

import numpy
import scipy
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq

ESP = [0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0]
# Table A of the reference checks (invented), and the four taps that the bench makes of it.
CFM = [1412.0, 1383.0, 1347.0, 1303.0, 1251.0, 1189.0, 1116.0, 1030.0, 928.0, 807.0]
SCALES = [0.70, 0.80, 0.90, 1.00, 1.10]
# The path: one lump, square law, through 0.75 in. w.c. at 1,030 cfm.
COEFFICIENT = 0.75 / 1030.0**2
# Eight parts, each 0.1 in. w.c. at 1,200 cfm, by these exponents.
EXPONENTS = [2.0, 1.9, 1.2, 1.8, 1.0, 1.9, 2.0, 1.85]


def one_lump(cfm):
    """Drop of the one lump, in. w.c."""
    return COEFFICIENT * cfm**2


def eight_parts(cfm):
    """Drop of the eight parts together, in. w.c."""
    return sum(0.1 * (cfm / 1200.0) ** exponent for exponent in EXPONENTS)


def crossing(curve, drop=one_lump):
    """TESP at which the tap meets the path, within the rows."""
    return brentq(lambda p: drop(curve(p)) - p, ESP[0], ESP[-1], xtol=1e-13, rtol=1e-13)


def per_call(task):
    """Best time per call in microseconds, of five runs."""
    timer = timeit.Timer(task)
    count, _ = timer.autorange()
    return min(timer.repeat(5, count)) / count * 1e6


def main():
    taps = [PchipInterpolator(ESP, [scale * cfm for cfm in CFM]) for scale in SCALES]
    one = taps[3]
    print(f"scipy {scipy.__version__}, numpy {numpy.__version__}, Python {sys.version.split()[0]}")
    print(f"crossing: {crossing(one):.10f} in. w.c.")
    print(f"one crossing, one lump: {per_call(lambda: crossing(one)):.2f} µs")
    print(f"five taps, one lump: {per_call(lambda: [crossing(tap) for tap in taps]):.2f} µs")
    print(f"one crossing, eight parts: {per_call(lambda: crossing(one, eight_parts)):.2f} µs")
    print(f"five taps, eight parts: {per_call(lambda: [crossing(tap, eight_parts) for tap in taps]):.2f} µs")


main()
