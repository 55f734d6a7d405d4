"""Open a book by its address, bring it up to date, hand out transactions. Trouble with disk or server comes as a clear word."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event, text
from sqlalchemy.exc import DBAPIError, OperationalError
from sqlalchemy.pool import QueuePool

from crownwright.book.schema import META, MIGRATIONS, STEP, steps_done

BUSY_SECONDS = 20
STEPS_LOCK = 0x63726F776E  # any number that every server of this book knows
KEPT = {"pool_size": 32, "max_overflow": 8}
"""Connections kept open, nearly as many as threads may ask at once: one beyond would be opened for a single page, which takes a
server longer than the page, and then closed."""


class BookError(Exception):
    """The book cannot be read or written just now. ``remedy`` says what to do; nothing already kept is lost by it."""

    def __init__(self, what: str, remedy: str) -> None:
        super().__init__(f"{what}. {remedy}")
        self.what, self.remedy = what, remedy


@dataclass(frozen=True, slots=True)
class Book:
    """An open book. ``address`` is a path or a database address without its password; ``shown_only`` a file that lies where
    nothing may be written, so that it can be shown and not changed.
    """

    engine: Engine
    address: str
    shown_only: bool = False

    @contextmanager
    def snapshot(self) -> Iterator[Connection]:
        """A view of the book as it is at one moment, however long the reading takes."""
        engine = self.engine
        if engine.dialect.name == "postgresql":
            engine = engine.execution_options(isolation_level="REPEATABLE READ")
        with _plain_words(), engine.connect() as connection:
            yield connection.execution_options(writes=False)

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A consistent view of the book."""
        with _plain_words(), self.engine.connect() as connection:
            yield connection.execution_options(writes=False)

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A transaction: all of it is kept, on disk, when the block ends, or none of it."""
        with _plain_words(), self.engine.begin() as connection:
            yield connection

    def close(self) -> None:
        """Let go of the file or the server."""
        self.engine.dispose()


def open_book(address: str | Path, now: str) -> Book:
    """Open the book at ``address`` (a file path, or ``postgresql://...``), making or bringing it up to date.

    ``now`` is the time in UTC (ISO 8601), for the record of what was done. Raises `BookError` with what to do.
    """
    shown_only = not _is_server(str(address)) and _only_shown(Path(address))
    engine = _engine(str(address), shown_only)
    book = Book(engine, _shown(engine, str(address)), shown_only)
    try:
        _bring_up(book, now)
    except Exception:
        book.close()
        raise
    return book


def _is_server(address: str) -> bool:
    return address.startswith(("postgresql:", "postgres:"))


def _only_shown(path: Path) -> bool:
    """Whether a book is there and neither it nor the log beside it may be written."""
    return path.is_file() and not (os.access(path, os.W_OK) and os.access(path.parent, os.W_OK))


def _engine(address: str, shown_only: bool) -> Engine:
    if _is_server(address):
        return create_engine("postgresql+psycopg:" + address.split(":", 1)[1], pool_pre_ping=True, **KEPT)
    path = Path(address)
    if not path.parent.is_dir():
        raise BookError(f"There is no folder {path.parent} for the book", "Make the folder, or name another place with --book")
    # Kept open between uses: the last connection that closes folds the whole log into the file, too dear to do at every save.
    settings = {"timeout": BUSY_SECONDS, "check_same_thread": False}
    place = _to_show(path) if shown_only else URL.create("sqlite", database=str(path))
    engine = create_engine(place, poolclass=QueuePool, **KEPT, connect_args=settings)
    event.listen(engine, "connect", _sqlite_shown if shown_only else _sqlite_settings)
    event.listen(engine, "begin", _sqlite_begin)
    return engine


def _to_show(path: Path) -> URL:
    """A book's address for reading alone. Without a log beside it nobody has it open: it is read as it lies, with no new log."""
    alone = {} if path.with_name(path.name + "-wal").exists() else {"immutable": "1"}
    return URL.create("sqlite", database=path.absolute().as_uri(), query={"mode": "ro", "uri": "true", **alone})


def _shown(engine: Engine, address: str) -> str:
    return engine.url.render_as_string(hide_password=True) if _is_server(address) else address


def _sqlite_settings(raw: Any, _record: object) -> None:
    """WAL with full sync: a save that was acknowledged is on the disk, whatever happens to the program or the power."""
    raw.isolation_level = None  # transactions begin where _sqlite_begin says, not where the driver guesses
    for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", f"busy_timeout={BUSY_SECONDS * 1000}"):
        raw.execute(f"PRAGMA {pragma}")


def _sqlite_shown(raw: Any, _record: object) -> None:
    raw.isolation_level = None


def _sqlite_begin(connection: Connection) -> None:
    """A writer takes its lock at once, so that two servers on one book wait for each other rather than fail half way."""
    writing = connection.get_execution_options().get("writes", True)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")


def _bring_up(book: Book, now: str) -> None:
    """Do the steps that are missing. A book that is up to date is not written to, so that one that may only be read opens."""
    with book.reading() as connection:
        done = steps_done(connection)
    newer = done - {name for name, _ in MIGRATIONS}
    if newer:
        what = f"This book was kept by a newer version (it has had {sorted(newer)[0]!r})"
        raise BookError(what, "Bring the program up to date")
    for name, change in MIGRATIONS:
        if name not in done:
            with book.writing() as connection:
                _alone(connection)
                META.create_all(connection, [STEP])
                if name not in steps_done(connection):  # another server may have done it since
                    change(connection)
                    connection.execute(STEP.insert().values(name=name, done_at=now))


def _alone(connection: Connection) -> None:
    """Let one server at a time change the tables; a file's writer is alone anyway."""
    if connection.dialect.name == "postgresql":
        connection.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": STEPS_LOCK})


REMEDIES = (
    ("readonly", "The book may only be read", "Give this user the right to write to the file and its folder"),
    ("read-only", "The book may only be read", "Give this user the right to write to the file and its folder"),
    ("disk is full", "The disk is full", "Make room; what was kept before is untouched, and the last change was not kept"),
    ("no space left", "The disk is full", "Make room; what was kept before is untouched, and the last change was not kept"),
    ("disk i/o error", "The disk does not read or write", "Look at the disk; what was acknowledged before is kept"),
    ("locked", "Another program is writing to the book and does not let go", "Close the other one, or wait, then try again"),
    ("not a database", "The file is not a job book", "Name another file with --book, or bring back a backup"),
    ("malformed", "The book's file is damaged", "Bring back the newest backup; keep the damaged file for rescue"),
    ("unable to open", "The book cannot be opened", "Look whether the path is right and the folder may be written"),
    ("connection", "The database server does not answer", "Look whether it runs and the address is right, then try again"),
)


@contextmanager
def _plain_words() -> Iterator[None]:
    """Turn the driver's error into one a person can act on."""
    try:
        yield
    except (OperationalError, DBAPIError) as error:
        says = str(error.orig).lower()
        for sign, what, remedy in REMEDIES:
            if sign in says:
                raise BookError(what, remedy) from error
        raise
