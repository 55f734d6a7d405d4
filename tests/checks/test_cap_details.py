"""The cap compared with code sets: each detail changed by hand, the verdict and the source that gives it."""

from __future__ import annotations

from dataclasses import replace
from math import radians

import pytest

from crownwright.cap.choices import CapChoices
from crownwright.cap.model import SideFit
from crownwright.checks.cap_details import check_cap, check_joint, check_overhang, check_proud, check_steel, check_wash
from crownwright.codes.cap_rules import local_rule, rule_set, rule_sets
from crownwright.quantity.findings import Finding, Verdict, Waiver
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import INCH
from crownwright.sources.bibliography import spell

US = rule_set("us-model")


def the(findings: tuple[Finding, ...], key: str) -> Finding:
    found = [one for one in findings if one.key == key]
    assert found, f"{key} not in {[one.key for one in findings]}"
    return found[0]


def verdict(findings: tuple[Finding, ...], key: str) -> Verdict:
    return the(findings, key).verdict


def flue(a_cap, **changes):
    return (replace(a_cap().flues[0], **changes),)


@pytest.mark.parametrize("name", rule_sets())
def test_a_plain_cap_meets_every_set_but_for_what_sets_disagree_on(a_cap, name):
    open_points = {one.key for one in check_cap(a_cap(), rule_set(name)) if one.verdict is not Verdict.OK}
    four_inches_is_over_100_mm = {"code.liner_proud.F1"} if name == "ontario_332_12" else set()
    assert open_points <= {"code.mesh", "code.anchored", "code.steel_cover"} | four_inches_is_over_100_mm


@pytest.mark.parametrize("name", rule_sets())
def test_every_finding_names_a_source_in_the_bibliography_and_what_to_do(a_cap, name):
    for one in check_cap(a_cap(), rule_set(name)):
        assert spell(one.cite)
        assert one.action
        assert "safe" not in f"{one.rule} {one.subject} {one.action}".lower().replace("safety", "")


def test_a_wash_of_eight_degrees_is_short_of_the_ten_the_standard_asks(a_cap):
    found = the(check_wash(a_cap(least_slope=radians(8)), US), "code.slope")
    assert found.verdict is Verdict.SHORT
    assert found.cite.document == "astm_c1283"
    assert found.short_by == pytest.approx(radians(2))


def test_overhang_is_short_at_one_and_a_half_inches(a_cap):
    side = SideFit("AB", 1.5 * INCH, 2 * INCH, 1.2 * INCH, 0.1 * INCH)
    assert verdict(check_overhang(a_cap(sides=(side,)), US), "code.overhang.AB") is Verdict.SHORT


def test_overhang_enough_at_best_but_not_at_the_guard_cannot_be_told(a_cap):
    side = SideFit("AB", 2.3 * INCH, 2.6 * INCH, 1.8 * INCH, 0.2 * INCH)
    found = the(check_overhang(a_cap(sides=(side,)), US), "code.overhang.AB")
    assert found.verdict is Verdict.CANNOT_TELL
    assert "read more offsets" in found.action


def test_sources_that_ask_for_more_than_the_jobs_set_hang_under_the_finding(a_cap):
    side = SideFit("AB", 2.3 * INCH, 2.6 * INCH, 2.2 * INCH, 0.1 * INCH)
    found = the(check_overhang(a_cap(sides=(side,)), US), "code.overhang.AB")
    assert found.verdict is Verdict.OK
    assert {part.cite.document for part in found.parts} == {"masonry_magazine_1993_08", "practice"}
    assert all(part.verdict is Verdict.SHORT for part in found.parts)


def test_a_joint_left_out_is_short_until_it_is_waived_with_a_reason_and_then_stays(a_cap):
    bare = flue(a_cap, joint_width=0.0)
    assert verdict(check_joint(a_cap(flues=bare), US), "code.joint_break.F1") is Verdict.SHORT
    waiver = Waiver("the mason", "liner cracked already, to be replaced next spring")
    kept = the(check_joint(a_cap(flues=bare, choices=CapChoices(joint_waived=waiver)), US), "code.joint_break.F1")
    assert kept.verdict is Verdict.WAIVED
    assert kept.waiver == waiver


@pytest.mark.parametrize(
    ("inches", "verdicts"), [(1.5, ["ok", "short"]), (3, ["ok", "ok"]), (4, ["ok", "ok"]), (5, ["short", "ok"])]
)
def test_proud_is_compared_with_both_ends_of_the_band(a_cap, inches, verdicts):
    found = check_proud(a_cap(flues=flue(a_cap, proud=Uncertain(inches * INCH))), US)
    assert [one.verdict for one in found] == verdicts
    assert [one.cite.document for one in found] == ["astm_c1283", "nfpa_211_2019"]


def test_steel_in_a_two_inch_edge_is_short_of_cover(a_cap):
    thin = a_cap(soffit=0.0, edge=2 * INCH, edge_thickness=2 * INCH, steel=tuple(replace(p, level=INCH) for p in a_cap().steel))
    assert verdict(check_steel(thin, US), "code.steel_cover") is Verdict.SHORT


def test_no_steel_is_short_where_the_set_asks_for_it(a_cap):
    assert verdict(check_steel(a_cap(steel=()), rule_set("ontario_332_12")), "code.reinforced") is Verdict.SHORT


def test_bond_or_slip_depends_on_the_set(a_cap):
    bonded = a_cap(base="bonded")
    assert verdict(check_cap(bonded, rule_set("michigan_2015")), "code.wall_break") is Verdict.SHORT
    assert verdict(check_cap(bonded, rule_set("bia_tn36a")), "code.anchored") is Verdict.OK
    assert "code.wall_break" not in {one.key for one in check_cap(bonded, US)}


def test_a_local_rule_goes_before_the_set(a_cap):
    strict = US.with_local(local_rule("overhang", 4 * INCH))
    found = the(check_overhang(a_cap(), strict), "code.overhang.AB")
    assert found.at_least == 4 * INCH
    assert found.cite.standing == "entered"
    with pytest.raises(KeyError, match="no cap rule 'overhung'"):
        local_rule("overhung", 1.0)


def test_a_waiver_without_a_name_or_a_reason_waives_nothing(a_cap):
    bare = flue(a_cap, joint_width=0.0)
    for waiver in (Waiver("", "no room"), Waiver("the mason", " ")):
        cap = a_cap(flues=bare, choices=CapChoices(joint_waived=waiver))
        assert verdict(check_joint(cap, US), "code.joint_break.F1") is Verdict.SHORT


def test_a_cap_without_a_drip_is_short_and_says_nothing_of_the_groove(a_cap):
    keys = {one.key: one.verdict for one in check_cap(a_cap(drip=None), US)}
    assert keys["code.drip"] is Verdict.SHORT
    assert "code.drip_from_wall" not in keys
