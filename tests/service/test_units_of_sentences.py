"""What a plan says in sentences is in the units of its job: never inches and millimetres side by side."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from crownwright.cure.rules import RULES as OF_THE_HOURS
from crownwright.plan.job import Units
from crownwright.quantity.both import in_one
from crownwright.service.open_job import open_text
from crownwright.service.plan_a_job import plan_a_job
from crownwright.survey.readings import Readings
from crownwright.web.pages.rules import verdicts

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@pytest.mark.parametrize(
    ("name", "other"), [("metric", r"\d (in\. \(|(ft|lb|lbf|psf|psi)\b)"), ("short-flue", r"\d (mm|kg|kPa)\b")]
)
def test_sentences_keep_to_one_system(name: str, other: str) -> None:
    opened = open_text((EXAMPLES / f"{name}.toml").read_text("utf-8"), name)
    assert opened.job is not None
    plan = plan_a_job(opened.job, opened.text, cut_list=False).plan
    assert plan.form is not None
    said = [*(text for f in plan.findings for text in (f.rule, f.subject, f.action)), *(step.tell for step in plan.form.steps)]
    assert [text for text in said if re.search(other, text)] == []


@pytest.mark.parametrize(("units", "other"), [("us", r"\d (°C|m/s|MPa)\b"), ("metric", r"\d (F|°F|mph|psi)\b")])
def test_why_an_hour_is_refused_keeps_to_one_system(units: Units, other: str) -> None:
    says = [in_one(rule.says, units) for rule in OF_THE_HOURS.values()]
    assert [text for text in says if re.search(other, text)] == []
    assert in_one(OF_THE_HOURS["mix_low"].says, units) == f"concrete not under {'55 °F' if units == 'us' else '13 °C'} as placed"


@pytest.mark.parametrize(("typed", "says"), [("one-inch-slip", "a one-inch slip"), ("metric", "a slip of some centimetres")])
def test_a_slip_that_could_hide_is_told_in_marks_of_the_mason_s_own_tape(typed: str, says: str) -> None:
    opened = open_text((EXAMPLES / f"{typed}.toml").read_text("utf-8"), typed)
    assert opened.job is not None
    readings = opened.job.readings
    assert isinstance(readings, Readings)
    few = replace(opened.job, readings=replace(readings, tapes=readings.tapes[:-1]))
    survey = plan_a_job(few, "", cut_list=False).plan.survey
    assert survey is not None
    told = [one.gains for one in survey.next_readings if "could still hide" in one.gains]
    assert told
    assert all(text.startswith(says) for text in told)


def test_rules_are_counted_alike_wherever_they_are_counted() -> None:
    opened = open_text((EXAMPLES / "repair-first.toml").read_text("utf-8"), "repair-first")
    assert opened.job is not None
    planned = plan_a_job(opened.job, opened.text, cut_list=False)
    counts = {shown.verdict: shown.count for shown in verdicts(planned.plan)}
    assert (planned.summary.short_of, planned.summary.untold) == (counts["short"], counts["cannot tell"])
