"""Neville, Properties of Concrete: temperature of fresh concrete, worked example."""

from __future__ import annotations

from collections.abc import Callable

from crownwright.codes.aci_305r_2010 import Ingredients, heat_capacity, mix_temperature


def test_the_worked_example(theirs: Callable[..., None]) -> None:
    mix = Ingredients(375, 2000, 180, 46.2, 41, 35)
    theirs("denominator", 702.5, heat_capacity(mix), tol=1e-9)
    theirs("numerator", 28151.5, heat_capacity(mix) * mix_temperature(mix), tol=0.05)
    theirs("temperature", 40.1, mix_temperature(mix), unit="degC", tol=0.05)
