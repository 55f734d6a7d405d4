"""How the readings of a job in the book stand, and how they would with a change that is not kept yet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from crownwright.book import jobs, revisions
from crownwright.service.desk.merge import merge
from crownwright.service.desk.model import Change, JobRow
from crownwright.service.desk.open_desk import Desk
from crownwright.service.jobfile import write_values
from crownwright.service.jobfile.syntax import parse_toml
from crownwright.service.up_top import UpTop, up_top


@dataclass(frozen=True, slots=True)
class TopOf:
    """A job's line, the revision and text it was read at, and how its readings stand."""

    row: JobRow
    revision: int
    text: str
    top: UpTop


def up_top_of(desk: Desk, job: str, changes: Iterable[Change] = ()) -> TopOf:
    """The readings of a job as they stand, or with ``changes`` that are not kept; KeyError when there is no such job."""
    with desk.book.reading() as c:
        row = jobs.need(c, job)
        head = revisions.newest(c, job)
    text, tried = head.text, tuple(changes)
    if tried:
        values = parse_toml(text, "job.toml").values
        text = write_values(merge(values, values, tried, lambda _: True).values)
    return TopOf(row, head.number, text, up_top(text))
