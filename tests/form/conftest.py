"""Surveys and caps from the example jobs, and from invented tops of any number of corners."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from crownwright.cap.choices import CapChoices
from crownwright.cap.design import design_cap
from crownwright.cap.model import CapDesign
from crownwright.quantity.lengths import parse_length
from crownwright.service.jobfile.reading import read_job
from crownwright.survey.adjust import adjust
from crownwright.survey.model import Survey
from crownwright.survey.readings import AtCorner, Drop, Flue, Length, Readings, Tape

EXAMPLES = Path(__file__).parents[2] / "examples"
Top = tuple[Survey, CapDesign]


@cache
def from_example(name: str) -> Top:
    job, problems = read_job(EXAMPLES / f"{name}.toml")
    assert job is not None, problems
    survey, troubles = adjust(job.readings)
    assert survey is not None, troubles
    return survey, design_cap(survey, job.cap)


@pytest.fixture
def an_example() -> Callable[[str], Top]:
    """Survey and cap of an example job."""
    return from_example


def inches(value: float) -> Length:
    read = parse_length(f"{value:.3f} in", "in")
    return Length(getattr(read, "metres"), getattr(read, "typed"))  # noqa: B009 - a Reading, never a Problem here


@pytest.fixture
def a_polygon() -> Callable[..., Top]:
    """Survey and cap of a stone with these corners (inches), every tape read exactly, one small flue in the middle."""

    def make(*corners: tuple[float, float], flue: float = 8.5) -> Top:
        at, names = np.array(corners, dtype=float), "ABCDEFGH"[: len(corners)]
        middle = at.mean(0)
        box = middle + flue / 2 * np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)])
        named = {**dict(zip(names, at, strict=True)), **{f"F1{c}": p for c, p in zip("abcd", box, strict=True)}}
        pairs = [(a, b) for i, a in enumerate(names) for b in names[i + 1 :]]
        pairs += [(names[k % len(names)], f"F1{c}") for k in range(len(names)) for c in "abcd"]
        tapes = tuple(Tape(a, b, inches(float(np.linalg.norm(named[a] - named[b])))) for a, b in pairs)
        drops = tuple(Drop(AtCorner(c), inches(2.0)) for c in names)
        one = Flue("F1", "rectangular", (inches(flue), inches(flue)), inches(9.0))
        survey, troubles = adjust(Readings(tuple(names), "brick", tapes, (), drops, (one,)))
        assert survey is not None, troubles
        return survey, design_cap(survey, CapChoices())

    return make
