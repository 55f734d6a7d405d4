"""Metals for flashing: whether they may lie in mortar (Brick Industry Association 2006), how thin is too thin (IRC R903.2.1)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Literal

from crownwright.quantity.units import INCH
from crownwright.quantity.working import Standing
from crownwright.sources.tables import MARKS, pick, rows

InMortar = Literal["yes", "no", "not recommended"]


@dataclass(frozen=True, slots=True)
class Metal:
    """A sheet metal: ``thickness`` and the ``least`` asked for it (m), and whether it may lie in mortar."""

    name: str
    thickness: float
    least: float
    in_mortar: InMortar
    standing: Standing


@cache
def metals() -> Mapping[str, Metal]:
    """Return the table by name."""
    made = {}
    for row in rows(__package__, "flashing_metals.csv"):
        said: InMortar = "yes" if row["in_mortar"] == "yes" else "no" if row["in_mortar"] == "no" else "not recommended"
        thick, least = float(row["thickness_in"]) * INCH, float(row["least_in"]) * INCH
        made[row["name"]] = Metal(row["name"], thick, least, said, MARKS[row["mark"]])
    return MappingProxyType(made)


def metal(name: str) -> Metal:
    """Return one metal; KeyError lists those there are.

    >>> metal("aluminum 0.019").in_mortar
    'no'
    """
    return pick(metals(), name, "flashing metal")
