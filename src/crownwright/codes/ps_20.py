"""PS 20, American Softwood Lumber Standard: dressed dry sizes of two-by lumber."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from crownwright.quantity.units import INCH
from crownwright.quantity.working import Cite
from crownwright.sources.tables import MARKS, pick, rows


@dataclass(frozen=True, slots=True)
class Board:
    """One size of lumber, dressed and dry: ``thickness`` and ``width`` in m."""

    name: str
    thickness: float
    width: float
    cite: Cite


@cache
def boards() -> Mapping[str, Board]:
    """Return every size by name, narrow to wide."""
    return MappingProxyType({row["name"]: _board(row) for row in rows(__package__, "ps_20.csv")})


def board(name: str) -> Board:
    """Return one size; KeyError lists those there are.

    >>> round(board("2x8").width / INCH, 2)
    7.25
    """
    return pick(boards(), name, "board")


def _board(row: Mapping[str, str]) -> Board:
    cite = Cite("ps_20", "dressed sizes (NDS Supplement, Table 1A)", MARKS[row["mark"]])
    return Board(row["name"], float(row["thickness_in"]) * INCH, float(row["width_in"]) * INCH, cite)
