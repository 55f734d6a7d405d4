"""The visits that a job of the book has ahead: by its state of work, the hour chosen for its pour, and the weather."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from crownwright.book import jobs, revisions
from crownwright.book.jobs import JobRow
from crownwright.plan.job import Job
from crownwright.service.desk.days_of import days_of
from crownwright.service.desk.issue_handover import poured_on
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.shelf import forecast_place, shelved
from crownwright.service.desk.today import business_of, today_of
from crownwright.service.desk.weather_words import weather_words
from crownwright.service.jobfile import parse_job
from crownwright.sheets.calendar import Visit
from crownwright.sheets.calendar_cure import visits_by_cure
from crownwright.sheets.calendar_visits import USUAL_STRIP, care_visits, visits_of

AT_WORK = ("agreed", "bed laid", "poured", "stripped")
"""States of work in which a job has visits ahead."""
UNSURE = ("asked", "surveyed", "quoted")
"""States of work in which a visit is pencilled in: the job is not agreed yet."""
DONE_BY = {"bed laid": ("bed",), "poured": ("bed", "pour"), "stripped": ("bed", "pour", "strip")}
"""Visits that a state of work leaves behind."""
OVER = ("handed over", "closed")
WAS_POURED = ("poured", "stripped", "handed over")


@dataclass(frozen=True, slots=True)
class Ahead:
    """A job's visits, a word on the weather of each day, and what the forecast has against a visit, by its id; ``coming`` while
    its days are still being worked out, and the visits are the usual ones round the hour chosen.
    """

    visits: tuple[Visit, ...] = ()
    weather: Mapping[date, str] = field(default_factory=dict)
    doubts: Mapping[str, str] = field(default_factory=dict)
    coming: bool = False


def visits_of_job(desk: Desk, row: JobRow, wait: float | None = None, care: tuple[Visit, ...] = ()) -> Ahead:
    """The visits of a job: none of one that was taken out, the days to look again of one that is over, else those planned.

    ``wait``: seconds to wait for its days, None until they are there. ``care``: days to look again that were given out already;
    a handover does not move them.
    """
    if row.deleted_at is not None:
        return Ahead()
    if row.state in OVER:
        return Ahead(_marked(desk, row, None, _care(desk, row, care)))
    job = job_read(desk, row.id)
    ahead = _planned(desk, row, job, wait)
    done, today = DONE_BY.get(row.state, ()), today_of(desk)
    left = [visit for visit in ahead.visits if not (visit.key in done and visit.on > today)]
    return replace(ahead, visits=_marked(desk, row, job, left))


def _marked(desk: Desk, row: JobRow, job: Job | None, visits: Iterable[Visit]) -> tuple[Visit, ...]:
    """The visits and the next one that was written down, with the job's revision and its local time, pencilled in
    until it is agreed."""
    zone, sure = zone_of_job(desk, job), row.state not in UNSURE
    return tuple(
        replace(visit, revision=row.head, zone=zone, sure=visit.key == "next" or (sure and visit.sure))
        for visit in _with_next(row, visits)
    )


def _planned(desk: Desk, row: JobRow, job: Job | None, wait: float | None) -> Ahead:
    """By the cure where there is weather, of the hour chosen or else pencilled in by the best; what is usual round the hour
    chosen where there is none.
    """
    if job is None or not (job.day.begins or job.day.weather or shelved(desk, forecast_place(row.id))):
        return Ahead()
    days = days_of(desk, row.id, sure=False, wait=wait)
    if days.told is not None and (pour := days.told.days.cure.pour) is not None:
        told = days.told.days
        visits = visits_by_cure(row.id, row.title, row.place, told)
        if not job.day.begins:
            visits = tuple(replace(visit, sure=False) for visit in visits)
        against = "; ".join(dict.fromkeys(finding.rule for finding in pour.refused))
        ahead = against and "pour" not in DONE_BY.get(row.state, ())
        doubts = {v.uid: f"this hour falls short of: {against}" for v in visits if v.key == "pour" and ahead}
        return Ahead(visits, weather_words(told.hours, job.units), doubts)
    with suppress(ValueError):
        at = datetime.fromisoformat(job.day.begins).replace(tzinfo=None)
        return Ahead(visits_of(row.id, row.title, row.place, at), coming=days.coming)
    return Ahead(coming=days.coming)


def _with_next(row: JobRow, planned: Iterable[Visit]) -> Iterable[Visit]:
    """The next visit that was written down beside those planned, but where one of them is on that day."""
    planned = tuple(planned)
    yield from planned
    if row.next_visit:
        at = datetime.fromisoformat(row.next_visit).replace(tzinfo=None)
        if all(visit.on != at.date() for visit in planned):
            start: date = at if "T" in row.next_visit else at.date()
            yield Visit(row.id, "next", f"Visit: {row.title}", start, None, row.place)


def _care(desk: Desk, row: JobRow, given: tuple[Visit, ...]) -> tuple[Visit, ...]:
    """Days to look again at a cap that was poured, as they were ``given`` out already; none where the job ended without."""
    job = None if given else job_read(desk, row.id)
    logged = poured_on(job.day) if job is not None else None
    if logged is None and not _was_poured(desk, row):
        return ()
    poured = logged or (_day(job.day.begins) if job is not None else None)
    if poured is None:
        return given
    return care_visits(row.id, row.title, row.place, poured + timedelta(days=USUAL_STRIP))


def _was_poured(desk: Desk, row: JobRow) -> bool:
    with desk.book.reading() as c:
        return not {row.state, *(revision.state for revision in revisions.history(c, row.id))}.isdisjoint(WAS_POURED)


def _day(text: str) -> date | None:
    try:
        return datetime.fromisoformat(text).date()
    except ValueError:
        return None


def job_read(desk: Desk, job: str) -> Job | None:
    """A job as it stands, None where it cannot be read."""
    with desk.book.reading() as c:
        return parse_job(revisions.newest(c, job).text)[0]


def row_of(desk: Desk, job: str) -> JobRow:
    """A job's line; KeyError for an unknown id."""
    with desk.book.reading() as c:
        return jobs.need(c, job)


def zone_of_job(desk: Desk, job: Job | None) -> str:
    """The job's local time where it is a zone by name, else the firm's."""
    name = job.day.zone if job is not None else ""
    try:
        ZoneInfo(name or "-")
    except (KeyError, ValueError, OSError):
        return business_of(desk).zone
    return name
