"""The finished top: the wash as a triangulated surface with the flues cut out, and the proof on it that water runs off."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from crownwright.cap.fit import Fit
from crownwright.cap.levels import Levels
from crownwright.geometry.envelope import facets, heights
from crownwright.geometry.shedding import standing_water
from crownwright.geometry.surface import plan_mesh, slopes

Array = NDArray[np.float64]
NEAR = 1e-6  # m


@dataclass(frozen=True, slots=True)
class Finish:
    """In the cap's frame: ``points`` (n,3) with z above the string, ``triangles`` (t,3); ``flattest`` and ``steepest`` facet
    (rise over run); ``standing``: a place (2,) for every low spot that nothing drains.
    """

    points: Array
    triangles: NDArray[np.intp]
    flattest: float
    steepest: float
    standing: tuple[Array, ...]


def finish(rectangle: Fit, levels: Levels, rings: tuple[Array, ...]) -> Finish:
    """Mesh the wash and look for standing water. ``rings`` (each (n,2)) are the holes, in the cap's frame."""
    length, width = rectangle.length, rectangle.width
    outer = np.array([(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)])
    planes = levels.wash.planes
    plan, triangles = plan_mesh(outer, [region[[*range(len(region)), 0]] for _, region in facets(planes, outer)], rings)
    points = np.column_stack([plan, levels.edge.top + levels.fall * heights(planes, plan)])
    u, v = plan[:, 0], plan[:, 1]
    edge = (u < NEAR) | (v < NEAR) | (u > length - NEAR) | (v > width - NEAR)
    low = standing_water(points, triangles, edge)
    fall = slopes(points, triangles)
    return Finish(points, triangles, float(np.nanmin(fall)), float(np.nanmax(fall)), tuple(plan[rows].mean(0) for rows in low))
