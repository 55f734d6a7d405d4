"""A table as a file has it: heads, and rows with the number that a spreadsheet shows; what is wrong before any cell is read."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from crownwright.quantity.problems import Problem

Cells = Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Percent:
    """A cell that a sheet shows as per cent: 0.15 for 15 %."""

    share: Decimal


@dataclass(frozen=True, slots=True)
class Table:
    """``heads`` in row ``head_row``, in lower case; ``rows`` (number, head -> cell); ``faults`` of the table itself."""

    heads: tuple[str, ...]
    rows: tuple[tuple[int, Cells], ...]
    faults: tuple[Problem, ...] = ()
    head_row: int = 1


def table_of(records: Sequence[tuple[int, Sequence[object]]], even: bool = True) -> Table:
    """Return the table of numbered records, the first of them the heads; empty rows are left out.

    ``even``: every row must have a cell for each head (a file without lines between cells has slipped where it does not).
    """
    kept = [(number, cells) for number, cells in records if any(str(c).strip() for c in cells if c is not None)]
    if not kept:
        return Table((), ())
    head_row, first = kept[0]
    heads = tuple("" if cell is None else str(cell).strip().lower() for cell in first)
    slipped = [(number, len(cells)) for number, cells in kept[1:] if even and len(cells) != len(heads)]
    faults = tuple(_slipped(number, there, len(heads)) for number, there in slipped)
    rows = tuple(
        (number, {head: cell for head, cell in zip(heads, cells, strict=False) if head})
        for number, cells in kept[1:]
        if not even or len(cells) == len(heads)
    )
    return Table(heads, rows, faults, head_row)


def _slipped(number: int, there: int, wanted: int) -> Problem:
    remedy = (
        "Give each head a cell, an empty one where there is nothing" if there < wanted else "Put a cell with a comma into quotes"
    )
    return Problem(f"row {number}", f"it has {there} cells, the heads {wanted}", remedy)


def table_of_csv(text: str) -> Table:
    """Return the table of a CSV text: commas, semicolons or tabs between cells, whichever the heads have most of."""
    text = text.lstrip("\ufeff")
    lines = [line for line in text.splitlines() if line.strip() and not line.startswith("#")]
    if not lines:
        return Table((), ())
    mark = max(",;\t", key=lines[0].count)
    records: list[tuple[int, list[str]]] = []
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True)
    try:
        for number, cells in enumerate(reader, 1):
            records.append((number, cells))
    except csv.Error as error:
        row = len(records) + 1
        says = "a quotation mark is not closed" if "end of data" in str(error) else f"it cannot be read: {error}"
        return Table((), (), (Problem(f"row {row}", says, "Put the quotes of this row right"),))
    return table_of([(number, cells) for number, cells in records if not (cells and cells[0].startswith("#"))])
