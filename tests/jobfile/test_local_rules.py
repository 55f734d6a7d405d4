"""Rules of the local authority: in the job or in a file, in place of the code set's, told with their document."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from crownwright.cli.codes import Code
from crownwright.cli.main import run
from crownwright.plan.plan_job import plan_job
from crownwright.quantity.findings import Verdict
from crownwright.quantity.units import INCH
from crownwright.service.jobfile import parse_job, write_job
from crownwright.service.jobfile.rules_file import parse_rules, read_rules, with_rules
from crownwright.sheets.papers.calculations import calculations
from crownwright.sources.bibliography import spell

ROOT = Path(__file__).resolve().parents[2]
TOWN = ROOT / "examples" / "rules" / "nether-combe.toml"
EXAMPLE = (ROOT / "examples" / "brick-one-flue.toml").read_text("utf-8")
LINE = '{ rule = "overhang", says = "four inches", document = "bylaw 12, 4.2", at_least = "4 in." }'


def job_with(*lines):
    return parse_job(EXAMPLE.replace("\n[", f"\nrules = [\n  {','.join(lines)},\n]\n[", 1))


def test_a_rule_in_the_job_takes_the_place_of_the_set_s_and_its_document_is_cited():
    job, problems = job_with(LINE)
    assert problems == ()
    assert [rule.at_least for rule in job.rule_set().all("overhang")] == [4 * INCH]
    found = {one.key: one for one in plan_job(job, cut_list=False).findings}
    side = found["code.overhang.AB"]
    assert side.at_least == 4 * INCH
    assert "four inches" in side.rule
    assert spell(side.cite) == "Local rule, as entered for this job, bylaw 12, 4.2"
    assert "astm_c1283" in {part.key.rsplit(".", 1)[1] for part in side.parts}, "what the set asks is shown beside it"


def test_the_checks_sheet_shows_it_with_its_document():
    job, _ = job_with(LINE)
    rows = calculations(plan_job(job, cut_list=False)).content["areas"]
    assert any("bylaw 12, 4.2" in str(row) and "four inches" in str(row) for row in rows)


def test_a_job_with_rules_is_written_so_that_it_reads_back_the_same():
    slope = '{ rule = "slope", says = "one in three", document = "bylaw 12, 4.3", at_least = "4 in 12", at_most = "20 deg" }'
    asks = '{ rule = "wall_break", says = "no slip", document = "bylaw 12, 4.4", asks = false }'
    job, _ = job_with(LINE, slope, asks)
    assert len(job.rules) == 3
    assert parse_job(write_job(job)) == (job, ())


def test_a_file_of_rules_lies_under_the_job_s_own():
    rules, problems = read_rules(TOWN)
    assert problems == ()
    assert {rule.name for rule in rules} == {"overhang", "liner_proud", "anchored"}
    bare, _ = parse_job(EXAMPLE)
    laid = with_rules(bare, rules)
    assert laid.rule_set().limits("liner_proud") == pytest.approx((4 * INCH, 8 * INCH))
    own, _ = job_with(LINE)
    assert [rule.says for rule in with_rules(own, rules).rules if rule.name == "overhang"] == ["four inches"]
    limit = replace(bare, overrides=(("overhang", 0.2),))
    assert with_rules(limit, rules).rule_set().limits("overhang") == (0.2, None)


def test_a_yes_or_no_rule_turns_a_verdict():
    """The model set asks for nothing between cap and wall; the town forbids the slip sheet that the cap lies on."""
    forbids = '{ rule = "wall_break", says = "no slip", document = "bylaw 12, 4.4", asks = false }'
    job, _ = job_with(forbids)
    found = next(one for one in plan_job(job, cut_list=False).findings if one.key == "code.wall_break")
    assert found.verdict is Verdict.SHORT


@pytest.mark.parametrize(
    ("line", "where", "says"),
    [
        (LINE.replace("overhang", "overhung"), "rules[1].rule", "Did you mean “overhang”?"),
        (LINE.replace(', at_least = "4 in."', ""), "rules[1]", "asks for nothing"),
        (LINE.replace('"4 in."', '"4 lb"'), "rules[1].at_least", "is not a number"),
        (LINE.replace('at_least = "4 in."', "asks = true"), "rules[1].asks", "is measured"),
        (LINE.replace("overhang", "drip"), "rules[1].at_least", "without a number"),
        (LINE.replace('at_least = "4 in."', 'at_least = "4 in.", at_most = "3 in."'), "rules[1].at_most", "less than the least"),
        (LINE.replace('document = "bylaw 12, 4.2", ', ""), "rules[1].document", "is missing"),
    ],
)
def test_what_is_wrong_with_a_rule_is_told_in_job_and_file_alike(line, where, says):
    job, problems = job_with(line)
    assert job is None
    assert any(one.where.endswith(where) and says in str(one) for one in problems), problems
    rules, problems = parse_rules(f"rules = [\n  {line},\n]")
    assert rules == ()
    assert any(one.where.endswith(where) and says in str(one) for one in problems), problems


def test_the_command_takes_the_file(capsys):
    args = ["plan", str(ROOT / "examples" / "brick-one-flue.toml"), "--no-files"]
    run([*args, "--rules", str(TOWN)])
    assert "four inches all round" in " ".join(capsys.readouterr().out.split())
    assert run([*args, "--rules", str(ROOT / "examples" / "metric.toml")]) == Code.BAD_JOB
    assert "metric.toml" in capsys.readouterr().err
