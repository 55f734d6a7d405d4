"""Convex hulls and supports: how far a set of points reaches in a direction."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def convex_hull(points: Array) -> Array:
    """Corners (k,2) of the convex hull, counter-clockwise from the lowest left; points on its sides are left out.

    Andrew's monotone chain (A. M. Andrew, 1979). One or two different points come back as they are.

    >>> convex_hull(np.array([(0, 0), (2, 0), (1, 0.5), (2, 2), (0, 2.0)])).tolist()
    [[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]]
    """
    ordered = np.unique(np.asarray(points, dtype=float), axis=0)
    if len(ordered) < 3:
        return ordered
    rows = ordered.tolist()
    lower, upper = _chain(rows), _chain(rows[::-1])
    return np.array(lower[:-1] + upper[:-1])


def _chain(rows: list[list[float]]) -> list[list[float]]:
    chain: list[list[float]] = []
    for x, y in rows:
        while len(chain) > 1 and _left(chain[-2], chain[-1], x, y) <= 0:
            chain.pop()
        chain.append([x, y])
    return chain


def _left(p: list[float], q: list[float], x: float, y: float) -> float:
    return (q[0] - p[0]) * (y - p[1]) - (q[1] - p[1]) * (x - p[0])


def support(points: Array, normals: Array) -> Array:
    """How far points (n,2) reach along unit ``normals`` (..., 2): the greatest dot product, shape (...).

    >>> support(np.array([(0.0, 0.0), (3.0, 1.0)]), np.array([(1.0, 0.0), (0.0, 1.0)])).tolist()
    [3.0, 1.0]
    """
    return np.asarray((normals @ points.T).max(-1))


def frame(turn: float) -> Array:
    """Rows u and v of a frame turned by ``turn`` (rad): ``points @ frame(turn).T`` are their (u, v) in it.

    >>> frame(0.0).tolist()
    [[1.0, 0.0], [-0.0, 1.0]]
    """
    c, s = np.cos(turn), np.sin(turn)
    return np.array([[c, s], [-s, c]])
