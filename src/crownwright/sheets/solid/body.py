"""What a 3-D file holds: named watertight bodies."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True, slots=True)
class Body:
    """One named solid: ``points`` (n,3) in metres, z up; ``triangles`` (t,3) counter-clockwise seen from outside; its ``colour``
    (red, green, blue, opacity; 0..1, linear).
    """

    name: str
    points: NDArray[np.float64]
    triangles: NDArray[np.intp]
    colour: tuple[float, float, float, float] = (0.6, 0.6, 0.6, 1.0)

    @property
    def volume(self) -> float:
        """Volume enclosed, m3, by the divergence theorem (negative when the triangles face inward)."""
        a, b, c = (self.points[self.triangles[:, i]] for i in range(3))
        return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6.0)


def watertight(body: Body) -> bool:
    """Return whether every edge of a body's triangles is met once in each direction, so that the body encloses a volume."""
    edges = np.concatenate([body.triangles[:, [i, (i + 1) % 3]] for i in range(3)])
    count = len(body.points)
    forward = np.sort(edges[:, 0] * count + edges[:, 1])
    backward = np.sort(edges[:, 1] * count + edges[:, 0])
    return len(np.unique(forward)) == len(forward) and bool(np.array_equal(forward, backward))
