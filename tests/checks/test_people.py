"""People: what applies here and why, and flues covered and uncovered."""

from __future__ import annotations

from dataclasses import replace
from math import atan

import pytest

from crownwright.checks.access import check_falls, check_ladder, check_lines, check_platform, check_wind
from crownwright.checks.choices import CheckChoices, People
from crownwright.checks.people import check_covers, check_dust_and_cement, check_lifting, check_people, figures_people
from crownwright.checks.tell import value_of
from crownwright.quantity.findings import Verdict
from crownwright.quantity.units import FOOT, INCH, LB, MPH, PSF
from crownwright.sources.bibliography import spell
from crownwright.survey.readings import Surroundings


def test_an_80_lb_bag_and_a_bucket_are_over_the_lifting_limit():
    found = {one.key: one for one in check_lifting(People(), 80 * LB)}
    assert found["people.lifting.bag"].provided == pytest.approx(3.6, abs=0.05)
    assert found["people.lifting.bucket"].verdict is Verdict.SHORT
    assert check_lifting(People(), None)[0].verdict is Verdict.CANNOT_TELL


def test_a_bucket_two_thirds_full_weighs_by_hand():
    """0.6684 ft3 x 2/3 x 144.8 lb/ft3 + 2 lb of pail = 66.5 lb."""
    assert value_of(figures_people(Surroundings(), People(), None), "checks.lifting.bucket") / LB == pytest.approx(66.5, abs=0.1)


def test_ladder_length_and_foot_by_hand(a_roof):
    """Eave 10 ft, rails 3 ft more at 75.52 degrees: 13/0.9682 = 13.43 ft; foot out (10/0.9682)/4 = 2.58 ft."""
    figures = figures_people(a_roof, People(), None)
    assert value_of(figures, "checks.ladder.length") / FOOT == pytest.approx(13.43, abs=0.005)
    assert value_of(figures, "checks.ladder.foot") / FOOT == pytest.approx(2.58, abs=0.005)


@pytest.mark.parametrize(("grade", "verdict"), [("IAA", "ok"), ("IA", "short"), ("III", "short")])
def test_ladder_duty_for_a_person_with_tools(a_roof, grade, verdict):
    people = People(ladder_grade=grade, ladder_length=16 * FOOT)
    found = {one.key: one for one in check_ladder(a_roof, people)}
    assert found["people.ladder.duty"].verdict == verdict
    assert found["people.ladder.length"].verdict is Verdict.OK
    assert check_ladder(a_roof, replace(people, ladder_length=12 * FOOT))[1].verdict is Verdict.SHORT


def test_falls_go_by_height_and_slope_and_stay_open_until_something_is_named(a_roof):
    steep = check_falls(a_roof, People())[0]
    assert steep.verdict is Verdict.CANNOT_TELL
    assert steep.blocks
    assert "Steep roof" in steep.action
    low = check_falls(replace(a_roof, roof_pitch=atan(4 / 12)), People())[0]
    assert "Low slope" in low.action
    named = check_falls(a_roof, People(fall_protection="harness to a ridge anchor"))[0]
    assert named.verdict is Verdict.OK
    assert "harness to a ridge anchor" in named.subject
    assert check_falls(replace(a_roof, eave_height=5 * FOOT), People())[0].verdict is Verdict.OK
    assert check_falls(Surroundings(), People())[0].verdict is Verdict.CANNOT_TELL


def test_power_lines_by_the_rule_and_by_the_utility_that_asks_for_more():
    assert check_lines(People())[0].verdict is Verdict.CANNOT_TELL
    near = check_lines(People(line_volts=7200, line_away=8 * FOOT))
    assert [one.verdict for one in near] == [Verdict.SHORT]
    assert near[0].blocks
    between = check_lines(People(line_volts=7200, line_away=15 * FOOT))
    assert [one.verdict for one in between] == [Verdict.OK, Verdict.SHORT]


@pytest.mark.parametrize(("mph", "material", "practice"), [(15, "ok", "ok"), (28, "ok", "short"), (32, "short", "short")])
def test_wind_stops(mph, material, practice):
    assert [one.verdict for one in check_wind(People(wind=mph * MPH))] == [material, practice]


def test_grinding_asks_for_a_collector_by_the_wheel():
    found = check_dust_and_cement(People(grinder=5 * INCH))
    assert "125 cfm" in found[-1].action
    assert [one.key for one in check_dust_and_cement(People())] == ["people.cement.wet", "people.cement.dust"]


def test_wet_cement_and_dust_each_cite_their_own_rule():
    wet, dust = check_dust_and_cement(People())
    assert "Portland Cement" in spell(wet.cite)
    assert "silica" not in wet.rule
    assert "silica" in dust.rule
    assert "1926.1153" in spell(dust.cite)


def test_a_platform_is_compared_with_its_duty():
    """Two people of 310 lb and two buckets of 66.5 on 18 ft2 of planks: 753/18 = 41.8 psf."""
    assert check_platform(People()) == ()
    assert check_platform(People(platform=18 * FOOT**2))[0].verdict is Verdict.CANNOT_TELL
    light, medium = (check_platform(People(platform=18 * FOOT**2, platform_duty=psf * PSF))[0] for psf in (25, 50))
    assert light.provided / PSF == pytest.approx(41.8, abs=0.1)
    assert [light.verdict, medium.verdict] == [Verdict.SHORT, Verdict.OK]


def test_a_flue_stays_open_until_it_is_signed_covered_and_blocks_hand_over_until_uncovered(a_flue):
    flues = (a_flue(serves="oil boiler"),)
    fresh = {one.key: one for one in check_covers(flues, CheckChoices())}
    assert fresh["people.covered.F1"].verdict is Verdict.CANNOT_TELL
    assert fresh["people.uncovered.F1"].blocks
    done = {one.key: one for one in check_covers(flues, CheckChoices(covered=("F1",), uncovered=("F1",)))}
    assert {one.verdict for one in done.values()} == {Verdict.OK}
    assert not done["people.uncovered.F1"].blocks


def test_nothing_about_people_ever_says_safe(a_flue, a_roof):
    for one in check_people((a_flue(),), a_roof, CheckChoices(), 80 * LB):
        assert "safe" not in f"{one.rule} {one.subject} {one.action}".lower()
