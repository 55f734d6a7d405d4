"""The window search: every hour of the forecast as a start, bed day and pour day together, each refused hour with its reason."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from math import ceil

import numpy as np
from numpy.typing import NDArray

from crownwright.cure.bed import bed_hours, best_bed
from crownwright.cure.forcing import Forcing, forcing
from crownwright.cure.heat import DT, History, run
from crownwright.cure.inputs import CapInWeather, CureChoices, MixInCure
from crownwright.cure.measures import Judged, judge, struck_after
from crownwright.cure.milestones import Milestones, milestones
from crownwright.cure.rules import refusal
from crownwright.quantity.findings import Finding
from crownwright.quantity.units import DAY, HOUR
from crownwright.weather.hours import Hours, at_top, lengthened, moment, zone_of

Floats = NDArray[np.float64]
Steps = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Window:
    """One hour for the first batch: local times, ``refused`` reasons (none: it will do), ``cost`` how near the limits it comes
    (0 is far from all of them), ``initial`` and ``final`` set of the top, ``bed`` the hour to lay the bed, ``sure`` the share of
    perturbed forecasts in which it still does (None where not asked).
    """

    at: datetime
    refused: tuple[Finding, ...]
    cost: float
    initial: datetime | None
    final: datetime | None
    bed: datetime | None
    sure: float | None = None

    @property
    def ok(self) -> bool:
        """Whether nothing speaks against it."""
        return not self.refused


@dataclass(frozen=True, slots=True, eq=False)
class Search:
    """All starting hours in order of time; ``best`` their places from the best down, only those that will do; and what they were
    judged by: the hours at the top (made longer for the cure), the history and milestones of every pour.
    """

    windows: tuple[Window, ...]
    best: tuple[int, ...]
    hours: Hours
    history: History
    miles: Milestones
    judged: Judged
    force: Forcing


def prepared(cap: CapInWeather, hours: Hours, choices: CureChoices) -> Hours:
    """Return the hours at the height of the top, lengthened so that a pour in the last known hour can be followed to its end."""
    return at_top(
        lengthened(hours, hours.known + ceil(choices.cure_days * 24) + struck_after(choices) + 1), cap.height, cap.ground
    )


def search(cap: CapInWeather, hours: Hours, mix: MixInCure, choices: CureChoices, *, dt: float = DT) -> Search:
    """Judge every known hour of ``hours`` as a start; the heat balance is run for each of them through the whole cure.

    Pure and without chance; `crownwright.cure.sure` asks how sure it is. ``dt`` step of the heat balance, s.
    """
    top = prepared(cap, hours, choices)
    force = forcing(top, cap, dt)
    first = np.arange(hours.known)
    struck = first + struck_after(choices)
    history = run(cap, mix, choices.care, force, struck * round(HOUR / dt), choices.cure_days)
    miles = milestones(history, mix, choices)
    judged, beds = with_bed(judge(top, first, history, miles, choices, mix), top, first, choices)
    windows = _windows(top, first, miles, judged, beds, choices)
    return Search(windows, ranked(windows), top, history, miles, judged, force)


def with_bed(judged: Judged, hours: Hours, first: Steps, choices: CureChoices) -> tuple[Judged, Steps]:
    """Add the rule of the bed, and return the hour at which each pour's bed is laid (-1: none, or none needed)."""
    if not choices.with_bed:
        return judged, np.full(len(first), -1)
    if choices.bed_at is not None:
        laid = np.datetime64(int(choices.bed_at.timestamp()), "s")
        waited = (hours.utc[first] - laid) / np.timedelta64(1, "h") - choices.bed_hours
        return judged.with_rule("bed", (waited >= choices.night).astype(float), 1.0), np.full(len(first), -1)
    fit, cost = bed_hours(hours, choices)
    beds = best_bed(fit, cost, first, choices)
    return judged.with_rule("bed", (beds >= 0).astype(float), 1.0), beds


def _windows(
    hours: Hours, first: Steps, miles: Milestones, judged: Judged, beds: Steps, choices: CureChoices
) -> tuple[Window, ...]:
    zone = zone_of(hours.zone)
    broken, cost = judged.broken(), judged.cost()
    lag = struck_after(choices) * HOUR
    made = []
    for i, hour in enumerate(first):
        at = moment(hours.utc[hour]).astimezone(zone)
        refused = tuple(
            refusal(key, float(judged.measure[key][i]), judged.limit[key]) for key, flags in broken.items() if flags[i]
        )
        bed = moment(hours.utc[beds[i]]).astimezone(zone) if beds[i] >= 0 else choices.bed_at if choices.with_bed else None
        made.append(Window(at, refused, float(cost[i]), after(at, lag + miles.initial[i]), after(at, lag + miles.final[i]), bed))
    return tuple(made)


def after(at: datetime, age: float) -> datetime | None:
    """Return the local time ``age`` s after ``at``, to the minute; None for an age never reached. Clocks may change between."""
    if not np.isfinite(age):
        return None
    passed = (at.astimezone(zone_of("UTC")) + timedelta(seconds=float(age))).astimezone(at.tzinfo)
    return passed.replace(second=0, microsecond=0)


def ranked(windows: tuple[Window, ...]) -> tuple[int, ...]:
    """Return the places of the hours that will do: the surest first (by tenths), then the easiest, then the earliest."""
    fine = [i for i, window in enumerate(windows) if window.ok]
    return tuple(sorted(fine, key=lambda i: (-round(windows[i].sure or 0.0, 1), round(windows[i].cost, 2), i)))


assert DAY % DT == 0
