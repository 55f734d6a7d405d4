"""Angles, loads, winds, densities, weights, shares as they are typed, and back."""

from __future__ import annotations

from math import atan, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crownwright.quantity.measures import Dimension, parse_measure, print_measure
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import LB, MPH, PCF, PSF

DIMENSIONS: tuple[Dimension, ...] = ("angle", "pressure", "speed", "density", "mass", "volume", "temperature", "warming", "share")


@pytest.mark.parametrize(
    ("typed", "dimension", "si"),
    [
        ("8 in 12", "angle", atan(8 / 12)),
        ("8/12", "angle", atan(8 / 12)),
        ("8:12", "angle", atan(8 / 12)),
        ("1:4", "angle", atan(1 / 4)),
        ("3 in. per ft", "angle", atan(3 / 12)),
        ("2 1/8 in/ft", "angle", atan(2.125 / 12)),
        ('3" to the foot', "angle", atan(3 / 12)),
        ("10 deg", "angle", radians(10)),
        ("33,7°", "angle", 33.7 * radians(1)),
        ("30 psf", "pressure", 30 * PSF),
        ("30 lb/ft²", "pressure", 30 * PSF),
        ("1.44 kPa", "pressure", 1440.0),
        ("115 mph", "speed", 115 * MPH),
        ("51 m/s", "speed", 51.0),
        ("145 lb/ft3", "density", 145 * PCF),
        ("2320 kg/m³", "density", 2320.0),
        ("10 lb", "mass", 10 * LB),
        ("65 F", "temperature", 33 / 1.8),
        ("-5 °C", "temperature", -5.0),
        ("3 qt", "volume", 3 * 0.000946352946),
        ("2.8 L", "volume", 2.8e-3),
        ("400 F", "warming", 400 / 1.8),
        ("2 %", "share", 0.02),
        ("0.02", "share", 0.02),
    ],
)
def test_typed_measures(typed: str, dimension: Dimension, si: float) -> None:
    assert parse_measure(typed, dimension) == pytest.approx(si, rel=1e-12)  # float noise of one multiplication


@pytest.mark.parametrize(
    ("typed", "dimension", "says"),
    [
        ("30", "pressure", "no unit"),
        ("30", "angle", "no unit"),
        ("30 mph", "pressure", "“mph” is not a unit"),
        ("steep", "angle", "does not begin with a number"),
        ("8 in 0", "angle", "is not a unit"),
        ("9" * 200, "mass", "200 letters"),
        ("", "share", "does not begin"),
    ],
)
def test_what_cannot_be_read_says_what_to_type(typed: str, dimension: Dimension, says: str) -> None:
    problem = parse_measure(typed, dimension, "around.x")
    assert isinstance(problem, Problem)
    assert says in problem.what
    assert problem.remedy.startswith("Type it like")


@given(st.floats(-1.5, 1.5), st.sampled_from(DIMENSIONS), st.sampled_from(["us", "metric"]))
def test_print_then_parse_is_exact(value: float, dimension: Dimension, system: str) -> None:
    value = value if abs(value) > 1e-12 else 0.0  # smaller than anything built, and longer in decimals than a line
    assert parse_measure(print_measure(value, dimension, system), dimension) == value  # type: ignore[arg-type]


@given(st.integers(0, 400), st.sampled_from(["30 psf", "115 mph", "145 lb/ft3", "7 lb", "3 %", "12.5 deg", "3 in 12"]))
def test_round_trade_values_are_written_as_they_were_typed(count: int, like: str) -> None:
    unit = like.split(maxsplit=1)[1]
    dimension = dict(
        zip(["psf", "mph", "lb/ft3", "lb", "%", "deg", "in 12"], [*DIMENSIONS[1:5], "share", "angle", "angle"], strict=True)
    )[unit]
    typed = f"{min(count, 60)} {unit}"
    si = parse_measure(typed, dimension)
    assert isinstance(si, float)
    written = print_measure(si, dimension)
    assert written == typed or dimension == "angle"
    assert parse_measure(written, dimension) == si


@given(st.text(max_size=90), st.sampled_from(DIMENSIONS))
def test_no_text_raises(text: str, dimension: Dimension) -> None:
    assert isinstance(parse_measure(text, dimension), float | Problem)
    assert isinstance(parse_measure("1" + text, dimension), float | Problem)
