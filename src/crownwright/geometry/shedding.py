"""Whether water can stand on a triangulated surface.

On a surface of flat triangles a low place is a corner, or a level run of corners, with no lower corner beside it. Every edge
lies in the surface (none crosses a hole), so a lower neighbour is a way down that water can really take, along the face of a
flue as well. But along a face that stands across the fall the water has no more fall than the face's own foot line: where that is
level it stands, though its ends are open. So the foot lines that water is driven against are looked at as gutters.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Rows = NDArray[np.intp]

SHORT = 5e-4  # m; a rim edge shorter than this is rounding
DRIVEN = 1e-3  # of fall; water driven against a face by less than this runs past it
LEVEL = 1e-7  # m; corners nearer in height than this are level with each other


def edges(triangles: Rows) -> tuple[Rows, Rows]:
    """Edges (e,2) of a mesh, each once, and how many triangles (e,) share each."""
    pairs = np.sort(np.vstack([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]]), axis=1)
    found, count = np.unique(pairs, axis=0, return_counts=True)
    return found, count


def standing_water(points: Array, triangles: Rows, leaves: NDArray[np.bool_]) -> list[Rows]:
    """Places where water stands: each the rows of the corners of one low corner or level run that nothing drains.

    Args:
        points: corners (n,3).
        triangles: rows (t,3).
        leaves: (n,) true where water may leave the surface (its outer edge).
    """
    pairs, _ = edges(triangles)
    z = points[:, 2]
    group = _level_runs(len(points), pairs[np.abs(z[pairs[:, 0]] - z[pairs[:, 1]]) <= LEVEL])
    drained = np.zeros(len(points), dtype=bool)
    fall = z[pairs[:, 0]] - z[pairs[:, 1]]
    drained[group[pairs[fall > LEVEL, 0]]] = True
    drained[group[pairs[fall < -LEVEL, 1]]] = True
    drained[group[leaves]] = True
    used = np.unique(triangles)
    standing = used[~drained[group[used]]]
    return [standing[group[standing] == g] for g in np.unique(group[standing])]


def gutters(points: Array, triangles: Rows, leaves: NDArray[np.bool_]) -> tuple[Rows, Array]:
    """Edges (e,2) that the surface falls towards from every side, and the fall (e,) along each: water runs along them.

    They are the feet of what stands in the water's way, and valleys. ``leaves`` (n,) as in `standing_water`; edges that water
    leaves by are no gutters, nor are edges under `SHORT`.
    """
    directed = triangles[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)
    owner = np.repeat(np.arange(len(triangles)), 3)
    run = points[directed[:, 1]] - points[directed[:, 0]]
    length = np.hypot(run[:, 0], run[:, 1])
    inward = np.column_stack([-run[:, 1], run[:, 0]]) / np.maximum(length, 1e-12)[:, None]  # triangles run counter-clockwise
    p = points[triangles]
    n = np.cross(p[:, 1] - p[:, 0], p[:, 2] - p[:, 0])
    uphill = -n[:, :2] / np.maximum(np.abs(n[:, 2]), 1e-15)[:, None]
    driven = (uphill[owner] * inward).sum(1) > DRIVEN
    key = np.sort(directed, axis=1) @ np.array([len(points), 1])
    _, first, back = np.unique(key, return_index=True, return_inverse=True)
    met = np.bincount(back, weights=driven, minlength=len(first)) == np.bincount(back, minlength=len(first))
    found = first[met & (length[first] > SHORT) & ~leaves[directed[first]].all(1)]
    return directed[found], np.abs(run[found, 2]) / length[found]


def _level_runs(count: int, level: Rows) -> Rows:
    """Root (count,) of the run of level edges that each corner belongs to."""
    root = np.arange(count)
    while len(level):
        low = np.minimum(root[level[:, 0]], root[level[:, 1]])
        before = root.copy()
        np.minimum.at(root, level[:, 0], low)
        np.minimum.at(root, level[:, 1], low)
        root = root[root]
        if (root == before).all():
            break
    return root
