"""SI values as a mason reads them."""

from __future__ import annotations

from math import inf, nan, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crownwright.quantity.display import System, show, show_figure, show_slope
from crownwright.quantity.lengths import Reading, parse_length
from crownwright.quantity.units import FOOT, FT3, INCH, LB, PSF, PSI
from crownwright.quantity.working import Figure

UNITS = ["m", "m2", "m3", "kg", "kg/m3", "Pa", "N", "rad", "m/m", "K", "degC", "s", "1", "m/s", "share", "W/m2", "furlong"]


@pytest.mark.parametrize(
    ("value", "unit", "us", "metric"),
    [
        (51.5 * INCH, "m", "51 1/2 in.", "1308 mm"),
        (24 * FOOT, "m", "24' 0\"", "7.32 m"),
        (0.001 * INCH, "m", "0.001 in.", "0.0254 mm"),
        (0.0, "m", "0 in.", "0 mm"),
        (4 * FT3, "m3", "4.00 cu ft", "113 L"),
        (2.5, "m3", "88.3 cu ft", "2.50 m³"),
        (80 * LB, "kg", "80.0 lb", "36.3 kg"),
        (3000 * PSI, "Pa", "3,000 psi", "20.7 MPa"),
        (30 * PSF, "Pa", "30.0 psf", "1.44 kPa"),
        (2320.0, "kg/m3", "145 lb/cu ft", "2320 kg/m³"),
        (1.0, "m2", "10.8 sq ft", "1.00 m²"),
        (1000.0, "N", "225 lbf", "1000 N"),
        (radians(45), "rad", "45.0°", "45.0°"),
        (0.25, "m/m", "3 in. per ft (14.0°)", "250 mm per m (14.0°)"),
        (10.0, "K", "18.0 °F", "10.0 °C"),
        (20.0, "degC", "68 °F", "20 °C"),
        (5400.0, "s", "1 h 30 min", "1 h 30 min"),
        (3 * 86400.0, "s", "3 d", "3 d"),
        (45.0, "s", "45 s", "45 s"),
        (0.02, "1", "0.0200", "0.0200"),
        (8.0, "1", "8", "8"),
        (1e-9, "1", "under 0.000001", "under 0.000001"),
        (0.025, "share", "2.5 %", "2.5 %"),
        (0.5, "share", "50 %", "50 %"),
        (1e-9, "share", "less than 0.1 %", "less than 0.1 %"),
        (12_345.0, "W", "12,345 W", "12 345 W"),
        (nan, "m3", "not known", "not known"),
        (inf, "m", "no limit", "no limit"),
        (12.0, "W/m2", "12.0 W/m2", "12.0 W/m2"),
    ],
)
def test_shown_in_both_systems(value: float, unit: str, us: str, metric: str) -> None:
    assert show(value, unit, "us") == us
    assert show(value, unit, "metric") == metric


def test_precision_is_divisions_of_an_inch_or_decimals() -> None:
    assert show(51.53 * INCH, "m", "us", 8) == "51 1/2 in."
    assert show(51.53 * INCH, "m", "metric", 1) == "1308.9 mm"
    assert show(0.1111, "m3", "us", 1) == "3.9 cu ft"


def test_a_spread_has_the_unit_of_a_difference_and_the_decimals_it_deserves() -> None:
    warm = Figure("x", "x", 20.0, "degC", "", spread=1.0)
    assert show_figure(warm, "us") == "68 °F ± 2 °F"
    assert show_figure(Figure("x", "x", 230.0, "kg", "", spread=8.4), "metric") == "230.0 kg ± 8.4"
    assert show_figure(Figure("x", "x", 51.5 * INCH, "m", "", spread=INCH / 8), "us") == "51 1/2 in. ± 1/8 in."
    assert show_figure(Figure("x", "x", 7.0, "1", "", spread=0.5), "us") == "7.00 ± 0.50"
    assert show_figure(Figure("x", "x", 7.0, "1", ""), "us", 0) == "7"


@pytest.mark.parametrize(
    ("value", "spread", "us", "metric"),
    [  # metres
        (3 / 8 * INCH, 0.0132 * INCH, "3/8 in. ± 1/64 in.", "10 mm ± 0.3 mm"),
        (3 / 8 * INCH, 0.005 * INCH, "3/8 in. ± less than 1/64 in.", "10 mm ± 0.1 mm"),
        (3 / 8 * INCH, 0.001 * INCH, "3/8 in. ± less than 1/64 in.", "10 mm ± less than 0.1 mm"),
        (3 / 8 * INCH, INCH / 32, "3/8 in. ± 1/16 in.", "10 mm ± 0.8 mm"),
        (51.5 * INCH, 0.4 * INCH, "51 1/2 in. ± 3/8 in.", "1308 mm ± 10 mm"),
        (41 * FOOT, 60.3 * INCH, "41' 0\" ± 5' 5/16\"", "12.50 m ± 1.53 m"),
        (41 * FOOT, 2 * INCH, "41' 0\" ± 2 in.", "12.50 m ± 0.05 m"),
    ],
)
def test_a_spread_of_a_length_is_said_in_marks_of_a_tape(value: float, spread: float, us: str, metric: str) -> None:
    figure = Figure("x", "x", value, "m", "", spread=spread)
    assert show_figure(figure, "us") == us
    assert show_figure(figure, "metric") == metric


def test_slope_says_the_rise_first() -> None:
    assert show_slope(radians(10), "us") == "2 1/8 in. per ft (10.0°)"


@given(st.floats(), st.sampled_from(UNITS), st.sampled_from(["us", "metric"]), st.one_of(st.none(), st.floats()))
def test_any_value_shows(value: float, unit: str, system: System, spread: float | None) -> None:
    assert show_figure(Figure("x", "x", value, unit, "", spread=spread), system)
    assert show(value, unit, system)


@given(st.floats(-3, 3))
def test_a_shown_length_reads_back_to_within_its_division(value: float) -> None:
    read = parse_length(show(value, "m", "us"), "in")
    assert isinstance(read, Reading)
    assert read.metres == pytest.approx(value, abs=INCH / 32 * (1 + 1e-9))
