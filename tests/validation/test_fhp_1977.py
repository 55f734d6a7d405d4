"""Freiesleben Hansen and Pedersen (1977): maturity factors and the three-parameter curve, computed by hand from the formulas."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from crownwright.codes import fhp_1977 as fhp
from crownwright.codes.set_times import set_time
from crownwright.quantity.units import DAY, HOUR, celsius


@pytest.mark.parametrize(
    ("temperature", "factor"),
    [(-5, 0.068), (0, 0.151), (5, 0.293), (10, 0.497), (15, 0.748), (20, 1.0), (30, 1.574), (40, 2.406)],
)
def test_factors(theirs: Callable[..., None], temperature: float, factor: float) -> None:
    theirs(f"factor at {temperature} degC", factor, fhp.rate_factor(float(temperature)), tol=6e-4, grade="derived")


@pytest.mark.parametrize(("days", "expected"), [(1, 13.25), (3, 27.02), (7, 35.58), (28, 43.95)])
def test_curve(theirs: Callable[..., None], days: int, expected: float) -> None:
    ours = fhp.strength(days * DAY, 50.0, 1.5 * DAY, 0.7)
    theirs(f"strength at {days} d", expected, ours, unit="MPa", tol=0.005, grade="derived")


def test_it_must_not_time_the_setting_in_the_cold(theirs: Callable[..., None]) -> None:
    """Conflict carried: tied to the table at 70 F it gives 23 h at 40 F and 49 h at 30 F, where the table has 14 and 19."""
    anchor = set_time(celsius(70)) * fhp.rate_factor(celsius(70))
    for degrees, expected in ((40, 23.1), (30, 49.3)):
        ours = anchor / fhp.rate_factor(celsius(degrees)) / HOUR
        theirs(f"set at {degrees} F by the rising energy", expected, ours, unit="h", tol=0.06, grade="derived")
    assert pytest.approx(celsius(50)) == fhp.SET_HOLDS_FROM
