"""Plans of the example jobs, made once."""

import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest

from crownwright.plan.model import Plan
from crownwright.plan.plan_job import plan_job
from crownwright.service.jobfile import read_job
from crownwright.sheets.draw.shapes import Drawing
from crownwright.sheets.everything import drawings_of, papers_of
from crownwright.sheets.papers.press import Paper

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
# a job has a title; the other examples are weather, prices and the like
NAMES = sorted(file.stem for file in EXAMPLES.glob("*.toml") if "title" in tomllib.loads(file.read_text("utf-8")))


@cache
def plan_of(name: str) -> Plan:
    job, problems = read_job(EXAMPLES / f"{name}.toml")
    assert job is not None, problems
    return plan_job(job)


@pytest.fixture(scope="session")
def demo() -> Plan:
    """A full stone chimney with two flues."""
    return plan_of("stone-two-flues")


@dataclass(frozen=True)
class Example:
    """An example job's plan with all that is drawn and printed of it."""

    plan: Plan
    drawings: tuple[Drawing, ...]
    papers: tuple[Paper, ...]


@cache
def example_of(name: str) -> Example:
    plan = plan_of(name)
    drawings = drawings_of(plan)
    return Example(plan, drawings, papers_of(plan, drawings))


@pytest.fixture(scope="session", params=NAMES)
def example(request: pytest.FixtureRequest) -> Example:
    """Each example in turn."""
    return example_of(request.param)
