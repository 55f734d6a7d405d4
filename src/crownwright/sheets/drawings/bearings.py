"""Which way north and the ridge lie, as arrows beside a plan; nothing where nobody told."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, cos, degrees, sin

import numpy as np

from crownwright.plan.model import Plan
from crownwright.sheets.draw.layers import NOTE
from crownwright.sheets.draw.shapes import Point, Shape, Symbol, Text
from crownwright.sheets.drawings.frame import Frame
from crownwright.survey.model import Array

LONG, APART = 13.0, 17.0  # mm: an arrow, and from one to the next


def bearings(plan: Plan, frame: Frame, at: Point, shift: Point) -> Iterator[Shape]:
    """Yield the arrows, the first's middle ``shift`` mm from ``at`` of the drawing; the second to its left."""
    survey, around = plan.survey, plan.job.surroundings
    if survey is None:
        return
    ways: list[tuple[str, Array]] = []
    if around.ab_faces is not None:
        ways.append(("N", north(around.ab_faces)))
    if around.ridge_side:
        ways.append(("ridge", outward(survey.corners, survey.names.index(around.ridge_side[0]))))
    for k, (name, way) in enumerate(ways):
        yield from _arrow(name, frame, way, at, (shift[0] - k * APART, shift[1]))


def north(ab_faces: float) -> Array:
    """Unit direction of north in the survey, where side AB (along x, the inside on its left) faces so far clockwise from it, rad.

    >>> from math import pi
    >>> [(north(way).round(6) + 0.0).tolist() for way in (pi, pi / 2)]  # facing south; facing east
    [[0.0, 1.0], [1.0, 0.0]]
    """
    return np.array([sin(ab_faces), -cos(ab_faces)])


def outward(corners: Array, side: int) -> Array:
    """Unit direction square out of a side; corners run counter-clockwise."""
    x, y = corners[(side + 1) % len(corners)] - corners[side]
    return np.asarray(np.array([y, -x]) / np.hypot(x, y))


def _arrow(name: str, frame: Frame, way: Array, at: Point, shift: Point) -> Iterator[Shape]:
    tip, tail = (np.array(frame.point(end)) for end in (way, (0.0, 0.0)))
    x, y = tip - tail
    turn = atan2(y, x)
    dx, dy = cos(turn), sin(turn)
    head = shift[0] + LONG / 2 * dx, shift[1] + LONG / 2 * dy
    yield Symbol("arrow", at, "", degrees(turn), LONG, head, NOTE)
    beyond = head[0] + (2.6 if name == "N" else 5.0) * dx, head[1] + 2.6 * dy
    yield Text(at, name, 3.6, "middle", 0.5, bold=name == "N", shift=beyond, layer=NOTE)
