"""Solids as closed meshes, and what is left of one when others are taken away.

The cutting is done by manifold3d, whose results are watertight by construction; it is imported only when something is cut.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from crownwright.geometry.shedding import edges
from crownwright.geometry.surface import plan_mesh

Array = NDArray[np.float64]
Rows = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Solid:
    """A named closed mesh: ``points`` (n,3) in m, ``triangles`` (t,3) counter-clockwise seen from outside."""

    name: str
    points: Array
    triangles: Rows

    @property
    def volume(self) -> float:
        """Volume enclosed, m3, by the divergence theorem."""
        a, b, c = (self.points[self.triangles[:, i]] for i in range(3))
        return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6.0)

    @property
    def closed(self) -> bool:
        """Whether every edge is met by exactly two triangles, once in each direction."""
        directed = self.triangles[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)
        count = len(self.points)
        there, back = directed @ [count, 1], directed @ [1, count]
        return len(np.unique(there)) == len(there) and bool(np.array_equal(np.sort(there), np.sort(back)))


def between(name: str, plan: Array, triangles: Rows, bottom: Array, top: Array) -> Solid:
    """Solid over a plan mesh (points (n,2), triangles (t,3) counter-clockwise) from ``bottom`` (n,) to ``top`` (n,), m."""
    count = len(plan)
    pairs, shared = edges(triangles)
    rim = {tuple(pair) for pair in pairs[shared == 1].tolist()}
    directed = triangles[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)
    walls = np.array([pair for pair in directed.tolist() if tuple(sorted(pair)) in rim], dtype=np.intp)
    p, q = walls[:, 0], walls[:, 1]
    sides = np.concatenate([np.column_stack([p + count, q + count, q]), np.column_stack([p + count, q, p])])
    points = np.vstack([np.column_stack([plan, top]), np.column_stack([plan, bottom])])
    return Solid(name, points, np.vstack([triangles, triangles[:, ::-1] + count, sides]))


def prism(name: str, outer: Array, bottom: float, top: float, holes: Sequence[Array] = ()) -> Solid:
    """Upright prism over a ring (n,2) with holes, from one level to another (m).

    >>> box = prism("box", np.array([(0.0, 0), (2, 0), (2, 1), (0, 1)]), 0.0, 3.0)
    >>> round(box.volume, 12), box.closed
    (6.0, True)
    """
    plan, triangles = plan_mesh(outer, (), holes)
    return between(name, plan, triangles, np.full(len(plan), bottom), np.full(len(plan), top))


def mitred(name: str, corners: Array, section: Array) -> Solid:
    """A moulding carried round a convex ring (n,2, counter-clockwise), mitred at its corners.

    ``section`` (k,2), counter-clockwise: distance in from the ring's sides, and level (m).
    """
    run = np.roll(corners, -1, axis=0) - corners
    run = run / np.linalg.norm(run, axis=1)[:, None]
    before = np.roll(run, 1, axis=0)
    cross = before[:, 0] * run[:, 1] - before[:, 1] * run[:, 0]
    inward = (run - before) / cross[:, None]  # one unit in from both sides of a corner
    n, k = len(corners), len(section)
    plan = corners[:, None, :] + section[None, :, :1] * inward[:, None, :]
    points = np.concatenate([plan, np.broadcast_to(section[None, :, 1:], (n, k, 1))], axis=2).reshape(-1, 3)
    i, j = np.meshgrid(np.arange(n), np.arange(k), indexing="ij")
    a, b = i * k + j, i * k + (j + 1) % k
    c, d = (i + 1) % n * k + (j + 1) % k, (i + 1) % n * k + j
    quads = np.stack([a, d, c, b], axis=-1).reshape(-1, 4)
    solid = Solid(name, points, np.vstack([quads[:, [0, 1, 2]], quads[:, [0, 2, 3]]]).astype(np.intp))
    return solid if solid.volume > 0 else Solid(name, points, solid.triangles[:, ::-1])


def cut(name: str, solid: Solid, away: Sequence[Solid]) -> Solid:
    """What is left of a solid when others, taken together, are taken away."""
    import manifold3d

    together = manifold3d.Manifold.batch_boolean([_manifold(one) for one in away], manifold3d.OpType.Add)
    return _solid(name, _manifold(solid) - together)


def join(name: str, solids: Sequence[Solid]) -> Solid:
    """Several solids as one."""
    import manifold3d

    return _solid(name, manifold3d.Manifold.batch_boolean([_manifold(one) for one in solids], manifold3d.OpType.Add))


def _manifold(solid: Solid) -> Any:
    import manifold3d

    mesh = manifold3d.Mesh64(solid.points.astype(np.float64), solid.triangles.astype(np.uint64))
    made = manifold3d.Manifold(mesh)
    if made.status() != manifold3d.Error.NoError:
        raise ValueError(f"{solid.name}: not a closed mesh ({made.status()})")
    return made


def _solid(name: str, made: Any) -> Solid:
    mesh = made.to_mesh64()
    return Solid(name, np.asarray(mesh.vert_properties, dtype=float)[:, :3], np.asarray(mesh.tri_verts).astype(np.intp))
