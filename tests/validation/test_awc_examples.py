"""American Wood Council, Structural Wood Design Examples, 2015/2018 edition."""

from __future__ import annotations

import pytest

from crownwright.codes.nds_2018 import critical_bending, slenderness, stability_factor
from crownwright.codes.nds_2018_fasteners import lag_withdrawal, nail_withdrawal, reduction, yield_modes
from crownwright.quantity.units import INCH, LBF, PSI

POUND_PER_INCH = LBF / INCH


def test_e1_2a_beam_stability_of_an_unbraced_4x16(theirs):
    depth, breadth = 15.25, 3.5
    effective = 1.37 * 240 + 3 * depth
    ratio = slenderness(effective, depth, breadth)
    critical = critical_bending(690e3, ratio)
    factor = stability_factor(critical, 1500)
    place = "example E1.2a"
    theirs("effective length", 375, effective, unit="in.", tol=0.5, place=place)  # the book rounds to the inch
    theirs("slenderness ratio", 21.6, ratio, tol=0.05, place=place)
    theirs("critical buckling value", 1776, critical, unit="psi", tol=0.5, place=place)
    theirs("beam stability factor", 0.876, factor, tol=0.0005, place=place)
    theirs("adjusted bending value", 1313, 1500 * factor, unit="psi", tol=1.0, place=place)  # book works from its rounded 0.876


def test_e2_1_plain_nail_withdrawal(theirs):
    per_inch = nail_withdrawal(0.42, 0.131 * INCH) / POUND_PER_INCH
    theirs("nail withdrawal", 20.67, per_inch, unit="lb/in.", tol=0.005, place="example E2.1", grade="derived")
    theirs("nail withdrawal, 2.395 in.", 49.5, per_inch * (2.5 - 0.105), unit="lb", tol=0.05, place="example E2.1")


def test_e2_3_lag_screw_withdrawal(theirs):
    per_inch = lag_withdrawal(0.55, 0.5 * INCH) / POUND_PER_INCH
    theirs("lag withdrawal", 436.6, per_inch, unit="lb/in.", tol=0.05, place="example E2.3", grade="derived")
    theirs("lag withdrawal, thread 2.1875 in.", 955, per_inch * (4 - 1.5 - 0.3125), unit="lb", tol=0.5, place="example E2.3")


@pytest.mark.parametrize(
    ("goes_by", "diameter", "printed", "grade"),
    [("root", 0.152, 254.96, "derived"), ("nominal", 0.190, 233.71, "read")],
)
def test_e2_4_double_shear_of_a_number_10_and_the_quarrel_over_its_reduction_term(theirs, goes_by, diameter, printed, grade):
    """Mode IV governs, twice for two planes. Sources differ on the diameter the reduction term goes by; we use the root."""
    side = 6 - 3 - 1.5 - 2 * 0.19 / 2
    modes = yield_modes(0.152 * INCH, 3 * INCH, side * INCH, 5526 * PSI, 5526 * PSI, 80e3 * PSI, reduction(diameter * INCH))
    two = 2 * modes["IV"] / LBF
    theirs(f"double shear, reduction by {goes_by} diameter", printed, two, unit="lb", tol=0.05, place="example E2.4", grade=grade)
