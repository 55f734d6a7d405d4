"""ASTM C315-07(2016), clay flue liners: nominal, outside, wall and inside sizes. Measured sizes always go before these."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import pi
from types import MappingProxyType
from typing import Literal

from crownwright.quantity.units import IN2, INCH, PCF
from crownwright.quantity.working import Cite
from crownwright.sources.tables import MARKS, pick, rows

TYPICAL_LENGTH = 24 * INCH
"""Length of one liner, m (common practice, no source)."""
FIRED_CLAY = 125 * PCF
"""Density of fired clay, kg/m3 (115 to 135 lb/ft3; derived from the weight of a 13x13 liner)."""


@dataclass(frozen=True, slots=True)
class Liner:
    """One size of clay liner, all in m.

    ``name`` is as the trade says it: outside size for rectangular liners ("13x13"), inside diameter for round ("round 12").
    ``long`` and ``short`` are outside; for a round liner both are the outside diameter. ``code_area`` (m2) is the net area the
    residential code credits it with.
    """

    name: str
    shape: Literal["rectangular", "round"]
    series: Literal["nonmodular", "modular", "round"]
    long: float
    short: float
    wall: float
    code_area: float
    cite: Cite

    @property
    def inside_long(self) -> float:
        """Inside length, m (diameter if round)."""
        return self.long - 2 * self.wall

    @property
    def inside_short(self) -> float:
        """Inside width, m (diameter if round)."""
        return self.short - 2 * self.wall

    @property
    def inside_area(self) -> float:
        """Gross inside area, m2, corners taken as square."""
        rectangle = self.inside_long * self.inside_short
        return rectangle * pi / 4 if self.shape == "round" else rectangle

    @property
    def outside_area(self) -> float:
        """Area of the hole it needs with no gap, m2."""
        rectangle = self.long * self.short
        return rectangle * pi / 4 if self.shape == "round" else rectangle


@cache
def liners() -> Mapping[str, Liner]:
    """Return every size in the table, by name."""
    return MappingProxyType({row["name"]: _liner(row) for row in rows(__package__, "astm_c315.csv")})


def liner(name: str) -> Liner:
    """Return the liner of that trade name; KeyError lists the names there are.

    >>> size = liner("13x13")
    >>> round(size.inside_long / INCH, 3), round(size.inside_area / IN2, 1)
    (11.25, 126.6)
    >>> round(liner("round 12").long / INCH, 2)
    14.0
    """
    return pick(liners(), name, "clay liner")


def weight(size: Liner, length: float = TYPICAL_LENGTH, density: float = FIRED_CLAY) -> float:
    """Mass of one liner, kg: wall area x length x density. Real ones run 5 to 10 % lighter, for their rounded corners.

    ``length`` in m, ``density`` in kg/m3.

    >>> round(weight(liner("13x13")) / 0.45359237, 1)
    73.7
    """
    return (size.outside_area - size.inside_area) * length * density


def _liner(row: Mapping[str, str]) -> Liner:
    wall = float(row["wall_in"]) * INCH
    grow = 2 * wall if row["shape"] == "round" else 0.0  # a round liner is named by its inside
    return Liner(
        name=row["name"],
        shape="round" if row["shape"] == "round" else "rectangular",
        series={"modular": "modular", "nonmodular": "nonmodular", "round": "round"}[row["series"]],  # type: ignore[arg-type]
        long=float(row["long_in"]) * INCH + grow,
        short=float(row["short_in"]) * INCH + grow,
        wall=wall,
        code_area=float(row["net_in2"]) * IN2,
        cite=Cite("astm_c315", "sizes of rectangular, modular and round liners", MARKS[row["mark"]]),
    )
