"""W. Baarda, A testing procedure for use in geodetic networks, 1968: limits of w, the findable shift; chi-square tables.

Chi-square values are those of any printed table (three decimals); they were checked with an independent program too.
"""

from __future__ import annotations

import numpy as np
import pytest

from crownwright.survey.chances import chi_square_above, chi_square_limit, findable_shift, w_limit
from crownwright.survey.network import Distances, adjust_distances


def test_limits_of_w(theirs) -> None:
    theirs("limit of |w| at 0.001", 3.29, w_limit(0.001), tol=0.005)
    theirs("limit of |w| at 0.01", 2.576, w_limit(0.01), tol=5e-4)
    theirs("limit of |w| at 0.05", 1.96, w_limit(0.05), tol=0.005)
    theirs("shift found with power 0.80 at 0.001", 4.132, findable_shift(), tol=5e-4)
    theirs("its square", 17.07, findable_shift() ** 2, tol=0.01)


def test_chi_square_tables(theirs) -> None:
    table = {
        (1, 0.05): 3.841, (2, 0.05): 5.991, (3, 0.05): 7.815, (6, 0.05): 12.592, (14, 0.05): 23.685,
        (1, 0.025): 5.024, (2, 0.025): 7.378, (3, 0.025): 9.348, (6, 0.025): 14.449, (14, 0.025): 26.119,
        (3, 0.975): 0.2158, (6, 0.975): 1.237, (14, 0.975): 5.629,
    }  # fmt: skip
    for (freedom, chance), value in table.items():
        digits = 4 if value < 1 else 3
        ours = chi_square_limit(freedom, chance)
        theirs(f"chi-square, {freedom} degrees of freedom, {chance}", value, ours, tol=0.6 * 10**-digits)


def test_chi_square_against_scipy() -> None:
    """Independent program: scipy.stats.chi2, over the whole range in use."""
    from scipy.stats import chi2

    for freedom in (1, 2, 3, 7, 20, 99, 300):
        for x in np.linspace(0.1, 4, 9) * freedom:
            assert chi_square_above(float(x), freedom) == pytest.approx(chi2.sf(x, freedom), rel=1e-9, abs=1e-12)
    # beyond the sums the cube root takes over: four digits there
    assert chi_square_limit(2000, 0.01) == pytest.approx(chi2.isf(0.01, 2000), rel=2e-4)


def test_braced_quadrilateral_sees_and_does_not_locate(theirs) -> None:
    """Four sides and two diagonals of a square, equal weights: one degree of freedom, redundancy 1/6 of each on the average."""
    square = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])
    start, end = np.array([0, 1, 2, 3, 0, 1]), np.array([1, 2, 3, 0, 2, 3])
    reads = np.hypot(*(square[end] - square[start]).T)
    reads[3] += 0.01
    _, fit = adjust_distances(square, Distances(start, end, reads, np.full(6, 0.001)))
    theirs("mean redundancy of a braced quadrilateral", 1 / 6, float(fit.redundancy.mean()), tol=1e-9, grade="derived")
    assert np.abs(fit.w) == pytest.approx(np.abs(fit.w[0]), rel=1e-2)
    # 10.1 standard errors at the mean redundancy
    theirs("slip findable at redundancy 1/6, in standard errors", 10.1, findable_shift() * 6**0.5, tol=0.05, grade="derived")
