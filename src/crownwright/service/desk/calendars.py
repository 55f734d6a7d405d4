"""Calendars given out: of one job and of the whole book. What was given out last is kept, so that what moves is moved in the
reader's calendar, and what is no longer to come is struck out of it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from datetime import date

from crownwright.book import jobs, shelf
from crownwright.book.jobs import JobRow
from crownwright.book.store import BookError
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.shelf import SENT, sent_place, shelve, shelved
from crownwright.service.desk.today import business_of, today_of
from crownwright.service.desk.visits_of_job import AT_WORK, OVER, row_of, visits_of_job
from crownwright.sheets.calendar import Organizer, Visit, icalendar
from crownwright.sheets.calendar_sent import followed, read_visits
from crownwright.sheets.calendar_visits import care_visits

MOST = 400
"""So many jobs of each kind are looked at for the calendar of the whole book, those changed last."""


def calendar_of_job(desk: Desk, job: str) -> str:
    """The visits of a job as iCalendar, those struck out since the last time among them; KeyError for an unknown id."""
    row = row_of(desk, job)
    return _written(desk, _due(desk, row), row.title)


def calendar_of_book(desk: Desk) -> str:
    """The visits of all jobs as iCalendar, those of jobs that ended or were taken out since the last time struck out."""
    business = business_of(desk)
    return _written(desk, [visit for row in _rows(desk) for visit in _due(desk, row)], business.name)


def given_out(desk: Desk, job: str) -> tuple[Visit, ...]:
    """The visits of a job as they were given out last; none where they never were."""
    file = shelved(desk, sent_place(job))
    if file is None:
        return ()
    with suppress(ValueError):
        return read_visits(file.data.decode("utf-8", "replace"))
    return ()


def _due(desk: Desk, row: JobRow) -> tuple[Visit, ...]:
    """What a job's calendar has to say now, after what it said last; and that is kept."""
    before = given_out(desk, row.id)
    zone = business_of(desk).zone
    care = {visit.uid for visit in care_visits(row.id, "", "", date.min)}
    given = tuple(visit for visit in before if visit.uid in care and not visit.cancelled)
    now = visits_of_job(desk, row, care=given).visits
    due = followed(before, now, zone, today_of(desk))
    if _told(due) != _told(before):
        with suppress(BookError):  # a book that may only be read gives its calendar all the same
            shelve(desk, sent_place(row.id), "visits.ics", icalendar(due, zone, desk.clock()).encode())
    return due


def _told(visits: Sequence[Visit]) -> set[tuple[str, int]]:
    """Ids and revisions: what differs in anything differs in these."""
    return {(visit.uid, visit.revision) for visit in visits}


def _rows(desk: Desk) -> Iterator[JobRow]:
    """Jobs that may have something to say: at work, over, with a next visit; and all that a calendar told of before."""
    with desk.book.reading() as c:
        told = {place.removeprefix(SENT) for place in shelf.places(c, SENT)}
        rows = [*jobs.in_state(c, AT_WORK, MOST), *jobs.in_state(c, OVER, MOST), *jobs.with_visit(c, MOST)]
        rows += [row for job in sorted(told) if (row := jobs.find(c, job)) is not None]
    yield from {row.id: row for row in rows}.values()


def _written(desk: Desk, visits: Sequence[Visit], name: str) -> str:
    business = business_of(desk)
    return icalendar(visits, business.zone, desk.clock(), name, Organizer(business.name, business.email))
