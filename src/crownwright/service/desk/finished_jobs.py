"""Finished jobs of the book, forecast against actual: what they took as the job file tells it, against the plan by defaults."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from concurrent.futures import Future
from contextlib import suppress
from dataclasses import dataclass
from datetime import date

from crownwright.book import jobs, revisions
from crownwright.book.jobs import JobRow
from crownwright.plan.job import Job
from crownwright.plan.model import Plan
from crownwright.price.hours import hours_of
from crownwright.price.learning import Finished
from crownwright.price.pricebook import PriceBook, Prices
from crownwright.service.desk.money_of import Books, books_of
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.planner import plan_text
from crownwright.service.jobfile import parse_job
from crownwright.service.learn_from_jobs import Lessons, lessons_of

DONE = ("poured", "stripped", "handed over", "closed")
"""States of work in which what a job took may be known."""
MOST = 400
"""So many of the newest jobs are learned from: what was long ago says little of today."""


def lessons_of_book(desk: Desk) -> Lessons:
    """What the finished jobs of the book teach, oldest first. Jobs that tell nothing of what they took are left out."""
    return begin_lessons(desk).result()


def begin_lessons(desk: Desk) -> Future[Lessons]:
    """The same, begun beside all else: every one of these jobs is planned once."""
    books, today = books_of(desk), desk.clock().date()
    prices = books.prices if isinstance(books, Books) else None
    jobs_ = tuple((one.row.title, one.text) for one in done_jobs(desk) if one.tells)
    mark = hashlib.sha256(repr((jobs_, prices, today)).encode()).hexdigest()
    return desk.planner.begin(("lessons", mark), lessons_of_texts, jobs_, prices, today)


def lessons_of_texts(told: Sequence[tuple[str, str]], book: PriceBook | None, on: date) -> Lessons:
    """What jobs teach, by title and text. Stands alone so that another process can do it."""
    prices = book.on(on) if book is not None else None
    found: dict[str, list[Finished]] = {}
    for title, text in told:
        opened, planned = plan_text(text, cut_list=False)
        if planned is not None and opened.job is not None:
            for what, one in finished(title, opened.job, planned.plan, prices).items():
                found.setdefault(what, []).append(one)
    return lessons_of(found)


@dataclass(frozen=True, slots=True)
class DoneJob:
    """A job of the book that is done, its text, and the bags and people-hours it tells it took (None: not told)."""

    row: JobRow
    text: str
    bags: float | None
    hours: float | None

    @property
    def tells(self) -> bool:
        """Whether there is anything to learn from it."""
        return self.bags is not None or self.hours is not None


def done_jobs(desk: Desk) -> tuple[DoneJob, ...]:
    """The newest jobs of the book that are done, oldest first."""
    with desk.book.reading() as c:
        rows = sorted(jobs.in_state(c, DONE, MOST), key=lambda row: (row.changed_at, row.id))
        texts = [revisions.newest(c, row.id).text for row in rows]
    read = ((row, text, parse_job(text)[0]) for row, text in zip(rows, texts, strict=True))
    return tuple(
        DoneJob(row, text, bags_used(job) if job else None, job.quote.done.hours if job and job.quote.done else None)
        for row, text, job in read
    )


def finished(title: str, job: Job, plan: Plan, prices: Prices | None) -> dict[str, Finished]:
    """What one job took against its forecast by the defaults: bags as told or as logged, people-hours as told."""
    found: dict[str, Finished] = {}
    done, bags = job.quote.done, bags_used(job)
    if bags and plan.concrete is not None:
        needed = plan.concrete.count.needed
        mean = needed.mean * job.concrete.own_yield  # as it would have been reckoned without own jobs
        found["bags"] = Finished(title, mean, bags, needed.sd / needed.mean)
    if done is not None and done.hours and prices is not None:
        forecast = hours_of(plan, prices).total.mean
        if forecast > 0:
            found["hours"] = Finished(title, forecast, done.hours)
    return found


def bags_used(job: Job) -> float | None:
    """Bags of concrete that a job took: as told, else all batches that were logged; None where neither is there."""
    if job.quote.done is not None and job.quote.done.bags:
        return job.quote.done.bags
    total = 0.0
    for batch in job.day.batches:
        with suppress(ValueError, IndexError):
            total += float(batch.bags.split()[0])
    return total or None
