"""Flue size, rain cap and arrestor, and heat at the top."""

from __future__ import annotations

from dataclasses import replace

import pytest

from crownwright.checks.choices import Appliance
from crownwright.checks.flue_heat import check_flue_heat, figures_flue_heat, heat_of
from crownwright.checks.flues import check_flue_size, check_openings, figures_flue, net_area
from crownwright.checks.tell import value_of
from crownwright.codes.cap_rules import rule_set
from crownwright.quantity.findings import Verdict
from crownwright.quantity.units import FOOT, IN2, INCH

US = rule_set("us-model")
OPENING = (36 * INCH, 29 * INCH)


def test_measured_inside_goes_before_the_table(a_flue):
    assert net_area(a_flue())[0] / IN2 == pytest.approx(11.25**2)
    by_table = net_area(a_flue(inside=None))
    assert by_table[0] / IN2 == pytest.approx(11.25**2)
    assert by_table[1].document == "astm_c315"
    assert net_area(a_flue(inside=None, size=(10.2 * INCH,) * 2)) is None


@pytest.mark.parametrize(("inside", "verdict"), [(11.25, "ok"), (9.75, "short")])
def test_flue_of_a_36_by_29_fireplace(a_flue, inside, verdict):
    """1,044 in2 wants 104.4 of a square flue; 12x12 has 95.1 inside."""
    flue = a_flue(inside=(inside * INCH,) * 2)
    found = check_flue_size(flue, Appliance("F1", opening=OPENING))
    assert found[0].verdict == verdict
    assert value_of(figures_flue(flue, Appliance("F1", opening=OPENING)), "checks.flue.F1.ratio") == pytest.approx(
        1044 / inside**2
    )


def test_the_old_bulletin_hangs_beside_it_where_the_height_is_known(a_flue):
    found = check_flue_size(a_flue(), Appliance("F1", opening=OPENING, hearth_to_top=25 * FOOT))
    assert [one.cite.document for one in found] == ["irc_2018", "farmers_bulletin_1889"]


def test_unknown_sizes_are_open_and_stoves_are_not_judged_by_the_fireplace_rule(a_flue):
    assert check_flue_size(a_flue(), Appliance("F1"))[0].verdict is Verdict.CANNOT_TELL
    assert check_flue_size(a_flue(), Appliance("F1", kind="stove")) == ()
    assert figures_flue(a_flue(), Appliance("F1")) == ()


def test_rain_cap_stands_as_high_as_the_flue_is_wide(a_flue):
    assert check_openings((a_flue(),), US, 11.25 * INCH, None)[0].verdict is Verdict.OK
    assert check_openings((a_flue(),), US, 9 * INCH, None)[0].verdict is Verdict.SHORT
    assert check_openings((a_flue(),), US, None, 300 * IN2)[0].verdict is Verdict.SHORT
    assert check_openings((a_flue(),), US, None, None) == ()


def test_heat_at_the_top_of_a_hot_fireplace_flue(a_flue):
    """The worked case of tests/validation/test_en_13384_1.py: 13x13, 7 m, 400 C, 0.12 kg/s: 315 C gas, 159 C wall (from 0 C)."""
    flue = a_flue()
    heat = heat_of(flue, Appliance("F1"), 7.0)
    figures = figures_flue_heat(flue, heat, 0.25)
    assert value_of(figures, "checks.heat.F1.gas") == pytest.approx(315, abs=2)
    assert value_of(figures, "checks.heat.F1.wall") == pytest.approx(159, abs=2)
    assert all(one.formula and one.inputs for one in figures)


def test_a_chimney_fire_tears_a_five_eighths_joint(a_flue, a_cap):
    """25 ft and 1,000 F: 0.990 in. of growth wants 1.32 in. at class 25."""
    flue, fit = a_flue(), a_cap().flues[0]
    heat = heat_of(flue, Appliance("F1"), 25 * FOOT)
    found = {one.key: one for one in check_flue_heat(flue, fit, heat, 0.25)}
    assert found["heat.joint.F1"].verdict is Verdict.OK
    assert found["heat.joint.F1.fire"].verdict is Verdict.SHORT
    assert found["heat.joint.F1.fire"].at_least / INCH == pytest.approx(1.32, abs=0.005)


def test_a_stove_on_a_wide_flue_leaves_nothing_at_the_top(a_flue):
    stove = heat_of(a_flue(), Appliance("F1", kind="stove"), 7.0)
    fire = heat_of(a_flue(), Appliance("F1"), 7.0)
    assert stove.cooled.steady_outlet < 50 < fire.cooled.steady_outlet


def test_an_unknown_inside_cannot_be_told(a_flue, a_cap):
    flue = replace(a_flue(), inside=None, size=(10.2 * INCH,) * 2)
    assert heat_of(flue, None, 7.0) is None
    assert {one.verdict for one in check_flue_heat(flue, a_cap().flues[0], None, 0.25)} == {Verdict.CANNOT_TELL}
