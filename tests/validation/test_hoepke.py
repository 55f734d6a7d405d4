"""W. Höpke, Fehlerlehre und Ausgleichsrechnung, de Gruyter 1980: the free distance network "Sattenhausen".

27 distances between 8 points. The book's list prints 1789.499 for 1059-75 where 1789.449 belongs: a true slip of 50 mm, and so a
test of finding one.
"""

from __future__ import annotations

import numpy as np
import pytest

from crownwright.survey.chances import w_limit
from crownwright.survey.least_squares import Fit
from crownwright.survey.network import Distances, adjust_distances

POINTS = {
    "20": (3579041.416, 5707194.412), "75": (3575403.277, 5707682.612), "86": (3575322.061, 5708700.952),
    "87": (3576581.778, 5709938.106), "1006": (3578284.289, 5708758.641), "1011": (3577052.332, 5708103.204),
    "1059": (3576852.894, 5706633.642), "1087": (3576213.699, 5709199.889),
}  # fmt: skip
DISTANCES = """86-1006 2962.832; 86-87 1765.657; 86-1087 1021.768; 86-75 1021.536; 86-1011 1830.646; 86-20 4012.921;
86-1059 2572.516; 1087-87 824.863; 1087-20 3466.722; 1087-1059 2644.789; 1087-75 1720.130; 1087-1006 2117.134;
1087-1011 1380.633; 1006-75 3075.373; 1006-20 1737.824; 1006-1059 2562.134; 1006-1011 1395.459; 1006-87 2071.154;
1011-87 1894.263; 1011-75 1701.824; 1011-1059 1483.088; 1011-20 2186.853; 1059-20 2259.167; 1059-75 1789.449;
1059-87 3315.630; 20-87 3684.782; 20-75 3670.735"""
ROWS = [(*pair.split("-"), float(reads)) for pair, reads in (item.split() for item in DISTANCES.split(";"))]
SUSPECT = next(k for k, (a, b, _) in enumerate(ROWS) if (a, b) == ("1059", "75"))


def adjusted(slip: float, sd: float) -> tuple[np.ndarray, Fit]:
    row = {name: k for k, name in enumerate(POINTS)}
    reads = np.array([d for _, _, d in ROWS])
    reads[SUSPECT] += slip
    start, end = np.array([row[a] for a, _, _ in ROWS]), np.array([row[b] for _, b, _ in ROWS])
    return adjust_distances(np.array(list(POINTS.values())), Distances(start, end, reads, np.full(len(ROWS), sd)))


def test_free_network(theirs) -> None:
    at, fit = adjusted(0.0, 1.0)
    theirs("degrees of freedom", 14, fit.freedom, tol=0)
    theirs("sum of squares of residuals", 343.64, fit.statistic * 1e6, unit="mm2", tol=0.005)
    theirs("standard error of unit weight", 4.954, fit.unit_sd * 1000, unit="mm", tol=5e-4)
    theirs("easting of 20", 3579041.404217, at[0, 0], unit="m", tol=1e-6)
    theirs("northing of 20", 5707194.403921, at[0, 1], unit="m", tol=1e-6)
    studentised = np.abs(fit.residual) / (fit.unit_sd * np.sqrt(fit.redundancy))
    theirs("greatest residual over its standard error", 2.532, studentised.max(), tol=5e-4)
    assert ROWS[int(studentised.argmax())][:2] == ("1087", "20")


def test_the_misprint_is_found_and_measured(theirs) -> None:
    _, fit = adjusted(0.050, 0.005)
    theirs("standard error of unit weight with the misprint", 10.41, fit.unit_sd * 5, unit="mm", tol=0.005)
    order = np.argsort(-np.abs(fit.w))
    assert order[0] == SUSPECT
    for k, w in enumerate((6.85, 4.80, 3.40)):
        theirs(f"|w|, number {k + 1} in size", w, abs(fit.w[order[k]]), tol=0.005, grade="derived")
    assert abs(fit.w[SUSPECT]) > w_limit(0.001)
    theirs("redundancy of 1059-75", 0.467, fit.redundancy[SUSPECT], tol=5e-4, grade="derived")
    # the true slip is 50 mm; estimated from this reading's own residual
    slip = -fit.residual[SUSPECT] / fit.redundancy[SUSPECT] * 1000
    theirs("slip estimated", 50.1, slip, unit="mm", tol=0.05, grade="derived")
    assert slip == pytest.approx(50.0, abs=5 / np.sqrt(0.467))
