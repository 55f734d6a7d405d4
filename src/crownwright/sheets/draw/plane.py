"""Small plane geometry in mm on paper: directions, turning, boxes."""

from __future__ import annotations

from collections.abc import Iterable
from math import atan2, cos, degrees, hypot, radians, sin

from crownwright.sheets.draw.shapes import Point

Box = tuple[float, float, float, float]
"""Left, bottom, right, top."""
_PAST_PLUMB = 105.0  # degrees


def plus(a: Point, b: Point, times: float = 1.0) -> Point:
    """Return a + times b."""
    return a[0] + times * b[0], a[1] + times * b[1]


def minus(a: Point, b: Point) -> Point:
    """Return a - b."""
    return a[0] - b[0], a[1] - b[1]


def dot(a: Point, b: Point) -> float:
    """Return the scalar product."""
    return a[0] * b[0] + a[1] * b[1]


def length(a: Point) -> float:
    """Return how long a is."""
    return hypot(*a)


def unit(a: Point) -> Point:
    """Return the direction of a, or (1, 0) where it has none."""
    size = hypot(*a)
    return (a[0] / size, a[1] / size) if size > 0 else (1.0, 0.0)


def left(a: Point) -> Point:
    """Return a turned a quarter to the left.

    >>> left((1.0, 0.0))
    (-0.0, 1.0)
    """
    return -a[1], a[0]


def toward(turn: float) -> Point:
    """Return the direction that stands ``turn`` degrees from the x axis."""
    angle = radians(turn)
    return cos(angle), sin(angle)


def turn_of(a: Point) -> float:
    """Return the angle of a from the x axis, degrees in (-180, 180]."""
    return degrees(atan2(a[1], a[0]))


def readable(turn: float) -> float:
    """Return ``turn`` flipped where needed, so that text reads from below or from the right (a little past plumb still counts).

    >>> readable(180.0), readable(-90.0), readable(92.0)
    (0.0, 90.0, 92.0)
    """
    turn = (turn + 180.0) % 360.0 - 180.0
    if turn > _PAST_PLUMB:
        return turn - 180.0
    return turn + 180.0 if turn <= _PAST_PLUMB - 180.0 else turn


def arc(centre: Point, radius: float, start: float, end: float, chord: float = 0.02) -> tuple[Point, ...]:
    """Return points along an arc, ``start`` counter-clockwise to ``end`` degrees, never further than ``chord`` from the true
    arc.
    """
    sweep = (end - start) % 360.0 or 360.0
    step = degrees(2.0 * (2.0 * chord / max(radius, 2.0 * chord)) ** 0.5)
    count = max(2, int(sweep / min(step, 45.0)) + 1)
    angles = [radians(start + sweep * i / count) for i in range(count + 1)]
    return tuple([(centre[0] + radius * cos(angle), centre[1] + radius * sin(angle)) for angle in angles])


def box_of(points: Iterable[Point]) -> Box:
    """Return the box round points; ValueError when there are none."""
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def block(at: Point, wide: float, high: float, turn: float) -> tuple[Point, ...]:
    """Return the four corners of a block with its middle at ``at``, turned."""
    c, s = toward(turn)
    halves = ((-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5))
    return tuple([(at[0] + wide * u * c - high * v * s, at[1] + wide * u * s + high * v * c) for u, v in halves])
