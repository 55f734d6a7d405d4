"""Prismoids worked by hand: L/6 (A1 + 4 Am + A2) against closed meshes.

Derived. A frustum from 80 to 28.8 sq ft, 5 ft high, mid area 51.2 (its sides are 1 and 0.6 of each other), gives 5/6 (80 + 204.8
+ 28.8) = 261.333. A hollow of bilinear depth over a rectangle is area times the mean of its four corners.
"""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt

import numpy as np

from crownwright.geometry.solid import Solid
from crownwright.geometry.surface import integral


def box(side: float, level: float) -> np.ndarray:
    return np.array([(-side, -side, level), (side, -side, level), (side, side, level), (-side, side, level)]) / np.array(
        [2, 2, 1]
    )


def test_frustum(theirs: Callable[..., None]) -> None:
    points = np.vstack([box(sqrt(80.0), 0.0), box(sqrt(28.8), 5.0)])
    sides = [t for i in range(4) for t in ((i, (i + 1) % 4, i + 4), ((i + 1) % 4, (i + 1) % 4 + 4, i + 4))]
    solid = Solid("frustum", points, np.array([*sides, (0, 2, 1), (0, 3, 2), (4, 5, 6), (4, 6, 7)]))
    assert solid.closed
    theirs("frustum 80 to 28.8 sq ft, 5 ft high", 261.333, solid.volume, unit="cu ft", tol=5e-4, grade="derived")


def test_a_plane_over_a_grid_is_exact(theirs: Callable[..., None]) -> None:
    plan = np.array([(0.0, 0), (10, 0), (10, 6), (0, 6)])
    points = np.column_stack([plan, 1 + 0.2 * plan[:, 0] + 0.1 * plan[:, 1]])  # corners 1, 3, 3.6, 1.6: mean 2.3
    ours = integral(points, np.array([(0, 1, 2), (0, 2, 3)]))
    theirs("plane over a rectangle, A (h1 + h2 + h3 + h4)/4", 138.0, ours, unit="cu ft", tol=1e-9, grade="derived")


def test_a_bilinear_patch_is_the_mean_of_its_two_triangulations(theirs: Callable[..., None]) -> None:
    points = np.array([(0.0, 0, 1), (10, 0, 4), (10, 6, 2), (0, 6, 3)])
    one, other = (integral(points, np.array(t)) for t in ([(0, 1, 2), (0, 2, 3)], [(0, 1, 3), (1, 2, 3)]))
    theirs("bilinear patch", 60 * (1 + 4 + 2 + 3) / 4, (one + other) / 2, unit="cu ft", tol=1e-9, grade="derived")
