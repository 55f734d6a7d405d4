"""ASTM C270, Mortar for Unit Masonry: proportions, strengths, and what a batch yields by absolute volumes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from crownwright.quantity.units import LB, PCF, PSI
from crownwright.sources.grids import Grid, read_grids
from crownwright.sources.tables import pick

BAG = 94 * LB
"""One bag of portland cement, kg: a cubic foot loose."""
LIME_BAG = 50 * LB
"""One bag of hydrated lime, kg: 1 1/4 cubic feet loose."""
SAND_LEAST, SAND_MOST = 2.25, 3.0
"""Sand over cement and lime together, by loose volume (Table 1; from memory)."""
WATER = 62.4 * PCF
SOLID = MappingProxyType({"cement": 3.15, "lime": 2.3, "sand": 2.65})
"""Specific gravities (cement, hydrated lime, quartz sand; common practice, no source)."""
AIR = 0.06
"""Air in fresh cement-lime mortar, share of the whole (from memory)."""


@dataclass(frozen=True, slots=True)
class MortarType:
    """One type: parts of lime by volume to one of cement (least, most, usual), the usual parts of sand, 28-day cubes Pa."""

    name: str
    lime_low: float
    lime_high: float
    lime: float
    sand: float
    strength: float | None


@dataclass(frozen=True, slots=True)
class Batch:
    """What a bag of cement makes: ``lime`` kg, ``sand`` m3 damp and loose, ``water`` kg, ``volume`` m3 of mortar, ``density``."""

    lime: float
    sand: float
    water: float
    volume: float
    density: float


def grid(name: str) -> Grid:
    """Return a table of the standard by name: proportions, bulk, selection."""
    return pick(read_grids(__package__, "astm_c270.toml"), name, "table of ASTM C270")


def bulk(part: str) -> float:
    """Return the loose weight used in batching, kg/m3 (from memory); KeyError lists the parts there are.

    >>> round(bulk("hydrated lime") / PCF)
    40
    """
    return grid("bulk").number(part, "bulk") * PCF


@cache
def mortar_types() -> Mapping[str, MortarType]:
    """Return every type by name, strongest first."""
    cubes = read_grids(__package__, "astm_c270_strength.toml")["cubes"]
    found = {}
    for name in grid("proportions").rows:
        low, high, lime, sand = (grid("proportions").number(name, c) for c in grid("proportions").columns)
        strength = cubes.number(name, "28 d") * PSI if name in cubes.rows else None
        found[name] = MortarType(name, low, high, lime, sand, strength)
    return MappingProxyType(found)


def mortar_type(name: str) -> MortarType:
    """Return one type; KeyError lists those there are.

    >>> round(mortar_type("N").strength / PSI)
    750
    """
    return pick(mortar_types(), name, "mortar type")


def allowed(name: str, lime: float, sand: float) -> bool:
    """Whether parts of lime and sand to one of cement, by volume, lie within Table 1 for the type.

    >>> allowed("N", 1.0, 6.0), allowed("N", 1.0, 7.0)
    (True, False)
    """
    kind = mortar_type(name)
    return kind.lime_low <= lime <= kind.lime_high and SAND_LEAST <= sand / (1 + lime) <= SAND_MOST


def water_ratio(lime: float) -> float:
    """Water over cement and lime by weight for mortar to lay with: 0.60 at 1:1/2, 0.70 at 1:2, straight between and beyond.

    ``lime`` parts by volume to one of cement. Derived from the usual water of such mixes (from memory, +/- 10 %).

    >>> round(water_ratio(0.5), 2), round(water_ratio(2.0), 2)
    (0.6, 0.7)
    """
    share = _lime_share(lime)
    low, high = _lime_share(0.5), _lime_share(2.0)
    return 0.60 + 0.10 * (share - low) / (high - low)


def batch(lime: float, sand: float, water: float | None = None, air: float = AIR) -> Batch:
    """Return what a bag of cement makes with so many parts of lime and sand by loose volume, by absolute volumes.

    V = (cement/Gc + lime/Gl + sand/Gs + water) / (1 - air), each weight over its specific gravity times that of water.
    ``lime`` and ``sand`` parts to one of cement; ``water`` over cement and lime by weight (None: `water_ratio`). The sand's
    weight is its dry weight in a cubic foot of damp loose sand. ASTM C270 for the loose weights; the method is ACI 211.1's.

    >>> from crownwright.quantity.units import FT3
    >>> round(batch(1.0, 6.0).volume / FT3, 1)
    5.4
    """
    foot = BAG / bulk("portland cement")
    of_lime, of_sand = lime * foot * bulk("hydrated lime"), sand * foot * bulk("damp loose sand")
    of_water = (water_ratio(lime) if water is None else water) * (BAG + of_lime)
    solids = BAG / SOLID["cement"] + of_lime / SOLID["lime"] + of_sand / SOLID["sand"]
    volume = (solids + of_water) / WATER / (1 - air)
    return Batch(of_lime, sand * foot, of_water, volume, (BAG + of_lime + of_sand + of_water) / volume)


def _lime_share(lime: float) -> float:
    """Share of lime in cement and lime by weight, one part of cement by volume."""
    return lime * bulk("hydrated lime") / (bulk("portland cement") + lime * bulk("hydrated lime"))


MORTAR_OVER_SAND = 0.9
"""Mortar over the damp loose sand in it, by volume (derived from the batches above)."""


def lime_volume(mass: float) -> float:
    """Return the loose volume of hydrated lime, m3, from its mass, kg.

    >>> from crownwright.quantity.units import FT3
    >>> round(lime_volume(LIME_BAG) / FT3, 6)
    1.25
    """
    return mass / bulk("hydrated lime")
