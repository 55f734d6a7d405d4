"""From the doorstep the likely cap is planned, and its volume is no surer than what is still undecided."""

from __future__ import annotations

from dataclasses import replace
from math import hypot
from pathlib import Path

import pytest

from crownwright.cap.choices import CapChoices
from crownwright.cap.design import design_cap
from crownwright.cap.doorstep import LIKELY, UNDECIDED, likely
from crownwright.service.open_job import open_text
from crownwright.survey.adjust import adjust
from crownwright.survey.model import Survey

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def quick() -> Survey:
    job = open_text((EXAMPLES / "doorstep.toml").read_text("utf-8"), "doorstep.toml").job
    assert job is not None
    survey, problems = adjust(job.readings)
    assert survey is not None, problems
    return survey


def test_the_same_top_read_in_full_would_be_planned_surer(quick: Survey) -> None:
    near, full = design_cap(quick, CapChoices()), design_cap(replace(quick, quick=False), CapChoices())
    assert near.volume.all.mean < full.volume.all.mean
    assert near.volume.all.sd / near.volume.all.mean > full.volume.all.sd / full.volume.all.mean


def test_what_is_undecided_adds_in_squares_and_is_told(quick: Survey) -> None:
    cap = design_cap(quick, CapChoices())
    spread = next(figure for figure in cap.figures if figure.key == "cap.volume.spread")
    told = {term.symbol: term.value for term in spread.inputs}
    assert told["undecided"] == pytest.approx(UNDECIDED * cap.volume.all.mean)
    by_cause = hypot(*(told[k] for k in ("top", "face", "flues", "undecided")))
    assert cap.volume.all.sd == pytest.approx(by_cause, rel=0.05)  # corners and flues share readings


def test_a_mason_who_asks_for_less_certainty_gets_it() -> None:
    assert likely(CapChoices()).sure == LIKELY
    assert likely(replace(CapChoices(), sure=0.6)).sure == 0.6
