"""Papers as they were handed out: the bytes, and what they were made from. Never changed, never made again."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from sqlalchemy import Connection, Row, func, select

from crownwright.book.ids import can_be_id
from crownwright.book.schema import ISSUED


@dataclass(frozen=True, slots=True)
class IssuedRow:
    """A paper that was handed out: its number, which kind, from which revision, when, and the hash of its bytes."""

    id: str
    job: str
    revision: int
    kind: str
    number: str
    issued_at: str
    sha256: str


def issue(connection: Connection, row: IssuedRow, data: str, paper: bytes) -> IssuedRow:
    """Keep a paper as handed out; the same ``id`` again changes nothing and returns what is there."""
    there = connection.execute(select(ISSUED).where(ISSUED.c.id == row.id)).one_or_none()
    if there is not None:
        return _row(there)
    values = {name: getattr(row, name) for name in IssuedRow.__slots__}
    connection.execute(ISSUED.insert().values(values | {"data": data, "paper": paper, "sha256": digest(paper)}))
    return _row(connection.execute(select(ISSUED).where(ISSUED.c.id == row.id)).one())


def digest(paper: bytes) -> str:
    """The hash by which a paper that comes back can be told from one that was altered."""
    return hashlib.sha256(paper).hexdigest()


def next_number(connection: Connection, year: str) -> str:
    """The next free number of a year: 2026-0001 and up."""
    last = connection.execute(select(func.max(ISSUED.c.number)).where(ISSUED.c.number.like(f"{year}-____"))).scalar_one()
    return f"{year}-{int(last.split('-')[1]) + 1 if last else 1:04d}"


def of_job(connection: Connection, job: str) -> tuple[IssuedRow, ...]:
    """Papers of a job that were handed out, newest first."""
    columns = [ISSUED.c[name] for name in IssuedRow.__slots__]
    wanted = select(*columns).where(ISSUED.c.job == job).order_by(ISSUED.c.number.desc())
    return tuple(map(_row, connection.execute(wanted)))


def paper(connection: Connection, issued: str) -> tuple[IssuedRow, bytes]:
    """A paper as handed out; KeyError when there is none of that id."""
    row = connection.execute(select(ISSUED).where(ISSUED.c.id == issued)).one_or_none() if can_be_id(issued) else None
    if row is None:
        raise KeyError(f"no paper {issued!r} was handed out")
    return _row(row), row.paper


def made_from(connection: Connection, issued: str) -> str:
    """What a paper was made from, as JSON; KeyError when there is none of that id."""
    wanted = select(ISSUED.c.data).where(ISSUED.c.id == issued)
    data = connection.execute(wanted).scalar_one_or_none() if can_be_id(issued) else None
    if data is None:
        raise KeyError(f"no paper {issued!r} was handed out")
    return str(data)


def has_number(connection: Connection, number: str) -> bool:
    """Whether a paper of that number was handed out."""
    return connection.execute(select(ISSUED.c.id).where(ISSUED.c.number == number)).first() is not None


def _row(row: Row[tuple[object, ...]]) -> IssuedRow:
    return IssuedRow(*(getattr(row, name) for name in IssuedRow.__slots__))
