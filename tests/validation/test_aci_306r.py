"""ACI 306R, Guide to Cold Weather Concreting: temperatures by thickness, protection days, cold weather by edition."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from crownwright.codes import aci_306r_2010 as cold
from crownwright.quantity.units import DAY, HOUR, INCH, PSI, celsius, fahrenheit


@pytest.mark.parametrize(
    ("inches", "air", "placed", "mixed", "drop"),
    [
        (4, 35, 55, 60, 50),
        (4, 20, 55, 65, 50),
        (4, -5, 55, 70, 50),
        (20, 35, 50, 55, 40),
        (20, 20, 50, 60, 40),
        (20, -5, 50, 65, 40),
    ],
)
def test_temperatures(theirs: Callable[..., None], inches: int, air: int, placed: int, mixed: int, drop: int) -> None:
    ours = cold.least_temperatures(inches * INCH, celsius(air))
    what = f"{inches} in. section, air {air} F"
    theirs(f"{what}, as placed", placed, fahrenheit(ours.placed), unit="F", tol=1e-9, place="Table 3.1")
    theirs(f"{what}, as mixed", mixed, fahrenheit(ours.mixed), unit="F", tol=1e-9, place="Table 3.1")
    theirs(f"{what}, drop in 24 h", drop, ours.drop * 1.8, unit="F", tol=1e-9, place="Table 3.1")


@pytest.mark.parametrize(
    ("service", "purpose", "normal", "early"),
    [
        ("not exposed", "survive_freezing", 2, 1),
        ("exposed, not loaded", "survive_freezing", 3, 2),
        ("exposed, partly loaded", "survive_freezing", 3, 2),
        ("not exposed", "strip", 2, 1),
        ("exposed, not loaded", "strip", 3, 2),
        ("exposed, partly loaded", "strip", 6, 4),
    ],
)
def test_protection(theirs: Callable[..., None], service: str, purpose: str, normal: int, early: int) -> None:
    for mix, days in (("normal", normal), ("high early", early)):
        ours = cold.protection(service, mix, purpose) / DAY  # type: ignore[arg-type]
        theirs(f"{service}, {purpose}, {mix}", days, ours, unit="d", tol=1e-9, place="Table 5.1")


def test_a_cap_is_three_days(theirs: Callable[..., None]) -> None:
    theirs("cap: exposed, not loaded", 3, cold.protection() / DAY, unit="d", tol=1e-9, place="Table 5.1, our reading")


def test_the_two_definitions_of_cold_weather_differ() -> None:
    """One afternoon under 40 F is cold by the later editions; the 1988 text wants more than three days of it."""
    afternoon = [celsius(t) for t in (55, 39, 50)]
    assert cold.is_cold_2010(afternoon)
    assert not cold.is_cold_1988([celsius(48)], [celsius(52)])
    four = [celsius(38)] * 4
    assert cold.is_cold_1988(four, four)
    assert not cold.is_cold_1988(four, [celsius(38)] * 2 + [celsius(51)] + [celsius(38)])


def test_limits(theirs: Callable[..., None]) -> None:
    theirs("strength to outlive one or two freezings", 500, cold.ONE_FREEZE / PSI, unit="psi", tol=1e-6)
    theirs("cooling after protection", 5, cold.COOLING * 1.8 * HOUR, unit="F/h", tol=1e-9)
    theirs("cooling in the first day", 50, cold.COOLING_DAY * 1.8, unit="F", tol=1e-9)


def test_transit(theirs: Callable[..., None]) -> None:
    for way, share in (("revolving", 0.25), ("covered", 0.10), ("open", 0.20)):
        drop = cold.transit_drop(celsius(65), celsius(25), way, HOUR) * 1.8  # type: ignore[arg-type]
        theirs(f"drop in an hour, {way}", share * 40, drop, unit="F", tol=1e-9, grade="from memory")
