"""Keep the state of work and the next visit of a job; take it out of the book and bring it back."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Final, cast

from crownwright.book import jobs, revisions
from crownwright.book.jobs import STATES, Heading, Work
from crownwright.quantity.problems import Problem
from crownwright.service.desk.model import By, JobRow, State
from crownwright.service.desk.open_desk import Desk

if TYPE_CHECKING:
    from sqlalchemy import Connection

NOBODY_NAMED: Final = By("")


def set_state(desk: Desk, job: str, state: State, by: By = NOBODY_NAMED) -> JobRow:
    """Write the state of work as a new revision; ValueError for a word that is none of `STATES`."""
    if state not in STATES:
        raise ValueError(f"state {state!r} is not one of {', '.join(STATES)}")
    with desk.book.writing() as c:
        row = jobs.hold(c, job)
        what = f"state of work: {state}, was {row.state}"
        return row if row.state == state else _moved(c, desk, by, row, Work(state, row.next_visit), what)


def set_visit(desk: Desk, job: str, visit: str | None, by: By = NOBODY_NAMED) -> JobRow | Problem:
    """Write the next visit (2026-05-03, or 2026-05-03T08:30), or None for none, as a new revision."""
    visit = (visit or "").strip() or None
    if visit is not None and not _is_time(visit):
        return Problem("next visit", f"“{visit[:40]}” is not a day", "Write it like 2026-05-03, or 2026-05-03T08:30")
    with desk.book.writing() as c:
        row = jobs.hold(c, job)
        what = f"next visit: {visit or 'none'}, was {row.next_visit or 'none'}"
        return row if row.next_visit == visit else _moved(c, desk, by, row, Work(cast(State, row.state), visit), what)


def _moved(c: Connection, desk: Desk, by: By, row: JobRow, work: Work, what: str) -> JobRow:
    text = revisions.newest(c, row.id).text
    heading = Heading(row.title, row.customer, row.place)
    return revisions.add(c, row.id, row.head, text, heading, desk.stamp(by), what, work=work)


def take_out(desk: Desk, job: str) -> JobRow:
    """Take a job out of the book; `bring_back` undoes it until somebody clears the book of what is taken out."""
    with desk.book.writing() as c:
        jobs.take_out(c, job, desk.now())
        return jobs.need(c, job)


def bring_back(desk: Desk, job: str) -> JobRow:
    """Bring back a job that was taken out."""
    with desk.book.writing() as c:
        jobs.bring_back(c, job)
        return jobs.need(c, job)


def _is_time(text: str) -> bool:
    try:
        datetime.fromisoformat(text)
    except ValueError:
        return False
    return len(text) <= 25
