"""C. D. Ghilani, Adjustment Computations, 5th edition, Wiley 2010: the braced quadrilateral of examples 14.5 and 19.3.

The start given in the book for Campus (2416898.227, 387602.294) is a misprint noted by Krumm; the one used here is his. One
distance is printed 5870.302 in the book; Krumm's data file has 5870.640, "supposed blunder eliminated": both are tried.
"""

from __future__ import annotations

import numpy as np
import pytest

from crownwright.survey.chances import chi_square_limit
from crownwright.survey.network import Distances, adjust_distances

NAMES = ("Badger", "Bucky", "Wisconsin", "Campus")
POINTS = np.array([(2410000.000, 390000.000), (2411820.000, 386881.222), (2415776.819, 391043.461), (2416892.670, 387603.450)])
START, END = np.array([0, 0, 2, 2, 3]), np.array([2, 3, 3, 1, 1])
READS = np.array([5870.302, 7297.588, 3616.434, 5742.878, 5123.760])
HELD = np.array([True, True, False, False])


def test_braced_quadrilateral(theirs) -> None:
    at, fit = adjust_distances(POINTS, Distances(START, END, READS, np.full(5, 0.01)), HELD)
    place = "examples 14.5, 19.3"
    printed = {"Wisconsin": (2415776.904378, 391043.294493), "Campus": (2416892.695516, 387603.255128)}
    for name, (x, y) in printed.items():
        ours = at[NAMES.index(name)]
        # half of the last digit printed and as much for the rounding of coordinates of seven places before the point
        theirs(f"easting of {name}", x, ours[0], unit="m", tol=1e-6, place=place)
        theirs(f"northing of {name}", y, ours[1], unit="m", tol=1e-6, place=place)
    for k, v in enumerate((0.0547, -0.0790, 0.0368, -0.0616, 0.0639)):
        theirs(f"residual {k + 1}", v, fit.residual[k], unit="m", tol=6e-5, place=place)
    for k, r in enumerate((0.162, 0.338, 0.073, 0.206, 0.221)):
        theirs(f"redundancy {k + 1}", r, fit.redundancy[k], tol=6e-4, place=place)
    theirs("sum of squares of residuals", 0.0184703, float(fit.residual @ fit.residual), unit="m2", tol=6e-8, place=place)
    theirs("standard error of unit weight", 0.13591, fit.unit_sd * 0.01, unit="m", tol=6e-6, place=place)
    # the book's remark: it fails the chi-square test
    assert fit.statistic > chi_square_limit(fit.freedom, 0.025)


def test_the_blunder_taken_out_closes_and_any_one_could_be_blamed() -> None:
    cured = READS.copy()
    cured[0] = 5870.640
    _, fit = adjust_distances(POINTS, Distances(START, END, cured, np.full(5, 0.01)), HELD)
    assert np.abs(fit.residual).max() < 1e-4
    # with one degree of freedom the five |w| agree, so the tests alone cannot say that it was this one
    _, raw = adjust_distances(POINTS, Distances(START, END, READS, np.full(5, 0.01)), HELD)
    assert np.abs(raw.w) == pytest.approx(np.abs(raw.w[0]), rel=1e-6)
