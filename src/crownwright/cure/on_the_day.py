"""On the day: what the thermometer says moves the finishing and stripping times, and the change is shown.

The heat balance is run anew from when the wash really was struck off and from the mix as it really was; the temperatures taken
in the concrete then pull its line to themselves; the clock runs on the line so corrected (maturity, ASTM C1074).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from crownwright.cure.columns import EDGE, MIDDLE
from crownwright.cure.course import clocks_of, course_of, moments_of
from crownwright.cure.day_log import DayLog, Place, Taken
from crownwright.cure.forcing import forcing
from crownwright.cure.heat import DT, History, clock_rate, run
from crownwright.cure.inputs import CapInWeather, CureChoices, MixInCure
from crownwright.cure.measures import struck_after
from crownwright.cure.model import Course, CurePlan, Moment
from crownwright.cure.window import prepared
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import HOUR
from crownwright.quantity.working import Cite, Figure, Term
from crownwright.weather.hours import Hours, stamp

Floats = NDArray[np.float64]

FORGETS = 3 * HOUR
"""s after the last reading in which what it told is half spent and more (e-folding): the thermal time constant of a 4 in. slab
open on both faces is 1.5 to 2.9 h."""
AIR_SHARE = 0.7
"""How much of a difference in air temperature a thin cap takes on within hours (judgement, from the heat balance's own
response)."""
SOON = 120.0
"""s; a shift smaller than this is no change."""


@dataclass(frozen=True, slots=True)
class Moved:
    """A moment as planned and as it looks now, local times, and how much it moved (None where either is not in sight)."""

    key: str
    label: str
    planned: datetime | None
    now: datetime | None
    by: timedelta | None


@dataclass(frozen=True, slots=True, eq=False)
class Revision:
    """The cure as it looks now: when the wash was struck off, the moments, what moved, the course, the figures behind it."""

    struck: datetime
    moments: tuple[Moment, ...]
    moved: tuple[Moved, ...]
    course: Course
    figures: tuple[Figure, ...]


def correction(age: Floats, line: Floats, ages: Floats, taken: Floats) -> Floats:
    """Return what to add to a computed temperature ``line`` over ``age`` (s) so that it passes through temperatures ``taken``.

    Before the first reading and between readings the difference is carried on a straight line (from none at placing, whose
    temperature is known); after the last it fades over `FORGETS`.
    """
    if not len(ages):
        return np.zeros_like(line)
    off = taken - np.interp(ages, age, line)
    knots, values = (ages, off) if ages[0] <= 0 else (np.concatenate([[0.0], ages]), np.concatenate([[0.0], off]))
    between = np.interp(age, knots, values)
    fade = np.exp(-np.maximum(age - ages[-1], 0.0) / FORGETS)
    result: Floats = between * fade
    return result


def _readings(taken: Sequence[Taken], places: tuple[Place, ...], struck: datetime) -> tuple[Floats, Floats]:
    """Return ages (s) and temperatures of the readings at some places after the wash was struck off, one an age."""
    chosen = {(t.at - struck).total_seconds(): t.temperature for t in taken if t.place in places and t.at >= struck}
    ages = np.array(sorted(chosen), float)
    return ages, np.array([chosen[a] for a in ages], float)


def corrected(history: History, log: DayLog, struck: datetime) -> History:
    """Return the history pulled to the temperatures taken: in the concrete where there are any, else by those of the air."""
    age = history.age
    ages, air = _readings(log.taken, ("air",), struck)
    by_air = AIR_SHARE * correction(age, history.air[:, 0], ages, air)
    shifts = np.zeros((len(age), 2))
    mine: tuple[tuple[int, tuple[Place, ...]], ...] = ((EDGE, ("edge",)), (MIDDLE, ("top", "middle")))
    for column, places in mine:
        ages, seen = _readings(log.taken, places, struck)
        if not len(ages):  # the other place tells more than the air does
            ages, seen = _readings(log.taken, ("edge", "top", "middle"), struck)
        line = history.top[:, column, 0] if column == MIDDLE else history.middle[:, column, 0]
        shifts[:, column] = correction(age, line, ages, seen) if len(ages) else by_air
    add = shifts[:, :, None]
    top, middle, bottom = history.top + add, history.middle + add, history.bottom + add
    clocks = []
    for old_clock, old, new in ((history.clock_top, history.top, top), (history.clock_least, history.middle, middle)):
        ratio = clock_rate(history.curve, new) / clock_rate(history.curve, old)
        grown = np.diff(old_clock, axis=0) * 0.5 * (ratio[1:] + ratio[:-1])
        clocks.append(np.concatenate([old_clock[:1], old_clock[:1] + np.cumsum(grown, axis=0)]))
    return replace(history, top=top, middle=middle, bottom=bottom, clock_top=clocks[0], clock_least=clocks[1])


def mix_as_placed(log: DayLog, planned: float | None) -> float | None:
    """Return the mean temperature of the batches, weighted by bags, and of readings of the mix; the planned one without any."""
    told = [(b.temperature, b.bags) for b in log.batches if b.temperature is not None]
    told += [(t.temperature, 1.0) for t in log.taken if t.place == "mix"]
    if not told:
        return planned
    return float(np.average([t for t, _ in told], weights=[w for _, w in told]))


def struck_off(plan: CurePlan, log: DayLog) -> datetime | None:
    """Return when the wash was struck off, or will be: as logged, else from the last batch or the first, else as planned."""
    told = log.when("struck off")
    if told is not None:
        return told
    first = log.when("first batch") or (log.batches[0].at if log.batches else None)
    return first + timedelta(hours=struck_after(plan.choices)) if first is not None else plan.struck


def revise(plan: CurePlan, hours: Hours, log: DayLog) -> tuple[Revision | None, tuple[Problem, ...]]:
    """Return the cure as the day's log makes it, beside what was planned.

    ``hours`` is the forecast in hand (the plan's or a newer one). None with a problem where the pour lies outside it.
    """
    struck = struck_off(plan, log)
    if struck is None:
        return None, (Problem("log", "no pour was planned and none is logged", "Log the first batch, or plan a pour."),)
    cap, choices = plan.cap, plan.choices
    mix = replace(plan.mix, temperature=mix_as_placed(log, plan.mix.temperature))
    top = prepared(cap, hours, choices)
    start = round(float((stamp(struck) - top.utc[0]) / np.timedelta64(1, "s")) / DT)
    if start < 0 or start >= hours.known * round(HOUR / DT):
        what = f"the wash was struck off at {struck:%Y-%m-%d %H:%M}, outside the weather given"
        return None, (Problem("log.struck", what, "Fetch the weather for that day again."),)
    history = _run(cap, mix, choices, top, start)
    history = corrected(history, log, struck)
    clocks = clocks_of(history)
    moments = moments_of(
        struck.astimezone(plan.struck.tzinfo if plan.struck else struck.tzinfo), history.age, clocks, history, mix, choices
    )
    course = course_of(history, clocks, mix, choices)
    return Revision(struck, moments, _moved(plan.moments, moments), course, _figures(plan, moments, log, mix)), ()


def _run(cap: CapInWeather, mix: MixInCure, choices: CureChoices, hours: Hours, start: int) -> History:
    return run(cap, mix, choices.care, forcing(hours, cap, DT), np.array([start]), choices.cure_days)


def _moved(planned: Sequence[Moment], now: Sequence[Moment]) -> tuple[Moved, ...]:
    """Return each moment as planned and as it looks now."""
    before = {moment.key: moment for moment in planned}
    made = []
    for moment in now:
        old = before.get(moment.key)
        then = old.at if old else None
        by = moment.at - then if moment.at is not None and then is not None else None
        made.append(
            Moved(
                moment.key, moment.label, then, moment.at, by if by is None or abs(by.total_seconds()) >= SOON else timedelta(0)
            )
        )
    return tuple(made)


def _figures(plan: CurePlan, moments: Sequence[Moment], log: DayLog, mix: MixInCure) -> tuple[Figure, ...]:
    """Return how far each moment moved, s, with what moved it."""
    taken = Term("n", "temperatures taken", float(len(log.taken)))
    batches = Term("b", "batches logged", float(len(log.batches)))
    placed = Term("T0", "mix as placed", mix.temperature if mix.temperature is not None else "as the air has it", "degC")
    cite = Cite("astm_c1074", "equivalent age from the temperatures taken", "from memory")
    formula = "te = sum exp(E/R(1/Tr - 1/T)) dt on the computed line pulled to the readings"
    return tuple(
        Figure(f"cure.moved.{m.key}", f"moved: {m.label}", m.by.total_seconds(), "s", formula, (taken, batches, placed), cite)
        for m in _moved(plan.moments, moments)
        if m.by is not None
    )
