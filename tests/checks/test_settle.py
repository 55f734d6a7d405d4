"""One finding where two say the same, and findings as a tree: nothing is lost, the gravest shows, keys are unique."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crownwright.checks.nest import nested
from crownwright.checks.settle import SAME, gravest, settled
from crownwright.plan.plan_job import plan_job
from crownwright.plan.recheck import exchanged
from crownwright.quantity.findings import Finding, Verdict, compare
from crownwright.quantity.working import DERIVED, PRACTICE, Cite
from crownwright.service.jobfile import read_job
from crownwright.sheets.papers.say import finding_areas, finding_row

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
NAMES = sorted(file.stem for file in EXAMPLES.glob("*.toml") if "title" in tomllib.loads(file.read_text("utf-8")))
CODE = Cite("astm_c1283", "8.2")


@cache
def findings_of(name):
    job, problems = read_job(EXAMPLES / f"{name}.toml")
    assert job is not None, problems
    return plan_job(job, cut_list=False).findings


def pair(mine, code, has=0.08):
    one = compare("cap.overhang.AB", "overhang", PRACTICE, "side AB", has, at_least=mine, unit="m")
    return one, compare("code.overhang.AB", "overhang", CODE, "side AB", has, at_least=code, unit="m")


def leaves(findings):
    """What was held against a rule, from the tree of areas."""
    for area in findings:
        for rule in area.parts:
            several = any(part.rule == rule.rule and part.cite == rule.cite for part in rule.parts)
            yield from rule.parts if several else (rule,)


def test_both_met_the_code_leads_and_practice_is_named_beside_it():
    (one,) = settled(pair(0.07, 0.05))
    assert one.key == "code.overhang.AB"
    assert [part.key for part in one.parts] == ["cap.overhang.AB"]
    assert finding_row(one, "us")["also"] == ["common practice, no source: at least 2 3/4 in., ok"]


@pytest.mark.parametrize(("mine", "code", "leads"), [(0.09, 0.05, "cap.overhang.AB"), (0.05, 0.09, "code.overhang.AB")])
def test_the_short_one_leads_and_the_other_verdict_shows(mine, code, leads):
    (one,) = settled(pair(mine, code))
    assert one.key == leads
    assert one.verdict is Verdict.SHORT
    assert [part.verdict for part in one.parts] == [Verdict.OK]


def test_the_same_source_and_limit_is_not_told_twice():
    mine, code = pair(0.05, 0.05)
    (one,) = settled((replace(mine, cite=CODE), code))
    assert one.parts == ()


def test_one_that_blocks_goes_on_blocking():
    mine, code = pair(0.09, 0.05)
    (one,) = settled((replace(mine, blocks=True), replace(code, verdict=Verdict.SHORT)))
    assert one.blocks


def test_what_has_no_twin_stays_where_it_was():
    alone = (Finding("cap.base", "base", PRACTICE, "base", Verdict.OK), pair(0.05, 0.05)[0])
    assert settled(alone) == alone


@pytest.mark.parametrize("name", NAMES)
def test_of_a_plan_every_key_is_its_own_and_no_pair_is_told_twice(name):
    keys = [one.key for one in findings_of(name)]
    assert len(set(keys)) == len(keys)
    assert not any(mine in keys and code in keys for mine, code in SAME.items())
    assert not any(f"{mine}.AB" in keys and f"{code}.AB" in keys for mine, code in SAME.items())
    assert any(part.key.startswith("cap.overhang.") for one in findings_of(name) for part in (one, *one.parts))


@pytest.mark.parametrize("name", NAMES)
def test_the_tree_holds_every_finding_once_and_a_parent_shows_the_gravest(name):
    findings = findings_of(name)
    tree = nested(findings)
    told = list(leaves(tree))
    assert sorted(one.key for one in told) == sorted(one.key for one in findings)
    assert set(told) == set(findings)
    for area in tree:
        assert area.verdict is gravest(area.parts)
        assert all(rule in findings or rule.verdict is gravest(rule.parts) for rule in area.parts)


def test_per_side_findings_stand_under_their_rule():
    tree = {area.key: area for area in nested(findings_of("brick-one-flue"))}
    spans = next(rule for rule in tree["area.form"].parts if rule.key == "form.span")
    assert [part.key for part in spans.parts] == [f"form.span.{side}" for side in ("AB", "BC", "CD", "DA")]
    assert {"area.stack", "area.cap", "area.form", "area.concrete", "area.people"} <= set(tree)
    assert "area.rest" not in tree


def test_papers_show_the_tree():
    areas = finding_areas(findings_of("brick-one-flue"), "us")
    rows = [row for area in areas for rule in area["rules"] for row in rule["rows"]]
    assert sorted(row["key"] for row in rows) == sorted(one.key for one in findings_of("brick-one-flue"))


# --- exchanging by key ---

KEYS = st.lists(st.sampled_from("abcdefgh"), unique=True)


def made(keys, verdict=Verdict.OK):
    return tuple(Finding(key, "", DERIVED, "", verdict) for key in keys)


def test_worked_out_again_they_change_in_place():
    now = made("xaby")
    assert exchanged(now, made("ab"), (*made("c"), *made("b", Verdict.SHORT))) == (
        *made("cx"),
        *made("b", Verdict.SHORT),
        *made("y"),
    )
    assert [one.key for one in exchanged(now, made("ab"), made("acb"))] == ["x", "a", "c", "b", "y"]


@given(KEYS, KEYS, KEYS)
def test_exchanged_is_what_was_there_less_the_old_with_the_new(others, old, new):
    now = made([*(key.upper() for key in others), *old])
    found = exchanged(now, made(old), made(new, Verdict.SHORT))
    assert {one.key for one in found} == {key.upper() for key in others} | set(new)
    assert all(one.verdict is (Verdict.SHORT if one.key in new else Verdict.OK) for one in found)
    assert len(found) == len({one.key for one in found})
    assert [one.key for one in found if one.key.isupper()] == [key.upper() for key in others]
