"""US Navy builder manual NAVEDTRA 14070/14071: proportions by absolute volume, worked example.

f'c 3000 psi, 3/4 in. stone, moderate exposure, FM 2.70, SG 3.15 / 2.65 / 2.60, dry-rodded 102 lb/ft3, slump 3 in., air-entrained.
"""

from __future__ import annotations

from collections.abc import Callable

from crownwright.codes.aci_211_1_1991 import (
    WATER,
    absolute_volume,
    air_content,
    coarse_volume,
    mixing_water,
    water_cement_for_strength,
)
from crownwright.quantity.units import FT3, LB, PCF, PSI, YD3

YARD = LB / YD3


def test_the_worked_example(theirs: Callable[..., None]) -> None:
    air = air_content("3/4", "moderate")
    water = mixing_water("3-4", "3/4", "entrained")
    ratio = min(water_cement_for_strength(3000 * PSI, "entrained"), 0.50)  # 0.59 for strength, 0.50 for exposure
    stone = coarse_volume("3/4", 2.70) * 102 * PCF
    mix = absolute_volume(water, ratio, stone, air, coarse_gravity=2.60)
    theirs("air", 5, 100 * air, unit="%", tol=1e-9)
    theirs("water", 305, water / YARD, unit="lb", tol=1e-6)
    theirs("cement", 610, mix.cement / YARD, unit="lb", tol=1e-6)
    theirs("stone, volume", 17.01, coarse_volume("3/4", 2.70) * 27, unit="ft3", tol=0.005)
    theirs("stone, weight", 1735, stone / YARD, unit="lb", tol=0.5)
    theirs("volume of cement", 3.10, mix.cement / 3.15 / WATER * 27, unit="ft3", tol=0.005)
    theirs("volume of water", 4.89, mix.water / WATER * 27, unit="ft3", tol=0.005)
    theirs("volume of stone", 10.69, mix.coarse / 2.60 / WATER * 27, unit="ft3", tol=0.005)
    sand = mix.sand / 2.65 / WATER * YD3 / FT3
    theirs("volume of sand", 6.97, sand, unit="ft3", tol=0.006)  # 27 less a sum printed as 20.03
    theirs("sand, weight", 1152, mix.sand / YARD, unit="lb", tol=1.0)  # from the rounded volume; unrounded 1151.7
