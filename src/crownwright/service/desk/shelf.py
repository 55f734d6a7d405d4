"""Files that belong to a job or to the firm and are no readings: the newest forecast of a job, the firm's price book."""

from __future__ import annotations

from crownwright.book import jobs, shelf
from crownwright.book.shelf import Shelved
from crownwright.quantity.problems import Problem
from crownwright.service.desk.add_photo import bare_name
from crownwright.service.desk.open_desk import Desk

BIGGEST = 8_000_000  # bytes; a year of hours is a third of this
PRICES, FIRM, LESSONS, SENT = "prices", "firm", "lessons", "visits "


def forecast_place(job: str) -> str:
    """Where a job's forecast lies."""
    return f"forecast {job}"


def sent_place(job: str) -> str:
    """Where the calendar of a job lies as it was given out last."""
    return f"{SENT}{job}"


def shelve(desk: Desk, place: str, name: str, data: bytes) -> Shelved | Problem:
    """Put a file on its place on the shelf; what lay there before is gone. A problem when it is too big."""
    if len(data) > BIGGEST:
        return Problem(bare_name(name), f"is {len(data) / 1e6:.0f} MB big", "A forecast or a price book is far smaller")
    file = Shelved(place, bare_name(name), desk.now(), data)
    with desk.book.writing() as c:
        for kind in ("forecast ", SENT):
            if place.startswith(kind):
                jobs.hold(c, place.removeprefix(kind))
        shelf.put(c, file)
    return file


def shelved(desk: Desk, place: str) -> Shelved | None:
    """The file at a place, None where there is none."""
    with desk.book.reading() as c:
        return shelf.get(c, place)


def shelved_together(desk: Desk, *places: str) -> tuple[Shelved | None, ...]:
    """The files at several places as they lie at one moment, None where there is none."""
    with desk.book.reading() as c:
        return shelf.together(c, *places)


def unshelve(desk: Desk, place: str) -> None:
    """Take a file off the shelf."""
    with desk.book.writing() as c:
        shelf.take(c, place)
