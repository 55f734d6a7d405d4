"""Revisions of a job: every save makes one; an undo makes one too; nothing is ever overwritten."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sqlalchemy import Connection, Row, select

from crownwright.book.ids import can_be_number
from crownwright.book.jobs import Heading, JobRow, Stamp, Work, need
from crownwright.book.schema import ENTRY, JOB, REVISION, search_words


@dataclass(frozen=True, slots=True)
class RevisionRow:
    """A line in the list of revisions: its number, who made it, when and from which device, what changed in words; state of work
    and next visit as it left them (no state: kept before they were).
    """

    number: int
    made_at: str
    who: str
    device: str
    what: str
    restores: int | None
    state: str | None = None
    next_visit: str | None = None


@dataclass(frozen=True, slots=True)
class Revision:
    """One revision with the job file's text."""

    job: str
    number: int
    made_at: str
    who: str
    device: str
    what: str
    restores: int | None
    text: str
    state: str | None = None
    next_visit: str | None = None

    @property
    def row(self) -> RevisionRow:
        """Its line in the list."""
        return RevisionRow(*(getattr(self, name) for name in RevisionRow.__slots__))


class StaleError(Exception):
    """The job was changed by another since; ``head`` is its newest revision. Read it again and put the change on top."""

    def __init__(self, job: str, head: int) -> None:
        super().__init__(f"job {job!r} is at revision {head} by now")
        self.head = head


def newest(connection: Connection, job: str) -> Revision:
    """Return the newest revision; KeyError when there is no such job."""
    return numbered(connection, job, need(connection, job).head)


def numbered(connection: Connection, job: str, number: int) -> Revision:
    """Return one revision; KeyError when there is none of that number."""
    wanted = select(REVISION).where(REVISION.c.job == job, REVISION.c.number == number)
    row = connection.execute(wanted).one_or_none() if can_be_number(number) else None
    if row is None:
        raise KeyError(f"no revision {number} of job {job!r}")
    return _revision(row)


def history(connection: Connection, job: str, first: int = 0, most: int | None = None) -> tuple[RevisionRow, ...]:
    """Return a line for each revision, newest first: all, or ``most`` after the ``first`` ones. KeyError: no such job."""
    columns = [REVISION.c[name] for name in RevisionRow.__slots__]
    wanted = select(*columns).where(REVISION.c.job == job).order_by(REVISION.c.number.desc()).offset(first).limit(most)
    rows = tuple(RevisionRow(*row) for row in connection.execute(wanted))
    if not rows:
        need(connection, job)
    return rows


def texts(connection: Connection, job: str, after: int = 0) -> Iterator[Revision]:
    """Every revision with its text that came after number ``after``, oldest first."""
    wanted = select(REVISION).where(REVISION.c.job == job, REVISION.c.number > after).order_by(REVISION.c.number)
    for r in connection.execute(wanted):
        yield _revision(r)


def _revision(row: Row[tuple[object, ...]]) -> Revision:
    return Revision(*(getattr(row, name) for name in Revision.__slots__))


def add(
    connection: Connection,
    job: str,
    on: int,
    text: str,
    heading: Heading,
    stamp: Stamp,
    what: str,
    restores: int | None = None,
    work: Work | None = None,
) -> JobRow:
    """Save a new revision on top of revision ``on``. Raises `StaleError` when that is not the newest any more.

    ``work`` is the state of work and next visit that it brings, None where it leaves them as they are.
    """
    moved = {} if work is None else {"state": work.state, "next_visit": work.next_visit}
    changed = connection.execute(
        JOB.update()
        .where(JOB.c.id == job, JOB.c.head == on)
        .values(
            head=on + 1,
            title=heading.title,
            customer=heading.customer,
            place=heading.place,
            search=search_words(heading.title, heading.customer, heading.place),
            changed_at=stamp.at,
            **moved,
        )
    )
    if changed.rowcount != 1:
        raise StaleError(job, need(connection, job).head)
    row = need(connection, job)
    connection.execute(
        REVISION.insert().values(
            job=job,
            number=on + 1,
            made_at=stamp.at,
            who=stamp.who,
            device=stamp.device,
            what=what,
            restores=restores,
            text=text,
            state=row.state,
            next_visit=row.next_visit,
        )
    )
    return row


def entry_seen(connection: Connection, entry: str) -> int | None:
    """Return the number of the revision an entry from a phone made, None when it has not come yet."""
    return connection.execute(select(ENTRY.c.revision).where(ENTRY.c.id == entry)).scalar_one_or_none()


def job_of_entry(connection: Connection, entry: str) -> str | None:
    """Return the job an entry was for, None when it has not come yet."""
    return connection.execute(select(ENTRY.c.job).where(ENTRY.c.id == entry)).scalar_one_or_none()


def note_entry(connection: Connection, entry: str, job: str, revision: int, change: str, stamp: Stamp) -> None:
    """Keep an entry as it was sent, in the same transaction as the revision it made."""
    connection.execute(
        ENTRY.insert().values(id=entry, job=job, revision=revision, device=stamp.device, received_at=stamp.at, change=change)
    )
