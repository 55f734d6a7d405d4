"""Does a part that moves straight off run into something? Is the line to a screw head free? Exact for convex prisms.

A swept convex prism is a convex prism again while its height overlaps the obstacle's, so both questions come down to looking
for a separating line between two convex polygons. Touching is allowed; less than `PLAY` of overlap is rounding, not a hold.
Written with plain floats, for polygons of four corners; `Solids` first sorts out what is near enough to matter.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from crownwright.checks.strip_model import BEHIND_HEAD, BIT, Fastener, Leg, Point, Prism, Vector

Span = tuple[float, float]
Array = NDArray[np.float64]
Around = list[tuple[int, NDArray[np.bool_]]]
"""The prisms of a part, each with those near its way."""
Spans = tuple[Span, ...]
Move = tuple[Leg, ...]
SOLID = 1
"""The bit of concrete and stone."""
PLAY = 1e-3
"""Overlap under this is taken as touching, m: saw cuts and blots of concrete are no better."""


def runs_into(moving: Prism, move: Move, fixed: Prism) -> bool:
    """Return whether ``moving``, taken through the legs of a move, anywhere enters ``fixed`` by more than `PLAY`.

    >>> from crownwright.checks.strip_model import FAR
    >>> board = Prism(((0, 0), (1, 0), (1, 0.1), (0, 0.1)), 0.0, 0.2)
    >>> wall = Prism(((0, 0.1), (1, 0.1), (1, 0.5), (0, 0.5)), 0.0, 0.5)
    >>> runs_into(board, (Leg((0, -1, 0), FAR),), wall), runs_into(board, (Leg((0, 1, 0), FAR),), wall)
    (False, True)
    """
    return _enters(moving, move, fixed, _spans(moving, fixed), _spans(fixed, moving))


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


def _enters(moving: Prism, move: Move, fixed: Prism, of_fixed: Spans, of_moving: Spans) -> bool:
    """`runs_into`, when the spans of each prism along the other's normals are known."""
    shift = (0.0, 0.0, 0.0)
    for leg in move:
        when = _while_level(moving, shift[2], leg, fixed)
        if when[1] > when[0] and not (
            _told_apart(shift, leg, when, moving.normals, moving.spans, of_fixed)
            or _told_apart(shift, leg, when, fixed.normals, of_moving, fixed.spans)
            or _beside(moving, shift, leg, fixed)
        ):
            return True
        shift = (shift[0] + leg.far * leg.way[0], shift[1] + leg.far * leg.way[1], shift[2] + leg.far * leg.way[2])
    return False


def _spans(one: Prism, other: Prism) -> Spans:
    """The other's footprint along the normals of one."""
    return tuple(span(other.footprint, axis) for axis in one.normals)


def _told_apart(shift: Vector, leg: Leg, when: Span, axes: tuple[Point, ...], moving: Spans, fixed: Spans) -> bool:
    """Whether a line that is square to a side of either shows them apart all the while that they are level."""
    (dx, dy, _), (x, y, _), (start, stop) = leg.way, shift, when
    for (nx, ny), (low, high), (other_low, other_high) in zip(axes, moving, fixed, strict=True):
        along, at = dx * nx + dy * ny, x * nx + y * ny
        first, last = at + start * along, at + stop * along
        if min(high + max(first, last), other_high) - max(low + min(first, last), other_low) <= PLAY:
            return True
    return False


def _beside(moving: Prism, shift: Vector, leg: Leg, fixed: Prism) -> bool:
    """Whether the line square to the way tells them apart: the one more that what is swept has."""
    dx, dy, dz = leg.way
    if abs(dz) >= 0.999:  # unit enough: it only scales the play
        return False
    across = (-dy, dx)
    at = shift[0] * across[0] + shift[1] * across[1]
    (low, high), (other_low, other_high) = span(moving.footprint, across), span(fixed.footprint, across)
    return min(high + at, other_high) - max(low + at, other_low) <= PLAY


def span(points: tuple[Point, ...], axis: Point) -> Span:
    """Return the least and the greatest of points measured along an axis.

    >>> span(((0, 0), (3, 4)), (1, 0))
    (0, 3)
    """
    ax, ay = axis
    across = [x * ax + y * ay for x, y in points]
    return min(across), max(across)


def _while_level(moving: Prism, raised: float, leg: Leg, fixed: Prism) -> Span:
    """From when to when (distance moved) the two overlap in height by more than `PLAY`; an empty span if never."""
    dz, bottom, top = leg.way[2], moving.bottom + raised, moving.top + raised
    if dz == 0:
        return (0.0, leg.far) if min(top, fixed.top) - max(bottom, fixed.bottom) > PLAY else (0.0, 0.0)
    one, two = (fixed.bottom + PLAY - top) / dz, (fixed.top - PLAY - bottom) / dz
    return max(min(one, two), 0.0), min(max(one, two), leg.far)


