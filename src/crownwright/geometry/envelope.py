"""The lower envelope of planes over a convex polygon: a concave roof, facet by facet.

A plane is a row (a, b, c) of z = a x + b y + c.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from crownwright.geometry.polygon import signed_area

Array = NDArray[np.float64]

REPEATED = 1e-9  # m; corners nearer than this are one corner
LEAST_AREA = 1e-10  # m2; a region smaller than that is rounding


def heights(planes: Array, points: Array) -> Array:
    """Height (n,) of the envelope, the least of all planes, at points (n,2).

    >>> heights(np.array([(1.0, 0.0, 0.0), (-1.0, 0.0, 4.0)]), np.array([(1.0, 0.0), (3.5, 0.0)])).tolist()
    [1.0, 0.5]
    """
    return np.asarray((points @ planes[:, :2].T + planes[:, 2]).min(1))


def facets(planes: Array, polygon: Array) -> list[tuple[int, Array]]:
    """Regions of a convex ``polygon`` (n,2, counter-clockwise) in which each plane is the least: (row of the plane, corners).

    Planes that are nowhere least are left out.
    """
    rows: list[list[float]] = planes.tolist()
    whole: list[list[float]] = polygon.tolist()
    found = []
    for k, (a, b, c) in enumerate(rows):
        region = whole
        for j, (p, q, r) in enumerate(rows):
            if j != k and len(region) >= 3:
                region = clip(region, a - p, b - q, r - c)
        cleaned = distinct(np.array(region)) if len(region) >= 3 else np.empty((0, 2))
        if len(cleaned) >= 3 and abs(signed_area(cleaned)) > LEAST_AREA:
            found.append((k, cleaned))
    return found


def distinct(polygon: Array) -> Array:
    """A polygon (n,2) without corners that repeat the one before them: their sides have no direction."""
    run = polygon - np.roll(polygon, 1, axis=0)
    return np.asarray(polygon[np.hypot(run[:, 0], run[:, 1]) > REPEATED])


def clip(polygon: list[list[float]], a: float, b: float, c: float) -> list[list[float]]:
    """Part of a convex polygon (corners in order) where a x + b y <= c; fewer than three corners when there is none.

    Plain lists: for a handful of corners they are several times quicker than arrays.

    >>> clip([[0, 0], [2, 0], [2, 1], [0, 1]], 1.0, 0.0, 1.0)
    [[0, 0], [1.0, 0.0], [1.0, 1.0], [0, 1]]
    """
    over = [a * x + b * y - c for x, y in polygon]
    if all(d <= 0 for d in over):
        return polygon
    out = []
    for i, (x, y) in enumerate(polygon):
        d, e = over[i - 1], over[i]
        if (d < 0 < e) or (e < 0 < d):
            share, (u, v) = d / (d - e), polygon[i - 1]
            out.append([u + (x - u) * share, v + (y - v) * share])
        if e <= 0:
            out.append([x, y])
    return out


def profile(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Lines (slope, intercept) of the upper concave hull of points (x, z) whose first and last carry it; level lines left out.

    >>> profile([(0, 0), (1, 2), (2, 2.5), (3, 3), (6, 0)])
    [(2.0, 0.0), (0.5, 1.5), (-1.0, 6.0)]
    """
    chain: list[tuple[float, float]] = []
    for x, z in sorted(points):
        while len(chain) > 1 and _over(chain[-2], chain[-1], (x, z)):
            chain.pop()
        chain.append((x, z))
    lines = []
    for (x0, z0), (x1, z1) in pairwise(chain):
        if x1 - x0 > 1e-9 and abs(z1 - z0) > 1e-9:
            slope = (z1 - z0) / (x1 - x0)
            lines.append((slope, z0 - slope * x0))
    return lines


def _over(p: tuple[float, float], q: tuple[float, float], r: tuple[float, float]) -> bool:
    """Whether q lies on or under the line from p to r."""
    return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]) >= -1e-12
