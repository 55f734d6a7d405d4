"""List the book: search, order, page by page."""

from __future__ import annotations

from crownwright.book import jobs
from crownwright.service.desk.model import JobPage, JobRow, Order
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.signs import as_text

MOST = 200


def list_jobs(
    desk: Desk, words: str = "", order: Order = "changed", *, deleted: bool = False, first: int = 0, most: int = 50
) -> JobPage:
    """Lines of the book in which every one of ``words`` stands in title, customer, place or state."""
    most, first = max(1, min(most, MOST)), max(0, min(first, 10**9))
    with desk.book.reading() as c:
        rows, count = jobs.listed(c, as_text(words, 200), order, deleted=deleted, first=first, most=most)
    return JobPage(rows, count, first, most)


def how_many_are_out(desk: Desk) -> int:
    """How many jobs were taken out of the book and can be brought back."""
    with desk.book.reading() as c:
        return jobs.taken_out(c)


def all_jobs(desk: Desk) -> tuple[JobRow, ...]:
    """Every line of the book, those taken out too: what was handed out for them still counts."""
    rows: list[JobRow] = []
    with desk.book.reading() as c:
        for deleted in (False, True):
            first, count = 0, 1
            while first < count:
                page, count = jobs.listed(c, "", "title", deleted=deleted, first=first, most=1000)
                rows += page
                first += 1000
    return tuple(rows)


def find_job(desk: Desk, job: str) -> JobRow:
    """One line of the book, taken out or not; KeyError when there is none of that id."""
    with desk.book.reading() as c:
        return jobs.need(c, job)
