"""ASTM C270, Mortar for Unit Masonry: proportions, strengths, and yields by absolute volumes.

Loose weights from memory; the yields were worked by absolute volumes with 6 % air and water 0.60 to 0.70 of cement and lime by
weight, as such mixes take (+/- 10 %).
"""

from __future__ import annotations

import pytest

from crownwright.codes.astm_c270 import MORTAR_OVER_SAND, allowed, batch, bulk, grid, lime_volume, mortar_type, mortar_types
from crownwright.quantity.units import FT3, GALLON, LB, PCF, PSI

GALLON_OF_WATER = 62.4 * PCF * GALLON  # kg


@pytest.mark.parametrize(
    ("name", "psi", "grade"), [("M", 2500, "read"), ("S", 1800, "read"), ("N", 750, "read"), ("O", 350, "from memory")]
)
def test_strengths(theirs, name, psi, grade):
    theirs(
        f"type {name}, 28-day cubes", psi, mortar_type(name).strength / PSI, unit="psi", tol=1e-6, place="Table 2", grade=grade
    )


@pytest.mark.parametrize(
    ("part", "weight"), [("portland cement", 94), ("hydrated lime", 40), ("lime putty", 80), ("damp loose sand", 80)]
)
def test_loose_weights(theirs, part, weight):
    theirs(f"a cubic foot of {part}", weight, bulk(part) / PCF, unit="lb", tol=1e-9, place="batching", grade="from memory")


@pytest.mark.parametrize(
    ("says", "lime", "sand", "cubic_feet"),
    [("N 1:1:6", 1.0, 6.0, 5.4), ("N 1:1:5", 1.0, 5.0, 4.9), ("S 1:1/2:4 1/2", 0.5, 4.5, 4.1), ("O 1:2:9", 2.0, 9.0, 7.8)],
)
def test_what_a_bag_of_cement_makes(theirs, says, lime, sand, cubic_feet):
    """To the tenth printed, and a hundredth for the water, which is ours by a line and theirs mix by mix."""
    ours = batch(lime, sand).volume / FT3
    theirs(f"{says}, a 94 lb bag", cubic_feet, ours, unit="cu ft", tol=0.06, place="absolute volumes", grade="derived")


@pytest.mark.parametrize(("says", "lime", "sand", "gallons"), [("N 1:1:6", 1.0, 6.0, 10.4), ("S 1:1/2:4 1/2", 0.5, 4.5, 8.2)])
def test_water_of_a_batch(theirs, says, lime, sand, gallons):
    """Ours comes from a straight line between the two ends; theirs were chosen mix by mix, to a tenth of a gallon."""
    ours = batch(lime, sand).water / GALLON_OF_WATER
    theirs(f"{says}, water", gallons, ours, unit="gal", tol=0.1, place="absolute volumes", grade="derived")


def test_density_and_the_rule_of_nine_tenths(theirs):
    for name, low, high in (("N", 128, 131), ("S", 128, 131), ("O", 128, 131)):
        made = batch(mortar_type(name).lime, mortar_type(name).sand)
        middle = (low + high) / 2
        theirs(f"type {name}, fresh", middle, made.density / PCF, unit="lb/cu ft", tol=2.5, place="mix weight", grade="derived")
        over = made.volume / made.sand
        theirs(
            f"type {name}, mortar over sand", MORTAR_OVER_SAND, over, tol=0.04, place="rule", grade="derived"
        )  # a rule of thumb


def test_a_bag_of_lime(theirs):
    theirs(
        "50 lb of hydrated lime, loose",
        1.25,
        lime_volume(50 * LB) / FT3,
        unit="cu ft",
        tol=1e-9,
        place="batching",
        grade="from memory",
    )


def test_the_usual_mixes_lie_within_the_table():
    for name, kind in mortar_types().items():
        assert allowed(name, kind.lime, kind.sand), name
    assert not allowed("N", 2.0, 6.0)
    assert not allowed("S", 0.5, 5.0)


def test_guide_for_the_selection():
    assert grid("selection").row("parapet") == {"recommended": "N", "alternative": "S"}
    assert grid("selection").row("exterior, not bearing") == {"recommended": "O", "alternative": "N or S"}
