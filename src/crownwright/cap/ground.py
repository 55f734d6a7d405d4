"""The stone as the cap meets it: the plan in the cap's own frame and the height of the stone wherever the design asks.

All heights are asked for at once: a kriged surface costs by the call as much as by the point.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from crownwright.cap.choices import CapChoices
from crownwright.cap.fit import Fit
from crownwright.geometry.cells import cells
from crownwright.geometry.hull import convex_hull, frame
from crownwright.geometry.polygon import signed_area
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import INCH
from crownwright.survey.model import Survey

Array = NDArray[np.float64]

CELL = 3 * INCH
"""Size of the cells over the stone; a bed of stones 6 to 14 in. wide varies little over it."""
PIECE = 2 * INCH
"""Longest piece of a joint's ring in the integrals round it."""


@dataclass(frozen=True, slots=True)
class Border:
    """A ring in short pieces, in the cap's frame: ``middle`` (n,2), ``length`` (n,), outward ``normal`` (n,2), and the
    height of the ``stone`` (n,) there.
    """

    middle: Array
    length: Array
    normal: Array
    stone: Array


@dataclass(frozen=True, slots=True)
class Ground:
    """Everything under the cap, in its own frame (origin at its first corner, u along side 0).

    ``axes`` rows u and v, ``origin`` in the survey's frame. ``outline`` (m,2) the stone's face with its height ``face`` (m,);
    ``hull`` (k,2) of it; ``rings`` the joints' holes; ``stone`` the region inside the outline and outside the holes, ``hollow``
    the part hollowed out. ``at`` (n,2), ``area`` (n,), ``mean`` and ``sd`` (n,): cells over the stone and its height there,
    the hollow not counted. ``borders`` of the rings. ``looks``: heights at three places seen along a diagonal.
    """

    axes: Array
    origin: Array
    outline: Array
    face: Array
    hull: Array
    rings: tuple[Array, ...]
    stone: shapely.Geometry
    hollow: shapely.Geometry
    at: Array
    area: Array
    mean: Array
    sd: Array
    borders: tuple[Border, ...]
    looks: Array
    highest: Uncertain

    @property
    def stone_area(self) -> float:
        """Plan area inside the stone's outline, flues and all, m2."""
        return abs(signed_area(self.outline))

    def back(self, points: Array) -> Array:
        """Points (n,2) of the cap's frame in the survey's."""
        return np.asarray(points @ self.axes + self.origin)


def ground_of(survey: Survey, rectangle: Fit, holes: list[Array], choices: CapChoices) -> Ground:
    """Lay out the plan for a fitted rectangle; ``holes`` (each (n,2)) are the joints' rings in the survey's frame."""
    axes, origin = frame(rectangle.turn), rectangle.corners[0]

    def into(points: Array) -> Array:
        return np.asarray((points - origin) @ axes.T)

    outline, rings = into(survey.outline.face), [into(ring) for ring in holes]
    whole = shapely.make_valid(shapely.Polygon(outline))
    gone = shapely.union_all([shapely.Polygon(ring) for ring in rings])
    under = shapely.box(0.0, 0.0, rectangle.length, rectangle.width).difference(gone)
    stone = whole.intersection(under)
    hollow = whole.buffer(-choices.hollow_inset).intersection(under) if choices.hollow_depth > 0 else shapely.Polygon()
    x, y, area = cells(stone, CELL)
    at = np.column_stack([x, y])
    cut = [pieces(ring) for ring in rings]
    seen = _looks(outline, gone)
    asked = [at, outline, *(middle for middle, _, _ in cut), seen]
    mean, sd = survey.surface.heights(np.concatenate(asked) @ axes + origin)
    parts = np.split(mean, np.cumsum([len(points) for points in asked])[:-1])
    borders = tuple(Border(*piece, stone=heights) for piece, heights in zip(cut, parts[2:-1], strict=True))
    return Ground(
        axes,
        origin,
        outline,
        parts[1],
        convex_hull(outline),
        tuple(rings),
        stone,
        hollow,
        at,
        area,
        parts[0],
        sd[: len(at)],
        borders,
        parts[-1],
        survey.surface.highest,
    )


def pieces(ring: Array, step: float = PIECE) -> tuple[Array, Array, Array]:
    """Middles (n,2), lengths (n,) and outward normals (n,2) of the pieces, none longer than ``step`` (m), of a ring."""
    closed = shapely.get_coordinates(shapely.segmentize(shapely.linearrings(ring), step))
    run = np.diff(closed, axis=0)
    length = np.hypot(run[:, 0], run[:, 1])
    normal = np.column_stack([run[:, 1], -run[:, 0]]) / np.maximum(length, 1e-12)[:, None]
    return (closed[1:] + closed[:-1]) / 2, length, normal


def _looks(outline: Array, flues: shapely.Geometry) -> Array:
    """Three places (3,2) along the box's diagonal, clear of the flues: where a mason glances who judges the depth by eye."""
    low, high = outline.min(0), outline.max(0)
    line = low + np.linspace(0.08, 0.92, 43)[:, None] * (high - low)
    clear = line[~shapely.contains_xy(flues, line)]
    at = clear if len(clear) >= 3 else line
    return np.asarray(at[[len(at) // 6, len(at) // 2, -1 - len(at) // 6]])
