"""International Residential Code 2018, chapter 10 (masonry chimneys)."""

from __future__ import annotations

from math import atan

import pytest

from crownwright.codes.cap_rules import rule
from crownwright.codes.irc_2018 import (
    CRICKET_WIDTH,
    cricket_height,
    flue_ratio,
    height_above_roof,
    net_area,
    open_side_height,
    vertical_bars,
)
from crownwright.quantity.units import FOOT, IN2, INCH


@pytest.mark.parametrize(
    ("rise", "away", "feet"),
    [(4, 12, 5.333), (4, 6, 4.0), (6, 15, 7.0), (8, 4, 4.667), (12, 12, 12.0), (0, 5, 3.0), (3, 0.5, 3.0)],
)
def test_height_above_the_uphill_roof_line(theirs, rise, away, feet):
    ours = height_above_roof(atan(rise / 12), away * FOOT) / FOOT
    theirs(f"{rise}:12, ridge {away} ft off", feet, ours, unit="ft", tol=0.0005, place="R1003.9", grade="derived")


def test_a_public_worked_height(theirs):
    ours = height_above_roof(atan(4 / 12), 7 * FOOT) / INCH
    theirs("4:12, ridge 7 ft off: 28 in. of rise and 24", 52, ours, unit="in.", tol=1e-6, place="R1003.9")


@pytest.mark.parametrize(("rise", "over"), [(12, 2), (8, 3), (6, 4), (4, 6), (3, 8)])
def test_cricket_table(theirs, rise, over):
    grade = "read" if rise == 12 else "from memory"
    ours = cricket_height(36 * INCH, atan(rise / 12)) / INCH
    theirs(f"36 in. chimney, {rise}:12, W/{over}", 36 / over, ours, unit="in.", tol=1e-6, place="Table R1003.20", grade=grade)


@pytest.mark.parametrize(
    ("name", "area", "grade"),
    [
        ("round 6", 28, "read"),
        ("round 7", 38, "read"),
        ("round 8", 50, "read"),
        ("round 10", 78, "read"),
        ("round 12", 113, "from memory"),
        ("8.5x13", 76, "from memory"),
        ("13x13", 127, "from memory"),
        ("20x24", 335, "from memory"),
    ],
)
def test_net_areas(theirs, name, area, grade):
    theirs(f"net area, {name}", area, net_area(name) / IN2, unit="in2", tol=1e-9, place="Tables R1003.14", grade=grade)


@pytest.mark.parametrize(
    ("shape", "aspect", "parts"), [("round", 1, 12), ("square", 1, 10), ("rectangular", 1.5, 10), ("rectangular", 2.1, 8)]
)
def test_flue_ratios(theirs, shape, aspect, parts):
    grade = "from memory" if aspect > 1 else "read"
    theirs(
        f"{shape}, aspect {aspect}: one part in", parts, 1 / flue_ratio(shape, aspect), tol=1e-9, place="R1003.15.1", grade=grade
    )


@pytest.mark.parametrize(("divisor", "needed"), [(12, 87.0), (10, 104.4), (8, 130.5)])
def test_flue_for_a_36_by_29_opening(theirs, divisor, needed):
    ratio = {12: flue_ratio("round"), 10: flue_ratio("square"), 8: flue_ratio("rectangular", 2.5)}[divisor]
    theirs(
        f"36 by 29 in. opening at 1/{divisor}",
        needed,
        36 * 29 * ratio,
        unit="in2",
        tol=0.005,
        place="R1003.15.1",
        grade="derived",
    )


def test_rain_cap_opens_as_high_as_the_flue_is_wide(theirs):
    side, four = 11.25 * INCH, rule("irc_2018", "rain_cap_area").at_least
    ours = open_side_height(side**2, 4 * side, four) / INCH
    theirs("square flue of 11 1/4 in.", 11.25, ours, unit="in.", tol=1e-9, place="R1003.9.3", grade="from memory")


@pytest.mark.parametrize(("width", "bars"), [(32, 4), (40, 4), (41, 6), (80, 6), (81, 8)])
def test_vertical_bars(theirs, width, bars):
    theirs(f"No. 4 bars, {width} in. wide", bars, vertical_bars(width * INCH), tol=0, place="R1003.3")


@pytest.mark.parametrize(
    ("name", "printed", "size", "unit"),
    [
        ("height_at_roof", 3, FOOT, "ft"),
        ("height_above_near", 2, FOOT, "ft"),
        ("height_reach", 10, FOOT, "ft"),
        ("wythe_between_flues", 4, INCH, "in."),
        ("free_area", 4, 1, "times"),
    ],
)
def test_rules(theirs, name, printed, size, unit):
    one = rule("irc_2018", name)
    theirs(one.says, printed, one.at_least / size, unit=unit, tol=1e-9, place=one.cite.clause)


def test_cricket_width(theirs):
    theirs("chimney that needs a cricket", 30, CRICKET_WIDTH / INCH, unit="in.", tol=1e-9, place="R1003.20")


def test_least_plan_of_two_flues(theirs):
    """Two 13x13 flues side by side, 4 in. walls, a 4 in. wythe, no air space."""
    wall, wythe = 4 * INCH, rule("irc_2018", "wythe_between_flues").at_least
    theirs("length", 38, (2 * wall + wythe + 2 * 13 * INCH) / INCH, unit="in.", tol=1e-9, place="R1003.10, .13", grade="derived")
    theirs("width", 21, (2 * wall + 13 * INCH) / INCH, unit="in.", tol=1e-9, place="R1003.10", grade="derived")
