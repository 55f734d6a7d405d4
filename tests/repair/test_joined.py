"""The repair in the plan, in the job file, in words, on paper."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from tests.repair.stacks import EXAMPLES, job, looked, plan, record, seen, with_example

from crownwright.cli.main import run
from crownwright.plan.plan_job import plan_job
from crownwright.repair.defects import defects
from crownwright.service.jobfile import parse_job, write_job
from crownwright.service.plan_a_job import plan_a_job
from crownwright.service.repair_a_job import tell_repair
from crownwright.sheets.drawings.stackfaces import stack_faces
from crownwright.sheets.papers.repair import repair_scope

TEXT = (EXAMPLES / "repair-first.toml").read_text("utf-8")


def test_a_job_without_a_repair_has_none():
    assert plan("brick-one-flue").repair is None
    assert tell_repair(plan("brick-one-flue")) is None


def test_it_changes_nothing_of_the_cap():
    bare = plan_job(replace(job(), repair=None), cut_list=False)
    assert bare.concrete.count == plan().concrete.count
    own = [figure for figure in plan().figures if not figure.key.startswith("repair.")]
    assert [figure.key for figure in own] == [figure.key for figure in bare.figures]


def test_findings_and_figures_reach_the_plan():
    keys = {figure.key for figure in plan().figures}
    assert {figure.key for figure in plan().repair.figures} <= keys
    assert set(plan().repair.findings) <= set(plan().findings)


def test_what_blocks_keeps_the_plan_from_being_built():
    bad = replace(job(), repair=record(seen("bulge", face="AB", measure=1.0)))
    summary = plan_a_job(bad, cut_list=False).summary
    assert not summary.ready
    assert any("engineer" in line for line in summary.stops)


def test_the_job_file_says_it_again():
    written = write_job(job())
    again, problems = parse_job(written)
    assert problems == ()
    assert again == job()


def test_faults_of_the_record_have_their_line():
    text = TEXT.replace('face = "AB", course = 5, to_course = 12', 'face = "AX", course = 5, to_course = 12')
    parsed, problems = parse_job(text)
    assert problems == ()
    told = plan_a_job(parsed, text, cut_list=False).plan.problems
    line = next(i for i, row in enumerate(text.splitlines(), 1) if '"AX"' in row)
    assert [problem.where for problem in told] == [f"line {line}, repair.seen[4].face"]


def test_faults_of_the_file_are_told_together():
    text = (
        TEXT.replace('what = "no drip"', "wat = 1")
        .replace("course = 1, to_course = 4", 'course = "one"')
        .replace("days = 7", 'days = "x"')
    )
    parsed, problems = parse_job(text)
    assert parsed is None
    assert len(problems) >= 4
    assert all(problem.where.startswith("line ") for problem in problems)


def test_it_is_told_in_words():
    told = tell_repair(plan())
    assert told.ready
    assert len(told.found) == len(plan().repair.condition.judged)
    assert any(line.head == "Rebuild" and "4 courses" in line.says for line in told.work)
    assert "level 1" in told.inspection
    for word in ("safe", "Safe"):
        assert word not in str(told)


def test_the_command(capsys):
    assert run(["repair", str(EXAMPLES / "repair-first.toml")]) == 0
    shown = capsys.readouterr().out
    assert "Before the cap is cast" in shown
    assert run(["repair", str(EXAMPLES / "repair-first.toml"), "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert said["repair"]["rebuild"]["courses"] == 4
    assert run(["repair", str(EXAMPLES / "brick-one-flue.toml")]) == 2
    assert "docs/repair.md" in capsys.readouterr().err


def test_the_names_of_findings(capsys):
    assert run(["repair", str(EXAMPLES / "repair-first.toml"), "--findings"]) == 0
    shown = capsys.readouterr().out
    assert all(name in shown for name in defects())


def test_a_blocked_flue_is_no_done_job(tmp_path, capsys):
    text = TEXT.replace('{ what = "sound", flue = "F2" }', '{ what = "blocked flue", flue = "F2" }')
    (tmp_path / "job.toml").write_text(text, "utf-8")
    assert run(["repair", str(tmp_path / "job.toml")]) == 1
    assert "Keeps a cap from being cast" in capsys.readouterr().out


@pytest.mark.parametrize("name", ["repair-first", "stone-two-flues"])
def test_the_drawing_shows_every_finding_once(name):
    known = [
        seen("no cap"), seen("open joints", face="AB", course=1, to_course=3, measure=0.5), seen("lean", measure=1.0, over=40.0),
        seen("loose units", face="CD", course=1, along=10.0), seen("short flue", flue="F1"), seen("lifted flashing"),
    ]  # fmt: skip
    made = plan_job(replace(job(name), repair=record(*known)), cut_list=False)
    drawing = stack_faces(made)
    balloons = [shape.text for shape in drawing.shapes if getattr(shape, "kind", "") == "balloon"]
    assert balloons == [str(n) for n in range(1, len(known) + 1)]
    spots = [shape.at for shape in drawing.shapes if getattr(shape, "kind", "") == "balloon"]
    apart = 5.0 * drawing.scale / 1000
    assert all((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2 > apart**2 for i, a in enumerate(spots) for b in spots[:i]), (
        "two numbers lie on each other"
    )


def test_the_paper_has_every_finding_and_amount():
    paper = repair_scope(plan(), [stack_faces(plan())])
    content = paper.content
    assert [row["number"] for row in content["found"]] == [str(one.number) for one in plan().repair.condition.judged]
    assert len(content["buys"]) == len(plan().repair.materials)
    assert {row[2] for row in content["amounts"]} <= {figure.key for figure in plan().repair.figures}
    assert "safe" not in json.dumps(content).lower().replace("safety", "")


def test_a_waived_finding_stays_on_the_paper():
    from crownwright.repair.record import Waived

    made = with_example(
        waived=(Waived("efflorescence", "E. Marr", "leak found and mended last year"),), looked=looked(cap="by hand")
    )
    paper = repair_scope(plan_job(replace(job(), repair=made), cut_list=False))
    assert any("leak found" in row["waived"] for row in paper.content["found"])
