"""Faces of masonry in elevation: joints of rubble, squared stone or brick. The same wall always gets the same joints."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from crownwright.quantity.units import INCH
from crownwright.sheets.draw.layers import HATCH
from crownwright.sheets.draw.shapes import Polyline, Shape
from crownwright.survey.readings import MasonryKind

BRICK = (8 * INCH, 8 * INCH / 3)  # a modular brick with its joint


def joints(wall: shapely.Polygon, masonry: MasonryKind) -> Iterator[Shape]:
    """Yield the joints of a wall face (m, in the drawing's plane)."""
    lines = {"rubble stone": _rubble, "squared stone": _squared, "brick": _brick}[masonry](wall)
    parts = shapely.get_parts(shapely.line_merge(shapely.intersection(lines, wall.buffer(-0.002))))
    points, part = shapely.get_coordinates(parts[shapely.length(parts) > 0.01], return_index=True)
    runs = np.split(points, np.flatnonzero(np.diff(part)) + 1) if len(points) else []
    yield from (Polyline(HATCH, tuple(map(tuple, run.tolist()))) for run in runs)


def _rubble(wall: shapely.Polygon) -> shapely.Geometry:
    """Borders between scattered stones about 9 in. wide, flatter than high as rubble is laid."""
    left, low, right, high = wall.bounds
    wide, tall = 0.24, 0.15
    count = int((right - left + 2 * wide) * (high - low + 2 * tall) / (wide * tall)) + 1
    # the additive recurrence of the plastic number scatters evenly; the face is squeezed so that stones come out flat
    spots = [
        (left - wide + (i * 0.7548776662466927 % 1.0) * (right - left + 2 * wide),
         (low - tall + (i * 0.5698402909980532 % 1.0) * (high - low + 2 * tall)) * wide / tall)
        for i in range(1, count + 1)
    ]  # fmt: skip
    cells = shapely.voronoi_polygons(shapely.MultiPoint(spots), only_edges=True)
    return shapely.affinity.scale(cells, 1.0, tall / wide, origin=(0.0, 0.0))


def _squared(wall: shapely.Polygon) -> shapely.Geometry:
    """Courses of unequal height with plumb joints that do not meet."""
    return _courses(wall, (0.20, 0.15, 0.24), (0.42, 0.30, 0.36, 0.50))


def _brick(wall: shapely.Polygon) -> shapely.Geometry:
    """Running bond."""
    return _courses(wall, (BRICK[1],), (BRICK[0],))


def _courses(wall: shapely.Polygon, heights: tuple[float, ...], widths: tuple[float, ...]) -> shapely.Geometry:
    left, low, right, high = wall.bounds
    lines = []
    z, course = high, 0
    while z > low:
        below = z - heights[course % len(heights)]
        lines.append(((left, below), (right, below)))
        x, unit = left - widths[0] * (0.5 if course % 2 else 1.0), course
        while x < right:
            lines.append(((x, z), (x, below)))
            x += widths[unit % len(widths)]
            unit += 1
        z, course = below, course + 1
    return shapely.MultiLineString(lines)
