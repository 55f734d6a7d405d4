"""Concrete from raw sand, stone and portland by ACI 211.1: what to weigh out for the cap, damp as the piles are."""

from __future__ import annotations

from dataclasses import dataclass

from crownwright.codes.aci_211_1_1991 import (
    WATER,
    Air,
    Exposure,
    Proportions,
    Size,
    Slump,
    absolute_volume,
    air_content,
    coarse_volume,
    mixing_water,
    moisture_correction,
    water_cement_for_strength,
)
from crownwright.codes.aci_301_overdesign import required_average
from crownwright.codes.aci_318_exposure import limits
from crownwright.quantity.units import LB, PCF, PSI
from crownwright.quantity.working import Cite, Figure, Term

PORTLAND_BAG = 94 * LB
"""A US bag of portland, kg."""
SEVERE = 0.45
CITE = Cite("aci_211_1_1991", "6.3")


@dataclass(frozen=True, slots=True)
class Aggregates:
    """What the piles are. ``fineness`` modulus of the sand (2.4 to 3.0); specific gravities saturated surface-dry; ``rodded``
    dry-rodded weight of the stone, kg/m3; free moisture as a share of the saturated surface-dry weight.
    """

    size: Size = "3/8"
    fineness: float = 2.8
    sand_gravity: float = 2.65
    stone_gravity: float = 2.65
    rodded: float = 100 * PCF
    sand_free: float = 0.05
    stone_free: float = 0.01


@dataclass(frozen=True, slots=True)
class RawMix:
    """``per_cubic`` dry proportions and ``weighed`` damp ones, kg/m3; ``batch`` kg to weigh out for the volume asked; ``bags`` of
    portland; why the water/cement ratio is what it is.
    """

    per_cubic: Proportions
    weighed: Proportions
    batch: Proportions
    bags: float
    governs: str
    figures: tuple[Figure, ...]


def raw_mix(
    volume: float,
    strength: float = 4500 * PSI,
    slump: Slump = "3-4",
    exposure: Exposure = "severe",
    aggregates: Aggregates | None = None,
    *,
    ratio_most: float | None = SEVERE,
    overdesign: bool = False,
) -> RawMix:
    """Return proportions for a volume (m3) of air-entrained concrete by absolute volume (plain where exposure is "entrapped").

    ``strength`` Pa at 28 days; ``ratio_most`` the exposure's greatest water/cement ratio (0.45 for F2), None for no limit;
    ``overdesign`` aims above the strength as ACI 301 asks of a mix without records. ValueError names what lies outside a
    table; a strength beyond the air-entrained column (5000 psi) is such a case: ask the limit of exposure instead.

    >>> mix = raw_mix(0.17)
    >>> round(mix.per_cubic.water_cement, 2), mix.governs
    (0.44, 'strength')
    """
    piles = aggregates or Aggregates()
    kind: Air = "plain" if exposure == "entrapped" else "entrained"
    aim = required_average(strength) if overdesign else strength
    by_strength = water_cement_for_strength(aim, kind)
    ratio = by_strength if ratio_most is None else min(by_strength, ratio_most)
    stone = coarse_volume(piles.size, piles.fineness) * piles.rodded
    air = air_content(piles.size, exposure)
    water = mixing_water(slump, piles.size, kind)
    dry = absolute_volume(water, ratio, stone, air, sand_gravity=piles.sand_gravity, coarse_gravity=piles.stone_gravity)
    damp = moisture_correction(dry, piles.sand_free, piles.stone_free)
    batch = Proportions(damp.water * volume, damp.cement * volume, damp.coarse * volume, damp.sand * volume, air)
    governs = "strength" if ratio == by_strength else "exposure"
    return RawMix(dry, damp, batch, batch.cement / PORTLAND_BAG, governs, _figures(dry, damp, volume, slump, piles, governs))


def exposure_ratio() -> float:
    """Greatest water/cement ratio for the class of a cap, ACI 318-19.

    >>> exposure_ratio()
    0.45
    """
    return limits().water_cement or SEVERE


def _figures(
    dry: Proportions, damp: Proportions, volume: float, slump: Slump, piles: Aggregates, governs: str
) -> tuple[Figure, ...]:
    size = Term("size", "largest stone, in.", piles.size)
    ratio = Term("w/c", f"water/cement by mass, set by {governs}", dry.water_cement)
    water = Term("W", "mixing water", dry.water, "kg/m3", Cite("aci_211_1_1991", "Table 6.3.3"))
    cement = Term("C", "cement", dry.cement, "kg/m3")
    stone = Term("G", "stone", dry.coarse, "kg/m3", Cite("aci_211_1_1991", "Table 6.3.6"))
    air = Term("A", "air", dry.air, "1", Cite("aci_211_1_1991", "Table 6.3.3"))
    part = Term("V", "volume to make", volume, "m3")
    word = Term("slump", "in.", slump)
    free = (Term("ms", "free moisture of the sand", piles.sand_free), Term("mg", "free moisture of the stone", piles.stone_free))
    gravity = (Term("ρs", "sand", piles.sand_gravity * WATER, "kg/m3"), Term("ρg", "stone", piles.stone_gravity * WATER, "kg/m3"))
    sand = "V (1 - A - W / 1000 - C / 3150 - G / ρg) ρs (1 + ms)"
    fill = (part, air, water, cement, stone, free[0], *gravity)

    def figure(name: str, label: str, value: float, formula: str, inputs: tuple[Term, ...], unit: str = "kg") -> Figure:
        return Figure(f"concrete.raw.{name}", label, value, unit, formula, inputs, CITE, "fineness 2.4 to 3.0; see the tables")

    return (
        figure("water", "mixing water, all of it", dry.water, "table by slump and stone", (size, word), "kg/m3"),
        figure("cement", "portland", damp.cement * volume, "V W / (w/c)", (part, water, ratio)),
        figure("stone", "stone, damp", damp.coarse * volume, "V G (1 + mg)", (part, stone, free[1])),
        figure("sand", "sand, damp", damp.sand * volume, sand, fill),
        figure("added_water", "water to add", damp.water * volume, "V (W - ms S - mg G)", (part, water, *free)),
    )
