"""ACI 209R-92: strength against age, and shrinkage with its factors; values computed by hand from the equations read."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from crownwright.codes import aci_209r_1992 as aci
from crownwright.quantity.units import DAY

AGES = (1, 2, 3, 5, 7, 14, 28, 56, 90)
TYPE_I = (0.206, 0.351, 0.458, 0.606, 0.704, 0.881, 1.007, 1.085, 1.118)
TYPE_III = (0.311, 0.483, 0.593, 0.725, 0.801, 0.922, 0.998, 1.041, 1.058)


@pytest.mark.parametrize(("days", "one", "three"), list(zip(AGES, TYPE_I, TYPE_III, strict=True)))
def test_strength_ratio(theirs: Callable[..., None], days: int, one: float, three: float) -> None:
    theirs(f"type I, {days} d", one, aci.strength_ratio(days * DAY), tol=5e-4, place="eq. 2-1", grade="derived")
    ours = aci.strength_ratio(days * DAY, "type III, moist")
    theirs(f"type III, {days} d", three, ours, tol=5e-4, place="eq. 2-1", grade="derived")


@pytest.mark.parametrize(("days", "strain"), [(14, 67), (28, 150), (60, 241), (90, 282), (180, 333), (365, 365)])
def test_shrinkage(theirs: Callable[..., None], days: int, strain: int) -> None:
    """RH 70 %, V/S 100 mm, moist 7 d, every other factor 1."""
    factors = aci.humidity_factor(0.70) * aci.thickness_factor(0.100) * aci.moist_days_factor(7 * DAY)
    ours = aci.shrinkage((days - 7) * DAY, factors) * 1e6
    theirs(f"at {days} d", strain, ours, unit="1e-6", tol=0.6, place="eq. 2-9", grade="derived")  # whole microstrain


def test_time_to_eighty_per_cent(theirs: Callable[..., None]) -> None:
    theirs("type I reaches 80 % at", 10.0, 0.8 * 4.0 / (1 - 0.8 * 0.85), unit="d", tol=0.05, grade="derived")
    theirs("its strength there", 0.80, aci.strength_ratio(10.0 * DAY), tol=5e-4, grade="derived")
