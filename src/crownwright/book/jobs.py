"""Jobs in the book: begin, find, put in order, take out and bring back."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import Any, Literal

from sqlalchemy import ColumnElement, Connection, func, or_, select

from crownwright.book.ids import can_be_id
from crownwright.book.schema import ISSUED, JOB, REVISION, search_words

State = Literal["asked", "surveyed", "quoted", "agreed", "bed laid", "poured", "stripped", "handed over", "closed"]
STATES: tuple[State, ...] = ("asked", "surveyed", "quoted", "agreed", "bed laid", "poured", "stripped", "handed over", "closed")
Order = Literal["changed", "visit", "customer", "title"]


@dataclass(frozen=True, slots=True)
class JobRow:
    """One line of the book. Times are UTC, ISO 8601."""

    id: str
    title: str
    customer: str
    place: str
    state: str
    next_visit: str | None
    changed_at: str
    head: int
    deleted_at: str | None


LINE = tuple(JOB.c[name] for name in JobRow.__slots__)
IN_BOOK, TAKEN_OUT = JOB.c.deleted_at.is_(None), JOB.c.deleted_at.is_not(None)
ORDERS: dict[Order, tuple[ColumnElement[Any], ...]] = {
    "changed": (JOB.c.changed_at.desc(), JOB.c.id),
    "visit": (JOB.c.next_visit.nulls_last(), JOB.c.id),
    "customer": (func.lower(JOB.c.customer), JOB.c.id),
    "title": (func.lower(JOB.c.title), JOB.c.id),
}
"""Each as an index of the schema has it."""


@dataclass(frozen=True, slots=True)
class Heading:
    """What the list shows of a job, taken from its text by whoever saves it."""

    title: str
    customer: str = ""
    place: str = ""


@dataclass(frozen=True, slots=True)
class Work:
    """State of work, and the next visit (ISO 8601 day or time), None where none is set."""

    state: State
    next_visit: str | None = None


@dataclass(frozen=True, slots=True)
class Stamp:
    """Who did it, from which device, and when (UTC, ISO 8601)."""

    who: str
    device: str
    at: str


def begin(
    connection: Connection, job: str, text: str, heading: Heading, stamp: Stamp, what: str = "begun", work: Work | None = None
) -> JobRow:
    """Put a new job in the book. The same ``job`` id again changes nothing and returns what is there."""
    there = find(connection, job)
    if there is not None:
        return there
    stands = work or Work(STATES[0])
    connection.execute(
        JOB.insert().values(
            id=job,
            begun_at=stamp.at,
            head=1,
            title=heading.title,
            customer=heading.customer,
            place=heading.place,
            state=stands.state,
            next_visit=stands.next_visit,
            changed_at=stamp.at,
            deleted_at=None,
            search=search_words(heading.title, heading.customer, heading.place),
        )
    )
    connection.execute(
        REVISION.insert().values(
            job=job,
            number=1,
            made_at=stamp.at,
            who=stamp.who,
            device=stamp.device,
            what=what,
            text=text,
            state=stands.state,
            next_visit=stands.next_visit,
        )
    )
    return need(connection, job)


def find(connection: Connection, job: str) -> JobRow | None:
    """Return a job's line, taken out or not; None when there is no such job."""
    row = connection.execute(select(*LINE).where(JOB.c.id == job)).one_or_none() if can_be_id(job) else None
    return None if row is None else _row(row)


def need(connection: Connection, job: str) -> JobRow:
    """Return a job's line; KeyError names an id that is not in the book."""
    row = find(connection, job)
    if row is None:
        raise KeyError(f"no job {job!r} in this book")
    return row


def hold(connection: Connection, job: str) -> JobRow:
    """Return a job's line and let nobody else change the job until this transaction ends; KeyError for an unknown id."""
    row = connection.execute(select(*LINE).where(JOB.c.id == job).with_for_update()).one_or_none() if can_be_id(job) else None
    if row is None:
        raise KeyError(f"no job {job!r} in this book")
    return _row(row)


