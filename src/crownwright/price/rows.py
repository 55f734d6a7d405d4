"""Price-book rows from a table and back. Every fault of every row is told, with row and column; with one, nothing is taken in."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from importlib import resources
from typing import cast

from crownwright.price.pricebook import ACCEPTED, FINISHED, KINDS, RULES, STAGES, Kind, PriceBook, Row, Standing
from crownwright.price.units import UNITS
from crownwright.quantity.money import read_decimal
from crownwright.quantity.problems import Problem

COLUMNS = ("key", "what", "kind", "unit", "pack", "price", "tax", "since", "standing", "note")
NEEDED = ("key", "what", "kind", "unit", "pack", "price", "since")
Cells = Mapping[str, object]
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
        return "" if value is None else value.isoformat()[:10] if isinstance(value, date) else str(value).strip()

    def one_of(self, column: str, allowed: Sequence[str], default: str = "") -> str:
        text = self.text(column) or default
        if text not in allowed:
            self.fault(column, f"{text!r} is not known", f"One of: {', '.join(allowed)}")
        return text

    def number_in(self, column: str, *, above: bool) -> Decimal:
        value = self.cells.get(column)
        if isinstance(value, float | int) and not isinstance(value, bool):
            text = repr(value) if isinstance(value, int) or value != int(value) else str(int(value))
            made = Decimal(text)  # a sheet keeps numbers in binary; the shortest text of one is what was typed
        else:
            try:
                made = read_decimal(self.text(column), self.locale)
            except ValueError as error:
                self.fault(column, str(error), "Write it so, without a currency sign")
                return Decimal(1)
        if not made.is_finite() or made < 0 or (above and made == 0):
            self.fault(column, f"{made} is {'not above' if above else 'below'} nothing", "Write an amount of nothing or more")
        return made

    def day(self) -> date:
        text = self.text("since")
        try:
            return date.fromisoformat(text)
        except ValueError:
            self.fault("since", f"{text!r} is not a date", "Write year-month-day, like 2026-03-01")
            return date.min


def book_of(table: Sequence[Cells], currency: str, locale: str, first: int = 2) -> tuple[PriceBook | None, tuple[Problem, ...]]:
    """Return the price book of a table of rows (column -> cell), or None and everything that is wrong with it.

    ``first`` is the number of the first row as the sheet shows it (2: under its heads).
    """
    found = [_row(_Reader(number, cells, locale)) for number, cells in enumerate(table, first)]
    problems = [*_columns(table), *(problem for _, faults in found for problem in faults)]
    rows = tuple(row for row, _ in found)
    problems += _together(rows, first)
    return (None, tuple(problems)) if problems else (PriceBook(rows, currency, locale), ())


def _columns(table: Sequence[Cells]) -> Iterator[Problem]:
    if not table:
        yield Problem("price book", "there are no rows", "Export the example book, and put your prices into it")
        return
    there = set(table[0])
    for column in NEEDED:
        if column not in there:
            yield Problem(f"row 1, column {column}", "the column is missing", f"Heads are: {', '.join(COLUMNS)}")
    for column in sorted(str(c) for c in there - set(COLUMNS)):
        yield Problem(f"row 1, column {column}", "the column is not known", f"Heads are: {', '.join(COLUMNS)}")


def _row(read: _Reader) -> tuple[Row, list[Problem]]:
    key, kind = read.text("key"), read.one_of("kind", KINDS)
    if not key:
        read.fault("key", "there is none", "Give every row the key that the take-off asks for")
    unit = read.one_of("unit", tuple(UNITS))
    if kind in _UNIT_OF_KIND and unit not in _UNIT_OF_KIND[kind]:
        read.fault("unit", f"{kind} is not counted in {unit}", f"Write {' or '.join(_UNIT_OF_KIND[kind])}")
    _rule(read, key, kind, unit)
    row = Row(
        key, read.text("what"), cast("Kind", kind), unit, read.number_in("pack", above=True),
        read.number_in("price", above=False), read.text("tax"), read.day(),
        cast("Standing", read.one_of("standing", ("own", "example"), "own")), read.text("note"),
    )  # fmt: skip
    if kind in ("tax", "rule") and unit == "%" and row.price >= 100 and key != "rule mark-up":
        read.fault("price", f"{row.price} per cent is a whole or more", "Write per cent under 100")
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


def _together(rows: Sequence[Row], first: int) -> Iterator[Problem]:
    """What only shows when the rows are seen together: duplicates, taxes that are not there, margin and mark-up at once."""
    seen: dict[tuple[str, date], int] = {}
    taxes = {row.key.removeprefix("tax ") for row in rows if row.kind == "tax"}
    for number, row in enumerate(rows, first):
        at = (row.key, row.since)
        if row.key and at in seen:
            yield Problem(
                f"row {number}, column key", f"{row.key!r} of {row.since} stands in row {seen[at]} too",
                "Take one out, or date it from the day it changed",
            )  # fmt: skip
        seen.setdefault(at, number)
        if row.tax and row.tax not in taxes:
            yield Problem(f"row {number}, column tax", f"there is no row 'tax {row.tax}'", "Add it, or leave the cell empty")
    yield from _payments_fit(rows, first)
    ways = [(n, r.key) for n, r in enumerate(rows, first) if r.key in ("rule margin", "rule mark-up") and r.price > 0]
    if len({key for _, key in ways}) > 1:
        yield Problem(
            f"row {ways[-1][0]}, column key", "margin (of the price) and mark-up (on the cost) are both given", "Keep one of them"
        )


def _payments_fit(rows: Sequence[Row], first: int) -> Iterator[Problem]:
    """On no day may deposit and stages come to the whole price or more, nor two payments have the same words."""
    kept = [(number, row) for number, row in enumerate(rows, first) if row.key in _PAYMENTS]
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
    """Return the price book of a CSV text. Commas, semicolons or tabs between cells; lines that begin with # are left out."""
    lines = [
        (n, line) for n, line in enumerate(text.lstrip("\ufeff").splitlines(), 1) if line.strip() and not line.startswith("#")
    ]
    if not lines:
        return book_of((), currency, locale)
    mark = max(",;\t", key=lines[0][1].count)
    table = list(csv.reader((line for _, line in lines), delimiter=mark))
    heads = [head.strip() for head in table[0]]
    uneven = tuple(
        Problem(f"row {number}", f"it has {len(cells)} cells, the heads {len(heads)}", "Put cells with commas into quotes")
        for (number, _), cells in zip(lines[1:], table[1:], strict=False)
        if len(cells) != len(heads)
    )
    if uneven:
        return None, uneven
    return book_of([dict(zip(heads, cells, strict=True)) for cells in table[1:]], currency, locale, lines[0][0] + 1)


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


def example_book() -> PriceBook:
    """Return the book that comes with the program: invented prices, every one marked as an example, to be replaced."""
    text = resources.files(__package__ or "").joinpath("example_prices.csv").read_text("utf-8")
    book, problems = parse_csv(text, "USD", "en_US")
    if book is None:
        raise ValueError("\n".join(map(str, problems)))
    return book
