"""E. M. Mikhail and F. Ackermann, Observations and Least Squares, IEP 1976: example 9.1, a point tied to three known ones."""

from __future__ import annotations

import numpy as np

from crownwright.survey.least_squares import fit
from crownwright.survey.network import Distances, adjust_distances, lengths_and_directions

POINTS = np.array([(0.0, 5.0), (0.0, 0.0), (5.0, 0.0), (5.0, 5.0)])  # P, O, Q and R near its place
TIES = Distances(np.array([3, 3, 3]), np.array([0, 1, 2]), np.array([5.10, 7.07, 4.90]), np.ones(3))


def test_converged(theirs) -> None:
    at, _ = adjust_distances(POINTS, TIES, held=np.array([True, True, True, False]))
    theirs("x of R", 5.098615, at[3, 0], tol=6e-7, place="example 9.1")
    theirs("y of R", 4.898630, at[3, 1], tol=6e-7, place="example 9.1")


def test_first_pass(theirs) -> None:
    """One step from (5, 5), with the inverse of the normal equations there."""

    def model(x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        length, unit = lengths_and_directions(POINTS[:3], np.tile(x, (3, 1)))
        return length, unit

    first = fit(model, np.array([5.0, 5.0]), TIES.reads, TIES.sd, most_steps=1)
    theirs("x of R after one step", 5.09962, first.estimate[0], tol=6e-6, place="example 9.1")
    theirs("y of R after one step", 4.89962, first.estimate[1], tol=6e-6, place="example 9.1")
    slope = model(np.array([5.0, 5.0]))[1]
    inverse = np.linalg.inv(slope.T @ slope)
    for (i, j), value in {(0, 0): 0.75, (0, 1): -0.25, (1, 1): 0.75}.items():
        theirs(f"inverse of the normal equations {i + 1},{j + 1}", value, inverse[i, j], tol=1e-12, place="example 9.1")
