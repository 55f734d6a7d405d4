"""The finished top: the wash as a triangulated surface with the flues cut out, and the proof on it that water runs off."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from crownwright.cap.fit import Fit
from crownwright.cap.levels import Levels
from crownwright.geometry.shedding import gutters, standing_water
from crownwright.geometry.surface import plan_mesh, slopes

Array = NDArray[np.float64]
NEAR = 1e-6  # m
GUTTER = 0.25 / 12
"""Least fall along the foot of a flue that water is driven against: the quarter inch to the foot that low roofs drain by."""


@dataclass(frozen=True, slots=True)
class Finish:
    """In the cap's frame: ``points`` (n,3) with z above the string, ``triangles`` (t,3); ``flattest`` and ``steepest`` facet
    (rise over run); ``standing``: a place (2,) for every low spot that nothing drains, and for the middle of every foot of a flue
    that water is driven against, or valley,
    with less than `GUTTER` of fall along it; ``gutter`` the least fall along such a foot (None
    where there is none).
    """

    points: Array
    triangles: NDArray[np.intp]
    flattest: float
    steepest: float
    standing: tuple[Array, ...]
    gutter: float | None


def finish(rectangle: Fit, levels: Levels, rings: tuple[Array, ...]) -> Finish:
    """Mesh the wash and look for standing water. ``rings`` (each (n,2)) are the holes, in the cap's frame."""
    length, width = rectangle.length, rectangle.width
    outer = np.array([(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)])
    plan, triangles = plan_mesh(outer, [np.vstack([region, region[:1]]) for region in levels.wash.regions(outer)], rings)
    points = np.column_stack([plan, levels.over(plan)])
    u, v = plan[:, 0], plan[:, 1]
    edge = (u < NEAR) | (v < NEAR) | (u > length - NEAR) | (v > width - NEAR)
    low = standing_water(points, triangles, edge)
    feet, along = gutters(points, triangles, edge)
    places = [plan[rows].mean(0) for rows in (*low, *feet[along < GUTTER])]
    fall = slopes(points, triangles)
    if not np.isfinite(fall).any():  # the holes leave nothing of the cap: a finding elsewhere, and it blocks
        fall = np.array([levels.fall])
    least = float(along.min()) if len(along) else None
    return Finish(points, triangles, float(np.nanmin(fall)), float(np.nanmax(fall)), tuple(places), least)
