"""Does a part that moves straight off run into something? Is the line to a screw head free? Exact for convex prisms.

A swept convex prism is a convex prism again while its height overlaps the obstacle's, so both questions come down to looking
for a separating line between two convex polygons. Touching is allowed; less than `PLAY` of overlap is rounding, not a hold.
Written with plain floats: the polygons have four corners, and most pairs are told apart by their boxes.
"""

from __future__ import annotations

from crownwright.checks.strip_model import Leg, Point, Prism, Vector

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
    x0, y0, x1, y1 = prism.box
    if max(first[0], last[0]) < x0 or min(first[0], last[0]) > x1 or max(first[1], last[1]) < y0 or min(first[1], last[1]) > y1:
        return False
    start, stop = _clip(first[2], last[2] - first[2], prism.bottom + PLAY, prism.top - PLAY)
    dx, dy = last[0] - first[0], last[1] - first[1]
    for (nx, ny), (low, high) in zip(prism.normals, prism.spans, strict=True):
        if stop <= start:
            return False
        enters, leaves = _clip(first[0] * nx + first[1] * ny, dx * nx + dy * ny, low + PLAY, high - PLAY)
        start, stop = max(start, enters), min(stop, leaves)
    return stop > start


def _swept(moving: Prism, shift: Vector, leg: Leg, fixed: Prism) -> bool:
    dx, dy, dz = leg.way
    start, stop = _while_level(moving, shift[2], leg, fixed)
    if stop <= start or _boxes_apart(moving, shift, leg, (start, stop), fixed):
        return False
    across = ((-dy, dx),) if abs(dz) < 0.999 else ()  # unit enough: it only scales the play
    for axis in (*moving.normals, *fixed.normals, *across):
        nx, ny = axis
        along, at = dx * nx + dy * ny, shift[0] * nx + shift[1] * ny
        low, high = span(moving.footprint, axis)
        other_low, other_high = span(fixed.footprint, axis)
        low += at + min(start * along, stop * along)
        high += at + max(start * along, stop * along)
        if min(high, other_high) - max(low, other_low) <= PLAY:
            return False
    return True


def span(points: tuple[Point, ...], axis: Point) -> tuple[float, float]:
    """Return the least and the greatest of points measured along an axis.

    >>> span(((0, 0), (3, 4)), (1, 0))
    (0, 3)
    """
    across = [x * axis[0] + y * axis[1] for x, y in points]
    return min(across), max(across)


def _while_level(moving: Prism, raised: float, leg: Leg, fixed: Prism) -> tuple[float, float]:
    """From when to when (distance moved) the two overlap in height by more than `PLAY`; an empty span if never."""
    dz, bottom, top = leg.way[2], moving.bottom + raised, moving.top + raised
    if dz == 0:
        return (0.0, leg.far) if min(top, fixed.top) - max(bottom, fixed.bottom) > PLAY else (0.0, 0.0)
    one, two = (fixed.bottom + PLAY - top) / dz, (fixed.top - PLAY - bottom) / dz
    return max(min(one, two), 0.0), min(max(one, two), leg.far)


def _boxes_apart(moving: Prism, shift: Vector, leg: Leg, when: tuple[float, float], fixed: Prism) -> bool:
    """Cheap no: the swept box and the other's box do not meet."""
    a, b = moving.box, fixed.box
    for axis in (0, 1):
        begin, end = (shift[axis] + time * leg.way[axis] for time in when)
        if min(a[axis + 2] + max(begin, end), b[axis + 2]) - max(a[axis] + min(begin, end), b[axis]) <= PLAY:
            return True
    return False


def _clip(origin: float, heading: float, low: float, high: float) -> tuple[float, float]:
    """Part (0..1) of a line for which origin + t heading lies strictly between low and high."""
    if abs(heading) < 1e-12:
        return (0.0, 1.0) if low < origin < high else (1.0, 0.0)
    one, two = (low - origin) / heading, (high - origin) / heading
    return max(min(one, two), 0.0), min(max(one, two), 1.0)
