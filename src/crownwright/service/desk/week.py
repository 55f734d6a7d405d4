"""The week over all jobs of the book: visits, clashes, weather; whom to call on a day and why; the visits as a calendar file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from crownwright.book import jobs, revisions
from crownwright.book.jobs import JobRow
from crownwright.plan.job import Job, Units
from crownwright.quantity.display import show
from crownwright.service.desk.account import account_of
from crownwright.service.desk.days_of import days_of
from crownwright.service.desk.money_of import Books, books_of
from crownwright.service.desk.open_desk import Desk
from crownwright.service.jobfile import parse_job
from crownwright.sheets.calendar import Visit, icalendar, visits_of
from crownwright.sheets.calendar_cure import visits_by_cure
from crownwright.sheets.calendar_week import Day, week
from crownwright.weather.hours import Hours, zone_of

AT_WORK = ("agreed", "bed laid", "poured", "stripped")
"""States of work in which a job has visits ahead."""
MOST = 200
SOON = 7  # days before a quote runs out in which to ask after it


@dataclass(frozen=True, slots=True)
class Call:
    """Whom to call: the job (its id), customer, telephone ("" where none was told) and why."""

    job: str
    who: str
    phone: str
    why: str


def week_of(desk: Desk, monday: date | None = None) -> tuple[Day, ...]:
    """Seven days from ``monday`` (left out, this week's) over all jobs: visits in order, clashes, the weather where known."""
    today = desk.clock().date()
    first = monday or today - timedelta(days=today.weekday())
    visits: list[Visit] = []
    weather: dict[date, str] = {}
    for row in _at_work(desk):
        mine, said = _visits(desk, row)
        visits += mine
        weather = {on: text for on, text in said.items() if on not in weather} | weather
    return week(visits, first, weather)


def calls_of(desk: Desk, on: date | None = None) -> tuple[Call, ...]:
    """Whom to call on a day (left out, today): visits of the next day, quotes that run out, money that is late."""
    day = on or desk.clock().date()
    found: list[Call] = []
    for row in _at_work(desk):
        job = _job(desk, row.id)
        visits, _ = _visits(desk, row)
        first = next((v for v in sorted(visits, key=_start) if _date(v) == day + timedelta(days=1)), None)
        if first is not None:
            found.append(_call(row, job, f"tomorrow, {_clock(first)}: {first.what.partition(': ')[0].lower()}"))
        account = account_of(desk, row.id)
        due = account.invoices[-1].due_by if account.invoices else None
        if due is not None and due < day and account.owed is not None and account.owed.amount > 0:
            late = f"{account.owed.amount} {account.owed.currency} was due on {due.isoformat()}"
            found.append(_call(row, job, late))
    for row in _in_state(desk, "quoted"):
        ends = [q.valid_until for _, q in account_of(desk, row.id).quotes if q.valid_until is not None]
        if ends and day <= max(ends) <= day + timedelta(days=SOON):
            found.append(_call(row, _job(desk, row.id), f"the quote runs out on {max(ends).isoformat()}"))
    return tuple(found)


def calendar_of_job(desk: Desk, job: str) -> str:
    """The visits of a job as iCalendar. Its revision is that of the job: what was given out before is replaced, ids stay."""
    with desk.book.reading() as c:
        row = jobs.need(c, job)
    visits, _ = _visits(desk, row)
    return icalendar(visits, _zone(desk, job), desk.clock(), row.title)


def _visits(desk: Desk, row: JobRow) -> tuple[list[Visit], Mapping[date, str]]:
    """A job's visits: by the cure where the days are planned, by what is usual round the hour chosen, else the next visit."""
    job = _job(desk, row.id)
    if job is None or not job.day.begins:
        return _next_visit(row), {}
    days = days_of(desk, row.id, sure=False)
    if days.told is not None and days.told.days.cure.pour is not None:
        visits = visits_by_cure(row.id, row.title, row.place, days.told.days, revision=row.head)
        return list(visits), weather_words(days.told.days.hours, job.units)
    with suppress(ValueError):
        pour = datetime.fromisoformat(job.day.begins).replace(tzinfo=None)
        return [replace(v, revision=row.head) for v in visits_of(row.id, row.title, row.place, pour)], {}
    return _next_visit(row), {}


def _next_visit(row: JobRow) -> list[Visit]:
    if not row.next_visit:
        return []
    at = datetime.fromisoformat(row.next_visit).replace(tzinfo=None)
    start: date = at if "T" in row.next_visit else at.date()
    return [Visit(row.id, "next", f"Visit: {row.title}", start, None, row.place, revision=row.head)]


def weather_words(hours: Hours, units: Units) -> dict[date, str]:
    """A word on the weather of each day by its local hours: coldest and warmest, chance of rain, strongest gust."""
    zone = zone_of(hours.zone)
    local = [datetime.fromisoformat(f"{stamp}+00:00").astimezone(zone).date() for stamp in hours.utc.astype("datetime64[s]")]
    found: dict[date, str] = {}
    for on in dict.fromkeys(local[: hours.known or len(local)]):
        at = np.array([day == on for day in local])
        if at.sum() < 12:  # less than half a day says little of it
            continue
        low, high = (show(float(x), "degC", units) for x in (hours.air[at].min(), hours.air[at].max()))
        rain = f"rain {hours.rain_chance[at].max():.0%}"
        found[on] = f"{low} to {high}, {rain}, gusts {show(float(np.fmax(hours.gust, hours.wind)[at].max()), 'm/s', units)}"
    return found


def _at_work(desk: Desk) -> Iterator[JobRow]:
    """Jobs with visits ahead: at work, or with a next visit written down."""
    seen: set[str] = set()
    with desk.book.reading() as c:
        planned = [row for row in jobs.listed(c, order="visit", most=MOST)[0] if row.next_visit]
    for row in (*(row for state in AT_WORK for row in _in_state(desk, state)), *planned):
        if row.id not in seen:
            seen.add(row.id)
            yield row


def _in_state(desk: Desk, state: str) -> list[JobRow]:
    with desk.book.reading() as c:
        return [row for row in jobs.listed(c, state, most=MOST)[0] if row.state == state]


def _job(desk: Desk, job: str) -> Job | None:
    with desk.book.reading() as c:
        return parse_job(revisions.newest(c, job).text)[0]


def _zone(desk: Desk, job: str) -> str:
    """The job's local time where it is a zone by name, else the firm's."""
    found, books = _job(desk, job), books_of(desk)
    name = found.day.zone if found is not None else ""
    try:
        ZoneInfo(name or "-")
    except (KeyError, ValueError, OSError):
        return books.business.zone if isinstance(books, Books) else "UTC"
    return name


def _call(row: JobRow, job: Job | None, why: str) -> Call:
    return Call(row.id, row.customer or row.title, job.quote.phone if job is not None else "", why)


def _start(visit: Visit) -> str:
    return visit.start.isoformat()


def _date(visit: Visit) -> date:
    return visit.start.date() if isinstance(visit.start, datetime) else visit.start


def _clock(visit: Visit) -> str:
    return f"{visit.start:%H:%M}" if isinstance(visit.start, datetime) else "all day"
