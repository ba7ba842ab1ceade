"""Rows of reference for src/numerics/homography.rs: the map of a plane that takes four points to four others.

The eight equations are those that OpenCV's documentation gives for getPerspectiveTransform
(https://docs.opencv.org/4.x/da/d54/group__imgproc__transform.html); numpy solves them.
Run: python3 tests/reference/homography.py
"""
import numpy as np


def between(source, target):
    rows, right = [], []
    for (x, y), (u, v) in zip(source, target):
        rows += [[x, y, 1, 0, 0, 0, -x * u, -y * u], [0, 0, 0, x, y, 1, -x * v, -y * v]]
        right += [u, v]
    return np.append(np.linalg.solve(np.array(rows, float), np.array(right, float)), 1.0).reshape(3, 3)


def taken(matrix, point):
    u, v, w = matrix @ np.array([*point, 1.0])
    return u / w, v / w


CASES = [
    ([(0, 0), (1, 0), (1, 1), (0, 1)], [(10, 20), (110, 20), (110, 220), (10, 220)], (0.25, 0.75)),
    ([(102, 87), (1841, 203), (1702, 1190), (211, 1304)], [(0, 0), (1, 0), (1, 1), (0, 1)], (900.5, 640.25)),
    ([(102, 87), (1841, 203), (1702, 1190), (211, 1304)], [(0, 0), (1, 0), (1, 1), (0, 1)], (1841, 1304)),
    ([(0, 0), (4000, 300), (3600, 2900), (250, 2500)], [(0, 0), (1600, 0), (1600, 900), (0, 900)], (2000, 1500)),
]

for source, target, point in CASES:
    u, v = taken(between(source, target), point)
    print(f"({source}, {target}, {point}) -> ({u:.15g}, {v:.15g})")
