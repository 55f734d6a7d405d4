"""Whom to call on a day and why: visits of the next day, money that is late, quotes that run out, sealant to look at."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from crownwright.book import jobs
from crownwright.book.jobs import JobRow
from crownwright.plan.job import Job
from crownwright.service.desk.account import account_of
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.today import business_of, today_of
from crownwright.service.desk.visits_of_job import AT_WORK, job_read
from crownwright.service.desk.week import all_ahead, to_look_again
from crownwright.sheets.calendar import Visit

OWING = (*AT_WORK, "handed over", "closed")
MOST = 200
SOON = 7  # days before a quote runs out in which to ask after it; and before a look at the sealant


@dataclass(frozen=True, slots=True)
class Call:
    """Whom to call: the job (its id), customer, telephone ("" where none was told) and why."""

    job: str
    who: str
    phone: str
    why: str


def calls_of(desk: Desk, on: date | None = None, wait: float | None = None) -> tuple[Call, ...]:
    """Whom to call on a day (left out, today): visits of the next day first, then late money, quotes that run out, and looks
    at the sealant that come due.
    """
    day = on or today_of(desk)
    return (*_tomorrow(desk, day, wait), *_late(desk, day), *_running_out(desk, day), *_sealant(desk, day))


def _tomorrow(desk: Desk, day: date, wait: float | None) -> Iterator[Call]:
    found: list[tuple[str, JobRow, Visit]] = []
    for row, ahead in all_ahead(desk, wait):
        mine = sorted((v for v in ahead.visits if v.on == day + timedelta(days=1)), key=_start)
        found += [(_start(mine[0]), row, mine[0])] if mine else []
    for _, row, visit in sorted(found, key=lambda one: one[0]):
        doubt = "" if visit.sure else " (pencilled in)"
        yield _call(row, job_read(desk, row.id), f"tomorrow, {_clock(visit)}: {visit.what.partition(': ')[0].lower()}{doubt}")


def _late(desk: Desk, day: date) -> Iterator[Call]:
    for row in _in_state(desk, OWING):
        account = account_of(desk, row.id)
        for bill in account.invoices:
            lacks = account.lacks[bill.number]
            if bill.due_by is not None and bill.due_by < day and lacks.amount > 0:
                owed = lacks.shown(business_of(desk).locale)
                yield _call(row, job_read(desk, row.id), f"{owed} was due on {bill.due_by.isoformat()}")


def _running_out(desk: Desk, day: date) -> Iterator[Call]:
    for row in _in_state(desk, ("quoted",)):
        ends = [quote.valid_until for _, quote in account_of(desk, row.id).quotes if quote.valid_until is not None]
        if ends and day <= max(ends) <= day + timedelta(days=SOON):
            yield _call(row, job_read(desk, row.id), f"the quote runs out on {max(ends).isoformat()}")


def _sealant(desk: Desk, day: date) -> Iterator[Call]:
    for row, visit in to_look_again(desk):
        if day <= visit.on <= day + timedelta(days=visit.warn or SOON):
            yield _call(row, job_read(desk, row.id), f"the sealant is to be looked at on {visit.on.isoformat()}")


def _in_state(desk: Desk, states: tuple[str, ...]) -> tuple[JobRow, ...]:
    with desk.book.reading() as c:
        return jobs.in_state(c, states, MOST)


def _call(row: JobRow, job: Job | None, why: str) -> Call:
    return Call(row.id, row.customer or row.title, job.quote.phone if job is not None else "", why)


def _start(visit: Visit) -> str:
    return visit.start.isoformat()


def _clock(visit: Visit) -> str:
    return f"{visit.start:%H:%M}" if isinstance(visit.start, datetime) else "all day"
