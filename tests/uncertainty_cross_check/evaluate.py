"""Evaluates the cases on stdin with two general-purpose uncertainty libraries and prints what they find, as JSON.

A case is {"kind", "inputs": [{"value", "u", "dof"}], "constants": [...]}; dof is null for infinitely many. Only the formulas are
written here: derivatives, combination and degrees of freedom are the libraries' own.
"""

import json
import math
import sys

import GTC
import uncertainties
from scipy import stats
from uncertainties import umath


def budget(x, constants, _):
    return sum(c * xi for c, xi in zip(constants, x))


def difference_of_means(x, _constants, _):
    return (x[0] + x[1]) / 2 - (x[2] + x[3]) / 2


def lateral_offset(x, constants, _):
    return (x[0] ** 2 - x[1] ** 2) / (4 * constants[0])


def angle_over_base(x, _constants, m):
    return m.atan(x[0] / x[1]) * (180 / math.pi)


def level_distance(x, constants, m):
    length, height, temperature = x
    expansion, standard = constants
    return m.sqrt(length**2 - height**2) * (1 + expansion * (temperature - standard))


def reversal(x, _constants, _):
    return (x[0] - x[1]) / 2


KINDS = {f.__name__: f for f in (budget, difference_of_means, lateral_offset, angle_over_base, level_distance, reversal)}


def evaluate(case):
    formula, inputs, constants = KINDS[case["kind"]], case["inputs"], case["constants"]
    by_uncertainties = formula([uncertainties.ufloat(i["value"], i["u"]) for i in inputs], constants, umath)
    known = [math.inf if i["dof"] is None else i["dof"] for i in inputs]
    by_gtc = formula([GTC.ureal(i["value"], i["u"], dof) for i, dof in zip(inputs, known)], constants, GTC)
    dof = by_gtc.df
    whole = math.inf if math.isinf(dof) else float(max(1, math.floor(dof)))
    return {
        "value": [by_uncertainties.nominal_value, by_gtc.x],
        "u": [by_uncertainties.std_dev, by_gtc.u],
        "dof": None if math.isinf(dof) else dof,
        "k95": float(stats.t.ppf(0.975, whole)),
    }


json.dump([evaluate(case) for case in json.load(sys.stdin)], sys.stdout)
