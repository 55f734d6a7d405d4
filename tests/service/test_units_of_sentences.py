"""What a plan says in sentences is in the units of its job: never inches and millimetres side by side."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from crownwright.service.open_job import open_text
from crownwright.service.plan_a_job import plan_a_job

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@pytest.mark.parametrize(("name", "other"), [("metric", r"\d in\. \("), ("short-flue", r"\d mm\b")])
def test_sentences_keep_to_one_system(name: str, other: str) -> None:
    opened = open_text((EXAMPLES / f"{name}.toml").read_text("utf-8"), name)
    assert opened.job is not None
    plan = plan_a_job(opened.job, opened.text, cut_list=False).plan
    assert plan.form is not None
    said = [*(text for f in plan.findings for text in (f.subject, f.action)), *(step.tell for step in plan.form.steps)]
    assert [text for text in said if re.search(other, text)] == []
