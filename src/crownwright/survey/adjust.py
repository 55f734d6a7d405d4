"""From readings to a survey: one pure function."""

from __future__ import annotations

import numpy as np

from crownwright.geometry.polygon import signed_area
from crownwright.quantity.problems import Problem
from crownwright.quantity.working import Figure
from crownwright.survey.check_flues import check_quick
from crownwright.survey.closing import Closing, close_tapes
from crownwright.survey.defaults import Masonry, masonry, sd_of
from crownwright.survey.figures import closure_figure, findable_figure, flue_figures, outline_figures, side_figures, stone_figures
from crownwright.survey.flues import placed_flues
from crownwright.survey.least_squares import Array
from crownwright.survey.model import Outline, PlacedFlue, Survey
from crownwright.survey.names import Names
from crownwright.survey.outline import make_outline, side_profiles
from crownwright.survey.places import BEYOND, locate, side_frame
from crownwright.survey.plan_problems import drop_problems, flue_problems, offset_problems
from crownwright.survey.profile import SideOffsets
from crownwright.survey.quick import quick_survey
from crownwright.survey.readings import OnSide, QuickReadings, Readings
from crownwright.survey.stone_model import stone_model
from crownwright.survey.stones import DropsRead, Ground
from crownwright.survey.surface import Top, make_top
from crownwright.survey.words import metric, next_others, tape_findings


def adjust(readings: Readings | QuickReadings) -> tuple[Survey | None, tuple[Problem, ...]]:
    """Adjust a mason's readings.

    Args:
        readings: one climb's readings, or a doorstep survey.

    Returns:
        The survey, and all problems found; the survey is None where one of them stops it.
    """
    if isinstance(readings, QuickReadings):
        problems = check_quick(readings)
        return (None if any(p.stops for p in problems) else quick_survey(readings)), problems
    closing, problems = close_tapes(readings)
    if closing is None:
        return None, problems
    survey = _survey(readings, closing, problems)
    return survey, survey.problems


def _survey(readings: Readings, closing: Closing, problems: tuple[Problem, ...]) -> Survey:
    """Put outline, stone and flues on the plan that the tapes gave."""
    layout, estimate, covariance = closing.layout, closing.estimate, closing.covariance
    names, corners, stones = layout.names, layout.corners(estimate), masonry(readings.masonry)
    profiles = side_profiles(corners, side_offsets(readings, names, corners), stones)
    outline = make_outline(layout, estimate, covariance, profiles)
    flues = placed_flues(layout, estimate, covariance)
    drops, unplaced = drops_read(readings, names, corners, layout.points(estimate)[0], outline.face, flues)
    surface = make_surface(outline, flues, drops, stones)
    figures = (
        closure_figure(closing.closure, len(closing.checked)),
        *findable_figure(closing.checked),
        *side_figures(layout, estimate, covariance),
        *outline_figures(outline, names.sides, profiles),
        *_stone_figures(surface, outline, flues, len(drops.at), names),
        *flue_figures(flues),
    )
    problems += (*flue_problems(flues, outline.face), *offset_problems(readings, names.sides, corners), *unplaced)
    findings = tape_findings(closing.closure, closing.suspects, closing.doubt, metric(readings))
    wanted = (*closing.wanted, *next_others(readings, names.sides, surface.best_places))
    return Survey(
        readings, names.corners, corners, layout.parameters, estimate, covariance, closing.checked, closing.closure,
        closing.suspects, wanted, outline, surface, flues, quick=False, findings=findings, figures=figures, problems=problems,
    )  # fmt: skip


def make_surface(outline: Outline, flues: tuple[PlacedFlue, ...], drops: DropsRead, stones: Masonry) -> Top:
    """Fit the stone's surface to the drops."""
    ground = Ground(outline.face, face_of_sides(outline), tuple(f.ring for f in flues))
    return make_top(stone_model(outline.face, stones), ground, drops)


def face_of_sides(outline: Outline) -> tuple[Array, ...]:
    """Points (k,2) of the face side by side, each with the first point of the next."""
    ring = np.concatenate([outline.face, outline.face[:1]])
    ends = [np.flatnonzero(outline.side == i) for i in range(int(outline.side.max()) + 1)]
    return tuple(ring[np.append(at, at[-1] + 1)] for at in ends)


def _stone_figures(surface: Top, outline: Outline, flues: tuple[PlacedFlue, ...], drops: int, names: Names) -> tuple[Figure, ...]:
    cells = surface.nodes[surface.ground.stone(surface.nodes)]
    area = signed_area(outline.face) - sum(signed_area(f.ring) for f in flues)
    whole = surface.integral(cells[:, 0], cells[:, 1], np.full(len(cells), area / max(len(cells), 1)))
    return stone_figures(surface, whole, area, drops, names.sides)


def drops_read(
    readings: Readings, names: Names, corners: Array, points: Array, face: Array, flues: tuple[PlacedFlue, ...]
) -> tuple[DropsRead, tuple[Problem, ...]]:
    """Put the drops on the plan; those that cannot be placed are left out, each with its problem."""
    places = [locate(d.place, f"drops[{k}]", names, corners, points) for k, d in enumerate(readings.drops)]
    problems = [p for p in places if isinstance(p, Problem)]
    known = [k for k, p in enumerate(places) if not isinstance(p, Problem)]
    at = np.array([places[k] for k in known], dtype=float).reshape(-1, 2)
    misplaced = drop_problems([f"drops[{k}]" for k in known], at, face, flues)
    problems += misplaced.values()
    good = [i for i in range(len(known)) if i not in misplaced]
    drops = [readings.drops[known[i]] for i in good]
    highest = next((i for i, d in enumerate(drops) if d.extreme == "highest"), None)
    lowest: list[int | None] = [None] * len(corners)
    for i, drop in enumerate(drops):
        if drop.extreme == "lowest edge" and isinstance(drop.place, OnSide):
            lowest[names.sides[drop.place.side]] = i
    heights = np.array([-d.below.metres for d in drops], dtype=float)
    sd = np.array([sd_of(d.below, "drop") for d in drops], dtype=float)
    return DropsRead(at[good], heights, sd, highest, tuple(lowest)), tuple(problems)


def side_offsets(readings: Readings, names: Names, corners: Array) -> tuple[SideOffsets, ...]:
    """Gather the offsets side by side, those beyond a side's end left out."""
    sides = []
    for side, i in names.sides.items():
        end = side_frame(corners, i)[3] + BEYOND
        own = [o for o in readings.offsets if o.side == side and o.along.metres <= end]
        flagged = [k for k, o in enumerate(own) if o.proudest]
        sides.append(
            SideOffsets(
                np.array([o.along.metres for o in own], dtype=float),
                np.array([o.out.metres for o in own], dtype=float),
                np.array([sd_of(o.out, "offset") for o in own], dtype=float),
                flagged[0] if flagged else None,
            )
        )
    return tuple(sides)
