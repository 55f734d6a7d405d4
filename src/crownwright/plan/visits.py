"""The whole repair laid on a forecast: which days suit which work, the pour only where the window search has an hour for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

import numpy as np
from numpy.typing import NDArray

from crownwright.cure.bed import FREEZING, MORTAR_FROST, MORTAR_SETS
from crownwright.cure.inputs import CureChoices
from crownwright.cure.measures import outside_working_day
from crownwright.cure.window import Window
from crownwright.plan.days import GROUND
from crownwright.plan.model import Plan
from crownwright.repair.model import Task
from crownwright.repair.order import Visits, place
from crownwright.weather.hours import Hours, at_top, between, local_hours
from crownwright.weather.sky import light_enough

Flags = NDArray[np.bool_]
DRY_BEFORE = 24
"""Hours without rain before a repellent or a sealant goes on: the masonry must be dry (common practice, no source)."""
DRY_TASKS = frozenset({"repellent", "seal"})


def visits_on(plan: Plan, hours: Hours, windows: Sequence[Window] = ()) -> Visits | None:
    """Return the visits of a plan's repair with the days of the forecast as they are; None without an order of work.

    ``windows`` are the hours that the window search looked at for the pour: a day suits the pour when one of them on it will do.
    Without them the pour is judged by air, wind and rain like other work. Days after the forecast are taken as fit.
    """
    if plan.repair is None or plan.repair.order is None:
        return None
    around, cure = plan.job.surroundings, plan.job.pour.cure
    known = at_top(between(hours, 0, hours.known or len(hours)), around.top_height or 8.0, GROUND[around.exposure or "B"])
    dates = [when.date() for when in local_hours(known)]
    days = sorted(set(dates))
    order = plan.repair.order.order
    longest: dict[str, float] = {}
    for part in order.parts:
        longest[part.task.key] = max(longest.get(part.task.key, 0.0), part.hours)
    tasks = {part.task.key: part.task for part in order.parts}
    fit = {key: frozenset(_fit_days(task, longest[key], known, dates, days, cure)) for key, task in tasks.items()}
    if windows and "pour" in fit:
        pours = {window.at.date() for window in windows if window.ok}
        fit["pour"] = frozenset(k for k, day in enumerate(days) if day in pours)
    return place(order, fit=fit, known=len(days), first=days[0])


def _fit_days(
    task: Task, need: float, hours: Hours, dates: Sequence[date], days: Sequence[date], cure: CureChoices
) -> Iterator[int]:
    """Days on which fit hours follow each other for as long as the longest part of the task takes."""
    fine = fit_hours(task, hours, cure)
    of_day = np.array([days.index(day) for day in dates])
    for k in range(len(days)):
        if _longest_run(fine[of_day == k]) >= need - 1e-9:
            yield k


def fit_hours(task: Task, hours: Hours, cure: CureChoices) -> Flags:
    """Tell for each hour whether a task may go on in it: daylight and working hours, wind, rain, warmth, frost after it.

    Mortar and concrete (a task with a coldest air) must not freeze in the day after; work that rain spoils wants none likely
    for some hours after it; repellent and sealant a dry day before.
    """
    limits = cure.limits
    fine = light_enough(hours) & ~outside_working_day(hours, cure)
    if task.aloft:
        fine &= (hours.wind <= limits.wind) & (hours.gust <= limits.gust) & (hours.snow < limits.snow)
    if task.dry:
        fine &= _ahead(hours.rain_chance, MORTAR_SETS) <= limits.rain_chance
    if task.coldest is not None:
        fine &= (hours.air >= task.coldest - 1e-9) & (-_ahead(-hours.air, MORTAR_FROST) > FREEZING)
    if task.hottest is not None:
        fine &= hours.air <= task.hottest + 1e-9
    if task.key in DRY_TASKS:
        fine &= _ahead(hours.rain[::-1], DRY_BEFORE)[::-1] <= limits.rain
    return np.asarray(fine, dtype=bool)


def _ahead(values: NDArray[np.float64], span: int) -> NDArray[np.float64]:
    """Greatest of each hour and the ``span`` after it (fewer at the end)."""
    padded = np.concatenate([values, np.full(span, -np.inf)])
    return np.asarray(np.lib.stride_tricks.sliding_window_view(padded, span + 1).max(axis=1), dtype=float)


def _longest_run(flags: Flags) -> int:
    """Most hours in a row that are true."""
    best = run = 0
    for flag in flags:
        run = run + 1 if flag else 0
        best = max(best, run)
    return best
