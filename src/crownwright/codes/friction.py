"""Static friction of the pairs a form and a cap rest on, as sources give it, with the design values chosen from them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from crownwright.quantity.working import Cite
from crownwright.sources.tables import MARKS, pick, rows


@dataclass(frozen=True, slots=True)
class Friction:
    """Coefficient of static friction of a pair: lowest and highest the source gives."""

    pair: str
    low: float
    high: float
    cite: Cite


@cache
def pairs() -> Mapping[str, Friction]:
    """Return every pair in the table by name."""
    return MappingProxyType(
        {
            row["pair"]: Friction(
                row["pair"], float(row["low"]), float(row["high"]), Cite(row["document"], row["clause"], MARKS[row["mark"]])
            )
            for row in rows(__package__, "friction.csv")
        }
    )


def friction(pair: str) -> Friction:
    """Return one pair; KeyError lists those there are.

    >>> friction("design: wood on brick or stone").low
    0.3
    """
    return pick(pairs(), pair, "pair")
