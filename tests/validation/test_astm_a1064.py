"""ASTM A1064-12, Carbon-Steel Wire and Welded Wire Reinforcement, Table 1, with gauge wires and what a cap needs of them."""

from __future__ import annotations

from math import pi

import pytest

from crownwright.codes.astm_a1064 import SHRINKAGE_RATIO, round_area, steel_wanted, weight_per_length, wire
from crownwright.quantity.units import FOOT, IN2, INCH, LB

PER_FOOT = FOOT / IN2


@pytest.mark.parametrize(
    ("name", "diameter", "area"),
    [
        ("W1.4", 0.134, 0.014),
        ("W2", 0.160, 0.020),
        ("W2.5", 0.178, 0.025),
        ("W2.9", 0.192, 0.029),
        ("W4", 0.226, 0.040),
        ("W5", 0.252, 0.050),
    ],
)
def test_diameter_and_area_agree(theirs, name, diameter, area):
    assert wire(name).diameter == pytest.approx(diameter * INCH)
    ours = round_area(wire(name).diameter) / IN2
    theirs(f"area of {name}", area, ours, unit="in2", tol=0.0005, place="Table 1")  # printed to 0.001


@pytest.mark.parametrize(
    ("gauge", "name", "area", "weight"),
    [("9", "W1.7", 0.0172, 0.0585), ("8", "W2.1", 0.0206, 0.0701), ("3/16", "W2.8", 0.0276, 0.0940)],
)
def test_gauge_wires(theirs, gauge, name, area, weight):
    theirs(
        f"area of {gauge}", area, round_area(wire(name).diameter) / IN2, unit="in2", tol=0.00005, place="gauge", grade="derived"
    )
    ours = weight_per_length(wire(name).diameter) / LB * FOOT
    theirs(f"weight of {gauge}", weight, ours, unit="lb/ft", tol=0.0002, place="gauge", grade="derived")


@pytest.mark.parametrize(("thickness", "area"), [(2, 0.043), (3, 0.065), (4, 0.086)])
def test_shrinkage_steel(theirs, thickness, area):
    ours = steel_wanted(thickness * INCH) * PER_FOOT
    theirs(f"{thickness} in. thick", area, ours, unit="in2/ft", tol=0.0005, place="0.0018", grade="derived")


@pytest.mark.parametrize(
    ("what", "diameter", "spacing", "area"),
    [
        ("19 ga cloth at 1/2 in.", 0.041, 0.5, 0.0317),
        ("9 ga at 4 in.", 0.148, 4, 0.0516),
        ("3/16 at 6 in.", 0.1875, 6, 0.0552),
        ("W2.9 at 6 in.", 0.192, 6, 0.058),
    ],
)
def test_mesh(theirs, what, diameter, spacing, area):
    ours = round_area(diameter * INCH) * FOOT / (spacing * INCH) / IN2
    theirs(what, area, ours, unit="in2/ft", tol=0.00015, place="mesh", grade="derived")


def test_cloth_alone_serves_only_a_very_thin_cap(theirs):
    thickness = pi / 4 * 0.041**2 / 0.5 / SHRINKAGE_RATIO
    theirs(
        "thickest cap for which 1/2 in. cloth is enough", 1.47, thickness, unit="in.", tol=0.005, place="0.0018", grade="derived"
    )
