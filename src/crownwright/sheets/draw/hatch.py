"""Hatching as lines clipped to an area, in mm on paper. The same area always gets the same lines.

stone: slanting lines in threes, the middle one broken, as undressed stone is usually drawn; brick: slanting pairs; concrete:
grains and small triangles; clay: close slanting lines; mortar: grains; wood-end: two diagonals' worth of end grain rings;
wood-long: grain along the board; soft: a wave, as for a compressible strip; steel: solid.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import cos, floor, pi, sin

import shapely
from shapely import LineString, MultiLineString, Polygon, affinity

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
    lines = [run for make in _makers(kind) for run in make(area, turn)]
    if not lines:
        return ()
    return tuple(_runs(shapely.intersection(MultiLineString(lines), shapely.make_valid(area))))


def _makers(kind: Hatch) -> list[Callable[[Polygon, float], Iterator[Run]]]:
    """Return what draws a hatching, over the whole box round its area."""
    if kind is Hatch.CONCRETE:
        return [lambda a, _: _grains(a, 2.3, 0.18), lambda a, _: _triangles(a, 6.4)]
    if kind is Hatch.MORTAR:
        return [lambda a, _: _grains(a, 1.1, 0.16)]
    return [lambda a, turn, family=family: _family(a, family, turn) for family in FAMILIES[kind]]  # type: ignore[misc]


def _family(area: Polygon, family: LineFamily, turn: float) -> Iterator[Run]:
    """Lines of one family, long enough to cross the area's box, dashed."""
    angle = family.angle + turn
    left, low, right, high = affinity.rotate(area, -angle, origin=(0, 0)).bounds
    run, up = toward(angle), toward(angle + 90.0)
    first = floor((low - family.start) / family.gap) + 1
    for i in range(first, int((high - family.start) / family.gap) + 1 + (high < family.start)):
        v = family.start + i * family.gap
        for u0, u1 in _dashes(left, right, family.dash, i):
            yield _at(run, up, u0, v), _at(run, up, u1, v)


def _at(run: Point, up: Point, u: float, v: float) -> Point:
    return run[0] * u + up[0] * v, run[1] * u + up[1] * v


def _dashes(start: float, end: float, dash: tuple[float, ...], row: int) -> Iterator[tuple[float, float]]:
    """Dashes between two places; rows are shifted against each other so that gaps do not line up."""
    if not dash:
        yield start, end
        return
    on, off = dash
    period = on + off
    first = floor(start / period) - 1
    shift = (row * 0.618034 % 1.0) * period
    for i in range(first, int(end / period) + 2):
        u = i * period + shift
        if u + on > start and u < end:
            yield u, u + on


def _scatter(area: Polygon, pitch: float) -> Iterator[tuple[int, Point]]:
    """Evenly scattered places in the area's box: the additive recurrence of the plastic number, the same every time."""
    left, low, right, high = area.bounds
    count = int((right - left) * (high - low) / pitch**2) + 1
    for i in range(1, count + 1):
        yield i, (left + (i * 0.7548776662466927 % 1.0) * (right - left), low + (i * 0.5698402909980532 % 1.0) * (high - low))


def _grains(area: Polygon, pitch: float, size: float) -> Iterator[Run]:
    """Short strokes that read as grains."""
    for i, (x, y) in _scatter(area, pitch):
        dx, dy = size * cos(2.4 * i), size * sin(2.4 * i)
        yield (x - dx, y - dy), (x + dx, y + dy)


def _triangles(area: Polygon, pitch: float) -> Iterator[Run]:
    """Small triangles that read as aggregate, each turned its own way; those that would cross the edge are left out."""
    room = area.buffer(-0.9)
    for i, (x, y) in _scatter(area, pitch):
        radius = 0.55 + 0.3 * (i * 0.618034 % 1.0)
        ring = tuple(
            (x + radius * cos(2.4 * i + k * 2 * pi / 3), y + radius * sin(2.4 * i + k * 2 * pi / 3)) for k in (0, 1, 2, 0)
        )
        if room.contains(shapely.Point(x, y)):
            yield ring


def _runs(lines: shapely.Geometry) -> Iterator[Run]:
    """The runs of points in whatever an intersection gave back."""
    for part in shapely.get_parts(lines):
        if isinstance(part, LineString) and not part.is_empty:
            yield tuple((float(x), float(y)) for x, y in part.coords)
        elif isinstance(part, MultiLineString):
            yield from _runs(part)
