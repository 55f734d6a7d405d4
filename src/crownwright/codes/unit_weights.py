"""Weights of laid masonry and stone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from crownwright.quantity.units import PCF
from crownwright.quantity.working import Cite
from crownwright.sources.tables import MARKS, pick, rows


@dataclass(frozen=True, slots=True)
class Material:
    """Density in kg/m3: low, usual, high."""

    name: str
    low: float
    usual: float
    high: float
    cite: Cite


@cache
def materials() -> Mapping[str, Material]:
    """Return every material in the table by name."""
    return MappingProxyType({row["material"]: _material(row) for row in rows(__package__, "unit_weights.csv")})


def material(name: str) -> Material:
    """Return one material; KeyError lists those there are.

    >>> round(material("rubble granite").usual / PCF)
    153
    """
    return pick(materials(), name, "material")


def stack_mass(length: float, width: float, height: float, voids: float, density: float) -> float:
    """Mass of a stack, kg: (length x width - voids) x height x density; ``voids`` m2 of flues, SI throughout.

    >>> round(stack_mass(1.0, 1.0, 2.0, 0.25, 2000.0))
    3000
    """
    return (length * width - voids) * height * density


def _material(row: Mapping[str, str]) -> Material:
    low, usual, high = (float(row[name]) * PCF for name in ("low", "usual", "high"))
    return Material(row["material"], low, usual, high, Cite(row["document"], row["clause"], MARKS[row["mark"]]))
