"""Writes friction_fluids.json: friction of round ducts over a grid of sizes, airflows and roughness by `fluids`.

Run it from this folder: python make_friction.py
It needs fluids; the versions are written into the file.
"""

import json
import math
import platform

import fluids
from fluids.atmosphere import ATMOSPHERE_1976
from fluids.fittings import bend_miter, bend_rounded, contraction_sharp, diffuser_sharp
from fluids.friction import Colebrook, friction_laminar

DENSITY = 0.075 * 0.45359237 / 0.3048**3
KINEMATIC_VISCOSITY = 1.0 / 66_400.0
PA_PER_IN_WC = 249.08891
CUBIC_METRE_A_SECOND_PER_CFM = 0.3048**3 / 60.0
LAMINAR_UP_TO = 2300.0
TURBULENT_FROM = 4000.0

DIAMETERS_IN = [4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20, 24, 30, 36]
AIRFLOWS_CFM = [20, 35, 60, 100, 150, 250, 400, 600, 800, 1000, 1200, 1600, 2000, 3000, 4500, 6000]
ROUGHNESS_FT = [5e-6, 5e-5, 0.00015, 0.0003, 0.0005, 0.001, 0.003, 0.005, 0.01]


def row(diameter_in, cfm, roughness_ft):
    """Reynolds number, friction factor (nothing between laminar and turbulent) and drop of 100 ft."""
    diameter = diameter_in * 0.0254
    velocity = cfm * CUBIC_METRE_A_SECOND_PER_CFM / (math.pi / 4.0 * diameter**2)
    reynolds = velocity * diameter / KINEMATIC_VISCOSITY
    if reynolds <= LAMINAR_UP_TO:
        factor = friction_laminar(reynolds)
    elif reynolds >= TURBULENT_FROM:
        factor = Colebrook(reynolds, roughness_ft * 0.3048 / diameter)
    else:
        return None
    pascals = factor * 30.48 / diameter * DENSITY * velocity**2 / 2.0
    return [diameter_in, cfm, roughness_ft, reynolds, factor, pascals / PA_PER_IN_WC]


def main():
    grid = [(d, q, e) for d in DIAMETERS_IN for q in AIRFLOWS_CFM for e in ROUGHNESS_FT]
    rows = [found for found in (row(*point) for point in grid) if found]
    bends = [
        [angle, radius, factor, bend_rounded(Di=1.0, angle=angle, fd=factor, bend_diameters=radius)]
        for angle in (30.0, 45.0, 90.0, 180.0)
        for radius in (0.5, 0.75, 1.0, 1.5, 2.0, 5.0)
        for factor in (0.014, 0.02, 0.04)
    ]
    ratios = [0.3, 0.5, 0.6, 0.7071, 0.8, 0.9, 0.99]
    document = {
        "meta": {
            "made_by": "make_friction.py",
            "fluids": fluids.__version__,
            "python": platform.python_version(),
            "density_kg_m3": DENSITY,
            "kinematic_viscosity_m2_s": KINEMATIC_VISCOSITY,
            "columns": ["diameter, in", "airflow, cfm", "roughness, ft", "Re", "f", "in. w.c. a 100 ft"],
        },
        "friction": rows,
        "bends": bends,
        "mitres": [[angle, bend_miter(angle=angle, method="Rennels")] for angle in (15.0, 30.0, 45.0, 60.0, 90.0)],
        "contractions": [[ratio, contraction_sharp(Di1=1.0, Di2=ratio)] for ratio in ratios],
        "enlargements": [[ratio, diffuser_sharp(Di1=ratio, Di2=1.0)] for ratio in ratios],
        "viscosities": [[c, ATMOSPHERE_1976.viscosity(c + 273.15)] for c in (-30.0, 0.0, 13.0, 20.0, 35.0, 60.0, 80.0)],
    }
    sections = [
        f"{json.dumps(name)}: [\n" + ",\n".join(json.dumps(line) for line in lines) + "\n]"
        for name, lines in document.items()
        if name != "meta"
    ]
    head = f'"meta": {json.dumps(document["meta"])}'
    with open("friction_fluids.json", "w", encoding="utf-8") as file:
        file.write("{\n" + ",\n".join([head, *sections]) + "\n}\n")


if __name__ == "__main__":
    main()
