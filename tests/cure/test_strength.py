"""Strength and the moments read off the clock."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from crownwright.cure.heat import curve_of
from crownwright.cure.inputs import MixInCure
from crownwright.cure.strength import clock_for, set_clocks, standard_clock, strength, when
from crownwright.quantity.units import DAY, HOUR, PSI

MIX = MixInCure(335.0, 0.50, 4000 * PSI)
CURVE = curve_of(MIX)


@given(st.floats(600, 28 * DAY), st.floats(600, 28 * DAY), st.floats(0.01, 0.99))
def test_strength_never_falls(one, two, quantile):
    low, high = sorted([one, two])
    a, b = strength(MIX, CURVE, np.array([low, high]), quantile)
    assert b >= a * (1 - 1e-9)


@given(st.floats(600, 28 * DAY))
def test_the_band_is_in_order(clock):
    low, middle, high = (strength(MIX, CURVE, np.array([clock]), q)[0] for q in (0.05, 0.5, 0.95))
    assert low < middle < high


@given(st.floats(100, 3500), st.floats(0.05, 0.95))
def test_clock_for_turns_strength_round(psi, quantile):
    clock = clock_for(MIX, CURVE, psi * PSI, quantile)
    if np.isfinite(clock):
        assert strength(MIX, CURVE, np.array([clock]), quantile)[0] == pytest.approx(psi * PSI, rel=0.01)


def test_twenty_eight_standard_days_are_the_strength():
    clock = standard_clock(CURVE, 28 * DAY)
    assert strength(MIX, CURVE, np.array([clock]))[0] == pytest.approx(4000 * PSI)


def test_strength_it_never_has_is_never_reached():
    assert clock_for(MIX, CURVE, 40_000 * PSI) == float("inf")


def test_five_hundred_psi_within_a_day_at_normal_temperature():
    # ACI 306R: reached within the first 24 h at normal temperatures and w/c under 0.60; 24 to 48 h at 10 degC
    assert 10 * HOUR < clock_for(MIX, CURVE, 500 * PSI) < 24 * HOUR


def test_when_a_clock_passes():
    age = np.array([0.0, 10.0, 20.0, 30.0])
    clock = np.array([[0.0, 0.0], [5.0, 1.0], [15.0, 2.0], [20.0, 3.0]])
    assert when(age, clock, 10.0)[0] == pytest.approx(15.0)
    assert np.isinf(when(age, clock, 10.0)[1])
    assert when(age, clock, 0.0) == pytest.approx([0.0, 0.0])


@given(st.floats(0.35, 0.75))
def test_initial_set_comes_before_final(wc):
    initial, final = set_clocks(MixInCure(335.0, wc, 27.6e6))
    assert 0 < initial < final < DAY
