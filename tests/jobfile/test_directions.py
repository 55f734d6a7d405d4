"""Which way side AB looks, and which side looks to the ridge."""

from __future__ import annotations

from math import radians

import pytest

from crownwright.service.jobfile import parse_job

BEFORE = 'title = "x"\n[quick]\nlength = "48"\nwidth = "36"\nmasonry = "brick"\n'


@pytest.mark.parametrize(
    ("line", "what"),
    [
        ('ab_faces = "SWW"', "no point of the compass"),
        ('ab_faces = "400 deg"', "no point of the compass"),
        ('ridge_side = "BA"', "Sides: AB, BC, CD, DA"),
    ],
)
def test_a_direction_that_is_none_is_told(line: str, what: str) -> None:
    _, problems = parse_job(f"{BEFORE}[surroundings]\n{line}\n")
    assert [problem for problem in problems if what in f"{problem.what}. {problem.remedy}"], problems


def test_compass_and_degrees_are_one() -> None:
    for typed in ("SW", "sw", "225 deg"):
        job, problems = parse_job(f'{BEFORE}[surroundings]\nab_faces = "{typed}"\n')
        assert job is not None, problems
        assert job.surroundings.ab_faces == pytest.approx(radians(225))
