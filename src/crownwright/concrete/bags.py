"""Bags of dry concrete and mortar as a table: weight, yield, water. The cement share stands on no label: an uncertain input."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from crownwright.codes.aci_211_1_1991 import Slump, mixing_water
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import FT3, LB, QUART
from crownwright.quantity.working import Cite
from crownwright.sources.tables import MARKS, pick, rows

CEMENT_SHARE = Uncertain(0.16, 0.012)
"""Share of cement in a bag by weight: 14 to 18 %, from memory, taken as even between (sd 1.2 %). No label gives it."""
WATER_DENSITY = 998.0
"""kg/m3 at 20 degC."""
UNIT = MappingProxyType({"lb": LB, "kg": 1.0, "ft3": FT3, "L": 1e-3})


@dataclass(frozen=True, slots=True)
class Bag:
    """A bag of dry mix: ``mass`` kg, ``yields`` m3 placed, water in m3: least, usual and most on the label."""

    name: str
    mass: float
    yields: float
    water_low: float
    water_usual: float
    water_high: float
    cite: Cite
    water_cite: Cite

    @property
    def density(self) -> float:
        """Fresh density with the usual water, kg/m3: (bag + water) / yield."""
        return (self.mass + self.water_usual * WATER_DENSITY) / self.yields


@dataclass(frozen=True, slots=True)
class MortarBag:
    """A bag of masonry mortar: ``mass`` kg, ``yields`` m3 with its standard error, water in m3."""

    name: str
    mass: float
    yields: Uncertain
    water_low: float
    water_high: float
    cite: Cite


@cache
def bags() -> Mapping[str, Bag]:
    """Return every bag of concrete in the table, by name."""
    return MappingProxyType({row["name"]: _bag(row) for row in rows(__package__, "bags.csv")})


@cache
def mortar_bags() -> Mapping[str, MortarBag]:
    """Return every bag of mortar in the table, by name."""
    return MappingProxyType({row["name"]: _mortar(row) for row in rows(__package__, "mortar_bags.csv")})


def bag(name: str) -> Bag:
    """Return a bag of concrete by name; KeyError lists the names there are.

    >>> eighty = bag("80 lb")
    >>> round(eighty.yields / FT3, 2), round(eighty.density / LB * FT3, 1)
    (0.6, 143.7)
    """
    return pick(bags(), name, "bag of concrete")


def mortar_bag(name: str) -> MortarBag:
    """Return a bag of mortar by name; KeyError lists the names there are.

    >>> round(mortar_bag("80 lb").yields.mean / FT3, 2)
    0.69
    """
    return pick(mortar_bags(), name, "bag of mortar")


def water_for(bag_: Bag, slump: Slump) -> float:
    """Water for one bag at a slump, m3: the label's usual water moved as ACI 211.1 moves it from 3-4 in., kept on the label.

    Only the proportion between slumps is taken from ACI 211.1 (Table 6.3.3, 1/2 in.): for 3 to 4 in. of slump it asks for a
    third more water than labels print. What the mix looks like decides; start at the label's least and add by the cup.

    >>> [round(water_for(bag("80 lb"), s) / QUART, 2) for s in ("1-2", "3-4", "6-7")]
    [2.75, 3.0, 3.16]
    """
    moved = bag_.water_usual * mixing_water(slump, "1/2", "plain") / mixing_water("3-4", "1/2", "plain")
    return min(max(moved, bag_.water_low), bag_.water_high)


def _bag(row: Mapping[str, str]) -> Bag:
    low, usual, high = (float(row[f"water_{k}_qt"]) * QUART for k in ("low", "usual", "high"))
    mass = float(row["mass"]) * UNIT[row["mass_unit"]]
    yields = float(row["yield"]) * UNIT[row["yield_unit"]]
    cite = Cite("dry_mix_labels", f"{row['name']} bag, yield", MARKS[row["mark"]])
    return Bag(
        row["name"], mass, yields, low, usual, high, cite, Cite("dry_mix_labels", "mixing water", MARKS[row["water_mark"]])
    )


def _mortar(row: Mapping[str, str]) -> MortarBag:
    scale = UNIT[row["yield_unit"]]
    yields = Uncertain(float(row["yield"]) * scale, float(row["yield_sd"]) * scale)
    low, high = (float(row[f"water_{k}_qt"]) * QUART for k in ("low", "high"))
    mass = float(row["mass"]) * UNIT[row["mass_unit"]]
    return MortarBag(row["name"], mass, yields, low, high, Cite("mortar_labels", f"{row['name']} bag", MARKS[row["mark"]]))
