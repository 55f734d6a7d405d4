"""ACI 211.1-91: concrete proportions by absolute volume, and the same tables read backwards to judge a mix that is there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import log
from typing import Literal

import numpy as np

from crownwright.quantity.arrays import Numbers, exp
from crownwright.quantity.units import LB, PCF, PSI, YD3
from crownwright.sources.grids import Grid, read_grids

Slump = Literal["1-2", "3-4", "6-7"]
"""Slump in inches as the table heads it: stiff, plastic, wet."""
Size = Literal["3/8", "1/2", "3/4", "1", "1-1/2", "2", "3"]
"""Nominal maximum size of aggregate, in."""
Exposure = Literal["entrapped", "mild", "moderate", "severe"]
Air = Literal["plain", "entrained"]
System = Literal["inch-pound", "metric"]

WATER = 62.4 * PCF
"""Density of water in proportioning, 62.4 lb/ft3 as the source has it (999.6 kg/m3)."""
FITS: Mapping[Air, tuple[float, float]] = {"plain": (18_054 * PSI, 14.36), "entrained": (14_597 * PSI, 14.67)}
"""A (Pa) and B of f = A / B^(w/c), fitted here to Table 6.3.4(a): within 1.7 % of the table without air, 0.6 % with."""
FIT_HOLDS = {"plain": (0.41, 0.82), "entrained": (0.40, 0.74)}
"""Range of w/c over which the fits were made."""


def tables() -> Mapping[str, Grid]:
    """Return the tables of the document, in the source's units."""
    return read_grids(__package__, "aci_211_1_1991.toml")


def mixing_water(slump: Slump, size: Size, air: Air, system: System = "inch-pound") -> float:
    """Mixing water for a slump and an aggregate, kg/m3 of concrete (Table 6.3.3; metric Table A1.5.3.3).

    The two systems are separately rounded, so they differ by up to 1 %. Raises KeyError naming the key and the allowed ones.

    >>> round(mixing_water("3-4", "3/4", "entrained") * YD3 / LB)
    305
    """
    metric = system == "metric"
    cell = tables()[f"water_{air}" + ("_metric" if metric else "")].number(slump, size)
    return cell if metric else cell * LB / YD3


def air_content(size: Size, exposure: Exposure) -> float:
    """Air in the concrete as a fraction of its volume (Table 6.3.3): entrapped, or recommended by exposure.

    >>> air_content("3/4", "severe")
    0.06
    """
    return tables()["air"].number(exposure, size) / 100


def water_cement_for_strength(strength: float, air: Air) -> float:
    """Water/cement ratio by mass for a 28-day cylinder strength (Pa), by interpolation in Table 6.3.4(a).

    Raises ValueError outside the table (2000 to 6000 psi, 5000 with air): nothing is extrapolated.

    >>> water_cement_for_strength(3000 * PSI, "entrained")
    0.59
    """
    psi, ratios = _strength_curve(air)
    _inside("strength", strength / PSI, psi[0], psi[-1], "psi")
    return float(np.interp(strength / PSI, psi, ratios))


def strength_for_water_cement(ratio: float, air: Air) -> float:
    """28-day strength, Pa, that Table 6.3.4(a) gives a water/cement ratio; ValueError outside the table.

    >>> round(strength_for_water_cement(0.48, "plain") / PSI)
    5000
    """
    psi, ratios = _strength_curve(air)
    _inside("water/cement ratio", ratio, ratios[-1], ratios[0], "")
    return float(np.interp(-ratio, [-r for r in ratios], psi)) * PSI


def abrams(ratio: Numbers, air: Air = "plain") -> Numbers:
    """28-day strength, Pa, by f = A / B^(w/c) with A and B fitted here to Table 6.3.4(a).

    For smooth what-ifs inside `FIT_HOLDS`. The constants Abrams gave in 1918 (14 000 psi, 7, ratio by volume) read 30 to 37 %
    lower, for the cements of his day, and are not used.

    >>> round(abrams(0.57) / PSI)
    3954
    """
    a, b = FITS[air]
    return a * exp(-log(b) * ratio)


