"""Plane polygons given as rings of points (m,2), counter-clockwise, the last joined to the first."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def following(ring: Array) -> Array:
    """The point after each point of a ring (m,2).

    >>> following(np.array([[0.0, 0], [2, 0], [2, 1]])).tolist()
    [[2.0, 0.0], [2.0, 1.0], [0.0, 0.0]]
    """
    return np.concatenate([ring[1:], ring[:1]])


def signed_area(ring: Array) -> float:
    """Area of a ring, positive when it runs counter-clockwise: half the sum of x_i y_(i+1) - x_(i+1) y_i.

    >>> signed_area(np.array([[0.0, 0], [2, 0], [2, 1], [0, 1]]))
    2.0
    """
    after = following(ring)
    return float(ring[:, 0] @ after[:, 1] - ring[:, 1] @ after[:, 0]) / 2


def centroid(ring: Array) -> Array:
    """Centre of gravity (2,) of the area inside a ring.

    >>> centroid(np.array([[0.0, 0], [2, 0], [2, 1], [0, 1]])).tolist()
    [1.0, 0.5]
    """
    after = following(ring)
    cross = ring[:, 0] * after[:, 1] - after[:, 0] * ring[:, 1]
    return np.asarray((ring + after).T @ cross / (3 * cross.sum()))


def contains(ring: Array, points: Array) -> NDArray[np.bool_]:
    """Whether each point (n,2) lies inside the ring, by the parity of crossings of a ray.

    >>> contains(np.array([[0.0, 0], [2, 0], [2, 1], [0, 1]]), np.array([[1.0, 0.5], [3, 0.5]])).tolist()
    [True, False]
    """
    x, y = points[:, 0, None], points[:, 1, None]
    a, b = ring, following(ring)
    crosses = (a[:, 1] > y) != (b[:, 1] > y)
    rise = np.where(b[:, 1] == a[:, 1], 1.0, b[:, 1] - a[:, 1])
    left = x < a[:, 0] + (y - a[:, 1]) * (b[:, 0] - a[:, 0]) / rise
    return np.asarray((crosses & left).sum(axis=1) % 2 == 1)


def away_from(ring: Array, points: Array) -> Array:
    """Distance (n,) of each point to the ring's line, inside or out.

    >>> away_from(np.array([[0.0, 0], [2, 0], [2, 1], [0, 1]]), np.array([[1.0, 0.25]])).tolist()
    [0.25]
    """
    a, edge = ring, following(ring) - ring
    along = ((points[:, None] - a) * edge).sum(-1) / np.maximum((edge * edge).sum(-1), 1e-300)
    gap = points[:, None] - (a + np.clip(along, 0, 1)[..., None] * edge)
    return np.asarray(np.hypot(gap[..., 0], gap[..., 1]).min(axis=1))


def simple(ring: Array) -> bool:
    """Whether no two sides of the ring cross.

    >>> simple(np.array([[0.0, 0], [1, 0], [1, 1], [0, 1]])), simple(np.array([[0.0, 0], [1, 1], [1, 0], [0, 1]]))
    (True, False)
    """
    count = len(ring)
    ends = following(ring)
    i, j = np.triu_indices(count, 2)
    apart = ~((i == 0) & (j == count - 1))
    return not bool(segments_cross(ring[i[apart]], ends[i[apart]], ring[j[apart]], ends[j[apart]]).any())


def segments_cross(a: Array, b: Array, c: Array, d: Array) -> NDArray[np.bool_]:
    """Whether segments a-b and c-d cross inside both (touching ends do not count); arrays (n,2) that go together."""

    def side(p: Array, q: Array, r: Array) -> Array:
        return np.asarray((q[..., 0] - p[..., 0]) * (r[..., 1] - p[..., 1]) - (q[..., 1] - p[..., 1]) * (r[..., 0] - p[..., 0]))

    return np.asarray((side(a, b, c) * side(a, b, d) < 0) & (side(c, d, a) * side(c, d, b) < 0))


def convex_gap(one: Array, other: Array) -> float:
    """Gap between two convex rings along the best separating line; negative: how deep they stand into each other.

    >>> square = np.array([[0.0, 0], [1, 0], [1, 1], [0, 1]])
    >>> convex_gap(square, square + [1.5, 0.2]), convex_gap(square, square + [0.75, 0.0])
    (0.5, -0.25)
    """
    widest = -np.inf
    for ring, away in ((one, other), (other, one)):
        edge = following(ring) - ring
        out = np.column_stack([edge[:, 1], -edge[:, 0]]) / np.hypot(edge[:, 0], edge[:, 1])[:, None]
        reach = away @ out.T - (ring * out).sum(axis=1)
        widest = max(widest, float(reach.min(axis=0).max()))
    return widest
