"""From readings to a survey: one pure function."""

from __future__ import annotations

import numpy as np

from crownwright.quantity.problems import Problem
from crownwright.survey.chances import chi_square_limit, findable_shift
from crownwright.survey.defaults import masonry, sd_of
from crownwright.survey.flues import placed_flues
from crownwright.survey.model import CheckedReading, Closure, Survey
from crownwright.survey.names import Names, names_of
from crownwright.survey.outline import make_outline
from crownwright.survey.places import locate
from crownwright.survey.profile import SideOffsets
from crownwright.survey.quick import quick_survey
from crownwright.survey.readings import QuickReadings, Readings
from crownwright.survey.surface import make_top
from crownwright.survey.tapes import TapedTop, adjust_tapes, usable_tapes


def adjust(readings: Readings | QuickReadings) -> tuple[Survey | None, tuple[Problem, ...]]:
    """Adjust a mason's readings.

    Returns:
        The survey with the problems that do not stop it, or None with all problems.
    """
    if isinstance(readings, QuickReadings):
        return quick_survey(readings), ()
    names = names_of(readings)
    tapes = usable_tapes(readings, names)
    top, problems = adjust_tapes(names, tapes)
    if top is None:
        return None, problems
    estimate, covariance = top.fit.estimate, top.fit.covariance
    corners = top.layout.corners(estimate)
    stones = masonry(readings.masonry)
    outline = make_outline(top.layout, estimate, covariance, side_offsets(readings, names), stones)
    points = top.layout.points(estimate)[0]
    places, more = [], []
    for k, drop in enumerate(readings.drops):
        place = locate(drop.place, f"drops[{k}]", names, corners, points)
        if isinstance(place, Problem):
            more.append(place)
        else:
            places.append((*place, -drop.below.metres, sd_of(drop.below, "drop")))
    table = np.array(places).reshape(-1, 4)
    edges = tuple(outline.face[outline.side == i] for i in range(len(corners)))
    surface = make_top(outline.face, edges, table[:, :2], table[:, 2], table[:, 3], stones)
    survey = Survey(
        readings, names.corners, corners, top.layout.parameters, estimate, covariance, checked(top), closure(top), (), (),
        outline, surface, placed_flues(top.layout, estimate, covariance), quick=False, problems=(*problems, *more),
    )  # fmt: skip
    return survey, survey.problems


def side_offsets(readings: Readings, names: Names) -> tuple[SideOffsets, ...]:
    """Gather the offsets side by side."""
    sides = []
    for side in names.sides:
        own = [o for o in readings.offsets if o.side == side]
        flagged = [k for k, o in enumerate(own) if o.proudest]
        sides.append(
            SideOffsets(
                np.array([o.along.metres for o in own]),
                np.array([o.out.metres for o in own]),
                np.array([sd_of(o.out, "offset") for o in own]),
                flagged[0] if flagged else None,
            )
        )
    return tuple(sides)


def checked(top: TapedTop) -> tuple[CheckedReading, ...]:
    """Every tape and flue size after the adjustment."""
    f = top.fit
    rows = zip(top.tapes.said, top.tapes.reads, f.sd, f.residual, f.redundancy, f.w, strict=False)
    shift = findable_shift()
    return tuple(
        CheckedReading(
            said,
            k,
            float(reads),
            float(sd),
            float(v),
            float(r),
            float(w),
            shift * sd / r**0.5 if r > 1e-6 else None,
        )
        for k, (said, reads, sd, v, r, w) in enumerate(rows)
    )


def closure(top: TapedTop, chance: float = 0.01) -> Closure:
    """How the tapes close as a whole."""
    f = top.fit
    worst = float(np.abs(f.residual[: len(top.tapes)]).max(initial=0.0))
    limit = chi_square_limit(f.freedom, chance) if f.freedom > 0 else 0.0
    return Closure(worst, f.freedom, f.statistic, limit, f.freedom == 0 or f.statistic <= limit)
