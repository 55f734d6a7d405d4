"""A plane network of distances between points: fixed by holding points, or free with inner constraints."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from crownwright.survey.least_squares import Array, Fit, Model, fit

Rows = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Distances:
    """Distances (n,) with standard errors (n,) between points given by their rows ``start`` and ``end`` (n,)."""

    start: Rows
    end: Rows
    reads: Array
    sd: Array


def adjust_distances(points: Array, distances: Distances, held: NDArray[np.bool_] | None = None) -> tuple[Array, Fit]:
    """Adjust a plane network of distances.

    Args:
        points: (m,2) coordinates: exact for held points, near the answer for the others.
        distances: what was measured.
        held: (m,) points that do not move. None: a free network, no point held, moved least as a whole.

    Returns:
        The adjusted points (m,2) and the `Fit`, whose parameters are x, y of the points that may move, in their order.

    Raises:
        LooseError: the distances do not hold the points.

    References:
        Strang and Borre 1997, ch. 10 (fixed) and 12.4 (free); Ghilani 2010, ch. 14.
    """
    points = np.asarray(points, dtype=float)
    moving = np.ones(len(points), dtype=bool) if held is None else ~held
    # far from the origin (national grids) the digits go to the coordinates: work from the centre
    centre = points.mean(axis=0)
    local = points - centre

    def place(x: Array) -> Array:
        out: Array = local.copy()
        out[moving] = x.reshape(-1, 2)
        return out

    result = fit(
        _distance_model(place, distances, moving),
        local[moving].ravel(),
        distances.reads,
        distances.sd,
        inner_constraints if held is None else None,
    )
    return place(result.estimate) + centre, result


def _distance_model(place: Callable[[Array], Array], distances: Distances, moving: NDArray[np.bool_]) -> Model:
    column = np.cumsum(moving) - 1
    rows = np.arange(len(distances.reads))

    def model(x: Array) -> tuple[Array, Array]:
        at = place(x)
        length, unit = lengths_and_directions(at[distances.start], at[distances.end])
        slope = np.zeros((len(rows), len(x)))
        for point, sign in ((distances.start, -1.0), (distances.end, 1.0)):
            on = moving[point]
            for axis in (0, 1):
                slope[rows[on], 2 * column[point[on]] + axis] += sign * unit[on, axis]
        return length, slope

    return model


def lengths_and_directions(start: Array, end: Array) -> tuple[Array, Array]:
    """Lengths (n,) and unit vectors (n,2) from start (n,2) to end (n,2); points that coincide get direction 0."""
    away = end - start
    length = np.hypot(away[:, 0], away[:, 1])
    return length, away / np.where(length > 0, length, 1.0)[:, None]


def inner_constraints(x: Array) -> Array:
    """Directions (2m,3), orthonormal, in which a plane network of distances moves as a whole: two shifts and a turn.

    >>> g = inner_constraints(np.array([0.0, 0.0, 2.0, 0.0, 0.0, 1.0]))
    >>> bool(np.allclose(g.T @ g, np.eye(3)))
    True
    """
    points = x.reshape(-1, 2)
    away = points - points.mean(axis=0)
    directions = np.zeros((len(x), 3))
    directions[0::2, 0] = 1.0
    directions[1::2, 1] = 1.0
    directions[0::2, 2], directions[1::2, 2] = -away[:, 1], away[:, 0]
    return np.asarray(directions / np.linalg.norm(directions, axis=0))
