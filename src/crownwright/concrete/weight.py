"""What the concrete weighs: on the roof while it is wet, on the chimney when it has dried."""

from __future__ import annotations

from crownwright.concrete.bags import WATER_DENSITY, Bag
from crownwright.quantity.uncertain import Uncertain

BOUND_WATER = 0.23
"""Water that cement holds for good when fully hydrated, kg a kg (Powers; from memory)."""
HYDRATED = 0.7
"""Share of the cement hydrated in the end with an ordinary water/cement ratio (judgement: about 0.7 at 0.45)."""
DENSITY_SD = 0.02
"""Relative spread of a fresh density: two per cent of air either way (judgement)."""


def wet_density(bag: Bag, water: float, portland: float = 0.0, yields: float | None = None) -> float:
    """Fresh density, kg/m3: (bag + water + portland) / yield; ``water`` m3 and ``portland`` kg a bag, ``yields`` m3 a bag.

    >>> from crownwright.concrete.bags import bag
    >>> round(wet_density(bag("80 lb"), bag("80 lb").water_usual))
    2303
    """
    return (bag.mass + portland + water * WATER_DENSITY) / (yields or bag.yields)


def dry_share(bag: Bag, water: float, cement: float, portland: float = 0.0) -> float:
    """Weight dried out over weight wet: the water that cement does not bind is taken as gone, which is the lightest it gets.

    ``water`` m3, ``cement`` kg in the bag, ``portland`` kg added; masses of one bag.

    >>> from crownwright.concrete.bags import bag
    >>> round(dry_share(bag("80 lb"), bag("80 lb").water_usual, 0.16 * bag("80 lb").mass), 3)
    0.951
    """
    wet = bag.mass + portland + water * WATER_DENSITY
    bound = min(BOUND_WATER * HYDRATED * (cement + portland), water * WATER_DENSITY)
    return (bag.mass + portland + bound) / wet


def cap_weight(volume: Uncertain, density: float) -> Uncertain:
    """Mass of a volume (m3) of concrete of a density (kg/m3), kg, its spread from volume and air together.

    >>> cap_weight(Uncertain(0.1, 0.0), 2300.0).mean
    230.0
    """
    mean = volume.mean * density
    return Uncertain(mean, mean * float(((volume.sd / volume.mean) ** 2 + DENSITY_SD**2) ** 0.5))
