"""Hatching as lines clipped to an area, in mm on paper. The same area always gets the same lines.

stone: slanting lines in threes, the middle one broken, as undressed stone is usually drawn; brick: slanting pairs; concrete:
grains and small triangles; clay: close slanting lines; mortar: grains; wood-end: two diagonals' worth of end grain rings;
wood-long: grain along the board; soft: a wave, as for a compressible strip; steel: solid.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, floor, pi

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon, affinity
from shapely.geometry.base import BaseGeometry

from crownwright.sheets.draw.plane import toward
from crownwright.sheets.draw.shapes import Hatch, Point

Run = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class LineFamily:
    """Parallel lines at ``angle`` degrees, ``gap`` mm apart starting ``start`` mm from the origin, dashed by ``dash`` (mm; empty
    is full).
    """

    angle: float
    gap: float
    start: float = 0.0
    dash: tuple[float, ...] = ()


FAMILIES: dict[Hatch, tuple[LineFamily, ...]] = {
    Hatch.STONE: (LineFamily(45, 4.2), LineFamily(45, 4.2, 0.9, (3.0, 1.4)), LineFamily(45, 4.2, 1.8)),
    Hatch.BRICK: (LineFamily(45, 3.0), LineFamily(45, 3.0, 0.8)),
    Hatch.CLAY: (LineFamily(-45, 1.1),),
    Hatch.MORTAR: (LineFamily(17, 1.0, 0.0, (0.15, 1.5)), LineFamily(73, 1.4, 0.5, (0.15, 2.1))),
    Hatch.WOOD_LONG: (LineFamily(0, 1.2, 0.35, (14.0, 1.5)), LineFamily(0, 1.2, 0.95, (6.0, 2.5))),
    Hatch.WOOD_END: (LineFamily(35, 1.3), LineFamily(55, 2.6, 0.6, (2.2, 1.3))),
    Hatch.SOFT: (LineFamily(60, 1.0), LineFamily(-60, 1.0)),
    Hatch.CONCRETE: (LineFamily(37, 2.6, 0.0, (0.25, 3.1)), LineFamily(-50, 3.4, 1.0, (0.25, 4.3))),
}
"""Line families of each hatching; DXF writes these as they are, on paper concrete and mortar get scattered grains instead."""


def hatch(area: Polygon, kind: Hatch, turn: float = 0.0) -> tuple[Run, ...]:
    """Return the hatching lines of an area (mm), empty for `Hatch.STEEL`, which is filled.

    Areas too small to carry a line come back with none.
    """
    if area.is_empty or kind is Hatch.STEEL:
        return ()
    sound = shapely.make_valid(area)
    shapely.prepare(sound)
    if kind is Hatch.CONCRETE:
        return (*_grains(sound, 2.3, 0.18), *_triangles(sound, 6.4))
    if kind is Hatch.MORTAR:
        return _grains(sound, 1.1, 0.16)
    return tuple(run for family in FAMILIES[kind] for run in _family(sound, family, turn))


def _family(area: BaseGeometry, family: LineFamily, turn: float) -> Iterator[Run]:
    """Lines of one family across the area's box, dashed, clipped to the area."""
    angle = family.angle + turn
    left, low, right, high = affinity.rotate(area, -angle, origin=(0, 0)).bounds
    rows = np.arange(ceil((low - family.start) / family.gap), floor((high - family.start) / family.gap) + 1)
    spans = [(u0, u1, family.start + i * family.gap) for i in rows for u0, u1 in _dashes(left, right, family.dash, int(i))]
    if not spans:
        return
    u0, u1, v = np.array(spans).T
    run, up = np.array(toward(angle)), np.array(toward(angle + 90.0))
    ends = np.stack((np.outer(u0, run) + np.outer(v, up), np.outer(u1, run) + np.outer(v, up)), axis=1)
    parts = shapely.get_parts(shapely.intersection(shapely.linestrings(ends), area))
    spots, owner = shapely.get_coordinates(parts[shapely.length(parts) > 0], return_index=True)
    for points in np.split(spots, np.flatnonzero(np.diff(owner)) + 1):
        if len(points) > 1:
            yield tuple(map(tuple, points.tolist()))


def _dashes(start: float, end: float, dash: tuple[float, ...], row: int) -> Iterator[tuple[float, float]]:
    """Dashes between two places; rows are shifted against each other so that gaps do not line up."""
    if not dash:
        yield start, end
        return
    on, off = dash
    period = on + off
    shift = (row * 0.618034 % 1.0) * period
    for i in range(floor(start / period) - 1, int(end / period) + 2):
        u = i * period + shift
        if u + on > start and u < end:
            yield u, u + on


def _scatter(area: BaseGeometry, pitch: float, clear: float) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
    """Evenly scattered places in an area, no nearer than ``clear`` to its edge: the additive recurrence of the plastic number.

    Returns their numbers (n,) and places (n,2), the same every time.
    """
    left, low, right, high = area.bounds
    i = np.arange(1, int((right - left) * (high - low) / pitch**2) + 2)
    x, y = left + (i * 0.7548776662466927 % 1.0) * (right - left), low + (i * 0.5698402909980532 % 1.0) * (high - low)
    inside = shapely.contains_xy(area.buffer(-clear), x, y)
    return i[inside], np.column_stack((x, y))[inside]


def _grains(area: BaseGeometry, pitch: float, size: float) -> tuple[Run, ...]:
    """Short strokes that read as grains."""
    i, at = _scatter(area, pitch, size)
    half = size * np.column_stack((np.cos(2.4 * i), np.sin(2.4 * i)))
    return tuple((tuple(a), tuple(b)) for a, b in zip((at - half).tolist(), (at + half).tolist(), strict=True))


def _triangles(area: BaseGeometry, pitch: float) -> tuple[Run, ...]:
    """Small triangles that read as aggregate, each turned its own way."""
    i, at = _scatter(area, pitch, 0.9)
    radius = 0.55 + 0.3 * (i * 0.618034 % 1.0)
    turn = 2.4 * i[:, None] + np.array([0, 1, 2, 0]) * (2 * pi / 3)
    rings = at[:, None, :] + radius[:, None, None] * np.stack((np.cos(turn), np.sin(turn)), axis=2)
    return tuple(tuple(map(tuple, ring)) for ring in rings.tolist())
