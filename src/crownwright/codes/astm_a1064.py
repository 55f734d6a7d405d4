"""ASTM A1064-12, plain steel wire by size, and how much steel a thin cap has (ACI 318 shrinkage and temperature ratio)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import pi
from types import MappingProxyType

from crownwright.quantity.units import IN2, INCH
from crownwright.quantity.working import Cite
from crownwright.sources.tables import MARKS, pick, rows

STEEL = 0.2836 * 0.45359237 / INCH**3
"""Density of steel, kg/m3 (0.2836 lb/in3)."""
SHRINKAGE_RATIO = 0.0018
"""Least steel for shrinkage and temperature over gross area (ACI 318 24.4.3.2; from memory). Does not formally govern a cap."""


@dataclass(frozen=True, slots=True)
class Wire:
    """A plain wire: diameter (m) and area (m2) as the table rounds them."""

    name: str
    diameter: float
    area: float
    cite: Cite


@cache
def wires() -> Mapping[str, Wire]:
    """Return every wire in the table by name. W1.7 is 9 gauge, W2.1 8 gauge, W2.8 3/16 in."""
    return MappingProxyType({row["name"]: _wire(row) for row in rows(__package__, "astm_a1064_wire.csv")})


def wire(name: str) -> Wire:
    """Return one wire; KeyError lists those there are.

    >>> round(wire("W1.7").diameter / INCH, 3)
    0.148
    """
    return pick(wires(), name, "wire")


def round_area(diameter: float) -> float:
    """Area of a round wire, m2.

    >>> round(round_area(0.148 * INCH) / IN2, 4)
    0.0172
    """
    return pi * diameter**2 / 4


def weight_per_length(diameter: float) -> float:
    """Mass of steel wire, kg/m.

    >>> round(weight_per_length(0.148 * INCH) / 0.45359237 * 0.3048, 4)
    0.0585
    """
    return round_area(diameter) * STEEL


def steel_wanted(thickness: float, ratio: float = SHRINKAGE_RATIO) -> float:
    """Steel for shrinkage and temperature, m2 per m of width: ratio x thickness.

    >>> round(steel_wanted(3 * INCH) / IN2 * 0.3048, 3)
    0.065
    """
    return ratio * thickness


def _wire(row: Mapping[str, str]) -> Wire:
    cite = Cite("astm_a1064", "Table 1", MARKS[row["mark"]])
    return Wire(row["name"], float(row["diameter_in"]) * INCH, float(row["area_in2"]) * IN2, cite)
