"""Bags are sold by the kilogram where lengths are read in millimetres."""

from __future__ import annotations

from dataclasses import replace

import pytest

from crownwright.concrete.choices import METRIC, ConcreteChoices
from crownwright.plan.job import Job
from crownwright.service.jobfile import parse_job, write_job

HEAD = """
title = "Ness Row"
units = "{units}"
[quick]
length = "1.2 m"
width = "1.0 m"
masonry = "brick"
"""


def read(text: str) -> Job:
    job, problems = parse_job(text)
    assert job is not None, problems
    return job


@pytest.mark.parametrize(("units", "bag"), [("us", "80 lb"), ("metric", "25 kg")])
def test_a_job_that_says_nothing_takes_the_bag_of_its_units(units: str, bag: str) -> None:
    job = read(HEAD.format(units=units))
    assert (job.concrete.bag, job.concrete.mortar_bag) == (bag, bag)
    assert "[concrete]" not in write_job(job)


def test_what_is_told_of_the_concrete_leaves_the_rest_as_usual() -> None:
    job = read(HEAD.format(units="metric") + "[concrete]\nrisk = 0.05\n")
    assert job.concrete == replace(METRIC, risk=0.05)


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize("concrete", [ConcreteChoices(), METRIC, replace(METRIC, bag="20 kg")])
def test_any_bag_reads_back_in_any_job(units: str, concrete: ConcreteChoices) -> None:
    job = replace(read(HEAD.format(units=units)), concrete=concrete)
    assert read(write_job(job)).concrete == concrete
