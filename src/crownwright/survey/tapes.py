"""From tapes to an adjusted plan: starting places, the adjustment, and what stops it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from crownwright.geometry.polygon import contains
from crownwright.quantity.problems import Problem
from crownwright.survey.chances import w_limit
from crownwright.survey.layout import Layout, TapeSet, layout_of, tape_model, without_rows
from crownwright.survey.least_squares import Array, Fit, LooseError, fit
from crownwright.survey.names import Names
from crownwright.survey.plan_problems import shape_problems
from crownwright.survey.start import SQUARE_BY_EYE, place_corners, place_flue, rough_corners, taped, ties_of, to_datum

MIRROR_MISFIT = 9.0
"""Two places of a flue are taken as equally good when their sums of squares differ by less than this (three sigmas)."""
SQUARE_SD = SQUARE_BY_EYE


@dataclass(frozen=True, slots=True)
class TapedTop:
    """The plan as the tapes give it: which parameter is where, the readings used, the adjustment of them, and which turns of
    flues were taken as square (their rows follow those of the readings in the fit).
    """

    layout: Layout
    tapes: TapeSet
    fit: Fit
    square: tuple[int, ...] = ()


def adjust_tapes(names: Names, tapes: TapeSet) -> tuple[TapedTop | None, tuple[Problem, ...]]:
    """Adjust the tapes of a top; None with the problems that stop it where something cannot be placed."""
    layout = layout_of(names)
    start, problems = _start(layout, tapes)
    if start is None:
        return None, problems
    try:
        return _fit_square(layout, tapes, start), problems
    except LooseError as loose:
        lying = [p for p in shape_problems(layout, layout.corners(start)) if p.stops]
        return None, (*problems, *(lying or [_loose(layout, loose.direction)]))


def _fit_square(layout: Layout, tapes: TapeSet, start: Array) -> TapedTop:
    """Fit with the flues taken as set square by eye, save those whose tapes say otherwise."""
    square = square_turns(layout)
    while True:
        reads, sd = np.append(tapes.reads, [0.0] * len(square)), np.append(tapes.sd, [SQUARE_SD] * len(square))
        found = fit(tape_model(layout, tapes, square), start, reads, sd)
        kept = tuple(k for k, w in zip(square, found.w[len(tapes) :], strict=True) if abs(w) <= w_limit())
        if kept == square:
            return TapedTop(layout, tapes, found, square)
        square, start = kept, found.estimate


def leave_out(top: TapedTop, rows: tuple[int, ...]) -> TapedTop | None:
    """Adjust again with some readings left out; None where the others do not hold the top."""
    try:
        return _fit_square(top.layout, without_rows(top.tapes, rows), top.fit.estimate)
    except LooseError:
        return None


def square_turns(layout: Layout) -> tuple[int, ...]:
    """Parameters that are turns of rectangular flues, where the top has four corners and square means something."""
    if len(layout.names.corners) != 4:
        return ()
    return tuple(k + 2 for flue, k in zip(layout.names.flues, layout.flue_at, strict=True) if flue.shape == "rectangular")


def _start(layout: Layout, tapes: TapeSet) -> tuple[Array | None, tuple[Problem, ...]]:
    names = layout.names
    count = len(names.corners)
    distances = taped(tapes)
    corners = place_corners(count, {pair: d for pair, d in distances.items() if max(pair) < count})
    whole = len(corners) == count
    # where a flue stands in the way of a diagonal, the ties may still hold the corners: begin from a likely shape
    at = to_datum(np.array([corners[i] for i in range(count)])) if whole else rough_corners(count, distances)
    placed: dict[int, Array] = dict(enumerate(at))
    flues: dict[int, Array] = {}
    problems: list[Problem] = []
    waiting = list(range(len(names.flues)))
    while waiting:
        need = {i: 2 if names.flues[i].shape == "round" else 3 for i in waiting}
        ties = {i: ties_of(names, i, tapes, set(placed)) for i in waiting}
        ready = [i for i in waiting if len(ties[i][0]) >= need[i]]
        if not ready:
            problems += [_few_ties(names, i, len(ties[i][0]), need[i]) for i in waiting]
            break
        for i in ready:
            anchors, letters, reads, sd = ties[i]
            places = place_flue(names.flues[i], np.array([placed[a] for a in anchors]), letters, reads, sd, at)
            flues[i], mirror = _choose(places, at)
            if mirror and whole:
                problems.append(_mirror(names, i))
            waiting.remove(i)
        own = [i for i in ready if names.flues[i].shape == "round"]
        placed |= {names.first_row[i]: flues[i][:2] for i in own}
    if any(p.stops for p in problems):
        return None, tuple(problems)
    return layout.pack(at, [flues[i] for i in range(len(names.flues))]), tuple(problems)


def _choose(places: list[tuple[float, Array]], corners: Array) -> tuple[Array, bool]:
    """The best place inside the outline, and whether another as good lies inside too."""
    within = contains(corners, np.array([p[:2] for _, p in places]))
    inside = [place for place, ok in zip(places, within, strict=True) if ok] or places
    rivals = [p for misfit, p in inside[1:] if misfit < inside[0][0] + MIRROR_MISFIT]
    return inside[0][1], bool(rivals)


def _few_ties(names: Names, index: int, have: int, need: int) -> Problem:
    flue = names.flues[index]
    where = "its centre" if flue.shape == "round" else "its corners"
    return Problem(
        f"flue {flue.name}",
        f"not enough ties: {have} tape{'s' * (have != 1)} from known points to {where}, {need} are needed",
        f"Tape {flue.name} from {need - have} more corner{'s' * (need - have != 1)} of the chimney",
    )


def _mirror(names: Names, index: int) -> Problem:
    flue = names.flues[index]
    return Problem(
        f"flue {flue.name}",
        "its tapes fit two places, one the mirror image of the other",
        f"Tape {flue.name} from one more corner, off the line of those you used",
    )


def _loose(layout: Layout, direction: Array) -> Problem:
    """Say which points the readings leave free."""
    size = np.abs(direction)
    points = dict.fromkeys(
        name.split(".", maxsplit=1)[0] for name, s in zip(layout.parameters, size, strict=True) if s > 0.3 * size.max()
    )
    corners = [p for p in points if p in layout.names.corners]
    which = ", ".join(corners or points)
    remedy = "Tape a diagonal of the top, or each flue from more corners" if corners else f"Tape {which} from more corners"
    return Problem(f"point {which}", "not enough ties: the tapes leave it free to move", remedy)
