"""From readings to a survey: one pure function."""

from __future__ import annotations

import numpy as np

from crownwright.geometry.polygon import signed_area
from crownwright.quantity.problems import Problem
from crownwright.quantity.working import Figure
from crownwright.survey.ask import ask, doubt
from crownwright.survey.check import check, check_quick
from crownwright.survey.defaults import Masonry, masonry, sd_of
from crownwright.survey.figures import closure_figure, findable_figure, flue_figures, outline_figures, side_figures, stone_figures
from crownwright.survey.flues import placed_flues
from crownwright.survey.layout import tape_set
from crownwright.survey.least_squares import Array
from crownwright.survey.model import Outline, PlacedFlue, Survey
from crownwright.survey.names import Names, names_of
from crownwright.survey.outline import make_outline, side_profiles
from crownwright.survey.places import BEYOND, locate, side_frame
from crownwright.survey.plan_problems import drop_problem, flue_problems, offset_problems, shape_problems
from crownwright.survey.profile import SideOffsets
from crownwright.survey.quick import quick_survey
from crownwright.survey.readings import OnSide, QuickReadings, Readings
from crownwright.survey.slips import weigh
from crownwright.survey.stone_model import stone_model
from crownwright.survey.surface import DropsRead, Ground, Top, make_top
from crownwright.survey.tapes import TapedTop, adjust_tapes
from crownwright.survey.verdict import checked, closure, named_readings, plan_spread, suspects, without
from crownwright.survey.words import metric, next_others, next_tapes, tape_findings


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
    names = names_of(readings)
    problems = check(readings, names)
    if any(p.stops and p.where.startswith(("corners", "flues")) for p in problems):
        return None, problems
    top, more = adjust_tapes(names, tape_set(names, readings.tapes))
    problems += more
    if top is not None:
        problems += shape_problems(top.layout, top.layout.corners(top.fit.estimate))
    if top is None or any(p.stops for p in problems):
        return None, problems
    survey = _survey(readings, top, problems)
    return survey, survey.problems


def _survey(readings: Readings, top: TapedTop, problems: tuple[Problem, ...]) -> Survey:
    """Put a survey together from tapes that place everything."""
    names, layout = top.layout.names, top.layout
    weighed = weigh(top)
    clean = without(top, named_readings(weighed))
    estimate, covariance = plan_spread(top, clean, weighed)
    corners, stones = layout.corners(estimate), masonry(readings.masonry)
    profiles = side_profiles(corners, side_offsets(readings, names, corners), stones)
    outline = make_outline(layout, estimate, covariance, profiles)
    flues = placed_flues(layout, estimate, covariance)
    drops, unplaced = drops_read(readings, names, corners, layout.points(estimate)[0], outline.face, flues)
    surface = make_surface(outline, flues, drops, stones)
    tapes_wanted = next_tapes(top, weighed, ask(top, weighed))
    tapes, suspected, closes = checked(top, clean), suspects(top, weighed), closure(top)
    figures = (
        closure_figure(closes, len(tapes)),
        *findable_figure(tapes),
        *side_figures(layout, estimate, covariance),
        *outline_figures(outline, names.sides, profiles),
        *_stone_figures(surface, outline, flues, len(drops.at), names),
        *flue_figures(flues),
    )
    problems += (*flue_problems(flues, outline.face), *offset_problems(readings, names.sides, corners), *unplaced)
    return Survey(
        readings, names.corners, corners, layout.parameters, estimate, covariance, tapes, closes, suspected,
        (*tapes_wanted, *next_others(readings, names.sides)), outline, surface, flues, quick=False,
        findings=tape_findings(closes, suspected, doubt(top, weighed), metric(readings)), figures=figures, problems=problems,
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
    rows: list[tuple[float, float, float, float]] = []
    problems: list[Problem] = []
    highest: int | None = None
    lowest: list[int | None] = [None] * len(corners)
    for k, drop in enumerate(readings.drops):
        where = f"drops[{k}]"
        place = locate(drop.place, where, names, corners, points)
        trouble = place if isinstance(place, Problem) else drop_problem(where, place, face, flues)
        if trouble or isinstance(place, Problem):
            problems += [trouble] if trouble else []
            continue
        if drop.extreme == "highest" and highest is None:
            highest = len(rows)
        elif drop.extreme == "lowest edge" and isinstance(drop.place, OnSide):
            lowest[names.sides[drop.place.side]] = len(rows)
        rows.append((float(place[0]), float(place[1]), -drop.below.metres, sd_of(drop.below, "drop")))
    table = np.array(rows, dtype=float).reshape(-1, 4)
    return DropsRead(table[:, :2], table[:, 2], table[:, 3], highest, tuple(lowest)), tuple(problems)


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
