"""A triangulated surface over a plan with holes, every edge shared: what is proved on it holds everywhere on it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

Array = NDArray[np.float64]
Rows = NDArray[np.intp]

SNAP = 1e-8  # m; points nearer than this are one point
SLIVER = 5e-4  # m; a triangle thinner than this says nothing about a slope: rounding tilts it


def plan_mesh(outer: Array, lines: Sequence[Array], holes: Sequence[Array]) -> tuple[Array, Rows]:
    """Triangulate a plan: inside ``outer``, outside ``holes``, with every one of ``lines`` kept as edges.

    Args:
        outer: corners (n,2) of the plan, counter-clockwise.
        lines: open lines (k,2) that the triangles must not cross; what lies outside the plan is left out.
        holes: rings (k,2) left out.

    Returns:
        Points (p,2) and triangles (t,3), counter-clockwise; no triangle's corner lies within another's side.
    """
    # an edge shared by two lines must be the same to the last digit: noding two that nearly coincide can go astray
    rings = [shapely.LinearRing(_snapped(ring)) for ring in (outer, *holes)]
    drawn = [shapely.LineString(_snapped(line)) for line in lines]
    noded = shapely.union_all(np.array([*rings, *drawn], dtype=object), grid_size=SNAP)
    cells = shapely.get_parts(shapely.polygonize(shapely.get_parts(noded)))
    inside = shapely.point_on_surface(cells)
    keep = shapely.contains_properly(shapely.make_valid(shapely.Polygon(outer)), inside)
    for hole in holes:
        keep &= ~shapely.contains_properly(shapely.make_valid(shapely.Polygon(hole)), inside)
    triangles = shapely.get_parts(shapely.get_parts(shapely.constrained_delaunay_triangles(cells[keep])))
    corners = shapely.get_coordinates(triangles).reshape(-1, 4, 2)[:, :3].reshape(-1, 2)
    key = np.round(corners / SNAP).astype(np.int64) @ np.array([1 << 32, 1])  # one number a corner sorts faster than two
    _, first, back = np.unique(key, return_index=True, return_inverse=True)
    return corners[first], _counter_clockwise(corners[first], back.reshape(-1, 3))


def _snapped(points: Array) -> Array:
    return np.asarray(np.round(points / SNAP) * SNAP)


def _counter_clockwise(points: Array, triangles: Rows) -> Rows:
    p = points[triangles]
    e, f = p[:, 1] - p[:, 0], p[:, 2] - p[:, 0]
    turned = e[:, 0] * f[:, 1] - e[:, 1] * f[:, 0] < 0
    out = triangles.copy()
    out[turned] = out[turned][:, [0, 2, 1]]
    return out


def areas(points: Array, triangles: Rows) -> Array:
    """Plan area (t,) of each triangle of points (n,2 or n,3)."""
    p = points[triangles][:, :, :2]
    e, f = p[:, 1] - p[:, 0], p[:, 2] - p[:, 0]
    return np.asarray(np.abs(e[:, 0] * f[:, 1] - e[:, 1] * f[:, 0]) / 2)


def integral(points: Array, triangles: Rows) -> float:
    """Volume between the surface (n,3) and z = 0: area times mean height of its corners, triangle by triangle; exact."""
    return float(areas(points, triangles) @ points[triangles, 2].mean(1))


def slopes(points: Array, triangles: Rows) -> Array:
    """Fall (rise over run, t) of each triangle along its steepest line; NaN for slivers under `SLIVER`."""
    p = points[triangles]
    n = np.cross(p[:, 1] - p[:, 0], p[:, 2] - p[:, 0])
    longest = np.linalg.norm(p - np.roll(p, 1, axis=1), axis=2).max(1)
    thin = np.abs(n[:, 2]) < longest * SLIVER
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(thin, np.nan, np.hypot(n[:, 0], n[:, 1]) / np.abs(n[:, 2]))
