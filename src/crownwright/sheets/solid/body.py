"""What a 3-D file holds: closed solids with a colour, in named groups (cap, form, stone, flues)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from crownwright.geometry.solid import Solid

Colour = tuple[float, float, float, float]
"""Red, green, blue, opacity; 0..1, linear."""


@dataclass(frozen=True, slots=True)
class Body:
    """One solid (m, z up), the group it belongs to, and its colour."""

    solid: Solid
    group: str
    colour: Colour = (0.6, 0.6, 0.6, 1.0)

    @property
    def name(self) -> str:
        """The solid's own name."""
        return self.solid.name


def together(name: str, solids: list[Solid]) -> Solid:
    """Return several closed solids as one mesh, each still closed by itself."""
    starts = np.cumsum([0, *(len(solid.points) for solid in solids)])
    points = np.vstack([solid.points for solid in solids]) if solids else np.zeros((0, 3))
    rows = [solid.triangles + start for solid, start in zip(solids, starts, strict=False)]
    return Solid(name, points, np.vstack(rows).astype(np.intp) if rows else np.zeros((0, 3), np.intp))
