"""G. Strang and K. Borre, Linear Algebra, Geodesy, and GPS, Wellesley-Cambridge Press 1997: the three- and six-distance networks.

Expected values are those of the book as quoted in public collections of worked networks; metres and millimetres as there.
"""

from __future__ import annotations

import numpy as np
import pytest

from crownwright.survey.network import Distances, adjust_distances

POINTS = np.array([(170.71, 270.71), (100.0, 100.0), (241.42, 100.0), (170.71, 170.71)])  # 1, 2, 3, P
TIES = [(0, 3, 100.01), (1, 3, 100.02), (2, 3, 100.03)]
SIDES = [(0, 1, 184.785), (1, 2, 141.44), (0, 2, 184.805)]
DIGIT = 6e-7  # half of the last digit printed, a micrometre
THREE = 6e-4  # redundancy numbers are quoted to three decimals


def distances(rows: list[tuple[int, int, float]]) -> Distances:
    start, end, reads = zip(*rows, strict=True)
    return Distances(np.array(start), np.array(end), np.array(reads), np.ones(len(rows)))


def test_fixed_network(theirs) -> None:
    """Section 10.1: P tied to three known points."""
    at, fit = adjust_distances(POINTS, distances(TIES), held=np.array([True, True, True, False]))
    theirs("x of P, three points held", 170.702925, at[3, 0], unit="m", tol=DIGIT, place="section 10.1")
    theirs("y of P, three points held", 170.723357, at[3, 1], unit="m", tol=DIGIT, place="section 10.1")
    theirs("standard error of unit weight", 33.03, fit.unit_sd * 1000, unit="mm", tol=0.005, place="section 10.1")
    for k, r in enumerate((0.5, 0.25, 0.25)):
        theirs(f"redundancy of tie {k + 1}", r, fit.redundancy[k], tol=THREE, place="section 10.1")


def test_free_network(theirs) -> None:
    """Section 12.4: the same with three sides more, no point held."""
    at, fit = adjust_distances(POINTS, distances([*TIES, *SIDES]))
    printed = [(170.703203, 270.721332), (99.991212, 99.997140), (241.433319, 99.982998), (170.712266, 170.718530)]
    for name, (x, y), ours in zip("123P", printed, at, strict=True):
        theirs(f"x of {name}, free network", x, ours[0], unit="m", tol=DIGIT, place="section 12.4")
        theirs(f"y of {name}, free network", y, ours[1], unit="m", tol=DIGIT, place="section 12.4")
    theirs("standard error of unit weight, free", 11.764, fit.unit_sd * 1000, unit="mm", tol=5e-4, place="section 12.4")
    for k, r in enumerate((0.374, 0.187, 0.187, 0.110, 0.032, 0.110)):
        theirs(f"redundancy of distance {k + 1}, free", r, fit.redundancy[k], tol=THREE, place="section 12.4")
    assert fit.freedom == 1
    assert fit.redundancy.sum() == pytest.approx(1.0)


def test_one_degree_of_freedom_names_nobody() -> None:
    """With one reading more than needed every |w| is the same: a slip is seen and not located."""
    _, fit = adjust_distances(POINTS, distances([*TIES, *SIDES]))
    assert np.abs(fit.w) == pytest.approx(np.abs(fit.w[0]), rel=1e-6)
