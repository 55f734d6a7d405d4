"""Stripping: a section worked by hand, and how the day moves with strength, cold and shape."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.cap.model import Drip, SideFit
from crownwright.concrete.early import CURVES, early_strength, saying
from crownwright.concrete.strip import (
    HORIZON,
    Overhang,
    Stripping,
    age_at,
    overhang_of,
    overhang_stress,
    strength_needed,
    strip_rule,
)
from crownwright.quantity.findings import Verdict
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import DAY, HOUR, INCH, LBF, PSI
from crownwright.sources.bibliography import spell

USUAL = Overhang(4 * INCH, 3.5 * INCH)
AT_28 = Uncertain(3500 * PSI, 500 * PSI)


def curve(temperature: float) -> Callable[[float], Uncertain]:
    return lambda age: early_strength(AT_28, age, temperature)


def test_a_section_worked_by_hand() -> None:
    """Groove section: arm 2.5 in., depth 2.75 in.; 100 lbf spreads over 2 + 2 x 2.5 = 7 in.

    Pull 100 x 2.5 / 7 = 35.71 lb-in. an inch; weight 144.8 lb/ft3 = 0.0838 lb/in3 x 3.5 x 2.5^2 / 2 = 0.917; sum 36.63;
    stress 6 x 36.63 / 2.75^2 = 29.06 psi. At the stone: 100 x 4 / 10 = 40, weight 2.347, 42.35 x 6 / 3.5^2 = 20.74 psi.
    """
    stress, where = overhang_stress(USUAL, Stripping())
    assert where == "the groove"
    assert stress / PSI == pytest.approx(29.06, abs=0.02)  # hand arithmetic to four digits
    plain, where = overhang_stress(Overhang(4 * INCH, 3.5 * INCH, groove=0.0), Stripping())
    assert where == "the stone"
    assert plain / PSI == pytest.approx(20.74, abs=0.02)


def test_the_floor_of_three_days_governs_an_ordinary_cap_in_warm_weather() -> None:
    rule = strip_rule(USUAL, curve(20.0))
    assert rule.earliest is not None
    assert rule.earliest < 3 * DAY
    assert rule.strip == 3 * DAY
    assert all(f.verdict is Verdict.OK for f in rule.findings)


def test_a_harder_pull_in_the_cold_waits_past_the_floor_and_says_so() -> None:
    rule = strip_rule(USUAL, curve(6.0), Stripping(pull=180 * LBF))
    assert rule.strip is not None
    assert rule.strip > 3 * DAY
    assert rule.findings[0].verdict is Verdict.SHORT
    assert rule.governs == "bending of the overhang"


def test_strength_that_never_comes_gives_no_day_and_the_cold_finding_cannot_tell() -> None:
    rule = strip_rule(USUAL, lambda age: Uncertain(1e5))
    assert (rule.earliest, rule.strip) == (None, None)
    assert [f.verdict for f in rule.findings] == [Verdict.SHORT, Verdict.CANNOT_TELL]


@settings(max_examples=60, deadline=None)
@given(st.floats(0.05, 0.15), st.floats(0.05, 0.2), st.floats(0.0, 0.03), st.floats(10, 2000))
def test_longer_thinner_and_harder_pulled_never_needs_less(reach: float, thick: float, groove: float, pull: float) -> None:
    way, harder = Stripping(pull=pull), Stripping(pull=1.5 * pull)
    needed = strength_needed(overhang_stress(Overhang(reach, thick, groove), way)[0], 2.0)[0]
    assert strength_needed(overhang_stress(Overhang(1.2 * reach, thick, groove), way)[0], 2.0)[0] >= needed
    assert strength_needed(overhang_stress(Overhang(reach, 1.2 * thick, groove), way)[0], 2.0)[0] <= needed
    assert strength_needed(overhang_stress(Overhang(reach, thick, groove), harder)[0], 2.0)[0] >= needed


@settings(max_examples=30, deadline=None)
@given(st.floats(1e6, 2e7), st.floats(2, 35))
def test_the_age_found_is_the_first_hour_with_the_strength(needed: float, temperature: float) -> None:
    at = age_at(needed, curve(temperature))
    if at is None:
        assert curve(temperature)(HORIZON).quantile(0.05) < needed
        return
    assert curve(temperature)(at).quantile(0.05) >= needed
    assert curve(temperature)(at - HOUR).quantile(0.05) < needed


def test_eighty_per_cent_in_three_days_is_no_strength_at_three_days() -> None:
    said = saying()
    assert all(share < 0.70 for share in said.at_three_days.values())
    assert all(days > 6.0 for days in said.days_to_it.values())
    low, mean, high = said.data
    assert low < mean < high < 0.80
    assert said.moist_three_days == 0.80
    assert len(said.figures) == len(CURVES) + 2


def test_colder_is_never_stronger_and_never_surer() -> None:
    for age in (1 * DAY, 3 * DAY, 7 * DAY):
        strengths = [early_strength(AT_28, age, t).mean for t in (2.0, 8.0, 14.0, 20.0, 30.0)]
        assert strengths == sorted(strengths)


def test_every_figure_and_finding_opens_to_a_source() -> None:
    rule = strip_rule(USUAL, curve(20.0))
    for figure in (*rule.figures, *saying().figures):
        assert spell(figure.cite)
        assert all(spell(term.cite) for term in figure.inputs if term.cite)
    assert all(spell(f.cite) for f in rule.findings)


def test_a_groove_through_the_edge_is_refused() -> None:
    with pytest.raises(ValueError, match="groove"):
        overhang_stress(Overhang(4 * INCH, 0.75 * INCH), Stripping())


def test_the_overhang_of_a_cap_is_where_it_reaches_farthest(cap) -> None:  # type: ignore[no-untyped-def]
    sides = (SideFit("AB", 0.08, 0.11, 0.07, 0.003), SideFit("BC", 0.08, 0.13, 0.07, 0.003))
    drip = Drip(0.019, (0.04, 0.035), 0.02, np.zeros((4, 2)))
    found = overhang_of(replace(cap(), sides=sides, drip=drip))
    assert (found.reach, found.groove, found.setback, found.thick) == (0.13, 0.019, 0.035, 0.089)
    assert overhang_of(cap()).groove == 0.0
