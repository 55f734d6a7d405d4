"""A bag made richer with portland: what it does to water/cement, yield, strength, paste and shrinkage, and where to stop.

The cement in a bag stands on no label, so every figure that hangs on it carries the spread of that guess. Two ways to water the
richer mix are shown, since nobody can say which a man will follow: the *same water* (the mix stiffens) and the *same feel* (the
added cement drinks as much as the rest of the dry mix does).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, sqrt
from typing import Literal

from crownwright.codes import aci_209r_1992, aci_211_1_1991, bs_8110_1997
from crownwright.concrete.bags import CEMENT_SHARE, WATER_DENSITY, Bag
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import FT3, LB

Watering = Literal["same water", "same feel"]
CEMENT_DENSITY = 3.15 * WATER_DENSITY
PORTLAND_BULK = 94 * LB / FT3
"""Loose portland, kg/m3: 94 lb in a cubic foot (Portland Cement Association)."""
SCOOP = FT3 / 29.92
"""A one-quart scoop, struck level, m3: 3.1 lb of portland."""
MOST_CEMENT = bs_8110_1997.MOST_CEMENT
"""kg/m3 of concrete above which drying shrinkage in thin sections wants special thought (BS 8110-1 3.3.5, from memory)."""
STRENGTH_SCATTER = 0.15
"""Relative spread of strength about the water/cement curve for a hand-measured mix (judgement)."""
PICKETT = 1.7
"""Exponent of Pickett (1956): shrinkage goes as (paste share)^1.7 (from memory; 1.2 to 1.7 in texts)."""


@dataclass(frozen=True, slots=True)
class Mix:
    """One bag with what is added, as placed.

    ``portland`` kg and ``water`` m3 added to the bag; ``cement`` kg in all and ``water_cement`` by mass, with the spread of the
    guess at the bag's cement; ``yields`` m3; ``cement_content`` kg/m3; ``strength`` Pa at 28 days, kept moist; ``paste`` share
    of the volume that is cement and water; ``shrinkage`` against the plain bag with its usual water (1 = the same).
    ``outside_fit`` when the water/cement ratio lies outside the range the strength curve was fitted over.
    """

    portland: float
    water: float
    watering: Watering
    cement: Uncertain
    water_cement: Uncertain
    yields: float
    cement_content: float
    strength: Uncertain
    paste: float
    shrinkage: float
    outside_fit: bool


def scoop_mass(scoops: float, scoop: float = SCOOP) -> float:
    """Mass of portland in level scoops, kg; ``scoop`` its volume, m3.

    >>> round(scoop_mass(1.0) / LB, 2)
    3.14
    """
    return scoops * scoop * PORTLAND_BULK


def enrich(
    bag: Bag,
    portland: float = 0.0,
    water: float | None = None,
    watering: Watering = "same water",
    cement: Uncertain = CEMENT_SHARE,
) -> Mix:
    """Return the mix of one bag with ``portland`` kg added and ``water`` m3 (the label's usual if None) before the added share.

    ``cement`` is the share of the bag's weight that is cement. ValueError for negative amounts.

    >>> from crownwright.concrete.bags import bag
    >>> rich = enrich(bag("80 lb"), 2 * LB)
    >>> round(enrich(bag("80 lb")).water_cement.mean, 2), round(rich.water_cement.mean, 2), round(rich.yields / FT3, 3)
    (0.49, 0.42, 0.61)
    """
    base = bag.water_usual if water is None else water
    if portland < 0 or base <= 0:
        raise ValueError(f"portland must not be negative and water must be above 0, are {portland:g} kg and {base:g} m3")
    added = base * portland / bag.mass if watering == "same feel" else 0.0
    total = base + added
    cement_mass = Uncertain(cement.mean * bag.mass + portland, cement.sd * bag.mass)
    ratio = Uncertain(total * WATER_DENSITY / cement_mass.mean, total * WATER_DENSITY * cement_mass.sd / cement_mass.mean**2)
    yields = bag.yields + portland / CEMENT_DENSITY + (total - bag.water_usual)
    paste = (cement_mass.mean / CEMENT_DENSITY + total) / yields
    low, high = aci_211_1_1991.FIT_HOLDS["plain"]
    return Mix(
        portland=portland,
        water=total,
        watering=watering,
        cement=cement_mass,
        water_cement=ratio,
        yields=yields,
        cement_content=cement_mass.mean / yields,
        strength=_strength(ratio),
        paste=paste,
        shrinkage=(paste / _plain_paste(bag, cement)) ** PICKETT,
        outside_fit=not low <= ratio.mean <= high,
    )


@dataclass(frozen=True, slots=True)
class Enrichment:
    """Where to stop adding portland to a bag, kg.

    ``enough`` brings the water/cement ratio to ``target`` (None if it is there already, infinite if no amount does); ``sure``
    does so even if the bag holds little cement (95 %); ``most`` is where more does harm, and ``why``.
    """

    target: float
    enough: float | None
    sure: float | None
    most: float
    why: str


def portland_limits(bag: Bag, target: float, water: float | None = None, cement: Uncertain = CEMENT_SHARE) -> Enrichment:
    """Return how much portland is enough for a water/cement ratio with the same feel, and the point where more does harm.

    More does harm once the ratio is met for sure, since from there paste, shrinkage and heat rise for nothing that is asked
    for; and in any case beyond `MOST_CEMENT`. The greater of the first two is the end, but never past the third.

    >>> from crownwright.concrete.bags import bag
    >>> limit = portland_limits(bag("80 lb"), 0.45)
    >>> round(limit.enough / LB, 1), round(limit.most / LB, 1)
    (1.3, 3.2)
    """
    poor = max(cement.mean - 1.645 * cement.sd, 0.01)
    plain = enrich(bag, 0.0, water, cement=cement)
    enough, sure = (_to_ratio(bag, plain.water, share, target) for share in (cement.mean, poor))
    ceiling = _to_content(bag, plain)
    if sure is not None and sure < ceiling:
        why = "the water/cement ratio is met for sure; more only adds paste and shrinkage"
        return Enrichment(target, enough, sure, sure, why)
    why = f"cement passes {MOST_CEMENT:.0f} kg/m3: shrinkage of a thin section wants special thought"
    return Enrichment(target, enough, sure, ceiling, why)


def _to_ratio(bag: Bag, water: float, share: float, target: float) -> float | None:
    """Portland (kg) that brings W (1 + P / S) / (C + P) to the target; None when it is there already, inf when none does."""
    kilos, cement = water * WATER_DENSITY, share * bag.mass
    if kilos <= target * cement:
        return None
    drinks = kilos / bag.mass
    return (kilos - target * cement) / (target - drinks) if target > drinks else inf


def _to_content(bag: Bag, plain: Mix) -> float:
    """Portland (kg) at which (C + P) / (y + P / ρ + W P / S) comes to `MOST_CEMENT`."""
    takes = MOST_CEMENT * (1 / CEMENT_DENSITY + plain.water / bag.mass)
    return max((MOST_CEMENT * plain.yields - plain.cement.mean) / (1.0 - takes), 0.0)


def shrinkage_strain(
    mix: Mix, humidity: float, volume_surface: float, moist: float, drying: float, slump: float, air: float
) -> float:
    """Drying shrinkage of the mix by ACI 209R, a strain, after ``drying`` s; ``moist`` s of curing before.

    ``humidity`` and ``air`` fractions, ``volume_surface`` and ``slump`` m. The fines factor is left at 1: a bag's sand share is
    not known either.

    >>> from crownwright.concrete.bags import bag
    >>> week, year = 7 * 86400.0, 365 * 86400.0
    >>> round(shrinkage_strain(enrich(bag("80 lb")), 0.70, 0.05, week, year, 0.08, 0.02) * 1e6, -1)
    450.0
    """
    factors = (
        aci_209r_1992.humidity_factor(humidity)
        * aci_209r_1992.thickness_factor(volume_surface)
        * aci_209r_1992.moist_days_factor(moist)
        * aci_209r_1992.slump_factor(slump)
        * aci_209r_1992.cement_factor(mix.cement_content)
        * max(aci_209r_1992.air_factor(air), 1.0)
    )
    return aci_209r_1992.shrinkage(drying, factors)


def _strength(ratio: Uncertain) -> Uncertain:
    """Strength, Pa, at a water/cement ratio, with the spread of the ratio and of hand-measured concrete about the curve."""
    low, high = (aci_211_1_1991.abrams(ratio.mean + s * ratio.sd) for s in (1.0, -1.0))
    mean = aci_211_1_1991.abrams(ratio.mean)
    return Uncertain(mean, sqrt(((high - low) / 2) ** 2 + (STRENGTH_SCATTER * mean) ** 2))


def _plain_paste(bag: Bag, cement: Uncertain) -> float:
    return (cement.mean * bag.mass / CEMENT_DENSITY + bag.water_usual) / bag.yields
