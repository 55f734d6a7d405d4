"""The overhang as a cantilever, worked by hand, and the verdicts on it."""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crownwright.checks.cap_strength import (
    EdgeLoad,
    Overhang,
    bending,
    check_overhang_strength,
    factored,
    figures_overhang,
    furthest,
    moments,
    sections,
    strength_wanted,
)
from crownwright.checks.movement import check_movement, figures_movement
from crownwright.codes.aci_318_plain import bending_stress, reduction
from crownwright.quantity.findings import Verdict
from crownwright.quantity.units import FOOT, INCH, LBF, PCF, PSF, PSI

FLAT = Overhang(4 * INCH, 4 * INCH, 0.0, 0.75 * INCH, 1.5 * INCH, 150 * PCF)
LOAD = EdgeLoad(30 * PSF, 300 * LBF)
POUND = LBF * FOOT / FOOT  # moment per length


def test_moments_at_the_stone_by_hand():
    """4 in. by 4 in. of 150 pcf concrete: 50 psf x (1/3)2/2 = 2.778; snow 30/18 = 1.667; 300 lb x 4/(8 + 2) = 120 lb ft/ft."""
    own, snow, person = moments(FLAT, LOAD, 4 * INCH)
    assert own / POUND == pytest.approx(50 / 18)
    assert snow / POUND == pytest.approx(30 / 18)
    assert person / POUND == pytest.approx(120)


@given(st.floats(0.04, 0.6))
def test_a_person_at_a_corner_bends_it_no_more_than_one_at_the_side(reach):
    """So the sections looked at cover the corner too.

    A foot 2 in. across at the corner has its middle 1 in. in from both edges. The section across the corner through the stone's
    own corner lies a = sqrt(2) reach from the tip and is 2 a long: P (a - sqrt(2) 1 in.)/(2 a), against P r/(2 r + 2 in.).
    """
    arm = sqrt(2) * reach
    at_corner = LOAD.person * max(arm - sqrt(2) * INCH, 0.0) / (2 * arm)
    assert at_corner <= moments(FLAT, LOAD, reach)[2]


def test_stress_at_the_groove_by_hand():
    """Arm 2.5 in., depth 3.25: own 50 x (2.5/12)2/2 = 1.085, person 300 x 2.5/7 = 107.14 lb ft/ft; 1.2, 1.6, 0.5 x 0.651."""
    arm, depth = sections(FLAT)["groove"]
    assert arm / INCH == pytest.approx(2.5)
    assert depth / INCH == pytest.approx(3.25)
    moment = 1.2 * 50 * (2.5 / 12) ** 2 / 2 + 1.6 * 300 * 2.5 / 7 + 0.5 * 30 * (2.5 / 12) ** 2 / 2
    assert bending(FLAT, LOAD, "groove") / PSI == pytest.approx(6 * moment / 3.25**2, rel=1e-9)


def test_a_three_inch_edge_of_3000_psi_takes_a_person():
    limit = 0.60 * 5 * sqrt(3000)
    assert max(bending(FLAT, LOAD, name) for name in sections(FLAT)) / PSI < limit


def test_wanted_strength_is_the_one_that_just_serves():
    for stress in (0.05e6, 0.5e6, 2e6):
        assert reduction() * bending_stress(strength_wanted(stress)) == pytest.approx(stress)


@given(st.floats(0.05, 0.3), st.floats(0.06, 0.2), st.floats(0.0, 0.4))
def test_more_load_never_less_stress_and_more_edge_never_more(reach, edge, rise):
    one = Overhang(reach, edge, rise, 0.019, 0.038, 2300.0)
    thicker, heavier = replace(one, edge=edge + 0.01), EdgeLoad(LOAD.snow + 500, LOAD.person + 200)
    for name in sections(one):
        assert bending(one, heavier, name) > bending(one, LOAD, name)
        assert bending(thicker, LOAD, name) < bending(one, LOAD, name)


def test_furthest_is_where_the_stress_meets_the_limit():
    heavy = EdgeLoad(6000.0, 900.0)
    thin = replace(FLAT, edge=2 * INCH, groove=0.0)
    strength = 2000 * PSI
    out = furthest(thin, heavy, strength)
    limit = reduction() * bending_stress(strength)
    assert 0.02 < out < 0.99
    assert bending(replace(thin, reach=out), heavy, "stone") == pytest.approx(limit, rel=1e-6)


def test_load_factors():
    assert factored(1, 2, 0) == pytest.approx(1.2 + 3.2)
    assert factored(1, 0, 2) == pytest.approx(1.2 + 3.2)


def test_findings_at_28_days_and_at_strip(a_cap):
    found = {one.key: one.verdict for one in check_overhang_strength(a_cap(), LOAD, 3000 * PSI, 200 * PSI)}
    assert found["strength.bending.stone.28"] is Verdict.OK
    assert found["strength.bending.groove.strip"] is Verdict.SHORT
    untold = check_overhang_strength(a_cap(), LOAD, None, None)
    assert {one.verdict for one in untold} == {Verdict.CANNOT_TELL}


def test_figures_carry_working_and_the_wanted_strength(a_cap):
    figures = figures_overhang(a_cap(), LOAD, 3000 * PSI)
    assert all(one.formula and one.inputs for one in figures)
    keys = {one.key for one in figures}
    assert {"checks.overhang.stone", "checks.overhang.groove", "checks.overhang.wanted", "checks.overhang.furthest"} <= keys


def test_a_cap_without_a_drip_has_no_section_at_a_groove(a_cap):
    assert {one.key for one in figures_overhang(a_cap(drip=None), LOAD, None)} == {
        "checks.overhang.stone",
        "checks.overhang.wanted",
    }


def test_shrinkage_cracks_a_bonded_cap_and_not_one_on_a_slip_sheet(a_cap):
    assert check_movement(a_cap(base="bonded"), 3000 * PSI)[0].verdict is Verdict.SHORT
    assert check_movement(a_cap(), 3000 * PSI)[0].verdict is Verdict.OK
    assert check_movement(a_cap(), None)[0].verdict is Verdict.CANNOT_TELL
    assert all(one.value > 0 for one in figures_movement(a_cap(), 3000 * PSI))
