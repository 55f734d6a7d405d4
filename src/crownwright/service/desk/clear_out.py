"""Clear the book for good of jobs that were taken out long ago. A person decides it, job by job, on the machine with the book."""

from __future__ import annotations

from collections.abc import Collection
from datetime import UTC, timedelta

from crownwright.book import jobs, shelf
from crownwright.quantity.problems import Problem
from crownwright.service.desk.clock_doubt import clock_doubt
from crownwright.service.desk.model import By, JobRow
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.shelf import forecast_place, sent_place

DESK = "desk"
KEPT_DAYS = 30


def may_be_cleared(desk: Desk) -> tuple[JobRow, ...]:
    """Jobs out of the book for `KEPT_DAYS` or more, longest out first, but for those of which a paper was handed out: those stay
    out of sight for as long as the book lasts, since a number of a quote or invoice must never be given twice.
    """
    with desk.book.reading() as c:
        return jobs.may_go(c, _before(desk))


def clear_out(desk: Desk, by: By, named: Collection[str]) -> tuple[JobRow, ...] | Problem:
    """Remove for good those of the ``named`` jobs that may be cleared, and return their lines; the rest are left alone.

    A problem from a phone, and while the clock of this machine is in doubt. Nothing is ever cleared by the clock alone.
    """
    if by.device != DESK:
        return Problem("clearing", "a phone cannot clear the book", "Do it on the machine with the book")
    doubt = clock_doubt(desk)
    if doubt is not None:
        return doubt
    with desk.book.writing() as c:
        going = tuple(row for row in jobs.may_go(c, _before(desk)) if row.id in named)
        for row in going:
            jobs.clear(c, row.id)
            for place in (forecast_place(row.id), sent_place(row.id)):
                shelf.take(c, place)
    return going


def _before(desk: Desk) -> str:
    return (desk.clock().astimezone(UTC) - timedelta(days=KEPT_DAYS)).strftime("%Y-%m-%dT%H:%M:%SZ")
