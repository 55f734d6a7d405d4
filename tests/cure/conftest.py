"""Caps, mixes and weather for the tests of the cure: steady made days, and weeks of a real year."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import numpy as np
import pvlib
import pytest

from crownwright.cure.inputs import CapInWeather, MixInCure
from crownwright.weather.by_hand import Day, hours_by_hand
from crownwright.weather.columns import Place
from crownwright.weather.hours import Hours, between
from crownwright.weather.tmy3 import parse_tmy3

HERE = Place(40.0, -105.0, 1600.0, "America/Denver")


def made(n: int = 4, first: date = date(2026, 5, 4), **told: object) -> Hours:
    """``n`` days alike; ``told`` replaces numbers of a mild dry day."""
    numbers: dict[str, object] = {"high": 21.0, "low": 12.0, "wind": 3.0, "humidity": 0.55, "rain_chance": 0.05, "sky": "half"}
    numbers.update(told)
    days = [Day(on=date.fromordinal(first.toordinal() + i), **numbers) for i in range(n)]  # type: ignore[arg-type]
    hours, problems = hours_by_hand(days, place=HERE)
    assert hours is not None, problems
    return hours


@pytest.fixture(scope="session")
def days() -> Callable[..., Hours]:
    """`made`."""
    return made


@pytest.fixture(scope="session")
def cap() -> CapInWeather:
    """A cap of a usual size."""
    return CapInWeather(0.09, 0.16, 0.10, 1.2, 0.9)


@pytest.fixture(scope="session")
def mix() -> MixInCure:
    """4000 psi from bags, placed at 20 degC."""
    return MixInCure(335.0, 0.50, 27.6e6, temperature=20.0)


@pytest.fixture(scope="session")
def year() -> Hours:
    """Greensboro's typical year (US government TMY3)."""
    hours, _ = parse_tmy3((Path(pvlib.__file__).parent / "data" / "723170TYA.CSV").read_bytes())
    assert hours is not None
    return hours


@pytest.fixture(scope="session")
def spring(year: Hours) -> Hours:
    """Five days of it in April."""
    return between(year, 2400, 2520)


@pytest.fixture
def rng() -> np.random.Generator:
    """Chance, the same every time."""
    return np.random.default_rng(20260504)
