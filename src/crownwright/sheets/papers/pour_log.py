"""The pour log: every batch, temperature and event of the day as it was logged, beside what was planned. For the file."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, tzinfo
from itertools import zip_longest

from crownwright.concrete.batches import Batch as Planned
from crownwright.cure.day_log import Batch, DayLog
from crownwright.plan.job import Units
from crownwright.plan.model import Plan
from crownwright.quantity.display import show
from crownwright.sheets.papers.day_words import clock, water
from crownwright.sheets.papers.press import Paper
from crownwright.sheets.papers.say import common

SAID = {"first batch": "first batch in", "covered": "covered damp", "uncovered": "cover off", "stripped": "form stripped"}
"""Events as they are told on a paper, where that is more than their name."""


def pour_log(plan: Plan, log: DayLog, zone: tzinfo, planned: Sequence[Planned] = ()) -> Paper:
    """Return the pour log in local time of ``zone``; ``planned`` the batches of the plan, in their order, where there is one."""
    units = plan.job.units
    content = common(plan, "What went into the form, when, how warm, and what was done by when, as it was logged.")
    content |= {
        "on": _days(log, zone),
        "facts": [list(row) for row in _facts(plan, log, planned)],
        "batches": [list(row) for row in _batches(log, planned, zone, units)],
        "temperatures": [[_when(t.at, zone), t.place, show(t.temperature, "degC", units)] for t in log.taken],
        "events": [[_when(e.at, zone), SAID.get(e.kind, e.kind), e.note] for e in log.happened],
    }
    return Paper("pour-log", "Pour log", "pour-log", content)


def _batches(log: DayLog, planned: Sequence[Planned], zone: tzinfo, units: Units) -> Iterator[tuple[str, ...]]:
    """Each batch that went in beside the one of its number in the plan; those that were planned and never went in, too."""
    for number, (went, plan) in enumerate(zip_longest(log.batches, planned), 1):
        yield str(number), *_went(went, zone, units), *_planned(plan, units)


def _went(batch: Batch | None, zone: tzinfo, units: Units) -> tuple[str, str, str, str]:
    if batch is None:
        return "not logged", "", "", ""
    amount = "" if batch.water is None else water(batch.water / 1000, units)  # a litre of water weighs a kilogram
    warm = "" if batch.temperature is None else show(batch.temperature, "degC", units)
    return _when(batch.at, zone), f"{batch.bags:g}", amount, warm


def _planned(batch: Planned | None, units: Units) -> tuple[str, str, str]:
    return ("", "", "") if batch is None else (clock(batch.wet), str(batch.bags), water(batch.water, units))


def _facts(plan: Plan, log: DayLog, planned: Sequence[Planned]) -> Iterator[tuple[str, str]]:
    bags, units = sum(batch.bags for batch in log.batches), plan.job.units
    meant = sum(batch.bags for batch in planned)
    yield "Bags in the form", f"{bags:g}" + (f" of {meant} planned" if planned else "")
    told = [batch for batch in log.batches if batch.water is not None]
    if told:
        whole = sum(batch.water or 0.0 for batch in told) / 1000
        share = sum(batch.bags for batch in told)
        yield "Water logged", f"{water(whole, units)} for {share:g} bags: {water(whole / share, units)} a bag"
    if plan.concrete is not None:
        yield "The bag", plan.concrete.bag.name


def _days(log: DayLog, zone: tzinfo) -> str:
    times = [*(b.at for b in log.batches), *(t.at for t in log.taken), *(e.at for e in log.happened)]
    first, last = min(times).astimezone(zone), max(times).astimezone(zone)
    spoken = [f"{at:%A} {at.day} {at:%B %Y}" for at in (first, last)]
    return spoken[0] if spoken[0] == spoken[1] else f"{spoken[0]} to {spoken[1]}"


def _when(at: datetime, zone: tzinfo) -> str:
    local = at.astimezone(zone)
    return f"{local:%a} {local.day} {local:%b}, {local:%H:%M}"
