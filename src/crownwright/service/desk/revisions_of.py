"""Every revision of a job; undo; go back to one."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from crownwright.book import jobs, revisions
from crownwright.book.jobs import State, Work
from crownwright.book.revisions import Revision, StaleError
from crownwright.service.desk.heading import heading_of
from crownwright.service.desk.model import By, JobRow, RevisionRow
from crownwright.service.desk.open_desk import Desk

if TYPE_CHECKING:
    from sqlalchemy import Connection


def history(desk: Desk, job: str, first: int = 0, most: int | None = None) -> tuple[RevisionRow, ...]:
    """Revisions of a job, newest first: who, when, from which device, what changed. All, or ``most`` after the ``first`` ones."""
    with desk.book.reading() as c:
        return revisions.history(c, job, first, most)


def undo(desk: Desk, by: By, job: str, on: int) -> JobRow | None:
    """Undo the newest change: a new revision that stands as the job stood before it, in text, state of work and next visit.

    None when nothing is left to undo. ``on`` is the newest revision the person saw; `StaleError` when another has come since.
    Undone again, it goes further back.
    """
    with desk.book.writing() as c:
        newest = jobs.hold(c, job).head
        if newest != on:
            raise StaleError(job, newest)
        head = revisions.numbered(c, job, on)
        before = (head.restores or head.number) - 1
        if before < 1:
            return None
        return _undo(c, desk, by, head, revisions.numbered(c, job, before), f"undone: {_undone(c, head)}")


def restore(desk: Desk, by: By, job: str, on: int, number: int) -> JobRow:
    """Go back to revision ``number``: a new revision with its readings and choices, to be undone like any other.

    State of work and next visit stay: what was agreed or poured since is so still. `StaleError` when ``on`` is not the newest.
    """
    with desk.book.writing() as c:
        head, old = revisions.numbered(c, job, on), revisions.numbered(c, job, number)
        text, what = old.text, f"back to revision {number}"
        return revisions.add(c, job, head.number, text, heading_of(text), desk.stamp(by), what)


def _undo(c: Connection, desk: Desk, by: By, head: Revision, old: Revision, what: str) -> JobRow:
    stamp, stood = desk.stamp(by), old.restores or old.number
    work = None if old.state is None else Work(cast(State, old.state), old.next_visit)
    return revisions.add(c, head.job, head.number, old.text, heading_of(old.text), stamp, what, restores=stood, work=work)


def _undone(c: Connection, head: Revision) -> str:
    return (revisions.numbered(c, head.job, head.restores) if head.restores else head).what
