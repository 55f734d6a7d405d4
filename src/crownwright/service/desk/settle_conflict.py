"""Conflicts of a job: what stands, what came second, and which of the two is to hold."""

from __future__ import annotations

import json

from crownwright.book import conflicts, jobs, revisions
from crownwright.book.conflicts import Conflict, Kept
from crownwright.quantity.problems import Problem
from crownwright.service.desk.heading import heading_from
from crownwright.service.desk.merge import merge
from crownwright.service.desk.model import By, Change, JobRow
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.words import in_words
from crownwright.service.jobfile import write_values
from crownwright.service.jobfile.syntax import parse_toml


def conflicts_of(desk: Desk, job: str) -> tuple[Conflict, ...]:
    """Conflicts of a job that nobody has settled, oldest first."""
    with desk.book.reading() as c:
        return conflicts.open_in(c, job)


def settle_conflict(desk: Desk, by: By, conflict: str, keep: Kept) -> JobRow | Problem:
    """Say which side holds: "theirs" leaves the job as it is, "mine" puts what came second in its place, as a new revision.

    Settled already, nothing changes. KeyError when there is no such conflict.
    """
    with desk.book.writing() as c:
        found = conflicts.need(c, conflict)
        row = jobs.hold(c, found.job)
        if found.settled_at is not None:
            return row
        if keep == "mine":
            values = parse_toml(revisions.newest(c, found.job).text, "job.toml").values
            mine = json.loads(found.mine)
            merged = merge(values, values, (Change(found.path, mine, remove=mine is None),), lambda _: True)
            if merged.problems:
                return merged.problems[0]
            if merged.done:
                what = f"of two readings the second kept, {in_words(merged.done)}"[:400]
                text, heading = write_values(merged.values), heading_from(merged.values)
                revisions.add(c, found.job, row.head, text, heading, desk.stamp(by), what)
        conflicts.settle(c, conflict, keep, desk.now())
        return jobs.need(c, found.job)
