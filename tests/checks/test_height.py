"""Height above the roof: the levels of an invented roof worked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from crownwright.checks.height import check_height_above_roof, figures_height
from crownwright.codes.cap_rules import rule_set
from crownwright.quantity.findings import Verdict
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import FOOT, INCH
from crownwright.survey.readings import HigherThing, Surroundings

US = rule_set("us-model")


def by_key(findings):
    return {one.key: one for one in findings}


def test_top_of_the_lowest_flue_is_measured_from_the_roof_and_the_ridge(a_flue, a_roof):
    flues = (a_flue(), a_flue(name="F2", top=Uncertain(10 * INCH)))
    found = by_key(check_height_above_roof(flues, a_roof, US))
    # roof at -4 ft, rises 6 in 12 over 6 ft = 3 ft, so the ridge is at -1 ft; the lower flue at 10 in.
    assert found["code.height.roof"].provided == pytest.approx(4 * FOOT + 10 * INCH)
    assert found["code.height.ridge"].provided == pytest.approx(1 * FOOT + 10 * INCH)
    assert found["code.height.roof"].verdict is Verdict.OK
    assert found["code.height.ridge"].verdict is Verdict.SHORT


def test_roof_past_the_reach_does_not_count(a_flue, a_roof):
    far = by_key(check_height_above_roof((a_flue(),), replace(a_roof, ridge_away=30 * FOOT), US))
    assert far["code.height.ridge"].provided == pytest.approx(5 * FOOT - 0.5 * 10 * FOOT)


def test_a_thing_near_counts_within_ten_feet_only(a_flue, a_roof):
    near = HigherThing("dormer", 9 * FOOT, 0.5 * FOOT)
    far = HigherThing("neighbor's gable", 11 * FOOT, 9 * FOOT)
    found = [one for one in check_height_above_roof((a_flue(),), replace(a_roof, higher=(near, far)), US) if "near" in one.key]
    assert len(found) == 1
    assert found[0].verdict is Verdict.SHORT
    assert "dormer" in found[0].subject


def test_what_was_not_read_cannot_be_told_and_says_what_to_read(a_flue):
    found = check_height_above_roof((a_flue(),), Surroundings(), US)
    assert {one.verdict for one in found} == {Verdict.CANNOT_TELL}
    assert all("Read on the roof" in one.action for one in found)
    assert figures_height(Surroundings(), US) == ()


def test_no_flue_cannot_be_told(a_roof):
    assert {one.verdict for one in check_height_above_roof((), a_roof, US)} == {Verdict.CANNOT_TELL}


def test_england_goes_by_its_diagram(a_flue, a_roof):
    found = check_height_above_roof((a_flue(),), a_roof, rule_set("england"))
    assert [one.key for one in found] == ["code.height.roof"]
    assert found[0].at_least == pytest.approx(3 * FOOT)  # as high as the ridge: 6 ft off at 6 in 12, under 2.3 m x tan
    assert found[0].verdict is Verdict.OK


@pytest.mark.parametrize("name", ["us-model", "ontario_332_12", "england", "michigan_2015"])
def test_the_height_needed_carries_its_working(a_roof, name):
    (figure,) = figures_height(a_roof, rule_set(name))
    assert figure.value > 0
    assert figure.formula
    assert figure.cite.document in {"irc_2018", "ontario_332_12", "ad_j"}
