"""The papers of the days of a job in the book: open as they are now, or handed out under a number like every other paper."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import partial

from crownwright.book import jobs
from crownwright.book.issued import IssuedRow
from crownwright.cure.day_log import DayLog, parse_log
from crownwright.plan.model import Plan
from crownwright.quantity.problems import Problem
from crownwright.service.desk.days_of import USUAL_ZONE, PourDay, log_data, pour_day_of
from crownwright.service.desk.hand_out import Made, hand_out
from crownwright.service.desk.model import By
from crownwright.service.desk.open_desk import Desk
from crownwright.service.draw_the_days import printed_days, printed_revision
from crownwright.service.write_papers import Size, usual_size
from crownwright.weather.hours import zone_of

PLANNED = ("day-plan", "batch-card", "cure-card", "day-calculations")
LOGGED = ("cure-card-now", "pour-log")
NO_DAYS = Problem("the days", "they are not planned yet: they want weather", "Ask for the forecast, or tell the weather by hand")
NO_LOG = Problem("pour day", "nothing is logged yet", "Log the first batch on Pour day")


@dataclass(frozen=True, slots=True)
class DayPaper:
    """A paper of the days as PDF, and the revision it was made from."""

    revision: int
    data: bytes
    made_from: str


def day_paper_of(desk: Desk, by: By, job: str, paper: str, size: Size | None = None, number: str = "") -> DayPaper | Problem:
    """One paper of the days as it is now: one of those `PLANNED`, or `LOGGED` once something was; ``number`` as on paper."""
    if paper not in (*PLANNED, *LOGGED):
        return Problem(paper[:40], "there is no such paper of the days", f"There are: {', '.join((*PLANNED, *LOGGED))}")
    day = pour_day_of(desk, job)
    of, made_at = day.days.of, int(desk.clock().timestamp())
    if of.planned is None:
        return Problem(paper, "the job has faults that stop its plan", "Put them right first")
    make = partial(_log, day, of.planned.plan) if paper == "pour-log" else partial(_of_the_days, day, paper)
    made = make(size, made_at, number)
    if isinstance(made, Problem):
        return made
    told = {"revision": of.revision.number, "version": of.planned.plan.version, "by": by.who, "weather": day.days.weather}
    return DayPaper(of.revision.number, made, json.dumps(told | {"job": of.text}, ensure_ascii=False))


def issue_day_paper(desk: Desk, by: By, job: str, paper: str, issue: str = "") -> IssuedRow | Problem:
    """Hand out a paper of the days as it is now, under the next number; ``issue`` as in `issue_paper`."""
    with desk.book.reading() as c:
        head = jobs.need(c, job).head

    def make(number: str) -> Made | tuple[Problem, ...]:
        made = day_paper_of(desk, by, job, paper, number=number)
        return (made,) if isinstance(made, Problem) else (made.data, made.made_from)

    row = hand_out(desk, job, head, paper, make, issue=issue)
    return row if isinstance(row, IssuedRow) else row[0]


def _of_the_days(day: PourDay, paper: str, size: Size | None, made_at: int, number: str) -> bytes | Problem:
    told = day.days.told
    if told is None:
        return next((problem for problem in day.problems if problem.stops), NO_DAYS)
    if paper in PLANNED:
        made = dict(printed_days(told.days, size, made_at, (paper,), number))
        return made.get(f"{paper}.pdf", Problem(paper, "no hour is followed yet", "Choose an hour under The days"))
    if day.revision is None:
        return NO_LOG
    return dict(printed_revision(told.days, day.revision, size, made_at, number))[f"{paper}.pdf"]


def _log(day: PourDay, plan: Plan, size: Size | None, made_at: int, number: str) -> bytes | Problem:
    """The log needs no weather: what was done was done."""
    from crownwright.sheets.papers.pour_log import pour_log
    from crownwright.sheets.papers.press import pdf

    zone = day.days.day.zone or USUAL_ZONE
    data, problems = log_data(day.days.day)
    log, more = (None, ()) if problems else parse_log(data, zone)
    if log is None:
        return (*problems, *more)[0]
    if log == DayLog():
        return NO_LOG
    mixing = None if day.days.told is None else day.days.told.days.mixing
    planned = () if mixing is None else mixing.batches.batches
    return pdf(pour_log(plan, log, zone_of(zone), planned), size or usual_size(plan.job.units), made_at, number)
