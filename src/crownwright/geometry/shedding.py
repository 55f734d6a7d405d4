"""Whether water can stand on a triangulated surface.

On a surface of flat triangles a low place is a corner, or a level run of corners, with no lower corner beside it. Every edge
lies in the surface (none crosses a hole), so a lower neighbour is a way down that water can really take, along the face of a
flue as well.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Rows = NDArray[np.intp]

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
