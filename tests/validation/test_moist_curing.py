"""Two handbooks on strength against days kept moist, and cylinders kept in air; where they agree and where they do not."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from crownwright.codes.aci_308r import moist_share, moist_share_band, tables
from crownwright.quantity.units import DAY


@pytest.mark.parametrize(("days", "share"), [(0, 50), (3, 80), (7, 100), (28, 125)])
def test_the_handbook(theirs: Callable[..., None], days: int, share: int) -> None:
    theirs(f"{days} d moist: share of design strength", share, 100 * moist_share(days * DAY), unit="%", tol=1e-9)


@pytest.mark.parametrize(("days", "percent"), [(0, 50), (3, 75), (28, 119)])
def test_a_second_source_on_another_base(theirs: Callable[..., None], days: int, percent: int) -> None:
    """Its base is 180 days in water, 1.25 of the 28-day strength; so put, the two agree within 7 points."""
    other = 100 * 1.25 * tables()["moist_share_180"].number(str(days), "share")
    theirs(f"{days} d moist, second source on the 28-day base", percent, other, unit="%", tol=0.5, grade="derived")
    theirs(f"{days} d moist, the two against each other", other, 100 * moist_share(days * DAY), unit="%", tol=7.0)


def test_in_air_all_along_the_sources_differ_by_two(theirs: Callable[..., None]) -> None:
    """Conflict carried: cylinders lose a quarter, thin or long-dried concrete a half. The band has both ends."""
    harsh, mild = moist_share_band(0.0)
    theirs("cylinders in air, 28 d", 25, 100 * tables()["air_loss"].number("air all along", "28 d"), unit="%", tol=1e-9)
    theirs("mild end of the band", 75, 100 * mild, unit="%", tol=1e-9)
    theirs("harsh end of the band", 50, 100 * harsh, unit="%", tol=1e-9)
