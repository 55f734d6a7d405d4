"""What matters most: against formulas whose derivatives are known."""

from __future__ import annotations

from math import hypot
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crownwright.checks.choices import StrapChoices
from crownwright.checks.clamp import Clamp
from crownwright.checks.sensitivity import clamp_sensitivity, sensitivity, weight_sensitivity
from crownwright.plan.plan_job import plan_job
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import INCH
from crownwright.service.open_job import open_text

SMALL = st.floats(0.001, 0.05)


@given(SMALL, SMALL, SMALL)
def test_a_product_adds_its_relative_errors_in_squares(a, b, c):
    inputs = {"x": Uncertain(3.0, 3.0 * a), "y": Uncertain(0.5, 0.5 * b), "z": Uncertain(7.0, 7.0 * c)}
    found = sensitivity("k", "product", "1", lambda at: at["x"] * at["y"] * at["z"], inputs)
    assert found.sd / found.value == pytest.approx(hypot(a, b, c), rel=1e-9)
    assert sum(one.share for one in found.pulls) == pytest.approx(1.0)
    assert [one.share for one in found.pulls] == sorted((one.share for one in found.pulls), reverse=True)


def test_nothing_uncertain_pulls_nothing():
    found = sensitivity("k", "sum", "1", lambda at: at["x"] + 1, {"x": Uncertain(1.0)})
    assert found.sd == 0.0
    assert found.pulls[0].share == 0.0


def test_friction_on_the_stone_matters_most_for_the_clamp():
    clamp = Clamp(656.0, 267.0, 656.0, 1, (6 * INCH,), 12 * INCH, 2 * INCH)
    found = clamp_sensitivity(clamp, StrapChoices())
    assert found.pulls[0].name in {"wood on stone", "pull at the ratchet"}
    assert {one.name for one in found.pulls if one.moves < 0} == {"strap on the blocks", "weight on the form"}


def test_the_weight_is_that_of_the_pour_and_its_spread_that_of_volume_and_air():
    example = Path(__file__).parents[2] / "examples" / "brick-one-flue.toml"
    job = open_text(example.read_text("utf-8"), example.name).job
    assert job is not None
    pour = plan_job(job, cut_list=False).concrete
    assert pour is not None
    found = weight_sensitivity(pour)
    assert found.value == pytest.approx(pour.weight.mean, rel=1e-12)
    assert found.sd == pytest.approx(pour.weight.sd, rel=1e-3)
