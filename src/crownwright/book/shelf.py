"""The shelf: files that belong to the firm or to a job and are no readings (a forecast, a price book), the newest of each."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection, Row, select

from crownwright.book.schema import SHELF


@dataclass(frozen=True, slots=True)
class Shelved:
    """A file on the shelf: under which place, its name as it came, when it was put there (UTC), its bytes."""

    place: str
    name: str
    put_at: str
    data: bytes


def put(connection: Connection, file: Shelved) -> None:
    """Put a file on its place; what lay there before is gone."""
    connection.execute(SHELF.delete().where(SHELF.c.place == file.place))
    connection.execute(SHELF.insert().values(place=file.place, name=file.name, put_at=file.put_at, data=file.data))


def get(connection: Connection, place: str) -> Shelved | None:
    """The file at a place, None where there is none."""
    row = connection.execute(select(SHELF).where(SHELF.c.place == place)).one_or_none()
    return None if row is None else _file(row)


def together(connection: Connection, *places: str) -> tuple[Shelved | None, ...]:
    """The files at several places as they lie at one moment, None where there is none."""
    found = connection.execute(select(SHELF).where(SHELF.c.place.in_(places))).all()
    by_place = {row.place: _file(row) for row in found}
    return tuple(by_place.get(place) for place in places)


def places(connection: Connection, start: str) -> tuple[str, ...]:
    """The places that hold a file and begin so, in order."""
    wanted = select(SHELF.c.place).where(SHELF.c.place.startswith(start, autoescape=True)).order_by(SHELF.c.place)
    return tuple(connection.execute(wanted).scalars())


def take(connection: Connection, place: str) -> None:
    """Take a file off the shelf; nothing happens where there is none."""
    connection.execute(SHELF.delete().where(SHELF.c.place == place))


def _file(row: Row[tuple[object, ...]]) -> Shelved:
    return Shelved(row.place, row.name, row.put_at, row.data)
