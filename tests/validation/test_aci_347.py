"""ACI 347-04, Guide to Formwork for Concrete (with ACI 347-63 to -94 where they differ)."""

from __future__ import annotations

import pytest

from crownwright.codes import aci_347_04, aci_347_94
from crownwright.quantity.units import FOOT, INCH, PCF, PSF, celsius

HOUR = 3600.0


def feet_an_hour(rate: float) -> float:
    return rate * FOOT / HOUR


@pytest.mark.parametrize(
    ("what", "printed", "head", "rate", "warm", "grade"),
    [
        ("150 pcf, 5 ft/h, 70 F, 10 ft", 792.9, 10, 5, 70, "derived"),
        ("150 pcf, 5 ft/h, 60 F, 16 ft", 1106.7, 16, 5, 60, "from memory"),
    ],
)
def test_wall_pressure(theirs, what, printed, head, rate, warm, grade):
    ours = aci_347_04.wall_pressure(150 * PCF, head * FOOT, feet_an_hour(rate), celsius(warm)) / PSF
    theirs(what, printed, ours, unit="psf", tol=0.05, place="2.2.2", grade=grade)


@pytest.mark.parametrize(("weight", "printed"), [(115, 0.897), (160, 1.103), (145, 1.0)])
def test_unit_weight_coefficient(theirs, weight, printed):
    ours = aci_347_04.unit_weight_coefficient(weight * PCF)
    theirs(f"Cw at {weight} pcf", printed, ours, tol=0.0005, place="Table 2.1", grade="from memory")


@pytest.mark.parametrize(("inches", "printed"), [(3.5, 43.75), (5.5, 68.75), (7.25, 90.6)])
def test_full_liquid_head_on_an_edge_board(theirs, inches, printed):
    ours = aci_347_04.liquid_pressure(150 * PCF, inches * INCH) / PSF
    theirs(f"base of a {inches} in. board, 150 pcf", printed, ours, unit="psf", tol=0.03, place="2.2.2", grade="derived")


@pytest.mark.parametrize(("inches", "printed"), [(5.5, 15.755), (3.5, 6.380)])
def test_thrust_on_an_edge_board(theirs, inches, printed):
    ours = aci_347_04.liquid_thrust(150 * PCF, inches * INCH) / (PSF * FOOT)
    theirs(f"thrust on a {inches} in. board", printed, ours, unit="lb/ft", tol=0.0005, place="2.2.2", grade="derived")


def test_concrete_slab_weight_an_inch(theirs):
    ours = aci_347_04.liquid_pressure(150 * PCF, INCH) / PSF
    theirs("concrete an inch thick", 12.5, ours, unit="psf", tol=1e-9, place="vertical loads (Navy manual)")


def test_a_cap_edge_is_always_full_liquid_head():
    for inches in (2, 3.5, 5.5, 7.25, 11.25):
        head = inches * INCH
        assert aci_347_04.wall_pressure(150 * PCF, head, feet_an_hour(5), 20.0) == pytest.approx(
            aci_347_04.liquid_pressure(150 * PCF, head), rel=1e-12
        )


def test_the_old_limits_cap_where_the_new_do_not(theirs):
    fast = aci_347_94.wall_pressure(150 * PCF, 30 * FOOT, feet_an_hour(20), celsius(60)) / PSF
    theirs("old ceiling for walls", 2000, fast, unit="psf", tol=1e-6, place="ACI 347-63 to -94")
    slow = aci_347_94.wall_pressure(150 * PCF, 30 * FOOT, feet_an_hour(1), celsius(60)) / PSF
    theirs("old floor", 600, slow, unit="psf", tol=1e-6, place="ACI 347-63 to -94")
