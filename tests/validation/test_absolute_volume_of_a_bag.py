"""Absolute volumes of an 80 lb bag (cement 16 %, SG 3.15; aggregate SG 2.65), worked by hand.

12.8 lb cement / (3.15 x 62.4) + 67.2 lb aggregate / (2.65 x 62.4) + 3 qt x 2.086 / 62.4 = 0.0651 + 0.4064 + 0.1003 = 0.572 ft3.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from crownwright.concrete.bags import CEMENT_SHARE, bag
from crownwright.concrete.mix import CEMENT_DENSITY, enrich
from crownwright.quantity.units import FT3, LB, PCF, QUART


@pytest.mark.parametrize(
    ("quarts", "air", "volume"), [(3.0, 0.0, 0.572), (3.0, 0.05, 0.602), (3.5, 0.0, 0.588), (3.5, 0.05, 0.620)]
)
def test_solid_water_and_air_make_the_label_yield(theirs: Callable[..., None], quarts: float, air: float, volume: float) -> None:
    eighty = bag("80 lb")
    cement = CEMENT_SHARE.mean * eighty.mass
    solid = cement / CEMENT_DENSITY + (eighty.mass - cement) / (2.65 * 62.4 * PCF) + quarts * QUART
    theirs(f"80 lb bag, {quarts} qt, air {air:.0%}", volume, solid / (1 - air) / FT3, unit="ft3", tol=0.001, grade="derived")


def test_our_yield_moves_with_water_and_cement_as_the_volumes_do(theirs: Callable[..., None]) -> None:
    eighty = bag("80 lb")
    half = (enrich(eighty, 0.0, 3.5 * QUART).yields - enrich(eighty, 0.0, 3.0 * QUART).yields) / FT3
    theirs("yield for another half quart", 0.0167, half, unit="ft3", tol=0.0001, grade="derived")
    pound = (enrich(eighty, 1.0 * LB).yields - eighty.yields) / FT3
    theirs("yield for a pound of portland", 0.00509, pound, unit="ft3", tol=0.00001, grade="derived")


@pytest.mark.parametrize(
    ("quarts", "pounds", "ratio"), [(3, 0, 0.49), (3, 2, 0.42), (3, 4, 0.37), (4, 0, 0.65), (4, 2, 0.56), (4, 4, 0.50)]
)
def test_water_cement_of_a_richer_bag(theirs: Callable[..., None], quarts: float, pounds: float, ratio: float) -> None:
    ours = enrich(bag("80 lb"), pounds * LB, quarts * QUART).water_cement.mean
    theirs(f"w/c, {quarts} qt and {pounds} lb of portland", ratio, ours, tol=0.005, grade="derived")  # two digits
