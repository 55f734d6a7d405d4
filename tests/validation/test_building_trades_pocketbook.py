"""Building Trades Pocketbook (about 1905), Concrete; Estimating Masonry; Notes on Stonework.

Its worked quantity of rubble, its table of cement and sand, its labour, and beside it what other books of the time say of perches
and bond stones.
"""

from __future__ import annotations

import pytest

from crownwright.codes.rubble import (
    LENGTH_OVER_THICKNESS,
    bag_lays,
    bond_stones,
    cement_and_sand,
    mortar_in,
    perch,
    table,
)
from crownwright.codes.unit_weights import material
from crownwright.quantity.units import FOOT, FT2, FT3, PCF, YD3


def test_worked_quantity_of_rubble(theirs):
    """100 yd3 of rubble in 1-to-3 mortar: 1/3 yd3 of mortar to the yard, 2 bbl. and 0.9 yd3 to a yard of mortar."""
    share = table("mortar_share").number("coarse rubble", "usual")
    mortar = mortar_in(100 * YD3, share)
    theirs("mortar to a cubic yard", 1 / 3, mortar / YD3 / 100, unit="cu yd", tol=0.0005, place="worked quantity")
    barrels, sand = cement_and_sand(mortar, 3)
    theirs("cement for 100 yd3", 67, barrels, unit="bbl", tol=0.5, place="worked quantity")
    theirs("sand for 100 yd3", 30, sand / YD3, unit="cu yd", tol=0.05, place="worked quantity")


@pytest.mark.parametrize(
    ("parts", "barrels", "sand"),
    [(0, 7.1, 0.0), (1, 4.2, 0.6), (2, 2.8, 0.8), (3, 2.0, 0.9), (4, 1.7, 0.95), (5, 1.3, 0.97), (6, 1.2, 0.98)],
)
def test_cement_and_sand_for_a_yard(theirs, parts, barrels, sand):
    ours = cement_and_sand(YD3, parts)
    theirs(f"1 to {parts}, cement", barrels, ours[0], unit="bbl", tol=1e-9, place="second table")
    theirs(f"1 to {parts}, sand", sand, ours[1] / YD3, unit="cu yd", tol=1e-9, place="second table")


def test_perches(theirs):
    for name, feet in (("24 3/4", 24.75), ("25", 25), ("22", 22), ("16 1/2", 16.5)):
        theirs(f"a perch of {name}", feet, perch(name) / FT3, unit="cu ft", tol=1e-9, place="perch")
    theirs("a perch is 11/12 of a cubic yard", 11 / 12, perch("24 3/4") / YD3, unit="cu yd", tol=1e-3, place="perch")


def test_what_a_bag_lays(theirs):
    """An 80 lb bag of 0.70 ft3, a third of the wall mortar: 2.1 ft3 of wall, 1.4 of stone, 230 lb of granite at 165 lb/ft3."""
    wall, stone = bag_lays(0.70 * FT3, 0.33)
    theirs("wall", 2.1, wall / FT3, unit="cu ft", tol=0.05, place="stone per bag", grade="derived")
    theirs("stone in it", 1.4, stone / FT3, unit="cu ft", tol=0.05, place="stone per bag", grade="derived")
    pounds = stone * material("ashlar granite").usual / PCF / FT3
    theirs("granite in it", 230, pounds, unit="lb", tol=5, place="stone per bag", grade="derived")  # printed to ten pounds
    theirs(
        "wall at 25 % mortar",
        2.8,
        bag_lays(0.70 * FT3, 0.25)[0] / FT3,
        unit="cu ft",
        tol=0.05,
        place="stone per bag",
        grade="derived",
    )


def test_labour_on_the_ground(theirs):
    theirs("mason, a perch of 25 ft3", 1 / 3, table("labour").number("mason", "per_perch"), unit="day", tol=0.001, place="labour")
    theirs(
        "helper, a perch of 25 ft3", 1 / 4, table("labour").number("helper", "per_perch"), unit="day", tol=0.001, place="labour"
    )


def test_stones_of_a_wall(theirs):
    theirs("length over thickness, most", 4, LENGTH_OVER_THICKNESS, tol=0, place="notes on stonework")
    thin = bond_stones(9 * FOOT, 3 * FOOT, 24 * FOOT / 12)
    theirs("bond stones, 9 ft run, 3 ft high, 24 in. thick", 3, thin, tol=0, place="a local code: 3 ft apart both ways")
    thick = bond_stones(12 * FOOT, 60 * FT2 / (12 * FOOT), 30 * FOOT / 12)
    theirs("bond stones in 60 ft2 of a 30 in. wall", 10, thick, tol=0, place="a local code: one to 6 ft2 each side")
