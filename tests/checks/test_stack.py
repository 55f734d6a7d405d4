"""The stack in the wind: the stack worked by hand in tests/validation/test_stack_by_hand.py, through the checks."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from crownwright.checks.cap_hold import check_cap_hold, figures_cap_hold
from crownwright.checks.stack import Stack, check_stack, figures_stack
from crownwright.checks.stack_shape import check_cricket, check_seismic, check_slenderness, check_wythes, figures_stack_shape
from crownwright.checks.tell import value_of
from crownwright.codes.asce_7_2016 import KD_SQUARE, velocity_factor, velocity_pressure
from crownwright.codes.cap_rules import rule_set
from crownwright.quantity.findings import Verdict
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import FOOT, INCH, LBF, MPH, PCF
from crownwright.survey.readings import Surroundings

US = rule_set("us-model")
PRESSURE = velocity_pressure(115 * MPH, velocity_factor(30 * FOOT, "B"), kd=KD_SQUARE)
BY_HAND = Stack(32 * INCH, 32 * INCH, 5 * FOOT, 13 * INCH, 120 * PCF, 30 * FOOT, PRESSURE)


def by_key(findings):
    return {one.key: one for one in findings}


def test_stack_by_hand():
    figures = figures_stack(BY_HAND)
    assert value_of(figures, "checks.stack.wind") / LBF == pytest.approx(318.0, abs=0.4)
    assert value_of(figures, "checks.stack.overturning") == pytest.approx(477 / 2850, abs=0.001)
    assert value_of(figures, "checks.stack.eccentricity") / FOOT == pytest.approx(0.134 / 0.6, abs=0.001)
    assert value_of(figures, "checks.stack.tips") / LBF == pytest.approx(950, abs=2)
    found = by_key(check_stack(BY_HAND))
    assert found["stack.overturning"].verdict is Verdict.OK
    assert found["stack.bed"].verdict is Verdict.OK


def test_the_cap_on_it_takes_wind_and_gives_weight_by_hand():
    """A cap 6 in. high and 40 in. long, 600 lb, on the stack by hand: the wind finds 6 x 40/144 = 1.667 ft2 more.

    Pressure 318.0/(32 x 60/144 = 13.333 ft2) = 23.85 psf: 39.75 lb at 5.25 ft = 208.7 ft lb, with the stack's own 318 x 2.5 = 795
    ft lb together 1003.7. Weight 3562 + 600 = 4162 lb: overturning 1003.7/(4162 x 16/12) = 0.1809, off the middle 0.2412 ft.
    """
    capped = replace(BY_HAND, cap_face=(6 * INCH, 40 * INCH), cap_weight=600 * LBF)
    figures = figures_stack(capped)
    assert value_of(figures, "checks.stack.wind") / LBF == pytest.approx(357.8, abs=0.5)
    assert value_of(figures, "checks.stack.moment") / (LBF * FOOT) == pytest.approx(1003.7, abs=1.5)
    assert value_of(figures, "checks.stack.weight") / LBF == pytest.approx(4162, abs=6)  # the hand figure rounds the flue
    assert value_of(figures, "checks.stack.overturning") == pytest.approx(0.1809, abs=0.0006)
    assert value_of(figures, "checks.stack.eccentricity") / FOOT == pytest.approx(0.2412, abs=0.0008)


def test_a_light_cap_on_a_light_stack_is_worse_than_none():
    bare = replace(BY_HAND, cap_face=(8 * INCH, 44 * INCH), cap_weight=100 * LBF)
    known, without = (value_of(figures_stack(one), "checks.stack.overturning") for one in (bare, BY_HAND))
    assert known > without


def test_a_chimney_is_never_an_anchor():
    found = by_key(check_stack(BY_HAND))["stack.anchor"]
    assert found.verdict is Verdict.SHORT
    assert found.at_least / LBF == pytest.approx(5000)
    assert "Never tie off" in found.action


def test_a_tall_thin_stack_is_short():
    tall = replace(BY_HAND, width=18 * INCH, breadth=18 * INCH, height=17.5 * FOOT, void=0.0)
    assert by_key(check_stack(tall))["stack.overturning"].verdict is Verdict.SHORT


def test_not_told_is_an_open_question_and_still_no_anchor():
    found = by_key(check_stack(None))
    assert {one.verdict for one in found.values()} == {Verdict.CANNOT_TELL}
    assert "Never tie off" in found["stack.anchor"].action


def test_a_cap_on_a_slip_sheet_by_hand(a_cap):
    """48 by 48 in. is 16 ft2; at qz 500 Pa uplift 1.5 x 500 x 1.4865 m2 = 1114.8 N against (370 - 24) x 9.80665 = 3393.1 N."""
    figures = figures_cap_hold(a_cap(), 500.0)
    assert value_of(figures, "checks.cap.uplift") == pytest.approx(1114.8 / 3393.1, abs=0.0005)
    assert {one.verdict for one in check_cap_hold(a_cap(), 500.0)} == {Verdict.OK}
    assert by_key(check_cap_hold(a_cap(), 2000.0))["stack.cap_uplift"].verdict is Verdict.SHORT
    assert by_key(check_cap_hold(a_cap(), 2000.0))["stack.cap_sliding"].verdict is Verdict.SHORT
    assert {one.verdict for one in check_cap_hold(a_cap(), None)} == {Verdict.CANNOT_TELL}


def test_slenderness_against_four_and_a_half_widths(a_flue, a_roof):
    low = by_key(check_slenderness((a_flue(),), a_roof, US))["stack.slenderness"]
    assert low.provided == pytest.approx(60 / 40)
    assert low.cite.document == "ad_a"
    high = check_slenderness((a_flue(top=Uncertain(5 * FOOT)),), replace(a_roof, stack_least_width=18 * INCH), US)
    assert high[0].verdict is Verdict.SHORT
    assert check_slenderness((a_flue(),), Surroundings(), US)[0].verdict is Verdict.CANNOT_TELL


def test_ontario_asks_for_no_brace_up_to_its_size(a_flue, a_roof):
    found = by_key(check_slenderness((a_flue(),), a_roof, rule_set("ontario_332_12")))
    assert found["code.brace_free_height"].verdict is Verdict.OK
    assert found["code.brace_free_side"].verdict is Verdict.OK


def test_wythe_between_flues_of_different_appliances(a_flue):
    one = a_flue(serves="fireplace")
    near = a_flue(name="F2", ring=one.ring + np.array((15 * INCH, 0.0)), serves="boiler")
    assert check_wythes((one, near), US)[0].verdict is Verdict.SHORT  # 15 - 13 = 2 in.
    far = a_flue(name="F2", ring=one.ring + np.array((17.5 * INCH, 0.0)), serves="boiler")
    assert check_wythes((one, far), US)[0].verdict is Verdict.OK
    assert check_wythes((one, replace(near, serves="fireplace")), US) == ()


def test_a_wide_chimney_wants_a_cricket_unless_it_meets_the_ridge(a_roof):
    assert check_cricket(a_roof, US)[0].verdict is Verdict.SHORT
    assert check_cricket(replace(a_roof, width_along_ridge=28 * INCH), US)[0].verdict is Verdict.OK
    assert check_cricket(replace(a_roof, ridge_away=0.0), US) == ()
    assert check_cricket(Surroundings(), US)[0].verdict is Verdict.CANNOT_TELL


def test_cricket_height_is_in_the_figures(a_flue, a_roof):
    assert value_of(figures_stack_shape((a_flue(),), a_roof), "checks.stack.cricket") == pytest.approx(10 * INCH)  # 40 x 6/12 / 2


@pytest.mark.parametrize(
    ("category", "verdict"), [("B", "ok"), ("D1", "cannot tell"), ("E", "cannot tell"), (None, "cannot tell")]
)
def test_earthquake_country(category, verdict):
    assert check_seismic(category, 48 * INCH)[0].verdict == verdict
    if category == "D1":
        assert "6 No. 4 bars" in check_seismic(category, 48 * INCH)[0].action
