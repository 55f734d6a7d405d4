"""Where on the plan a drop was taken: at a corner, by side, or by two ties."""

from __future__ import annotations

from math import hypot

import numpy as np

from crownwright.geometry.polygon import contains
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import INCH
from crownwright.survey.least_squares import Array
from crownwright.survey.names import Names
from crownwright.survey.readings import AtCorner, OnSide, Place
from crownwright.survey.start import meet

BEYOND = 3 * INCH
"""A place on a corner stone may lie this far beyond the hook (a judgement)."""


def side_frame(corners: Array, side: int) -> tuple[Array, Array, Array, float]:
    """First corner, direction along, direction outward, and length of a side's string."""
    start, end = corners[side], corners[(side + 1) % len(corners)]
    x, y = (end - start).tolist()
    length = hypot(x, y)
    x, y = x / max(length, 1e-12), y / max(length, 1e-12)
    return start, np.array([x, y]), np.array([y, -x]), length


def locate(place: Place, where: str, names: Names, corners: Array, points: Array) -> Array | Problem:
    """Return the place on the plan (2,), or a problem; names are taken as known (the check has seen to that).

    ``points`` (m,2) are all tie points in the order of ``names.points``.
    """
    if isinstance(place, AtCorner):
        return np.asarray(points[names.points[place.corner]])
    if isinstance(place, OnSide):
        start, along, out, length = side_frame(corners, names.sides[place.side])
        if not -BEYOND <= place.along.metres <= length + BEYOND:
            return beyond_side(where, place.side, place.along.typed)
        return np.asarray(start + along * place.along.metres - out * place.inward.metres)
    p, q = points[names.points[place.first]], points[names.points[place.second]]
    a, b, d = place.first_reads.metres, place.second_reads.metres, float(np.hypot(*(q - p)))
    if a + b < d - 0.05 or abs(a - b) > d + 0.05:
        return Problem(
            where,
            f"the tapes from {place.first} and {place.second} do not meet: their circles miss each other",
            f"Tape the place again from {place.first} and {place.second}",
            stops=False,
        )
    both = np.array(meet(p, a, q, b))
    within = contains(corners, both)
    if within.all() and float(np.hypot(*(both[0] - both[1]))) > 0.1:
        return Problem(
            where,
            f"the tapes from {place.first} and {place.second} meet at two places on the top, mirror images of each other",
            "Tape the place from two corners of one side",
            stops=False,
        )
    return np.asarray(both[int(np.argmax(within))] if within.any() else _nearer(both, corners))


def _nearer(both: Array, corners: Array) -> Array:
    """Of two places outside the corner-to-corner strings the one nearer the middle: a proud stone may carry it."""
    middle = corners.mean(axis=0)
    return np.asarray(both[int(np.argmin(np.hypot(*(both - middle).T)))])


def beyond_side(where: str, side: str, typed: str) -> Problem:
    """The problem of a place beyond the end of its side."""
    return Problem(
        where,
        f"{typed or 'the distance'} along {side} lies beyond the side's end",
        f"Measure again from the first corner of {side}",
        stops=False,
    )
