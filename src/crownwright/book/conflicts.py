"""Two devices that changed one thing: what stands in the job, and what came second, kept until somebody says which holds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sqlalchemy import Connection, Row, select

from crownwright.book.ids import can_be_id
from crownwright.book.schema import CONFLICT

Kept = Literal["theirs", "mine"]


@dataclass(frozen=True, slots=True)
class Conflict:
    """``theirs`` is what stood in the job when ``mine`` came, from ``device``; both are JSON texts ("null": nothing there).

    ``kept`` says which of the two was kept once it is settled.
    """

    id: str
    job: str
    path: str
    theirs: str
    mine: str
    device: str
    found_at: str
    settled_at: str | None = None
    kept: str | None = None


def keep(connection: Connection, conflict: Conflict) -> None:
    """Put a conflict in the book."""
    row = {name: getattr(conflict, name) for name in Conflict.__slots__}
    connection.execute(CONFLICT.insert().values(row))


def open_in(connection: Connection, job: str) -> tuple[Conflict, ...]:
    """Conflicts of a job that nobody has settled yet, oldest first."""
    wanted = select(CONFLICT).where(CONFLICT.c.job == job, CONFLICT.c.settled_at.is_(None))
    return tuple(map(_conflict, connection.execute(wanted.order_by(CONFLICT.c.found_at, CONFLICT.c.id))))


def of_job(connection: Connection, job: str) -> tuple[Conflict, ...]:
    """Every conflict a job has had, oldest first."""
    wanted = select(CONFLICT).where(CONFLICT.c.job == job)
    return tuple(map(_conflict, connection.execute(wanted.order_by(CONFLICT.c.found_at, CONFLICT.c.id))))


def from_entry(connection: Connection, entry: str) -> tuple[Conflict, ...]:
    """Conflicts that an entry met."""
    wanted = select(CONFLICT).where(CONFLICT.c.id.startswith(entry + ".", autoescape=True)).order_by(CONFLICT.c.id)
    return tuple(map(_conflict, connection.execute(wanted)))


def need(connection: Connection, conflict: str) -> Conflict:
    """Return one conflict; KeyError when there is none of that id."""
    wanted = select(CONFLICT).where(CONFLICT.c.id == conflict).with_for_update()
    row = connection.execute(wanted).one_or_none() if can_be_id(conflict) else None
    if row is None:
        raise KeyError(f"no conflict {conflict!r} in this book")
    return _conflict(row)


def settle(connection: Connection, conflict: str, kept: Kept, at: str) -> None:
    """Write which side was kept."""
    connection.execute(CONFLICT.update().where(CONFLICT.c.id == conflict).values(settled_at=at, kept=kept))


def _conflict(row: Row[tuple[object, ...]]) -> Conflict:
    return Conflict(*(getattr(row, name) for name in Conflict.__slots__))
