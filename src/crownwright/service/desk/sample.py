"""The sample job, for a book that is still empty: an invented chimney, read in full."""

from __future__ import annotations

from importlib import resources

from crownwright.quantity.problems import Problem
from crownwright.service.desk.begin_job import begin_from_text
from crownwright.service.desk.list_jobs import list_jobs
from crownwright.service.desk.model import By, JobRow
from crownwright.service.desk.open_desk import Desk

SAMPLE = "sample"


def lay_in_sample(desk: Desk, by: By) -> JobRow | None:
    """Put the sample job into an empty book; None where there are jobs, or were: one taken out does not come back."""
    if any(list_jobs(desk, deleted=deleted, most=1).count for deleted in (False, True)):
        return None
    text = resources.files("crownwright.service").joinpath("demo.toml").read_text(encoding="utf-8")
    row = begin_from_text(desk, by, SAMPLE, text, "begun as a sample, to look at")
    return None if isinstance(row, Problem) else row
