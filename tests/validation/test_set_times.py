"""Approximate setting times by temperature, a table repeated in the trade's literature, and the rate laws beside it."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from crownwright.codes.set_times import ENERGY_BAND, arrhenius, doubling, open_time, set_band, set_time, tables
from crownwright.quantity.units import HOUR, celsius

TABLE = {100: 5 / 3, 90: 8 / 3, 80: 4, 70: 6, 60: 8, 50: 10.75, 40: 14, 30: 19}
LAWS = [  # F: 33.5, 40, 45 kJ/mol, doubling in 20 F
    (30, 18.4, 22.8, 27.0, 24.0),
    (40, 13.7, 16.0, 18.1, 17.0),
    (50, 10.3, 11.4, 12.4, 12.0),
    (60, 7.8, 8.2, 8.6, 8.5),
    (80, 4.7, 4.4, 4.3, 4.2),
    (90, 3.7, 3.3, 3.1, 3.0),
    (100, 2.9, 2.5, 2.2, 2.1),
]


@pytest.mark.parametrize(("degrees", "hours"), TABLE.items())
def test_the_table_is_returned_at_its_points(theirs: Callable[..., None], degrees: int, hours: float) -> None:
    grade = "read" if tables()["hours"].cell(str(degrees), "mark") == "R" else "from memory"
    theirs(f"set at {degrees} F", hours, set_time(celsius(degrees)) / HOUR, unit="h", tol=1e-4, grade=grade)


@pytest.mark.parametrize(("degrees", "low", "middle", "high", "rule"), LAWS)
def test_rate_laws_tied_at_70(
    theirs: Callable[..., None], degrees: int, low: float, middle: float, high: float, rule: float
) -> None:
    for energy, expected in ((33_500.0, low), (40_000.0, middle), (45_000.0, high)):
        ours = arrhenius(celsius(degrees), energy) / HOUR
        theirs(f"set at {degrees} F, {energy / 1000} kJ/mol", expected, ours, unit="h", tol=0.06, grade="derived")
    theirs(f"set at {degrees} F, doubling rule", rule, doubling(celsius(degrees)) / HOUR, unit="h", tol=0.06, grade="derived")


@pytest.mark.parametrize("degrees", TABLE)
def test_the_band_covers_the_table(degrees: int) -> None:
    early, late = set_band(celsius(degrees))
    assert early - 1e-6 <= TABLE[degrees] * HOUR + 1.0
    assert late + 1e-6 >= TABLE[degrees] * HOUR - 1.0
    assert ENERGY_BAND[0] < ENERGY_BAND[1]


def test_between_and_beyond_the_points() -> None:
    times = [set_time(celsius(f)) for f in range(20, 115)]
    assert times == sorted(times, reverse=True)
    assert set_time(celsius(75)) == pytest.approx((4 * 6) ** 0.5 * HOUR)  # half way in the logarithm


def test_open_time_rule(theirs: Callable[..., None]) -> None:
    for temperature, hours in ((20, 4), (10, 6), (0, 10)):
        theirs(f"open time at {temperature} degC", hours, open_time(float(temperature)) / HOUR, unit="h", tol=1e-9)
    assert open_time(celsius(88)) == pytest.approx(2 * HOUR)  # 20 F over 68 F halves it
