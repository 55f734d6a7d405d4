"""A triangulated surface over a plan with holes, every edge shared: what is proved on it holds everywhere on it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

Array = NDArray[np.float64]
Rows = NDArray[np.intp]

SNAP = 1e-7  # m; points nearer than this are one point
SLIVER = 1e-4  # m; a triangle thinner than this says nothing about a slope


def plan_mesh(outer: Array, lines: Sequence[Array], holes: Sequence[Array], inner: Array | None = None) -> tuple[Array, Rows]:
    """Triangulate a plan: inside ``outer``, outside ``holes``, with every one of ``lines`` (rings) kept as edges.

    Args:
        outer: corners (n,2) of the plan, counter-clockwise.
        lines: rings (k,2) whose edges the triangles must keep.
        holes: rings (k,2) left out.
        inner: further points (k,2) that become corners of triangles.

    Returns:
        Points (p,2) and triangles (t,3), counter-clockwise; no triangle's corner lies within another's side.
    """
    rings = np.array([shapely.LinearRing(ring) for ring in (outer, *lines, *holes)], dtype=object)
    noded = shapely.union_all(rings, grid_size=SNAP)
    cells = shapely.get_parts(shapely.polygonize(shapely.get_parts(noded)))
    keep = shapely.contains(shapely.Polygon(outer).buffer(SNAP), cells)
    if len(holes):
        gone = shapely.union_all([shapely.Polygon(ring) for ring in holes])
        keep &= ~shapely.contains_properly(gone.buffer(SNAP), shapely.point_on_surface(cells))
    cells = cells[keep]
    shapely.prepare(cells)
    triangles = shapely.get_parts(shapely.get_parts(shapely.constrained_delaunay_triangles(cells)))
    corners = shapely.get_coordinates(triangles).reshape(-1, 4, 2)[:, :3].reshape(-1, 2)
    _, first, back = np.unique(np.round(corners / SNAP).astype(np.int64), axis=0, return_index=True, return_inverse=True)
    return corners[first], _counter_clockwise(corners[first], back.reshape(-1, 3))


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
