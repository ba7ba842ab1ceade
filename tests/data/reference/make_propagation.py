"""Writes propagation_uncertainties.json: ± by the package `uncertainties` for machines that tests/uncertainty/by_library.rs solves as well, and example H.2 of the GUM.

Run it from this folder: python make_propagation.py
It needs numpy, scipy and uncertainties; their versions are written into the file.
The package carries every figure with its derivatives by every cause of error, so that what two figures share drops out of their difference.
Curves are scipy's PCHIP through the published rows; crossings are scipy's, wrapped, with the package's numerical derivatives.
Limits of error are divided by the root of three, 95 % figures by two (GUM 4.3.7, 4.3.4).
"""

import json
import math

import numpy
import scipy
import uncertainties
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq
from uncertainties import correlated_values, correlation_matrix, ufloat, umath, wrap

ROOT_3 = math.sqrt(3.0)
# The demo furnace (assets/demo/gas-furnace.ron, invented): cfm of its five taps at 0.1 to 1.0 in. w.c.
ESP = [0.1 * step for step in range(1, 11)]
DEMO = [
    [915, 885, 855, 820, 790, 760, 725, 695, 665, 635],
    [1075, 1040, 1005, 965, 930, 895, 860, 820, 785, 750],
    [1250, 1210, 1170, 1125, 1085, 1045, 1005, 960, 920, 880],
    [1410, 1360, 1315, 1270, 1225, 1180, 1135, 1090, 1045, 1000],
    [1575, 1525, 1475, 1425, 1375, 1325, 1275, 1225, 1175, 1130],
]
CURVES = [PchipInterpolator(ESP, cfm) for cfm in DEMO]
# What the table takes for a return at one side (of which it prints two points): a power law through both.
SIDE_N = math.log(0.04 / 0.02) / math.log(1400 / 1000)


def side(cfm):
    return 0.02 * (cfm / 1000) ** SIDE_N


def crossing(tap):
    """Airflow of a tap against parts that drop `drop` at `at` with exponent `n`, times factors on its airflow and on the printed drop."""

    def solve(factor, printed, at, *parts):
        laws = list(zip(parts[0::2], parts[1::2]))

        def over(esp):
            cfm = factor * CURVES[tap](esp)
            return sum(drop * (cfm / at) ** n for drop, n in laws) + printed * side(cfm) - esp

        return factor * float(CURVES[tap](brentq(over, 0.1, 1.0, xtol=1e-14)))

    return wrap(solve)


def read(factor, printed, tesp):
    """Airflow of tap 4 at a total static that was read."""

    def over(esp):
        return tesp + printed * side(factor * CURVES[3](esp)) - esp

    return factor * float(CURVES[3](brentq(over, 0.1, 1.0, xtol=1e-14)))


def demo(manometer, offset, change):
    """−0.28 and +0.42 on tap 4, in the air of its table; the manometer's gain and the table are common. Limits of manometer and port, and what a change is off by at 95 %."""
    gain = ufloat(1.0, manometer / ROOT_3)
    ports = [ufloat(0.0, offset / ROOT_3) for _ in range(3)]
    table = ufloat(1.0, 0.05 / 2)
    taps = [ufloat(1.0, 0.02 / 2) for _ in CURVES]
    exponent = ufloat(2.0, 0.2 / 2)
    printed = ufloat(1.0, 0.10 / 2)
    before, after = 0.28 * gain + ports[0], 0.42 * gain + ports[1]
    tesp = before + after
    now = wrap(read)(table * taps[3], printed, tesp)
    each = [crossing(tap)(table * taps[tap], printed, now, tesp, exponent) for tap in range(5)]
    # A third port before the filter, −0.12: grille and duct are one lump, the filter stands alone with its own exponent. It is halved, give or take what a change is off by.
    third = 0.12 * gain + ports[2]
    halved = 1 - 0.5 * ufloat(1.0, change / 2)
    filter_n = 1 / 0.85 + (exponent - 2)
    parts = [third, exponent, (before - third) * halved, filter_n, after, exponent]
    mended = crossing(3)(table * taps[3], printed, now, *parts)
    return {
        "tesp": [tesp.n, 2 * tesp.s],
        "now": [now.n, 2 * now.s],
        "taps": [[one.n, 2 * one.s] for one in each],
        "gains": [[(one - now).n, 2 * (one - now).s] for one in each],
        "filter_halved": [mended.n, 2 * mended.s],
        "filter_halved_gain": [(mended - now).n, 2 * (mended - now).s],
    }


def gum_h2():
    """JCGM 100:2008, H.2: resistance, reactance and impedance from five sets of simultaneous observations of V, I and phase."""
    volts = [5.007, 4.994, 5.005, 4.990, 4.999]
    milliamps = [19.663, 19.639, 19.640, 19.685, 19.678]
    phase = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433]
    seen = numpy.array([volts, [1e-3 * one for one in milliamps], phase])
    v, i, phi = correlated_values(seen.mean(axis=1), numpy.cov(seen) / seen.shape[1])
    r, x, z = v / i * umath.cos(phi), v / i * umath.sin(phi), v / i
    return {
        "observed": seen.T.tolist(),
        "results": [[one.n, one.s] for one in (r, x, z)],
        "correlation": numpy.array(correlation_matrix([r, x, z])).tolist(),
    }


meta = {"uncertainties": uncertainties.__version__, "scipy": scipy.__version__, "numpy": numpy.__version__}
with open("propagation_uncertainties.json", "w", encoding="utf-8") as file:
    cases = {"demo": demo(0.01, 0.01, 0.25), "coarse": demo(0.08, 0.001, 0.02)}
    json.dump({"meta": meta, **cases, "gum_h2": gum_h2()}, file, indent=1)
    file.write("\n")
