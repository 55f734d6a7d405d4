"""The visits of a plan as a calendar file, with or without a forecast, and after one that was sent before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from zoneinfo import ZoneInfo

from crownwright.plan.days import DaysPlan
from crownwright.plan.model import Plan
from crownwright.price.business import Business
from crownwright.quantity.problems import Problem
from crownwright.sheets.calendar import Organizer, Visit, icalendar
from crownwright.sheets.calendar_cure import visits_by_cure
from crownwright.sheets.calendar_sent import followed, read_visits
from crownwright.sheets.calendar_visits import visits_of


def usual_visits(plan: Plan, pour: datetime) -> tuple[Visit, ...]:
    """The usual visits round a pour hour (local time without a zone)."""
    return visits_of(_id(plan), plan.job.title, plan.job.place, pour)


def cure_visits(days: DaysPlan) -> tuple[Visit, ...]:
    """The visits of a pour that was followed through its weather; their ids are those of `usual_visits`."""
    return visits_by_cure(_id(days.plan), days.plan.job.title, days.plan.job.place, days)


def _id(plan: Plan) -> str:
    """What stands for a job that is in no book: its title and place."""
    return f"{plan.job.title}|{plan.job.place}"


def visits_file(
    visits: Sequence[Visit], name: str, business: Business, made_at: datetime, sent: str | None = None, revision: int = 0
) -> str | Problem:
    """Return the calendar file of visits; ``sent``, the text of the file that was sent before: what moved since gets the next
    revision, what fell away is struck out. ``revision`` is the least that any gets.
    """
    due = tuple(replace(visit, revision=revision) for visit in visits)
    if sent is not None:
        try:
            before = read_visits(sent)
        except ValueError as error:
            return Problem("the calendar sent before", str(error), "Name the file that crownwright calendar wrote")
        due = followed(before, due, business.zone, made_at.astimezone(ZoneInfo(business.zone)).date())
    return icalendar(due, business.zone, made_at, name, Organizer(business.name, business.email))
