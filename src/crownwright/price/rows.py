"""Price-book rows from a table and back. Every fault of every row is told, with row and column; with one, nothing is taken in."""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import cache
from importlib import resources
from typing import cast

from crownwright.price.pricebook import ACCEPTED, FINISHED, KINDS, RULES, STAGES, Kind, PriceBook, Row, Standing
from crownwright.price.table import Cells, Percent, Table, table_of_csv
from crownwright.price.units import UNITS
from crownwright.quantity.money import read_decimal
from crownwright.quantity.problems import Problem

COLUMNS = ("key", "what", "kind", "unit", "pack", "price", "tax", "since", "standing", "note")
NEEDED = ("key", "what", "kind", "unit", "pack", "price", "since")
Numbered = tuple[int, Row]
MOST = 1_000_000_000
_LEAST_SHARE = {"tax": Decimal("0.3")} | {
    f"rule {name}": Decimal(1) for name in ("overhead", "margin", "mark-up", "deposit", *STAGES)
}  # fmt: skip
"""Per cent under which a share was typed instead: 0.15 for 15 per cent."""
_PAYMENTS = ("rule deposit", *(f"rule {name}" for name in STAGES))
_UNIT_OF_KIND = {"labour": {"h"}, "tax": {"%"}}


@dataclass(slots=True)
class _Reader:
    """Reads one row, cell by cell, keeping what is wrong."""

    number: int
    cells: Cells
    locale: str
    problems: list[Problem] = field(default_factory=list)

    def fault(self, column: str, what: str, remedy: str) -> None:
        self.problems.append(Problem(f"row {self.number}, column {column}", what, remedy))

    def text(self, column: str) -> str:
        value = self.cells.get(column)
        text = "" if value is None else value.isoformat()[:10] if isinstance(value, date) else str(value).strip()
        if any(unicodedata.category(c) == "Cc" and c != "\n" for c in text):
            self.fault(column, f"{text!r} has a character in it that cannot be seen", "Type the cell anew")
        return text

    def one_of(self, column: str, allowed: Sequence[str], default: str = "") -> str:
        text = self.text(column) or default
        if text not in allowed:
            self.fault(column, f"{text!r} is not known", f"One of: {', '.join(allowed)}")
        return text

    def number_in(self, column: str, unit: str, *, above: bool) -> Decimal:
        made = self.decimal(column, unit)
        if made is None:
            return Decimal(1)
        if not made.is_finite() or made < 0 or (above and made == 0):
            self.fault(column, f"{made} is {'not above' if above else 'below'} nothing", "Write an amount of nothing or more")
        elif made >= MOST:
            self.fault(column, f"{made} is more than any price", f"Write an amount under {MOST:,}")
        return made

    def decimal(self, column: str, unit: str) -> Decimal | None:
        """The number in a cell: as a sheet holds it, or as people of the locale write it; None, and told, for what is none."""
        value = self.cells.get(column)
        if isinstance(value, Percent):
            return value.share * 100 if self.percent_fits(column, unit) else None
        if isinstance(value, float | int) and not isinstance(value, bool):
            # a sheet keeps numbers in binary; the shortest text of one is what was typed
            return Decimal(repr(value) if isinstance(value, int) or value != int(value) else str(int(value)))
        text = self.text(column)
        if text.endswith("%") and not self.percent_fits(column, unit):
            return None
        try:
            made = read_decimal(text.removesuffix("%"), self.locale)
        except ValueError as error:
            missing = not text
            self.fault(column, "there is none" if missing else str(error),
                       "Write a number" if missing else "Write it so, without a currency sign")  # fmt: skip
            return None
        if _like_thousands(text, made):
            self.fault(column, f"{text!r} may be {made} or {made * 1000:,.0f}", f"Write {made}0 or {made * 1000:.0f}")
        return made

    def percent_fits(self, column: str, unit: str) -> bool:
        if column != "price" or unit != "%":
            self.fault(column, f"it is per cent, the row is counted in {unit}", "Write an amount, or % under unit")
        return column == "price" and unit == "%"

    def day(self) -> date:
        text = self.text("since")
        try:
            made = date.fromisoformat(text)
            if not 1970 <= made.year <= 2200:
                raise ValueError
        except ValueError:
            self.fault(
                "since", f"{text!r} is not a date" if text else "there is no date", "Write year-month-day, like 2026-03-01"
            )
            return date.min
        return made


