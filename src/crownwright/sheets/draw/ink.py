"""From shapes to ink: every stroke and word of a drawing. Every backend starts from here, or takes from the shapes themselves
what it can say better (dimensions and hatching in DXF).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import chain

import numpy as np
from numpy.typing import NDArray

from crownwright.sheets.draw import measure, plane, symbols
from crownwright.sheets.draw.hatch import hatch
from crownwright.sheets.draw.layers import HATCH
from crownwright.sheets.draw.marks import Ink, Paper, Stroke, Words, text_ink
from crownwright.sheets.draw.plane import Box
from crownwright.sheets.draw.shapes import (
    AngleDimension,
    Arc,
    Circle,
    Dimension,
    Drawing,
    Fill,
    Hatch,
    Leader,
    Line,
    Point,
    Polygon,
    Polyline,
    Shape,
    Symbol,
    Text,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Laid:
    """A drawing laid on paper: its ink, every point (n,2) of its strokes in their order, and the box round it (mm)."""

    drawing: Drawing
    marks: tuple[Ink, ...]
    points: NDArray[np.float64]
    box: Box


def lay(drawing: Drawing) -> Laid:
    """Return a drawing laid on paper at its scale; what is done once where it is written and measured more than once."""
    marks = ink(drawing)
    points = _points(marks)
    return Laid(drawing, marks, points, _box(marks, points))


def ink(drawing: Drawing, hatching: bool = True) -> tuple[Ink, ...]:
    """Return a drawing's ink, back to front; without its hatching where only its size is wanted."""
    times = 1000.0 / drawing.scale

    def paper(p: Point) -> Point:
        return p[0] * times, p[1] * times

    shapes = drawing.shapes if hatching else (_bare(shape) for shape in drawing.shapes)
    return tuple(mark for shape in shapes for mark in ink_of(shape, paper, times))


def _bare(shape: Shape) -> Shape:
    return replace(shape, hatch=None) if isinstance(shape, Polygon) and shape.hatch is not None else shape


def extent(drawing: Drawing) -> Box:
    """Return the box round a drawing's ink, mm. Hatching lies inside its areas, so it is left out."""
    marks = ink(drawing, hatching=False)
    return _box(marks, _points(marks))


def _points(marks: tuple[Ink, ...]) -> NDArray[np.float64]:
    runs = chain.from_iterable(mark.runs for mark in marks if isinstance(mark, Stroke))
    return np.fromiter(chain.from_iterable(chain.from_iterable(runs)), float).reshape(-1, 2)


def _box(marks: tuple[Ink, ...], points: NDArray[np.float64]) -> Box:
    """The box round ink, mm, whose strokes have these points. A drawing with no ink has a box of no size."""
    words = [corner for mark in marks if isinstance(mark, Words) for corner in mark.corners()]
    spots = np.concatenate((points, np.array(words).reshape(-1, 2)))
    if not len(spots):
        return 0.0, 0.0, 0.0, 0.0
    (left, bottom), (right, top) = spots.min(axis=0).tolist(), spots.max(axis=0).tolist()
    return left, bottom, right, top


def ink_of(shape: Shape, paper: Paper, times: float) -> Iterator[Ink]:
    """Ink of one shape. ``paper`` takes metres to mm on paper, ``times`` is its factor."""
    match shape:
        case Line(layer, start, end, title):
            yield Stroke(layer, ((paper(start), paper(end)),), layer.weight, layer.dash, title=title)
        case Polyline(layer, points, closed, title):
            yield Stroke(layer, (tuple(map(paper, points)),), layer.weight, layer.dash, closed=closed, title=title)
        case Polygon():
            yield from _polygon(shape, paper)
        case Circle(layer, centre, radius, fill, title):
            ring = plane.arc(paper(centre), radius * times, 0.0, 360.0)[:-1]
            yield Stroke(layer, (ring,), layer.weight, layer.dash, fill, True, title)
        case Arc(layer, centre, radius, start, end, title):
            yield Stroke(layer, (plane.arc(paper(centre), radius * times, start, end),), layer.weight, layer.dash, title=title)
        case Text():
            yield from text_ink(shape, paper(shape.at))
        case Dimension():
            yield from measure.dimension(shape, paper)
        case AngleDimension():
            yield from measure.angle(shape, paper)
        case Leader():
            yield from measure.leader(shape, paper)
        case Symbol():
            yield from symbols.symbol(shape, paper)


def _polygon(shape: Polygon, paper: Paper) -> Iterator[Ink]:
    rings = tuple(tuple(map(paper, ring)) for ring in (shape.outer, *shape.holes))
    fill: Fill = "black" if shape.hatch is Hatch.STEEL else shape.fill
    if fill != "none":
        yield Stroke(shape.layer, rings, 0.0, (), fill, True)
    if shape.hatch is not None and len(rings[0]) >= 3:
        lines = hatch(rings, shape.hatch, shape.turn)
        if lines:
            yield Stroke(HATCH, lines, HATCH.weight)
    if shape.edge:
        yield Stroke(shape.layer, rings, shape.layer.weight, shape.layer.dash, closed=True, title=shape.title)