def listed(
    connection: Connection, words: str = "", order: Order = "changed", *, deleted: bool = False, first: int = 0, most: int = 50
) -> tuple[tuple[JobRow, ...], int]:
    """Return a page of the book and how many lines match: every word of ``words`` is in title, customer, place or state."""
    there = [TAKEN_OUT if deleted else IN_BOOK, *(_says(search_words(word), connection.dialect.name) for word in words.split())]
    rows = connection.execute(select(*LINE).where(*there).order_by(*ORDERS[order]).offset(first).limit(most))
    page = tuple(map(_row, rows))
    if len(page) < most and (page or not first):  # its end was seen: no need to go through all again
        return page, first + len(page)
    return page, _count(connection, *there)


def taken_out(connection: Connection) -> int:
    """How many jobs were taken out and not cleared."""
    return _count(connection, TAKEN_OUT)


def _count(connection: Connection, *there: ColumnElement[bool]) -> int:
    return connection.execute(select(func.count()).select_from(JOB).where(*there)).scalar_one()


def in_state(connection: Connection, states: Collection[str], most: int) -> tuple[JobRow, ...]:
    """Return the jobs in the book that stand in one of these states of work, those changed last first."""
    wanted = select(*LINE).where(IN_BOOK, JOB.c.state.in_(states))
    return tuple(map(_row, connection.execute(wanted.order_by(*ORDERS["changed"]).limit(most))))


def with_visit(connection: Connection, most: int) -> tuple[JobRow, ...]:
    """Return the jobs in the book with a next visit written down, the soonest first."""
    wanted = select(*LINE).where(IN_BOOK, JOB.c.next_visit.is_not(None))
    return tuple(map(_row, connection.execute(wanted.order_by(*ORDERS["visit"]).limit(most))))


def _says(word: str, dialect: str) -> ColumnElement[bool]:
    """Whether a word, with no difference of case, stands in a job's title, customer, place or state."""
    place = func.strpos(JOB.c.search, word) if dialect == "postgresql" else func.instr(JOB.c.search, word)
    states = [state for state in STATES if word in state]
    return or_(place > 0, JOB.c.state.in_(states)) if states else place > 0


def touch(connection: Connection, job: str, at: str) -> None:
    """Write when a job was last changed in this book, whatever times its revisions bear."""
    connection.execute(JOB.update().where(JOB.c.id == job).values(changed_at=at))


def take_out(connection: Connection, job: str, at: str) -> None:
    """Take a job out of the book; it can be brought back until it is cleared."""
    need(connection, job)
    connection.execute(JOB.update().where(JOB.c.id == job, JOB.c.deleted_at.is_(None)).values(deleted_at=at))


def bring_back(connection: Connection, job: str) -> None:
    """Bring back a job that was taken out."""
    need(connection, job)
    connection.execute(JOB.update().where(JOB.c.id == job).values(deleted_at=None))


def may_go(connection: Connection, before: str) -> tuple[JobRow, ...]:
    """Jobs that were taken out before a time and of which no paper was handed out, longest out first.

    A job with papers stays, out of sight: its papers' numbers must never be given twice.
    """
    papers = select(ISSUED.c.job).where(ISSUED.c.job == JOB.c.id).exists()
    wanted = select(*LINE).where(TAKEN_OUT, JOB.c.deleted_at < before, ~papers)
    return tuple(map(_row, connection.execute(wanted.order_by(JOB.c.deleted_at, JOB.c.id))))


def clear(connection: Connection, job: str) -> None:
    """Remove a job for good, with its revisions, entries, conflicts and photos."""
    connection.execute(JOB.delete().where(JOB.c.id == job))


def changed_last(connection: Connection) -> JobRow | None:
    """The job whose last change bears the latest time, in the book or taken out; None in an empty book."""
    wanted = [select(*LINE).where(there).order_by(*ORDERS["changed"]).limit(1) for there in (IN_BOOK, TAKEN_OUT)]
    found = [_row(row) for one in wanted for row in connection.execute(one)]
    return max(found, key=lambda row: row.changed_at, default=None)


def _row(row: Iterable[Any]) -> JobRow:
    return JobRow(*row)