def _like_thousands(text: str, made: Decimal) -> bool:
    """Whether a number reads like thousands of another country: 1.234 where a point is for decimals."""
    return made >= 1 and re.fullmatch(r"\d{1,3}[.,]\d{3}", text) is not None and made.as_tuple().exponent == -3


def book_of(table: Table, currency: str, locale: str) -> tuple[PriceBook | None, tuple[Problem, ...]]:
    """Return the price book of a table, or None and everything that is wrong with it, and then nothing is taken in."""
    found = [(number, *_row(_Reader(number, cells, locale))) for number, cells in table.rows]
    rows = tuple((number, row) for number, row, _ in found)
    problems = [*table.faults, *_heads(table), *(problem for _, _, faults in found for problem in faults), *_together(rows)]
    return (None, tuple(problems)) if problems else (PriceBook(tuple(row for _, row in rows), currency, locale), ())


def _heads(table: Table) -> Iterator[Problem]:
    if table.faults and not table.heads:
        return  # nothing of it could be read
    if not (table.rows or table.faults):
        yield Problem("price book", "there are no rows", "Export the example book, and put your prices into it")
        return
    remedy = f"The first row has the heads: {', '.join(COLUMNS)}"
    for column in NEEDED:
        if column not in table.heads:
            yield Problem(f"row {table.head_row}, column {column}", "the column is missing", remedy)
    for column in sorted(set(table.heads) - {*COLUMNS, ""}):
        yield Problem(f"row {table.head_row}, column {column}", "the column is not known", remedy)
    for column in sorted({c for c in table.heads if c and table.heads.count(c) > 1}):
        yield Problem(f"row {table.head_row}, column {column}", "the column is there twice", "Take one of the two out")


def _row(read: _Reader) -> tuple[Row, list[Problem]]:
    key, kind = read.text("key"), read.one_of("kind", KINDS)
    if not key:
        read.fault("key", "there is none", "Give every row the key that the take-off asks for")
    unit = read.one_of("unit", tuple(UNITS))
    if kind in _UNIT_OF_KIND and unit not in _UNIT_OF_KIND[kind]:
        read.fault("unit", f"{kind} is not counted in {unit}", f"Write {' or '.join(_UNIT_OF_KIND[kind])}")
    _rule(read, key, kind, unit)
    row = Row(
        key, read.text("what"), cast("Kind", kind), unit, read.number_in("pack", unit, above=True),
        read.number_in("price", unit, above=False), read.text("tax"), read.day(),
        cast("Standing", read.one_of("standing", ("own", "example"), "own")), read.text("note"),
    )  # fmt: skip
    if kind in ("tax", "rule") and unit == "%" and row.price >= 100 and key != "rule mark-up":
        read.fault("price", f"{row.price} per cent is a whole or more", "Write per cent under 100")
    if 0 < row.price < _LEAST_SHARE.get(key if kind == "rule" else kind, 0):
        meant = (row.price * 100).normalize()
        read.fault("price", f"{row.price} per cent is next to nothing", f"Write {meant:f} for {meant:f} per cent")
    return row, read.problems


def _rule(read: _Reader, key: str, kind: str, unit: str) -> None:
    if kind == "rule":
        name = key.removeprefix("rule ")
        if not key.startswith("rule ") or name not in RULES:
            read.fault("key", f"{key!r} is no rule", f"One of: {', '.join('rule ' + name for name in RULES)}")
        elif unit != RULES[name]:
            read.fault("unit", f"{key} is not counted in {unit}", f"Write {RULES[name]}")
    elif kind == "tax" and not key.startswith("tax "):
        read.fault("key", f"{key!r} does not begin with tax", "Write tax and its name, like: tax materials")


