"""Photos of a job: the bytes as they came, and the upright pictures that pages and papers show."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sqlalchemy import Connection, Row, select

from crownwright.book.ids import can_be_id
from crownwright.book.schema import PHOTO

Which = Literal["thumbnail", "printed", "upright", "original"]


@dataclass(frozen=True, slots=True)
class PhotoRow:
    """A photo: its note, and where on the plan it was taken (metres in the survey's datum, as decimal text)."""

    id: str
    job: str
    added_at: str
    taken_at: str | None
    name: str
    note: str
    where_x: str | None
    where_y: str | None
    sha256: str
    deleted_at: str | None


@dataclass(frozen=True, slots=True)
class Pictures:
    """A photo's bytes: as it came; upright JPEG without location; one of that as papers show it, and a small one."""

    original: bytes
    upright: bytes
    printed: bytes
    thumbnail: bytes


def add(connection: Connection, row: PhotoRow, pictures: Pictures) -> PhotoRow:
    """Put a photo in the book. The same photo in the same job again changes nothing (it comes back if it was taken out)."""
    there = connection.execute(
        select(*_COLUMNS).where(PHOTO.c.job == row.job, (PHOTO.c.id == row.id) | (PHOTO.c.sha256 == row.sha256))
    ).first()
    if there is not None:
        connection.execute(PHOTO.update().where(PHOTO.c.id == there.id).values(deleted_at=None))
        return need(connection, there.id)
    values = {name: getattr(row, name) for name in PhotoRow.__slots__}
    bytes_ = {name: getattr(pictures, name) for name in Pictures.__slots__}
    connection.execute(PHOTO.insert().values(values | bytes_))
    return row


def of_job(connection: Connection, job: str, *, deleted: bool = False) -> tuple[PhotoRow, ...]:
    """Photos of a job, in the order they came; those taken out with ``deleted``."""
    there = PHOTO.c.deleted_at.is_not(None) if deleted else PHOTO.c.deleted_at.is_(None)
    wanted = select(*_COLUMNS).where(PHOTO.c.job == job, there).order_by(PHOTO.c.added_at, PHOTO.c.id)
    return tuple(map(_photo, connection.execute(wanted)))


def need(connection: Connection, photo: str) -> PhotoRow:
    """Return one photo's line; KeyError when there is none of that id."""
    row = connection.execute(select(*_COLUMNS).where(PHOTO.c.id == photo)).one_or_none() if can_be_id(photo) else None
    if row is None:
        raise KeyError(f"no photo {photo!r} in this book")
    return _photo(row)


def picture(connection: Connection, photo: str, which: Which) -> bytes:
    """The bytes of a photo; KeyError when there is none of that id, or it is older than such pictures ("printed")."""
    wanted = select(PHOTO.c[which]).where(PHOTO.c.id == photo)
    found = connection.execute(wanted).scalar_one_or_none() if can_be_id(photo) else None
    if found is None:
        raise KeyError(f"no photo {photo!r} in this book")
    return bytes(found)


def describe(connection: Connection, photo: str, note: str, where: tuple[str, str] | None) -> None:
    """Write a photo's note and where it was."""
    x, y = where or (None, None)
    connection.execute(PHOTO.update().where(PHOTO.c.id == photo).values(note=note, where_x=x, where_y=y))


def set_deleted(connection: Connection, photo: str, at: str | None) -> None:
    """Take a photo out (with the time), or bring it back (None)."""
    connection.execute(PHOTO.update().where(PHOTO.c.id == photo).values(deleted_at=at))


_COLUMNS = [PHOTO.c[name] for name in PhotoRow.__slots__]


def _photo(row: Row[tuple[object, ...]]) -> PhotoRow:
    return PhotoRow(*(getattr(row, name) for name in PhotoRow.__slots__))
