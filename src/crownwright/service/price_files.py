"""Price books and the firm from files and back: CSV or XLSX by the name's ending, TOML for the firm. All faults at once."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

from crownwright.price.business import Business, parse_business
from crownwright.price.pricebook import PriceBook
from crownwright.price.rows import COLUMNS, Cells, book_of, cells_of, example_book, parse_csv, write_csv
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


def book_of_bytes(data: bytes, name: str, business: Business) -> tuple[PriceBook | None, tuple[Problem, ...]]:
    """Return the price book in a file's bytes, as they come from a disk or a page."""
    if name.lower().endswith(".xlsx"):
        return _sheet(data, name, business)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        return None, (Problem(name, f"it is not UTF-8 from byte {error.start} on", "Save it as CSV in UTF-8, or as XLSX"),)
    return parse_csv(text, business.currency, business.locale)


def _sheet(data: bytes, name: str, business: Business) -> tuple[PriceBook | None, tuple[Problem, ...]]:
    import openpyxl

    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            if sum(part.file_size for part in packed.infolist()) > MOST_UNPACKED:
                return None, (Problem(name, "it unpacks to more than any price book holds", "Save the one sheet as CSV"),)
        sheet = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True).worksheets[0]
        table = [list(row) for row in sheet.iter_rows(values_only=True)]
    except (zipfile.BadZipFile, KeyError, ValueError, OSError, IndexError) as error:
        return None, (Problem(name, f"it is no workbook: {error}", "Save it as XLSX, or as CSV in UTF-8"),)
    while table and not any(cell not in (None, "") for cell in table[-1]):
        table.pop()  # a sheet often ends in rows that were once used
    if not table:
        return book_of((), business.currency, business.locale)
    heads = [str(cell).strip() for cell in table[0] if cell is not None]
    rows: list[Cells] = [dict(zip(heads, row, strict=False)) for row in table[1:]]
    return book_of(rows, business.currency, business.locale)


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