def _together(rows: Sequence[Numbered]) -> Iterator[Problem]:
    """What only shows when the rows are seen together: duplicates, taxes that are not there, margin and mark-up at once."""
    seen: dict[tuple[str, date], int] = {}
    taxes = {row.key.removeprefix("tax ") for _, row in rows if row.kind == "tax"}
    for number, row in rows:
        at = (row.key, row.since)
        if row.key and at in seen:
            yield Problem(
                f"row {number}, column key", f"{row.key!r} of {row.since} stands in row {seen[at]} too",
                "Take one out, or date it from the day it changed",
            )  # fmt: skip
        seen.setdefault(at, number)
        if row.tax and row.tax not in taxes:
            yield Problem(f"row {number}, column tax", f"there is no row 'tax {row.tax}'", "Add it, or leave the cell empty")
    yield from _payments_fit(rows)
    ways = [(n, r.key) for n, r in rows if r.key in ("rule margin", "rule mark-up") and r.price > 0]
    if len({key for _, key in ways}) > 1:
        yield Problem(
            f"row {ways[-1][0]}, column key", "margin (of the price) and mark-up (on the cost) are both given", "Keep one of them"
        )


def _payments_fit(rows: Sequence[Numbered]) -> Iterator[Problem]:
    """On no day may deposit and stages come to the whole price or more, nor two payments have the same words."""
    kept = [(number, row) for number, row in rows if row.key in _PAYMENTS]
    for number, row in kept:
        held = {r.key: r for _, r in sorted(kept, key=lambda one: one[1].since) if r.since <= row.since}
        whole = sum((r.price for r in held.values()), Decimal(0))
        if whole >= 100:
            says = f"deposit and stages come to {whole.normalize():f} per cent on {row.since}"
            yield Problem(f"row {number}, column price", says, "Leave a rest for when it is finished: under 100 together")
        words = [r.what for r in held.values() if r.price > 0 and r.key != "rule deposit"]
        if row.key != "rule deposit" and row.price > 0 and (words.count(row.what) > 1 or row.what in ("", ACCEPTED, FINISHED)):
            says = f"{row.what!r} does not tell this payment from another"
            yield Problem(f"row {number}, column what", says, "Say when it is due, like: when the cap is poured")


def parse_csv(text: str, currency: str, locale: str) -> tuple[PriceBook | None, tuple[Problem, ...]]:
    """Return the price book of a CSV text. Commas, semicolons or tabs between cells; rows that begin with # are left out."""
    return book_of(table_of_csv(text), currency, locale)


def write_csv(book: PriceBook) -> str:
    """Return the book as CSV that reads back as the same book."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerows([cells_of(row, book.locale)[column] for column in COLUMNS] for row in book.rows)
    return out.getvalue()


def cells_of(row: Row, locale: str) -> dict[str, str]:
    """Return a row's cells as text, numbers as the locale writes them."""
    from babel.numbers import format_decimal

    def number(value: Decimal) -> str:
        return str(format_decimal(value, format="0." + "0" * max(-int(value.as_tuple().exponent), 0), locale=locale))

    return {
        "key": row.key, "what": row.what, "kind": row.kind, "unit": row.unit, "pack": number(row.pack),
        "price": number(row.price), "tax": row.tax, "since": row.since.isoformat(), "standing": row.standing, "note": row.note,
    }  # fmt: skip


@cache
def example_book() -> PriceBook:
    """Return the book that comes with the program: invented prices, every one marked as an example, to be replaced."""
    text = resources.files(__package__ or "").joinpath("example_prices.csv").read_text("utf-8")
    book, problems = parse_csv(text, "USD", "en_US")
    if book is None:
        raise ValueError("\n".join(map(str, problems)))
    return book