class Solids:
    """Prisms, each with the bit of the part it belongs to; those near a box are found at once, most of a form is nowhere near."""

    def __init__(self, owned: Iterable[tuple[int, Prism]]) -> None:
        self.owned = tuple(owned)
        boxes = np.array([(*one.box[:2], one.bottom, *one.box[2:], one.top) for _, one in self.owned]).reshape(-1, 6)
        self.low, self.high = boxes[:, :3], boxes[:, 3:]
        self._parts: dict[int, list[int]] = {}
        for k, (owner, _) in enumerate(self.owned):
            self._parts.setdefault(owner, []).append(k)
        self._spans: dict[tuple[int, int], Spans] = {}

    def near(self, low: Array, high: Array) -> NDArray[np.bool_]:
        """Return whether boxes (low and high corners, n by 3) meet those of the prisms, less `PLAY`: n by prisms."""
        meets = np.ones((len(low), len(self.owned)), dtype=bool)
        for k in range(3):
            meets &= (self.low[:, k] + PLAY < high[:, k, None]) & (self.high[:, k] - PLAY > low[:, k, None])
        return meets

    def around(self, moved: Sequence[tuple[int, Move]]) -> list[Around]:
        """Return, for parts by their bits each in a move, each of its prisms with which others are near enough to be met."""
        passes = {move: _passes(move) for _, move in moved}
        rows = [(k, *passes[move]) for own, move in moved for k in self._parts[own]]
        mine = [k for k, _, _ in rows]
        least, most = (np.array([row[end] for row in rows]).reshape(-1, 3) for end in (1, 2))
        near = iter(zip(mine, self.near(self.low[mine] + least, self.high[mine] + most), strict=True))
        return [[next(near) for _ in self._parts[own]] for own, _ in moved]

    def in_the_way(self, own: int, around: Around, move: Move) -> int:
        """Return what a part runs into in a move, of what is near: `SOLID` alone if anything solid, else a set of parts."""
        pairs = [(mine, other, self.owned[other][0]) for mine, near in around for other in np.flatnonzero(near).tolist()]
        if any(owner == SOLID and self._meet(mine, other, move) for mine, other, owner in pairs):
            return SOLID
        found = own | SOLID
        for mine, other, owner in pairs:
            if not owner & found and self._meet(mine, other, move):
                found |= owner
        return found & ~(own | SOLID)

    def _meet(self, mine: int, other: int, move: Move) -> bool:
        here, there = (mine, other), (other, mine)
        moving, fixed = self.owned[mine][1], self.owned[other][1]
        if here not in self._spans:  # asked for move after move, the same in each
            self._spans[here], self._spans[there] = _spans(moving, fixed), _spans(fixed, moving)
        return _enters(moving, move, fixed, self._spans[here], self._spans[there])

    def over(self, fasteners: Sequence[Fastener]) -> list[int]:
        """Return, for each fastener, the set of those that cover its head."""
        covers = [0] * len(fasteners)
        for at, k in np.argwhere(self.near(*_rooms(fasteners))).tolist():
            owner, prism = self.owned[k]
            if not owner & covers[at] and any(line_meets(*line, prism) for line in fasteners[at].reach):
                covers[at] |= owner
        return covers


def _rooms(fasteners: Sequence[Fastener]) -> tuple[Array, Array]:
    """The boxes of all that must be free to draw each fastener, their low and high corners."""
    into = np.array([one.drive for one in fasteners], dtype=np.float64).reshape(-1, 3)
    into /= np.sqrt((into * into).sum(axis=1))[:, None]
    heads, room = np.array([one.head for one in fasteners], dtype=np.float64).reshape(-1, 3), [one.room for one in fasteners]
    near, far = heads - BEHIND_HEAD * into, heads - np.array(room)[:, None] * into
    aside = BIT * np.sqrt(np.maximum(1 - into * into, 0.0))
    return np.minimum(near, far) - aside, np.maximum(near, far) + aside


def _passes(move: Move) -> tuple[Vector, Vector]:
    """How far from where it was a thing comes in a move: the least and the most, each way."""
    at = (0.0, 0.0, 0.0)
    spots = [at]
    for leg in move:
        at = at[0] + leg.far * leg.way[0], at[1] + leg.far * leg.way[1], at[2] + leg.far * leg.way[2]
        spots.append(at)
    xs, ys, zs = zip(*spots, strict=True)
    return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))


def _clip(origin: float, heading: float, low: float, high: float) -> tuple[float, float]:
    """Part (0..1) of a line for which origin + t heading lies strictly between low and high."""
    if abs(heading) < 1e-12:
        return (0.0, 1.0) if low < origin < high else (1.0, 0.0)
    one, two = (low - origin) / heading, (high - origin) / heading
    return max(min(one, two), 0.0), min(max(one, two), 1.0)
