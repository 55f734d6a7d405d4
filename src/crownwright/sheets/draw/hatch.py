"""Hatching as lines clipped to an area, in mm on paper. The same area always gets the same lines.

stone: slanting lines in threes, the middle one broken, as undressed stone is usually drawn; brick: slanting pairs; concrete:
grains and small triangles; clay: close slanting lines; mortar: grains; wood-end: two diagonals' worth of end grain rings;
wood-long: grain along the board; soft: a wave, as for a compressible strip; steel: solid.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor, pi

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from crownwright.sheets.draw.plane import toward
from crownwright.sheets.draw.shapes import Hatch, Point

Run = tuple[Point, ...]
Array = NDArray[np.float64]
_LEAST = 1e-6  # mm; what is left of a line along an edge of its area is none


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


def hatch(rings: Sequence[Sequence[Point]], kind: Hatch, turn: float = 0.0) -> tuple[Run, ...]:
    """Return the hatching lines of an area (mm), empty for `Hatch.STEEL`, which is filled.

    The area is what lies within an odd number of the ``rings``. Areas too small to carry a line come back with none.
    """
    if kind is Hatch.STEEL:
        return ()
    if kind is Hatch.CONCRETE or kind is Hatch.MORTAR:
        return _scattered(shapely.Polygon(rings[0], rings[1:]), kind)
    sides = np.array([side for ring in rings for side in zip(ring, (*ring[1:], ring[0]), strict=True)])
    return tuple(run for family in FAMILIES[kind] for run in _family(sides, family, turn))


def _scattered(area: Polygon, kind: Hatch) -> tuple[Run, ...]:
    """Grains of mortar, or grains and aggregate of concrete."""
    sound = shapely.make_valid(area)
    if kind is Hatch.MORTAR:
        return _grains(sound, 1.1, 0.16)
    return (*_grains(sound, 2.3, 0.18), *_triangles(sound, 6.4))


def _family(sides: Array, family: LineFamily, turn: float) -> Iterator[Run]:
    """Lines of one family across the box of an area with these sides (n,2,2), dashed, clipped to the area."""
    run, up = np.array(toward(family.angle + turn)), np.array(toward(family.angle + turn + 90.0))
    across = sides @ up
    rows = np.arange(ceil((across.min() - family.start) / family.gap), floor((across.max() - family.start) / family.gap) + 1)
    at = family.start + rows * family.gap
    row, along, ends = _inside(sides, sides @ run, across, at)
    if family.dash:
        shift = rows[row] * 0.618034 % 1.0  # rows are shifted against each other so that gaps do not line up
        of, cut = _dashed(along, shift, family.dash)
        dashes = cut[:, :, None] * run + at[row[of], None, None] * up
        ends = np.where((cut == along[of])[:, :, None], ends[of], dashes)
    return _runs(ends[np.ptp(ends, axis=1).max(axis=1) > _LEAST])


def _runs(ends: Array) -> Iterator[Run]:
    """Straight strokes between pairs of ends (n,2,2)."""
    x0, y0, x1, y1 = ends.reshape(-1, 4).T.tolist()
    return zip(zip(x0, y0, strict=True), zip(x1, y1, strict=True), strict=True)


def _inside(sides: Array, along: Array, across: Array, at: Array) -> tuple[NDArray[np.int64], Array, Array]:
    """Stretches of lines at the heights ``at`` within an area. ``along`` and ``across`` (n,2) the lines lie the ends of its
    ``sides`` (n,2,2).

    Returns the number of the line (m,) of each stretch, its two ends along the line (m,2), and on paper (m,2,2).
    """
    above = across[:, :, None] > at
    side, row = np.nonzero(above[:, 0] != above[:, 1])
    share = (at[row] - across[side, 0]) / (across[side, 1] - across[side, 0])
    crossing = along[side, 0] + share * (along[side, 1] - along[side, 0])
    order = np.lexsort((crossing, row))  # a line enters at every other side that it crosses, and leaves at the next
    start, end = sides[side].transpose(1, 0, 2)
    share = share[:, None]  # from the nearer end, so that a corner is met exactly
    ends = np.where(share < 0.5, start + share * (end - start), end - (1.0 - share) * (end - start))
    return row[order[::2]], crossing[order].reshape(-1, 2), ends[order].reshape(-1, 2, 2)


def _dashed(along: Array, shift: Array, dash: tuple[float, ...]) -> tuple[NDArray[np.int64], Array]:
    """Dashes within stretches ``along`` (n,2) lines, each moved by a share ``shift`` (n,) of the dashes' period.

    Returns the number of the stretch (m,) of each dash and its two ends along the line (m,2).
    """
    on, off = dash
    period = on + off
    first, last = np.floor(along.T / period - shift).astype(
        int
    )  # the dashes, or gaps after them, that a stretch begins and ends in
    count = last - first + 1
    of = np.repeat(np.arange(len(along)), count)
    start = (first[of] + np.arange(len(of)) - np.repeat(np.cumsum(count) - count, count) + shift[of]) * period
    cut = np.column_stack((np.maximum(start, along[of, 0]), np.minimum(start + on, along[of, 1])))
    some = cut[:, 1] > cut[:, 0]
    return of[some], cut[some]


def _scatter(area: BaseGeometry, pitch: float, clear: float) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
    """Evenly scattered places in an area, no nearer than ``clear`` to its edge: the additive recurrence of the plastic number.

    Returns their numbers (n,) and places (n,2), the same every time.
    """
    left, low, right, high = shapely.bounds(area).tolist()
    i = np.arange(1, int((right - left) * (high - low) / pitch**2) + 2)
    x, y = left + (i * 0.7548776662466927 % 1.0) * (right - left), low + (i * 0.5698402909980532 % 1.0) * (high - low)
    inside = shapely.contains_xy(shapely.buffer(area, -clear), x, y)
    return i[inside], np.column_stack((x[inside], y[inside]))


def _grains(area: BaseGeometry, pitch: float, size: float) -> tuple[Run, ...]:
    """Short strokes that read as grains."""
    i, at = _scatter(area, pitch, size)
    half = size * np.column_stack((np.cos(2.4 * i), np.sin(2.4 * i)))
    return tuple(_runs(np.stack((at - half, at + half), axis=1)))


def _triangles(area: BaseGeometry, pitch: float) -> tuple[Run, ...]:
    """Small triangles that read as aggregate, each turned its own way."""
    i, at = _scatter(area, pitch, 0.9)
    radius = 0.55 + 0.3 * (i * 0.618034 % 1.0)
    turn = 2.4 * i[:, None] + np.array([0, 1, 2, 0]) * (2 * pi / 3)
    rings = at[:, None, :] + radius[:, None, None] * np.stack((np.cos(turn), np.sin(turn)), axis=2)
    return tuple(tuple(map(tuple, ring)) for ring in rings.tolist())
