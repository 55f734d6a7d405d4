"""29 CFR 1926, Safety and Health Regulations for Construction, and what is quoted beside it."""

from __future__ import annotations

from math import degrees

import pytest

from crownwright.codes.osha_1926 import (
    FT3_A_MINUTE,
    collector_flow,
    ladder_angle,
    ladder_angle_by_height,
    ladder_duty,
    limit,
    line_clearance,
)
from crownwright.quantity.units import FOOT, INCH, LB, LBF, MPH, fahrenheit


def test_ladder_angles(theirs):
    theirs(
        "a quarter of the working length",
        75.52,
        degrees(ladder_angle()),
        unit="deg",
        tol=0.005,
        place="1926.1053(b)(5)(i)",
        grade="derived",
    )
    theirs(
        "a quarter of the height",
        75.96,
        degrees(ladder_angle_by_height()),
        unit="deg",
        tol=0.005,
        place="trade pages",
        grade="derived",
    )


@pytest.mark.parametrize(("wheel", "cfm"), [(4, 100), (5, 125)])
def test_dust_collector(theirs, wheel, cfm):
    ours = collector_flow(wheel * INCH) / FT3_A_MINUTE
    theirs(f"{wheel} in. wheel", cfm, ours, unit="cfm", tol=1e-9, place="1926.1153 Table 1 (x)")


@pytest.mark.parametrize(("grade", "pounds"), [("IAA", 375), ("IA", 300), ("I", 250), ("II", 225), ("III", 200)])
def test_ladder_duty(theirs, grade, pounds):
    theirs(f"grade {grade}", pounds, ladder_duty(grade) / LB, unit="lb", tol=1e-9, place="WAC 296-876-40005")


@pytest.mark.parametrize(("volts", "feet"), [(240, 10), (50e3, 10), (60e3, 10 + 4 / 12), (69e3, 10 + 8 / 12)])
def test_line_clearance(theirs, volts, feet):
    theirs(f"{volts:g} V", feet, line_clearance(volts) / FOOT, unit="ft", tol=1e-9, place="1926.1408 and utilities")


@pytest.mark.parametrize(
    ("key", "printed", "size", "unit"),
    [
        ("fall_edge", 6, FOOT, "ft"),
        ("anchor", 5000, LBF, "lb"),
        ("arrest_force", 1800, LBF, "lb"),
        ("person_tools", 310, LB, "lb"),
        ("top_rail", 42, INCH, "in."),
        ("rail_force", 200, LBF, "lb"),
        ("ladder_rails", 3, FOOT, "ft"),
        ("wind_work", 40, MPH, "mph"),
        ("wind_material", 30, MPH, "mph"),
    ],
)
def test_limits(theirs, key, printed, size, unit):
    one = limit(key)
    theirs(one.says, printed, one.value / size, unit=unit, tol=1e-9, place=one.cite.clause)


@pytest.mark.parametrize(("key", "printed"), [("heat_moderate", 91), ("heat_high", 103), ("heat_extreme", 115)])
def test_heat_bands(theirs, key, printed):
    theirs(limit(key).says, printed, fahrenheit(limit(key).value), unit="F", tol=1e-9, place="heat index page")