def coarse_volume(size: Size, fineness: float) -> float:
    """Dry-rodded volume of coarse aggregate per volume of concrete (Table 6.3.6), between the columns by interpolation.

    ``fineness`` is the fineness modulus of the sand; ValueError outside 2.4 to 3.0.

    >>> round(coarse_volume("3/4", 2.70), 3)
    0.63
    """
    grid = tables()["coarse"]
    moduli = [float(c) for c in grid.columns]
    _inside("fineness modulus", fineness, moduli[0], moduli[-1], "")
    return float(np.interp(fineness, moduli, [float(v) for v in grid.row(size).values() if isinstance(v, float)]))


@dataclass(frozen=True, slots=True)
class Proportions:
    """Masses for a volume of concrete, kg/m3, aggregates saturated and surface-dry; ``air`` a fraction of volume."""

    water: float
    cement: float
    coarse: float
    sand: float
    air: float

    @property
    def water_cement(self) -> float:
        """Water/cement ratio by mass."""
        return self.water / self.cement

    @property
    def density(self) -> float:
        """Fresh density, kg/m3."""
        return self.water + self.cement + self.coarse + self.sand


def absolute_volume(
    water: float,
    ratio: float,
    coarse: float,
    air: float,
    *,
    cement_gravity: float = 3.15,
    sand_gravity: float = 2.65,
    coarse_gravity: float = 2.65,
) -> Proportions:
    """Fill up a cubic metre with sand: sand = (1 - air - water - cement - coarse, each as a volume) x its density (6.3.7.2).

    ``water`` and ``coarse`` in kg/m3, ``ratio`` water/cement by mass, ``air`` a fraction; gravities relative to water.
    Raises ValueError when the rest already fills the volume.

    >>> mix = absolute_volume(181.0, 0.50, 1029.0, 0.05, coarse_gravity=2.60)
    >>> round(mix.cement), round(mix.sand)
    (362, 683)
    """
    cement = water / ratio
    filled = air + (water + cement / cement_gravity + coarse / coarse_gravity) / WATER
    if filled >= 1.0:
        raise ValueError(f"water, cement, coarse and air fill {filled:.3f} of the volume: no room for sand")
    return Proportions(water, cement, coarse, (1.0 - filled) * sand_gravity * WATER, air)


def moisture_correction(mix: Proportions, sand_free: float, coarse_free: float) -> Proportions:
    """Weigh the damp aggregates and take their free water off the water to add (6.3.8).

    ``sand_free`` and ``coarse_free`` are the free (surface) moisture, as fractions of the saturated surface-dry mass;
    negative for an aggregate that still soaks water up.

    >>> wet = moisture_correction(Proportions(200.0, 350.0, 1000.0, 700.0, 0.05), 0.06, 0.02)
    >>> round(wet.water, 3), round(wet.sand, 3)
    (138.0, 742.0)
    """
    sand, coarse = mix.sand * sand_free, mix.coarse * coarse_free
    return Proportions(mix.water - sand - coarse, mix.cement, mix.coarse + coarse, mix.sand + sand, mix.air)


def _strength_curve(air: Air) -> tuple[list[float], list[float]]:
    """Strengths (psi, rising) and the ratios that give them."""
    pairs = sorted((float(k), v) for k, v in tables()["water_cement"].column(air).items() if isinstance(v, (int, float)))
    return [p[0] for p in pairs], [float(p[1]) for p in pairs]


def _inside(what: str, value: float, low: float, high: float, unit: str) -> None:
    """Raise ValueError, naming what it is and the limits of the table, when a value lies outside them."""
    if not low - 1e-9 <= value <= high + 1e-9:
        raise ValueError(f"{what} {value:g} {unit} lies outside the table, {low:g} to {high:g} {unit}".replace("  ", " "))
