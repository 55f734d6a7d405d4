"""Copy a whole book into an empty one, of either kind: a backup is a book in one file, and can be opened as it is."""

from __future__ import annotations

from collections.abc import Mapping

from sqlalchemy import Connection, func, select

from crownwright.book.schema import META, STEP
from crownwright.book.store import Book, BookError

AT_ONCE = 200  # rows; photos are some megabytes each, so they go one by one
TABLES = [table for table in META.sorted_tables if table is not STEP]


def copy_book(source: Book, target: Book) -> Mapping[str, int]:
    """Copy every row as the source stands at this moment into an empty book, whole or not at all; returns rows by table.

    Raises `BookError` when the target is not empty, or the rows did not all arrive.
    """
    with source.snapshot() as there, target.writing() as here:
        filled = [table.name for table in TABLES if _count(here, table.name)]
        if filled:
            raise BookError(f"{target.address} is not empty", "Name a place where there is no book yet")
        for table in TABLES:
            some = 1 if table.name in ("photo", "issued") else AT_ONCE
            for rows in there.execution_options(yield_per=some).execute(select(table)).mappings().partitions(some):
                here.execute(table.insert(), [dict(row) for row in rows])
        counts = {table.name: _count(here, table.name) for table in TABLES}
        if counts != {table.name: _count(there, table.name) for table in TABLES}:
            raise BookError("Not every row arrived", "Try again; nothing was changed")
        return counts


def _count(connection: Connection, table: str) -> int:
    return connection.execute(select(func.count()).select_from(META.tables[table])).scalar_one()
