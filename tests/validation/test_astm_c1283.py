"""ASTM C1283-15(2021), Installing Clay Flue Lining, sec. 8 (caps), read second-hand."""

from __future__ import annotations

from math import atan, degrees, radians, tan

import pytest

from crownwright.codes.cap_rules import rule
from crownwright.quantity.units import INCH


@pytest.mark.parametrize(
    ("name", "printed", "end"),
    [
        ("edge_thickness", 2, "at_least"),
        ("overhang", 2, "at_least"),
        ("drip_from_wall", 1.5, "at_least"),
        ("liner_proud", 4, "at_most"),
    ],
)
def test_lengths(theirs, name, printed, end):
    one = rule("astm_c1283", name)
    theirs(one.says, printed, getattr(one, end) / INCH, unit="in.", tol=1e-9, place=one.cite.clause)


def test_slope_in_a_masons_words(theirs):
    least = rule("astm_c1283", "slope").at_least
    theirs("least slope", 10, degrees(least), unit="deg", tol=1e-9, place="8.1")
    theirs("in inches to the foot", 2.116, 12 * tan(least), unit="in/ft", tol=0.0005, place="8.1", grade="derived")
    theirs("in per cent", 17.6, 100 * tan(least), unit="%", tol=0.05, place="8.1", grade="derived")
    theirs("15 degrees", 3.215, 12 * tan(radians(15)), unit="in/ft", tol=0.0005, place="8.1", grade="derived")


@pytest.mark.parametrize("name", ["drip", "joint_break", "joint_sealed", "mesh"])
def test_things_asked_for(name):
    assert rule("astm_c1283", name).asks is True


def test_three_inches_to_the_foot_is_steeper(theirs):
    """Masonry Magazine, August 1993, p. 10, against the ten degrees."""
    slope = rule("bia_tn36a", "slope").at_least
    theirs(
        "3 in. to the foot", 14.036, degrees(atan(3 / 12)), unit="deg", tol=0.0005, place="Masonry Magazine 1993", grade="derived"
    )
    assert slope == pytest.approx(atan(3 / 12))
