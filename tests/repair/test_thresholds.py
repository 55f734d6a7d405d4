"""Thresholds of what is found, moved by the local authority; findings that somebody decided to go on without."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.repair.stacks import record, seen

from crownwright.plan.plan_job import plan_job
from crownwright.quantity.findings import Verdict
from crownwright.quantity.units import INCH
from crownwright.repair.condition import judge
from crownwright.repair.thresholds import thresholds
from crownwright.service.jobfile.reading import parse_job
from crownwright.service.jobfile.rules_file import parse_rules, with_rules
from crownwright.service.jobfile.writing import write_job

EXAMPLE = (Path(__file__).parents[2] / "examples" / "repair-first.toml").read_text("utf-8")
CRACK = '{ rule = "repair.masonry crack", says = "the town looks at any crack", document = "bylaw 7.1", at_least = "1/16 in." }'
TOGETHER = '{ rule = "repair.masonry cracks together", says = "all of them", document = "bylaw 7.2", at_least = "1/2 in." }'


def rules(*lines):
    found, problems = parse_rules(f"rules = [{', '.join(lines)}]")
    assert problems == ()
    return found


def test_a_crack_that_the_guides_let_pass_is_the_inspectors_by_the_towns_rule():
    crack = record(seen("masonry crack", face="AB", measure=1 / 16))
    (usual,), (own,) = judge(crack).judged, judge(crack, rules(CRACK)).judged
    assert (usual.grade.name, usual.finding.blocks) == ("narrow", False)
    assert (own.grade.name, own.finding.blocks) == ("wide", True)
    assert own.finding.cite.clause == "bylaw 7.1"
    assert own.finding.at_most == pytest.approx(INCH / 16)
    assert "the town looks at any crack" in own.finding.rule
    assert "in place of 1/8 in. (3 mm)" in own.finding.rule, "what it replaces stands beside it"


def test_a_finding_with_no_rule_of_its_own_is_judged_as_before():
    joints = record(seen("open joints", face="AB", measure=0.5))
    assert judge(joints, rules(CRACK)).judged[0].finding == judge(joints).judged[0].finding


def test_small_cracks_together_by_the_towns_sum():
    two = record(seen("masonry crack", face="AB", measure=0.12), seen("masonry crack", face="AB", measure=0.13))
    usual, own = (
        next(one for one in judge(two, laid).findings if one.key == "repair.cracks.AB") for laid in ((), rules(TOGETHER))
    )
    assert (usual.verdict, usual.at_most) == (Verdict.SHORT, pytest.approx(0.25 * INCH))
    assert (own.verdict, own.at_most, own.cite.clause) == (Verdict.OK, pytest.approx(0.5 * INCH), "bylaw 7.2")


def test_every_threshold_can_be_moved_and_says_whose_it_was():
    assert len(thresholds()) == 16
    for name, one in thresholds().items():
        assert one.begins > 0
        assert parse_rules(f'rules = [{{ rule = "{name}", says = "s", document = "d", at_least = "{one.begins * 1000} mm" }}]')[0]


@pytest.mark.parametrize(
    ("line", "where", "what"),
    [
        (CRACK.replace("masonry crack", "masonry crak"), "rules[1].rule", "Did you mean “repair.masonry crack”?"),
        (CRACK.replace("at_least", "at_most"), "rules[1].at_most", "from which measure on"),
        (CRACK.replace('at_least = "1/16 in."', "asks = true"), "rules[1].asks", "from which measure on"),
        (CRACK.replace(', at_least = "1/16 in."', ""), "rules[1]", "asks for nothing"),
        (CRACK.replace("1/16 in.", "-1 in."), "rules[1].at_least", "more than nothing"),
        (CRACK.replace("1/16 in.", "wide"), "rules[1].at_least", "wide"),
        (
            CRACK.replace("masonry crack", "open joints.deep").replace("1/16", "1/8"),
            "rules[1].at_least",
            "“deep” would begin at 1/8 in.",
        ),
    ],
)
def test_what_is_wrong_with_such_a_rule_is_said(line, where, what):
    found, problems = parse_rules(f"rules = [{line}]")
    assert found == ()
    assert any(where in one.where and what in f"{one.what}. {one.remedy}" for one in problems), problems


def test_a_job_with_such_rules_is_planned_and_written_so_that_it_reads_back_the_same():
    job, problems = parse_job(EXAMPLE)
    assert not problems
    laid = with_rules(job, rules(CRACK))
    again, problems = parse_job(write_job(laid))
    assert not problems
    assert again.rules == laid.rules
    assert plan_job(again, cut_list=False).repair.blocks, "the town keeps a cap from being cast over this crack"
    assert not plan_job(job, cut_list=False).repair.blocks


def test_a_waiver_reaches_findings_of_flashing_and_order_and_one_of_nothing_found_is_told():
    lines = """waived = [
  { what = "widest crack a repellent may go over", by = "the owner", reason = "it is sealed in spring" },
  { what = "eflorescence", by = "the mason", reason = "seen" },
]
"""
    typed = EXAMPLE.replace("[repair]\n", f"[repair]\n{lines}", 1)
    job, problems = parse_job(typed)
    assert not problems
    plan = plan_job(job, cut_list=False)
    waived = [one for one in plan.findings if one.key == "repair.repellent.crack"]
    assert [(one.verdict, one.waiver.by) for one in waived] == [(Verdict.WAIVED, "the owner")]
    told = [one for one in plan.problems if "waived" in one.where]
    assert any("eflorescence" in one.what and "efflorescence" in one.remedy for one in told)
