"""Does a part that moves straight off run into something? Is the line to a screw head free? Exact for convex prisms.

A swept convex prism is a convex prism again while its height overlaps the obstacle's, so both questions come down to looking
for a separating line between two convex polygons. Touching is allowed; less than `PLAY` of overlap is rounding, not a hold.
Written with plain floats, for polygons of four corners; `Solids` first sorts out what is near enough to matter.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from crownwright.checks.strip_model import STONE, Fastener, Leg, Part, Point, Prism, Vector

Span = tuple[float, float]
SOLID = frozenset({STONE})
PLAY = 1e-3
"""Overlap under this is taken as touching, m: saw cuts and blots of concrete are no better."""


def runs_into(moving: Prism, move: tuple[Leg, ...], fixed: Prism) -> bool:
    """Return whether ``moving``, taken through the legs of a move, anywhere enters ``fixed`` by more than `PLAY`.

    >>> from crownwright.checks.strip_model import FAR
    >>> board = Prism(((0, 0), (1, 0), (1, 0.1), (0, 0.1)), 0.0, 0.2)
    >>> wall = Prism(((0, 0.1), (1, 0.1), (1, 0.5), (0, 0.5)), 0.0, 0.5)
    >>> runs_into(board, (Leg((0, -1, 0), FAR),), wall), runs_into(board, (Leg((0, 1, 0), FAR),), wall)
    (False, True)
    """
    shift = (0.0, 0.0, 0.0)
    for leg in move:
        if _swept(moving, shift, leg, fixed):
            return True
        shift = (shift[0] + leg.far * leg.way[0], shift[1] + leg.far * leg.way[1], shift[2] + leg.far * leg.way[2])
    return False


def line_meets(first: Vector, last: Vector, prism: Prism) -> bool:
    """Return whether the straight line between two points passes through ``prism``, its skin of `PLAY` left off.

    >>> block = Prism(((0, 0), (1, 0), (1, 1), (0, 1)), 0.0, 1.0)
    >>> line_meets((0.5, 0.5, -1.0), (0.5, 0.5, 2.0), block), line_meets((1.0, 0.5, -1.0), (1.0, 0.5, 2.0), block)
    (True, False)
    """
    start, stop = _clip(first[2], last[2] - first[2], prism.bottom + PLAY, prism.top - PLAY)
    dx, dy = last[0] - first[0], last[1] - first[1]
    for (nx, ny), (low, high) in zip(prism.normals, prism.spans, strict=True):
        if stop <= start:
            return False
        enters, leaves = _clip(first[0] * nx + first[1] * ny, dx * nx + dy * ny, low + PLAY, high - PLAY)
        start, stop = max(start, enters), min(stop, leaves)
    return stop > start


def _swept(moving: Prism, shift: Vector, leg: Leg, fixed: Prism) -> bool:
    start, stop = _while_level(moving, shift[2], leg, fixed)
    if stop <= start:
        return False
    return not any(
        min(high + max(first, last), other_high) - max(low + min(first, last), other_low) <= PLAY
        for (low, high), (other_low, other_high), first, last in _shadows(moving, shift, leg, (start, stop), fixed)
    )


def _shadows(
    moving: Prism, shift: Vector, leg: Leg, when: tuple[float, float], fixed: Prism
) -> Iterator[tuple[Span, Span, float, float]]:
    """Both footprints along every line that could tell them apart, with how far the moving one slides along it.

    First the line square to the way, which tells most pairs apart.
    """
    dx, dy, dz = leg.way
    across = (-dy, dx)
    if abs(dz) < 0.999:  # unit enough: it only scales the play
        at = shift[0] * across[0] + shift[1] * across[1]
        yield span(moving.footprint, across), span(fixed.footprint, across), at, at
    for axis, own in zip(moving.normals, moving.spans, strict=True):
        first, last = _slides(axis, shift, leg, when)
        yield own, span(fixed.footprint, axis), first, last
    for axis, own in zip(fixed.normals, fixed.spans, strict=True):
        first, last = _slides(axis, shift, leg, when)
        yield span(moving.footprint, axis), own, first, last


def _slides(axis: Point, shift: Vector, leg: Leg, when: tuple[float, float]) -> tuple[float, float]:
    along = leg.way[0] * axis[0] + leg.way[1] * axis[1]
    at = shift[0] * axis[0] + shift[1] * axis[1]
    return at + when[0] * along, at + when[1] * along


def span(points: tuple[Point, ...], axis: Point) -> tuple[float, float]:
    """Return the least and the greatest of points measured along an axis.

    >>> span(((0, 0), (3, 4)), (1, 0))
    (0, 3)
    """
    ax, ay = axis
    across = [x * ax + y * ay for x, y in points]
    return min(across), max(across)


def _while_level(moving: Prism, raised: float, leg: Leg, fixed: Prism) -> tuple[float, float]:
    """From when to when (distance moved) the two overlap in height by more than `PLAY`; an empty span if never."""
    dz, bottom, top = leg.way[2], moving.bottom + raised, moving.top + raised
    if dz == 0:
        return (0.0, leg.far) if min(top, fixed.top) - max(bottom, fixed.bottom) > PLAY else (0.0, 0.0)
    one, two = (fixed.bottom + PLAY - top) / dz, (fixed.top - PLAY - bottom) / dz
    return max(min(one, two), 0.0), min(max(one, two), leg.far)


class Solids:
    """Named prisms, of which those near a box are found at once; most of a form is nowhere near."""

    def __init__(self, named: Iterable[tuple[str, Prism]]) -> None:
        self._named = tuple(named)
        boxes = [(*one.box[:2], one.bottom, *one.box[2:], one.top) for _, one in self._named] or [(0.0,) * 6]
        corners = np.array(boxes, dtype=np.float64).reshape(-1, 6)
        self._low, self._high = corners[:, :3] + PLAY, corners[:, 3:] - PLAY
        self._count = len(self._named)

    def near(self, low: Vector, high: Vector) -> list[tuple[str, Prism]]:
        """Return the prisms whose boxes, less `PLAY`, meet the box from ``low`` to ``high``."""
        meets = np.logical_and(self._low < np.array(high), self._high > np.array(low)).all(axis=1)
        return [self._named[k] for k in np.flatnonzero(meets) if k < self._count]

    def in_the_way(self, part: Part, move: tuple[Leg, ...]) -> frozenset[str]:
        """Return the names of prisms, not the part's own, that the part runs into in a move; of nothing solid, only that."""
        near = [(mine, name, other) for mine in part.prisms for name, other in self.near(*_swept_box(mine, move))]
        if any(name == STONE and runs_into(mine, move, other) for mine, name, other in near):
            return SOLID
        found: set[str] = set()
        for mine, name, other in near:
            if name not in {part.name, STONE} and name not in found and runs_into(mine, move, other):
                found.add(name)
        return frozenset(found)

    def over(self, fastener: Fastener) -> frozenset[str]:
        """Return the names of prisms that cover a fastener's head."""
        ends = [end for line in fastener.reach for end in line]
        low = (min(x for x, _, _ in ends), min(y for _, y, _ in ends), min(z for _, _, z in ends))
        high = (max(x for x, _, _ in ends), max(y for _, y, _ in ends), max(z for _, _, z in ends))
        around = self.near(low, high)
        return frozenset(name for name, prism in around if any(line_meets(*line, prism) for line in fastener.reach))


def _swept_box(prism: Prism, move: tuple[Leg, ...]) -> tuple[Vector, Vector]:
    """The box of everywhere a prism passes in a move."""
    x0, y0, x1, y1 = prism.box
    low, high, at = [x0, y0, prism.bottom], [x1, y1, prism.top], [0.0, 0.0, 0.0]
    least, most = [0.0] * 3, [0.0] * 3
    for leg in move:
        for k in range(3):
            at[k] += leg.far * leg.way[k]
            least[k], most[k] = min(least[k], at[k]), max(most[k], at[k])
    return (low[0] + least[0], low[1] + least[1], low[2] + least[2]), (high[0] + most[0], high[1] + most[1], high[2] + most[2])


def _clip(origin: float, heading: float, low: float, high: float) -> tuple[float, float]:
    """Part (0..1) of a line for which origin + t heading lies strictly between low and high."""
    if abs(heading) < 1e-12:
        return (0.0, 1.0) if low < origin < high else (1.0, 0.0)
    one, two = (low - origin) / heading, (high - origin) / heading
    return max(min(one, two), 0.0), min(max(one, two), 1.0)
