"""The week over all jobs of the book: visits, where they clash, the weather."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from crownwright.book import jobs
from crownwright.book.jobs import JobRow
from crownwright.service.desk.calendars import given_out
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.today import today_of
from crownwright.service.desk.visits_of_job import AT_WORK, OVER, Ahead, visits_of_job
from crownwright.sheets.calendar import Visit
from crownwright.sheets.calendar_week import Day, week

MOST = 200


@dataclass(frozen=True, slots=True)
class Week:
    """Seven days; ``coming`` while the days of some job are still being worked out, and its visits are the usual ones."""

    days: tuple[Day, ...]
    coming: bool = False


def week_of(desk: Desk, first: date | None = None, wait: float | None = None) -> Week:
    """Seven days from ``first`` (left out, this week's Monday) over all jobs: visits in order, clashes, weather where known.

    ``wait``: seconds to wait for the days of each job, None until they are there.
    """
    today = today_of(desk)
    monday = first or today - timedelta(days=today.weekday())
    ahead = [mine for _, mine in all_ahead(desk, wait)]
    seen = {visit.uid for mine in ahead for visit in mine.visits}
    visits = [visit for mine in ahead for visit in mine.visits]
    visits += [visit for _, visit in to_look_again(desk) if visit.uid not in seen]
    weather: dict[date, str] = {}
    for mine in ahead:
        weather = {**mine.weather, **weather}
    doubts = {uid: why for mine in ahead for uid, why in mine.doubts.items()}
    return Week(week(visits, monday, weather, doubts), any(mine.coming for mine in ahead))


def all_ahead(desk: Desk, wait: float | None = None) -> Iterator[tuple[JobRow, Ahead]]:
    """Every job with visits ahead, and those: at work, or with a next visit written down."""
    with desk.book.reading() as c:
        rows = {row.id: row for row in (*jobs.in_state(c, AT_WORK, MOST), *jobs.with_visit(c, MOST))}
    for row in rows.values():
        yield row, visits_of_job(desk, row, wait)


def to_look_again(desk: Desk) -> Iterator[tuple[JobRow, Visit]]:
    """Days to look again at jobs that are over: as a calendar gave them out, else as they follow from the pour."""
    with desk.book.reading() as c:
        rows = jobs.in_state(c, OVER, MOST)
    for row in rows:
        for visit in given_out(desk, row.id) or visits_of_job(desk, row).visits:
            if not visit.cancelled:
                yield row, replace(visit, job=row.id)
