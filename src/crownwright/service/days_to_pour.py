"""The days to pour, the pour day, and the day as it goes: each from a plan and hours of weather."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

import numpy as np

from crownwright.concrete.enriching import Step, steps
from crownwright.cure.day_log import DayLog, parse_log
from crownwright.cure.model import Moment
from crownwright.cure.on_the_day import Revision, revise
from crownwright.cure.window import Window
from crownwright.plan.days import DaysPlan, plan_days
from crownwright.plan.model import Plan
from crownwright.quantity.display import show, show_figure
from crownwright.quantity.findings import Verdict
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import QUART
from crownwright.service.weather_for import read_weather
from crownwright.weather.hours import Hours

__all__ = ["DaysTold", "days_to_pour", "on_the_day", "read_weather"]


@dataclass(frozen=True, slots=True)
class DaysTold:
    """The days in words: ``best`` hours with how sure they are, ``refused`` reasons with how many hours each costs, the ``clock``
    of the pour followed, the ``batches``, what ``portland`` does to a bag (``steps`` as values), ``care``
    and what ``short`` falls.
    """

    days: DaysPlan
    best: tuple[str, ...]
    refused: tuple[str, ...]
    clock: tuple[tuple[str, str], ...]
    batches: tuple[str, ...]
    portland: tuple[str, ...]
    steps: tuple[Step, ...]
    care: tuple[str, ...]
    short: tuple[str, ...]


def days_to_pour(plan: Plan, hours: Hours, pour_at: datetime | None = None, seed: int | None = 1) -> DaysTold | Problem:
    """Choose the days for a plan. ``pour_at`` (aware) follows that hour, not the best; ``seed`` None leaves out how sure."""
    chosen = plan.job.pour
    choices = replace(chosen, cure=replace(chosen.cure, pour_at=pour_at or chosen.cure.pour_at))
    rng = None if seed is None else np.random.default_rng(seed)
    days = plan_days(plan, hours, choices, rng)
    if days is None:
        return Problem("plan", "there is no cap to pour yet", "Put right what stops the plan first: crownwright plan JOB")
    return told(days)


def told(days: DaysPlan) -> DaysTold:
    """Put the days into words."""
    cure = days.cure
    found = days.problems[0].what if days.problems else ""
    best = tuple(_window(cure.windows[i]) for i in cure.best[:5]) or ((found,) if found else ())
    counts: dict[str, int] = {}
    for window in cure.windows:
        for reason in window.refused[:1]:
            counts[reason.rule] = counts.get(reason.rule, 0) + 1
    refused = tuple(
        f"{count} of {len(cure.windows)} hours: {rule}" for rule, count in sorted(counts.items(), key=lambda c: -c[1])
    )
    made = steps(days.plan.concrete) if days.plan.concrete is not None else ()
    return DaysTold(
        days=days,
        best=best,
        refused=refused,
        clock=tuple((_when(m.at), _label(m)) for m in cure.moments if m.at is not None),
        batches=_batches(days),
        portland=_portland(made, days),
        steps=made,
        care=_care(days),
        short=tuple(f"{f.subject}: {f.rule}. {f.action}" for f in days.findings if f.verdict is Verdict.SHORT),
    )


def _window(window: Window) -> str:
    sure = "" if window.sure is None else f", holds in {100 * window.sure:.0f} of 100 forecasts like this one"
    bed = f"; bed laid {_when(window.bed)}" if window.bed else ""
    return f"first batch {_when(window.at)}{bed}{sure}"


def _when(at: datetime | None) -> str:
    return "not within the time followed" if at is None else f"{at:%a %b} {at.day}, {at:%H:%M}"


def _label(moment: Moment) -> str:
    if moment.early is None or moment.late is None or moment.early == moment.late:
        return moment.label
    late = f"{moment.late:%H:%M}" if moment.late.date() == moment.early.date() else _when(moment.late)
    return f"{moment.label} (between {moment.early:%H:%M} and {late})"


def _batches(days: DaysPlan) -> tuple[str, ...]:
    if days.mixing is None:
        return ()
    units = days.plan.job.units
    lines = []
    for n, batch in enumerate(days.mixing.batches.batches, 1):
        water = f"{batch.water / QUART:.1f} qt" if units == "us" else f"{batch.water * 1000:.1f} L"
        clock = f"{int(batch.wet // 3600) % 24:02d}:{int(batch.wet % 3600 // 60):02d}"
        bags = f"{batch.bags} bag{'s' if batch.bags > 1 else ''}"
        lines.append(f"{n}. {clock}  {batch.lift}: {bags}, {water} of water, {batch.buckets} buckets")
    return tuple(lines)


def _portland(made: tuple[Step, ...], days: DaysPlan) -> tuple[str, ...]:
    units = days.plan.job.units
    return tuple(
        f"{show(step.mix.portland, 'kg', units)} ({step.says}): water/cement {step.mix.water_cement.mean:.2f}, "
        f"{show(step.mix.strength.mean, 'Pa', units)} at 28 days, yields {show(step.mix.yields, 'm3', units)}, "
        f"shrinks {step.mix.shrinkage:.2f} times the plain bag"
        for step in made
    )


def _care(days: DaysPlan) -> tuple[str, ...]:
    units = days.plan.job.units
    wanted = ("cure.evaporation", "cure.mist", "cure.coldest", "cure.hottest", "concrete.mix_temperature", "concrete.strip.strip")
    lines = [f"{f.label}: {show_figure(f, units)}" for key in wanted for f in days.figures if f.key == key]
    if days.mixing is not None:
        lines += [caution.words for caution in days.mixing.cautions]
    return tuple(lines)


def on_the_day(days: DaysPlan, data: object) -> tuple[Revision | None, DayLog | None, tuple[Problem, ...]]:
    """Move the day's times by its log (what a TOML or JSON log file holds); problems all at once where it cannot be read."""
    log, problems = parse_log(data, days.hours.zone)
    if log is None:
        return None, None, problems
    revision, more = revise(days.cure, days.hours, log)
    return revision, log, (*problems, *more)
