"""A plan that takes over parts of earlier plans is the plan made from nothing, whatever was changed between."""

from __future__ import annotations

from pathlib import Path

import pytest

from crownwright.plan.plan_job import plan_job
from crownwright.quantity.kept import Kept
from crownwright.service.desk.merge import merge
from crownwright.service.desk.model import Change
from crownwright.service.jobfile import write_values
from crownwright.service.jobfile.syntax import parse_toml
from crownwright.service.open_job import open_text

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
CHANGES = (
    ("cap.overhang_wanted", "4 1/4"),
    ("form.clearance", "5/16"),
    ("concrete.spill", "2 %"),
    ("checks.wood", "Spruce-Pine-Fir No. 2"),
    ("form.block_section", "4x4"),
    ("readings.drops[1].below", "3 1/8"),
    ("units", "metric"),
    ("units", "us"),
    ("cap.overhang_wanted", None),
)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_same_plan(path: Path) -> None:
    kept, text = Kept(), path.read_text("utf-8")
    for place, value in CHANGES:
        values = parse_toml(text, "job.toml").values
        merged = merge(values, values, (Change(place, value),), lambda _: True)
        if not merged.done:
            continue
        text = write_values(merged.values)
        job = open_text(text, "job.toml").job
        if job is not None:
            taken_over = plan_job(job, kept=kept)
            assert repr(taken_over) == repr(plan_job(job)), place
