"""Price books and the firm from files and back: CSV or XLSX by the name's ending, TOML for the firm. All faults at once."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache
from pathlib import Path
from typing import Any

from crownwright.price.business import Business, parse_business
from crownwright.price.pricebook import PriceBook
from crownwright.price.rows import COLUMNS, book_of, cells_of, example_book, write_csv
from crownwright.price.table import Percent, Table, table_of, table_of_csv
from crownwright.quantity.problems import Problem

MOST_UNPACKED = 60_000_000  # bytes; a workbook is a zip, and a small one can unpack to a mountain


def read_business(path: Path | None) -> tuple[Business | None, tuple[Problem, ...]]:
    """Read the firm; the one that comes with the program where no file is named."""
    if path is None:
        return Business(), ()
    try:
        return parse_business(path.read_text("utf-8"))
    except (OSError, UnicodeDecodeError) as error:
        return None, (Problem(str(path), f"it cannot be read: {error}", "Name a TOML file in UTF-8"),)


def read_book(path: Path | None, business: Business) -> tuple[PriceBook | None, tuple[Problem, ...]]:
    """Read a price book in the firm's currency and locale; the example where no file is named."""
    if path is None:
        return example_book(), ()
    try:
        data = path.read_bytes()
    except OSError as error:
        return None, (Problem(str(path), f"it cannot be read: {error.strerror or error}", "Name a .csv or .xlsx file"),)
    return book_of_bytes(data, path.name, business)


@lru_cache(maxsize=4)  # a firm has one book, and every price asks for it
def book_of_bytes(data: bytes, name: str, business: Business) -> tuple[PriceBook | None, tuple[Problem, ...]]:
    """Return the price book in a file's bytes, as they come from a disk or a page."""
    if name.lower().endswith(".xlsx"):
        table = _sheet(data, name)
    elif data.startswith(b"PK"):
        table = Problem(name, "it is a workbook, or another packed file, and no CSV", "Save it as XLSX, named .xlsx, or as CSV")
    else:
        text = _text(data, name)
        table = text if isinstance(text, Problem) else table_of_csv(text)
    return (None, (table,)) if isinstance(table, Problem) else book_of(table, business.currency, business.locale)


def _text(data: bytes, name: str) -> str | Problem:
    """The text of a CSV file: UTF-8, or UTF-16 where its first bytes say so, as some spreadsheets save it."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        try:
            return data.decode("utf-16")
        except UnicodeDecodeError:
            return Problem(name, "it begins like UTF-16, and is none", "Save it as CSV in UTF-8, or as XLSX")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        row = data[: error.start].count(b"\n") + 1
        before = data[: error.start].rpartition(b"\n")[2].decode("utf-8", "replace")[-12:]
        return Problem(f"{name}, row {row}", f"a letter after {before!r} is not UTF-8", "Save it as CSV in UTF-8, or as XLSX")
    if "\0" in text[:1000]:
        return Problem(name, "it is no text in UTF-8", "Save it as CSV in UTF-8, or as XLSX")
    return text


def _sheet(data: bytes, name: str) -> Table | Problem:
    """The first sheet of a workbook. Merged cells, and formulas that no program has worked out, are faults of their row."""
    import openpyxl

    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            if sum(part.file_size for part in packed.infolist()) > MOST_UNPACKED:
                return Problem(name, "it unpacks to more than any price book holds", "Save the one sheet as CSV")
        values = openpyxl.load_workbook(io.BytesIO(data), data_only=True).worksheets[0]
        typed = openpyxl.load_workbook(io.BytesIO(data)).worksheets[0]
    except (zipfile.BadZipFile, KeyError, ValueError, OSError, IndexError) as error:
        return Problem(name, f"it is no workbook: {error}", "Save it as XLSX, or as CSV in UTF-8")
    records = [(n, [_cell(cell) for cell in row]) for n, row in enumerate(values.iter_rows(), 1)]
    while records and records[0][1] and not any(cell not in (None, "") for cell in records[0][1]):
        records.pop(0)
    table = table_of(records, even=False)
    return replace(table, faults=(*table.faults, *_merged(typed), *_unworked(typed, values)))


def _cell(cell: Any) -> object:
    """A cell's value; one that is shown as per cent says so."""
    value = cell.value
    if isinstance(value, int | float) and not isinstance(value, bool) and "%" in (cell.number_format or ""):
        return Percent(Decimal(repr(value)))
    return value


def _merged(sheet: Any) -> Iterator[Problem]:
    for area in sheet.merged_cells.ranges:
        yield Problem(
            f"row {area.min_row}, cells {area.coord}", "they are merged into one", "Undo the merging, and fill each cell"
        )


def _unworked(typed: Any, values: Any) -> Iterator[Problem]:
    for row in typed.iter_rows():
        for cell in row:
            if cell.data_type == "f" and values[cell.coordinate].value is None:
                says = f"the formula {str(cell.value)[:40]!r} was never worked out"
                yield Problem(f"row {cell.row}, cell {cell.coordinate}", says, "Write the amount itself")


def book_bytes(book: PriceBook, name: str) -> bytes:
    """Return the book as a file of the name's kind; read back it is the same book."""
    return _workbook(book) if name.lower().endswith(".xlsx") else write_csv(book).encode()


def _workbook(book: PriceBook) -> bytes:
    """Numbers are written as text in the locale's way, so that not a cent passes through binary."""
    from openpyxl import Workbook

    made = Workbook()
    sheet = made.active
    assert sheet is not None
    sheet.title = "prices"
    sheet.append(list(COLUMNS))
    for row in book.rows:
        sheet.append([cells_of(row, book.locale)[column] for column in COLUMNS])
    sheet.freeze_panes = "A2"
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()
