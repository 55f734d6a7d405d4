"""Plans of the example jobs, made once."""

from functools import cache
from pathlib import Path

import pytest

from crownwright.plan.model import Plan
from crownwright.plan.plan_job import plan_job
from crownwright.service.jobfile import read_job

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
NAMES = sorted(file.stem for file in EXAMPLES.glob("*.toml"))


@cache
def plan_of(name: str) -> Plan:
    job, problems = read_job(EXAMPLES / f"{name}.toml")
    assert job is not None, problems
    return plan_job(job)


@pytest.fixture(scope="session")
def demo() -> Plan:
    """A full stone chimney with two flues."""
    return plan_of("stone-two-flues")


@pytest.fixture(scope="session", params=NAMES)
def plan(request: pytest.FixtureRequest) -> Plan:
    """Each example in turn."""
    return plan_of(request.param)
