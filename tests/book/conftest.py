"""The same tests on one file and, where CROWNWRIGHT_TEST_POSTGRES names a server's maintenance database, on PostgreSQL."""

from __future__ import annotations

import os
import uuid
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text

from crownwright.book.jobs import Stamp
from crownwright.book.store import Book, open_book

SERVER = os.environ.get("CROWNWRIGHT_TEST_POSTGRES")
STAMP = Stamp("Ansel", "phone-1", "2026-11-25T08:00:00Z")


@pytest.fixture(params=["file", *(["server"] if SERVER else [])])
def address(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    if request.param == "file":
        yield str(tmp_path / "jobs.book")
        return
    assert SERVER is not None
    name = "book_" + uuid.uuid4().hex[:12]
    admin = create_engine(SERVER.replace("postgresql:", "postgresql+psycopg:", 1), isolation_level="AUTOCOMMIT")
    with admin.connect() as connection:
        connection.execute(text(f"CREATE DATABASE {name}"))
    yield SERVER.rsplit("/", 1)[0] + "/" + name
    with admin.connect() as connection:
        connection.execute(text(f"DROP DATABASE {name} WITH (FORCE)"))
    admin.dispose()


@pytest.fixture
def book(address: str) -> Iterator[Book]:
    opened = open_book(address, STAMP.at)
    yield opened
    opened.close()
