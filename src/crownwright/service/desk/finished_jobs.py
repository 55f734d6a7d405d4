"""Finished jobs of the book, forecast against actual: what they took as the job file tells it, against the plan by defaults."""

from __future__ import annotations

from contextlib import suppress

from crownwright.book import jobs
from crownwright.book.jobs import JobRow
from crownwright.plan.job import Job
from crownwright.plan.model import Plan
from crownwright.price.hours import hours_of
from crownwright.price.learning import Finished
from crownwright.price.pricebook import Prices
from crownwright.service.desk.money_of import Books, books_of
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.learn_from_jobs import Lessons, lessons_of

DONE = ("poured", "stripped", "handed over", "closed")
"""States of work in which what a job took may be known."""
MOST = 400
"""So many of the newest jobs are learned from: what was long ago says little of today."""


def lessons_of_book(desk: Desk) -> Lessons:
    """What the finished jobs of the book teach, oldest first. Jobs that tell nothing of what they took are left out."""
    books = books_of(desk)
    prices = books.prices.on(desk.clock().date()) if isinstance(books, Books) else None
    found: dict[str, list[Finished]] = {}
    for row in _done(desk):
        of = plan_of(desk, row.id, cut_list=False)
        if of.planned is not None and of.opened.job is not None:
            for what, one in finished(row.title, of.opened.job, of.planned.plan, prices).items():
                found.setdefault(what, []).append(one)
    return lessons_of(found)


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


def _done(desk: Desk) -> list[JobRow]:
    with desk.book.reading() as c:
        rows = [row for state in DONE for row in jobs.listed(c, state, most=MOST)[0] if row.state == state]
    return sorted({row.id: row for row in rows}.values(), key=lambda row: row.changed_at)[-MOST:]
