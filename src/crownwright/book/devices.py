"""Phones that were let in. A token is known by its hash alone, so that the book gives none away."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection, Row, select

from crownwright.book.ids import can_be_id
from crownwright.book.schema import DEVICE


@dataclass(frozen=True, slots=True)
class PairedDevice:
    """A device by the name its owner gave it. Times are UTC, ISO 8601."""

    id: str
    name: str
    paired_at: str
    revoked_at: str | None


def add(connection: Connection, device: PairedDevice, token_hash: str) -> None:
    """Let a device in."""
    connection.execute(
        DEVICE.insert().values(id=device.id, name=device.name, token_hash=token_hash, paired_at=device.paired_at, revoked_at=None)
    )


def by_token(connection: Connection, token_hash: str) -> PairedDevice | None:
    """Return the device with this token, None where there is none or it was shut out."""
    wanted = select(DEVICE).where(DEVICE.c.token_hash == token_hash, DEVICE.c.revoked_at.is_(None))
    row = connection.execute(wanted).one_or_none()
    return None if row is None else _device(row)


def listed(connection: Connection) -> tuple[PairedDevice, ...]:
    """Every device there was, newest first."""
    return tuple(map(_device, connection.execute(select(DEVICE).order_by(DEVICE.c.paired_at.desc(), DEVICE.c.id))))


def revoke(connection: Connection, device: str, at: str) -> None:
    """Shut a device out for good; KeyError when there is none of that id."""
    shut = DEVICE.update().where(DEVICE.c.id == device).values(revoked_at=at, token_hash=None)
    if not (can_be_id(device) and connection.execute(shut).rowcount):
        raise KeyError(f"no device {device!r} in this book")


def _device(row: Row[tuple[object, ...]]) -> PairedDevice:
    return PairedDevice(row.id, row.name, row.paired_at, row.revoked_at)
