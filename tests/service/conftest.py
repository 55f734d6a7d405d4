"""A desk on a file and, where CROWNWRIGHT_TEST_POSTGRES names a server's maintenance database, on PostgreSQL: the same tests."""

from __future__ import annotations

import os
import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text

from crownwright.service.desk.model import By
from crownwright.service.desk.open_desk import Desk, open_desk

SERVER = os.environ.get("CROWNWRIGHT_TEST_POSTGRES")
ANSEL, BERIT = By("Ansel", "phone-1"), By("Berit", "phone-2")


@dataclass
class Clock:
    """A clock that tests set."""

    at: datetime = datetime(2026, 11, 25, 8, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.at

    def on(self, **by: float) -> None:
        self.at += timedelta(**by)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture(params=["file", *(["server"] if SERVER else [])])
def address(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    if request.param == "file":
        yield str(tmp_path / "jobs.book")
        return
    assert SERVER is not None
    name = "desk_" + uuid.uuid4().hex[:12]
    admin = create_engine(SERVER.replace("postgresql:", "postgresql+psycopg:", 1), isolation_level="AUTOCOMMIT")
    with admin.connect() as connection:
        connection.execute(text(f"CREATE DATABASE {name}"))
    yield SERVER.rsplit("/", 1)[0] + "/" + name
    with admin.connect() as connection:
        connection.execute(text(f"DROP DATABASE {name} WITH (FORCE)"))
    admin.dispose()


@pytest.fixture
def desk(address: str, clock: Clock) -> Iterator[Desk]:
    opened = open_desk(address, clock=clock)
    yield opened
    opened.close()
