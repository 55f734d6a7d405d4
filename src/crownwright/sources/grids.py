"""Published grids of numbers as data: TOML beside the code, each with its document, place, unit and how it is known.

A file holds one TOML table a published table::

    [water]
    document = "aci_211_1_1991"
    clause = "Table 6.3.3"
    standing = "read"
    unit = "lb/yd3"
    down = "slump, in."
    across = "nominal maximum size of aggregate, in."
    columns = ["3/8", "1/2"]
    rows = { "1-2" = [305, 295] }

One lookup serves them all; it names the unknown key and lists the allowed ones.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from types import MappingProxyType

from crownwright.quantity.working import Cite

Cell = float | str | None
"""A number, a word, or None where the source leaves the place empty (written "" in the file)."""


@dataclass(frozen=True, slots=True)
class Grid:
    """A published table: row keys down, column keys across, cells in ``unit`` as the source prints them."""

    name: str
    cite: Cite
    unit: str
    down: str
    across: str
    columns: tuple[str, ...]
    rows: Mapping[str, tuple[Cell, ...]]
    note: str = ""

    def row(self, key: str) -> dict[str, Cell]:
        """Return one row as {column: cell}. Raises KeyError naming the key and the allowed ones."""
        if key not in self.rows:
            raise KeyError(f"{self.name}: no {self.down} {key!r}; allowed: {', '.join(self.rows)}")
        return dict(zip(self.columns, self.rows[key], strict=True))

    def cell(self, down: str, across: str) -> Cell:
        """Return one cell. Raises KeyError naming the key and the allowed ones."""
        row = self.row(down)
        if across not in row:
            raise KeyError(f"{self.name}: no {self.across} {across!r}; allowed: {', '.join(self.columns)}")
        return row[across]

    def number(self, down: str, across: str) -> float:
        """Return one cell that must be a number. Raises KeyError for unknown keys and for a place the source leaves empty."""
        cell = self.cell(down, across)
        if not isinstance(cell, (int, float)):
            raise KeyError(f"{self.name}: the source gives no number for {self.down} {down!r}, {self.across} {across!r}")
        return float(cell)

    def column(self, across: str) -> dict[str, Cell]:
        """Return one column as {row: cell}. Raises KeyError naming the key and the allowed ones."""
        return {key: self.cell(key, across) for key in self.rows}


@cache
def read_grids(package: str, file: str) -> Mapping[str, Grid]:
    """Return the tables of one data file by name, in the file's order; ``package`` is the package the file lies in."""
    text = resources.files(package).joinpath(file).read_text("utf-8")
    return MappingProxyType({name: _grid(name, raw) for name, raw in tomllib.loads(text).items()})


def _grid(name: str, raw: dict[str, object]) -> Grid:
    columns = tuple(str(c) for c in raw["columns"])  # type: ignore[attr-defined]
    rows = {key: tuple(None if v == "" else v for v in cells) for key, cells in raw["rows"].items()}  # type: ignore[attr-defined]
    for key, cells in rows.items():
        if len(cells) != len(columns):
            raise ValueError(f"table {name!r}, row {key!r}: {len(cells)} cells for {len(columns)} columns")
    cite = Cite(str(raw["document"]), str(raw.get("clause", "")), raw.get("standing", "read"))  # type: ignore[arg-type]
    words = {k: str(raw.get(k, "")) for k in ("unit", "down", "across", "note")}
    return Grid(name=name, cite=cite, columns=columns, rows=MappingProxyType(rows), **words)
