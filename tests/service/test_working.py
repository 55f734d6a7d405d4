"""Every number that a paper or ``--json`` shows opens to formula, inputs and source; every source named is in the bibliography.

A figure added without its working fails here, by its key.
"""

import json
import tomllib
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

import pytest

from crownwright.plan.model import Plan
from crownwright.quantity.display import EXTRAPOLATED, show_figure
from crownwright.quantity.findings import Finding
from crownwright.quantity.problems import Problem
from crownwright.quantity.working import Cite, Figure, Term
from crownwright.service.days_to_pour import days_to_pour
from crownwright.service.jobfile import read_job
from crownwright.service.plain import plain
from crownwright.service.plan_a_job import plan_a_job
from crownwright.service.weather_for import read_weather
from crownwright.sheets.everything import papers_of
from crownwright.sources.bibliography import entries, spell

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
NAMES = sorted(file.stem for file in EXAMPLES.glob("*.toml") if "title" in tomllib.loads(file.read_text("utf-8")))


@cache
def plan_of(name: str) -> Plan:
    job, problems = read_job(EXAMPLES / f"{name}.toml")
    assert job is not None, problems
    return plan_a_job(job).plan


def faults(figure: Figure) -> Iterator[str]:
    """What a figure lacks of its working."""
    if not figure.label or not figure.formula:
        yield f"{figure.key}: no label or no formula"
    if not figure.inputs:
        yield f"{figure.key}: no inputs"
    yield from (f"{figure.key}: an input without a name" for term in figure.inputs if not term.name)
    if figure.extrapolated and not figure.holds:
        yield f"{figure.key}: outside a range that it does not name"


def cites(figure: Figure) -> Iterator[Cite]:
    yield figure.cite
    yield from (term.cite for term in figure.inputs if term.cite is not None)


def findings_within(findings: tuple[Finding, ...]) -> Iterator[Finding]:
    for finding in findings:
        yield finding
        yield from findings_within(finding.parts)


@pytest.mark.parametrize("name", NAMES)
def test_every_figure_of_a_plan_carries_its_whole_working(name):
    figures = plan_of(name).figures
    assert len(figures) > 100
    assert [fault for figure in figures for fault in faults(figure)] == []
    assert len({figure.key for figure in figures}) == len(figures)  # or explain would show another than the one on the paper


@pytest.mark.parametrize("name", NAMES)
def test_every_source_named_is_in_the_bibliography(name):
    plan = plan_of(name)
    named = {cite for figure in plan.figures for cite in cites(figure)}
    named |= {finding.cite for finding in findings_within(plan.findings)}
    assert {cite.document for cite in named} - set(entries()) == set()
    assert all(spell(cite) for cite in named)


@pytest.mark.parametrize("name", NAMES)
def test_every_answer_on_the_summary_names_figures_that_open(name):
    plan = plan_of(name)
    known = {figure.key for figure in plan.figures}
    paper = next(one for one in papers_of(plan, ()) if one.name == "summary")
    assert all(answer["keys"] for answer in paper.content["answers"])
    assert {key for answer in paper.content["answers"] for key in answer["keys"]} - known == set()


@pytest.mark.parametrize("name", NAMES)
def test_the_calculation_sheet_holds_every_figure_with_source_and_range(name):
    plan = plan_of(name)
    paper = next(one for one in papers_of(plan, ()) if one.name == "calculations")
    families = [family for group in paper.content["groups"] for family in group["families"]]
    rows = {row["key"]: {**family, **row} for family in families for row in family["members"]}
    assert set(rows) == {figure.key for figure in plan.figures}
    assert all(row["formula"] and row["inputs"] and row["source"] for row in rows.values())
    assert {key for key, row in rows.items() if row["extrapolated"]} == {f.key for f in plan.figures if f.extrapolated}


def test_json_gives_every_figure_with_its_working():
    rows = json.loads(json.dumps(plain(plan_of(NAMES[0]).figures)))
    wanted: set[str] = {"key", "label", "value", "unit", "formula", "inputs", "cite", "holds", "extrapolated", "spread"}
    assert all(wanted <= set(row) and row["inputs"] and row["cite"]["document"] in entries() for row in rows)


def test_the_days_figures_carry_their_working():
    plan = plan_of("stone-two-flues")
    data = (EXAMPLES / "weather" / "ten-days.toml").read_bytes()
    hours, problems = read_weather(data, "ten-days.toml", plan.job, "America/New_York", datetime(2026, 5, 11, tzinfo=UTC))
    assert hours is not None, problems
    told = days_to_pour(plan, hours, seed=None)
    assert not isinstance(told, Problem)
    days = told.days
    assert [fault for figure in days.figures for fault in faults(figure)] == []
    assert len({figure.key for figure in days.figures}) == len(days.figures)
    assert len({finding.key for finding in days.findings}) == len(days.findings)
    strip = next(one for one in days.matters if one.key == "concrete.strip.earliest")
    assert sum(pull.share for pull in strip.pulls) == pytest.approx(1.0)
    assert 0 < strip.value < days.strip.earliest  # as it will likely be, before what is sure
    named = {cite for figure in days.figures for cite in cites(figure)} | {f.cite for f in findings_within(days.findings)}
    assert {cite.document for cite in named} - set(entries()) == set()


@pytest.mark.parametrize(
    ("bare", "says"),
    [
        (Figure("a.b", "a", 1.0, "m", "", (Term("x", "x", 1.0),)), "no formula"),
        (Figure("a.b", "a", 1.0, "m", "x"), "no inputs"),
        (Figure("a.b", "a", 1.0, "m", "x", (Term("x", "x", 1.0),), extrapolated=True), "range"),
    ],
)
def test_a_figure_without_working_is_caught(bare, says):
    assert any(says in fault for fault in faults(bare))


def test_a_figure_outside_its_range_says_so_wherever_it_is_shown():
    plan = plan_of("stone-two-flues")
    outside = [figure for figure in plan.figures if figure.extrapolated]
    assert outside
    assert all(show_figure(figure, "us").endswith(EXTRAPOLATED) for figure in outside)
    assert not any(EXTRAPOLATED in show_figure(figure, "us") for figure in plan.figures if not figure.extrapolated)
    told = replace(plan, figures=tuple(replace(f, extrapolated=f.key == "cap.fall", holds="x") for f in plan.figures))
    answers = next(one for one in papers_of(told, ()) if one.name == "summary").content["answers"]
    assert [EXTRAPOLATED in answer["note"] for answer in answers] == ["cap.fall" in answer["keys"] for answer in answers]


def test_the_summary_and_json_say_which_input_matters_most():
    plan = plan_of("stone-two-flues")
    assert {one.key for one in plan.matters} == {"concrete.bags", "concrete.weight", "checks.clamp.dry"}
    assert all(sum(pull.share for pull in one.pulls) == pytest.approx(1.0) for one in plan.matters)  # shares of one variance
    told = next(one for one in papers_of(plan, ()) if one.name == "summary").content["matters"]
    assert [line.split(":")[0].lower() for line in told] == [one.label for one in plan.matters]
