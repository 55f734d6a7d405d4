"""The clamp by friction: the 40 by 40 in. stack worked by hand, and what changes it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crownwright.checks.choices import StrapChoices
from crownwright.checks.clamp import Clamp, check_clamp, figures_clamp
from crownwright.checks.tell import value_of
from crownwright.codes.capstan import straps_needed
from crownwright.quantity.findings import Verdict
from crownwright.quantity.units import INCH, LBF

BY_HAND = Clamp(147.6 * LBF, 60 * LBF, 147.6 * LBF, 1, (6 * INCH,), 12 * INCH, 2 * INCH)
FULL = StrapChoices(kept=1.0)
VERDICTS = ("form.clamp.dry", "form.clamp.wet", "form.clamp.tipping", "form.clamp.rating")


def test_by_hand():
    """355 lb on the form; 674.4 lb at the ratchet presses with 3,558 lb: 3.0 at 0.3, 2.0 at 0.2, tipping 890 x 6 over 89 x 2."""
    figures = figures_clamp(BY_HAND, FULL)
    assert value_of(figures, "checks.clamp.pressing") / LBF == pytest.approx(3558, abs=1)
    assert value_of(figures, "checks.clamp.dry") == pytest.approx(3.0, abs=0.01)
    assert value_of(figures, "checks.clamp.wet") == pytest.approx(2.0, abs=0.01)
    assert value_of(figures, "checks.clamp.far_side") == pytest.approx(0.39, abs=0.001)


def test_the_slackest_block_counts_for_tipping():
    """It has the two slackest sides on it: 0.624 and 0.390 of the ratchet's tension, not a quarter of everything."""
    tipping = value_of(figures_clamp(BY_HAND, FULL), "checks.clamp.tipping")
    assert tipping == pytest.approx(674.4 * (0.6242 + 0.3897) * 6 / (355.2 / 4 * 2), rel=1e-3)


def test_all_right_dry_and_tight_and_short_once_relaxed_and_wet():
    tight = {one.key: one.verdict for one in check_clamp(BY_HAND, FULL)}
    assert set(tight) == set(VERDICTS)
    assert set(tight.values()) == {Verdict.OK}
    slack = {one.key: one.verdict for one in check_clamp(BY_HAND, StrapChoices(kept=0.8))}
    assert slack["form.clamp.wet"] is Verdict.SHORT


def test_a_second_strap_doubles_the_hold():
    one, two = (value_of(figures_clamp(replace(BY_HAND, straps=n), FULL), "checks.clamp.wet") for n in (1, 2))
    assert two == pytest.approx(2 * one)


def test_low_strap_and_small_webbing_are_named():
    low = {one.key: one.verdict for one in check_clamp(replace(BY_HAND, strap_heights=(0.5 * INCH,)), FULL)}
    assert low["form.clamp.tipping"] is Verdict.SHORT
    weak = {one.key: one.verdict for one in check_clamp(BY_HAND, StrapChoices(marked=500 * LBF))}
    assert weak["form.clamp.rating"] is Verdict.SHORT


@given(st.floats(500, 20000), st.floats(500, 5000), st.floats(0.05, 0.6), st.floats(0.1, 0.6))
def test_straps_needed_is_enough_and_one_less_is_not(load, pull, lost, grip):
    from crownwright.codes.capstan import clamp_force

    n = straps_needed(load, pull, lost, grip, 2.0)
    each = grip * clamp_force(pull, lost)
    assert n * each >= 2 * load * (1 - 1e-6)
    assert n == 1 or (n - 1) * each < 2 * load
