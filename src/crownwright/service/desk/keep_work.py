"""Keep the state of work and the next visit of a job; take it out of the book and bring it back."""

from __future__ import annotations

from datetime import datetime

from crownwright.book import jobs
from crownwright.quantity.problems import Problem
from crownwright.service.desk.model import JobRow, State
from crownwright.service.desk.open_desk import Desk


def set_state(desk: Desk, job: str, state: State) -> JobRow:
    """Write the state of work; ValueError for a word that is none of `STATES`."""
    with desk.book.writing() as c:
        jobs.set_state(c, job, state, desk.now())
        return jobs.need(c, job)


def set_visit(desk: Desk, job: str, visit: str | None) -> JobRow | Problem:
    """Write the next visit (2026-05-03, or 2026-05-03T08:30), or None for none."""
    visit = (visit or "").strip() or None
    if visit is not None and not _is_time(visit):
        return Problem("next visit", f"“{visit[:40]}” is not a day", "Write it like 2026-05-03, or 2026-05-03T08:30")
    with desk.book.writing() as c:
        jobs.set_visit(c, job, visit, desk.now())
        return jobs.need(c, job)


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
