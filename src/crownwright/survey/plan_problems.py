"""What only the adjusted plan shows to be wrong: corners in a line or out of order, flues off the stone, places off the top."""

from __future__ import annotations

from itertools import combinations

import numpy as np

from crownwright.geometry.polygon import away_from, contains, convex_gap, signed_area, simple
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import INCH
from crownwright.survey.layout import Layout
from crownwright.survey.least_squares import Array
from crownwright.survey.model import PlacedFlue
from crownwright.survey.places import BEYOND, beyond_side, side_frame
from crownwright.survey.readings import Readings

THIN = INCH
"""Corners that all lie this near to one line do not make a top (a judgement)."""
STRAIGHT = float(np.radians(6.0))
"""A corner that turns less than this counts as lying in a line with its neighbours (a judgement)."""


def shape_problems(layout: Layout, corners: Array) -> tuple[Problem, ...]:
    """Corners (n,2) that do not make a top."""
    names = layout.names.corners
    thick, *_ = np.sort(np.linalg.svd(corners - corners.mean(axis=0), compute_uv=False))
    if thick < THIN:
        what = f"{', '.join(names)} lie in one line by the tapes"
        return (Problem("corners", what, "Read the sides and the diagonals again: one is far off"),)
    if not simple(corners) or signed_area(corners) < 0:
        return (
            Problem(
                "corners",
                "the sides cross each other by the tapes: the letters do not run round the top, or a tape is far off",
                "Letter the corners in order, walking round with the chimney on your left, and read the diagonals again",
            ),
        )
    before, after = corners - np.roll(corners, 1, axis=0), np.roll(corners, -1, axis=0) - corners
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turn = np.arctan2(cross, (before * after).sum(axis=1))
    return tuple(
        Problem(
            f"corner {names[k]}",
            f"{names[k - 1]}, {names[k]} and {names[(k + 1) % len(names)]} lie in a line",
            f"Leave {names[k]} out, or look again which corner it was taped to",
            stops=False,
        )
        for k in np.flatnonzero(np.abs(turn) < STRAIGHT)
    )


def flue_problems(flues: tuple[PlacedFlue, ...], face: Array) -> tuple[Problem, ...]:
    """Flues that stand off the stone or into each other, by more than their own spread explains."""
    out = []
    for flue in flues:
        outside = ~contains(face, flue.ring)
        if outside.any() and away_from(face, flue.ring[outside]).max() > 3 * flue.sd + INCH:
            remedy = f"Tape {flue.name} again and look which corners they ran to"
            out.append(Problem(f"flue {flue.name}", "it stands outside the stone by the tapes", remedy, stops=False))
    for one, other in combinations(flues, 2):
        if convex_gap(one.ring, other.ring) < -3 * (one.sd + other.sd):
            where, what = f"flues {one.name}, {other.name}", "they stand into each other by the tapes"
            out.append(Problem(where, what, f"Tape between {one.name} and {other.name}, and read their sizes again", stops=False))
    return tuple(out)


def offset_problems(readings: Readings, sides: dict[str, int], corners: Array) -> tuple[Problem, ...]:
    """Offsets taken beyond the end of their side."""
    return tuple(
        beyond_side(f"offsets[{k}]", o.side, o.along.typed)
        for k, o in enumerate(readings.offsets)
        if o.side in sides and o.along.metres > side_frame(corners, sides[o.side])[3] + BEYOND
    )


def drop_problems(where: list[str], at: Array, face: Array, flues: tuple[PlacedFlue, ...]) -> dict[int, Problem]:
    """Drops (n,2) whose places lie off the stone or on a flue, by their index."""
    remedy = "Measure again where on the top it was taken"
    off = ~contains(face, at)
    off[off] = away_from(face, at[off]) > BEYOND
    out = {int(k): Problem(where[k], "its place lies off the top", remedy, stops=False) for k in np.flatnonzero(off)}
    for flue in flues:
        on = contains(flue.ring, at)
        on[on] = away_from(flue.ring, at[on]) > 3 * flue.sd + INCH
        out |= {int(k): Problem(where[k], f"its place lies on flue {flue.name}", remedy, stops=False) for k in np.flatnonzero(on)}
    return out
