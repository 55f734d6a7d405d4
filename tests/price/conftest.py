"""The demo's plan, planned once; prices with round numbers; no deadline for a busy machine."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import pytest
from hypothesis import settings

from crownwright.plan.model import Plan
from crownwright.plan.plan_job import plan_job
from crownwright.price.deal import Reason
from crownwright.price.pricebook import Prices
from crownwright.price.rows import example_book
from crownwright.service.open_job import open_demo

settings.register_profile("price", deadline=None, derandomize=True)
settings.load_profile("price")  # read where a test is decorated, so it must come before the tests are imported


@pytest.fixture(scope="session")
def plan() -> Plan:
    job = open_demo().job
    assert job is not None
    return plan_job(job)


@pytest.fixture
def prices() -> Prices:
    return example_book().on(date(2026, 5, 3))


@pytest.fixture
def reasons() -> Sequence[Reason]:
    return (
        Reason("people.*", "done on the day, on the day's checklist", "E. Marr"),
        Reason("price.examples", "a test", "E. Marr"),
    )
