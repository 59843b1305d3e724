"""Solves the networks on stdin with scipy.optimize.least_squares and prints what it finds, as JSON.

A case is {"readings": [{"kind", "points": [[assembly, x, y, z], ...], "along", "value", "sigma"}], "turn", "shift", "level_known"}:
assembly 0 holds still, 1 moves. The unknowns are a rotation vector relative to the rotation matrix "turn", the shift of the moving
assembly's origin, slope and roll of the still one to level (unless known to be none), and the height of a level plane where one is
read from. Everything starts as drawn. Model and derivatives (complex steps, exact to rounding) are written here for whole arrays;
the solver is scipy's, and so is the clock's time: that of least_squares and of the covariance alone.
"""

import json
import sys
import time

import numpy as np
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

COUNT = {"distance": 2, "slope": 2, "relative": 4, "roll": 2, "height": 1, "rise": 2, "string": 3, "gap": 2, "difference": 4, "plumb": 2}


def dot(a, b):
    return np.einsum("...i,...i->...", a, b)


def length(a):
    # No norm: it is not analytic, and complex steps need that.
    return np.sqrt(dot(a, a))


class Problem:
    def __init__(self, case):
        readings = case["readings"]
        self.turn, self.level_known = np.array(case["turn"]), case["level_known"]
        self.value = np.array([r["value"] for r in readings])
        self.sigma = np.array([r["sigma"] for r in readings])
        self.has_plane = any(r["kind"] == "height" for r in readings)
        points = np.array([p for r in readings for p in r["points"]])
        self.moving, self.local = points[:, :1] == 1, points[:, 1:]
        first = np.cumsum([0] + [len(r["points"]) for r in readings])
        # For each kind: which rows, which points (one column for each of the kind's points), which directions.
        self.kinds = {}
        for kind, count in COUNT.items():
            rows = [i for i, r in enumerate(readings) if r["kind"] == kind]
            if rows:
                at = np.array([[first[i] + k for k in range(count)] for i in rows])
                along = np.array([readings[i]["along"] or [0, 0, 0] for i in rows])
                self.kinds[kind] = rows, at, along
        self.unknowns = 6 + (0 if self.level_known else 2) + int(self.has_plane)

    def computed(self, x):
        """x: one row for each point of evaluation."""
        v, shift = x[:, :3] / 2, x[:, 3:6]
        cross = np.zeros((len(x), 3, 3), x.dtype)
        cross[:, 0, 1], cross[:, 0, 2], cross[:, 1, 2] = -v[:, 2], v[:, 1], -v[:, 0]
        cross -= np.transpose(cross, (0, 2, 1))
        vv = dot(v, v)[:, None, None]
        # The rotation of the quaternion (1, w/2): to first order that of the rotation vector w.
        rotation = ((1 - vv) * np.eye(3) + 2 * v[:, :, None] * v[:, None, :] + 2 * cross) / (1 + vv) @ self.turn
        q = np.where(self.moving, self.local @ np.transpose(rotation, (0, 2, 1)) + shift[:, None, :], self.local)
        tilt = np.zeros((len(x), 2), x.dtype) if self.level_known else x[:, 6:8]
        up = np.stack([np.sin(tilt[:, 0]), -np.sin(tilt[:, 1])], axis=1)
        up = np.concatenate([up, np.sqrt(1 - dot(up, up))[:, None]], axis=1)[:, None, :]
        out = np.empty((len(x), len(self.value)), x.dtype)

        def slope(a, b):
            return np.arcsin(dot(b - a, up) / length(b - a))

        for kind, (rows, at, along) in self.kinds.items():
            p = [q[:, at[:, k]] for k in range(at.shape[1])]
            if kind == "distance":
                out[:, rows] = length(p[1] - p[0])
            elif kind == "slope":
                out[:, rows] = slope(p[0], p[1])
            elif kind == "relative":
                out[:, rows] = slope(p[2], p[3]) - slope(p[0], p[1])
            elif kind == "roll":
                out[:, rows] = -slope(p[0], p[1])
            elif kind == "height":
                out[:, rows] = dot(p[0], up) - x[:, -1:]
            elif kind == "rise":
                out[:, rows] = dot(p[1] - p[0], up)
            elif kind == "string":
                right = np.cross(up, p[2] - p[1])
                out[:, rows] = dot(p[0] - p[1], right) / length(right)
            elif kind == "gap":
                out[:, rows] = dot(p[1] - p[0], along)
            elif kind == "difference":
                out[:, rows] = length(p[1] - p[0]) - length(p[3] - p[2])
            elif kind == "plumb":
                level = along - up * dot(along, up)[..., None]
                out[:, rows] = dot(p[1] - p[0], level) / length(level)
        return out

    def residuals(self, x):
        return (self.computed(x[None])[0] - self.value) / self.sigma

    def jacobian(self, x):
        h = 1e-30
        return (self.computed(x[None] + 1j * h * np.eye(len(x))).imag / h / self.sigma).T


def solve(case):
    problem = Problem(case)
    start = np.zeros(problem.unknowns)
    quaternion = Rotation.from_matrix(problem.turn).inv().as_quat()
    start[:3] = 2 * quaternion[:3] / quaternion[3]
    begin = time.perf_counter()
    found = least_squares(problem.residuals, start, problem.jacobian, method="lm", xtol=1e-15, ftol=1e-15, gtol=1e-15)
    covariance = np.linalg.inv(found.jac.T @ found.jac)
    seconds = time.perf_counter() - begin
    # A few last steps: the tolerances of the solver end at 1e-8 of a standard deviation or so.
    x = found.x
    for _ in range(3):
        x = x - np.linalg.lstsq(problem.jacobian(x), problem.residuals(x), rcond=None)[0]
    jacobian = problem.jacobian(x)
    triangle = np.linalg.inv(np.linalg.qr(jacobian, mode="r"))
    return {
        "unknowns": x.tolist(),
        "covariance": (triangle @ triangle.T).tolist(),
        "redundancy": (1 - np.sum((jacobian @ triangle) ** 2, axis=1)).tolist(),
        "seconds": seconds,
    }


json.dump([solve(case) for case in json.load(sys.stdin)], sys.stdout)
