"""The gridpoint forecast: what it holds comes through in our units; what is wrong with it is said, and nothing is half-read."""

from __future__ import annotations

import json
from datetime import UTC, datetime

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.weather.gridpoint import LARGEST, parse_gridpoint
from crownwright.weather.hours import SERIES, Hours

NOW = datetime(2026, 4, 1, tzinfo=UTC)


def stops(problems):
    return [p for p in problems if p.stops]


def test_units_come_by_their_suffix(read, forecast):
    hours, problems = read(forecast())
    assert not stops(problems)
    assert len(hours) == hours.known == 48
    assert hours.wind[0] == pytest.approx(5.0)
    assert hours.gust[0] == pytest.approx(10.0)
    assert hours.humidity[0] == pytest.approx(0.6)
    assert hours.elevation == 250.0


@pytest.mark.parametrize("uom", ["wmoUnit:degF", "uc:degF", "unit:degF", "degF"])
def test_any_namespace_does(read, forecast, strip, uom):
    hours, _ = read(forecast(temperature=strip(uom, [50.0] * 48)))
    assert hours.air[0] == pytest.approx(10.0)


def test_totals_are_spread_over_their_hours_and_not_repeated(read, forecast):
    hours, _ = read(forecast())
    assert hours.rain == pytest.approx(np.ones(48))
    assert hours.rain.sum() == pytest.approx(6.0 * 8)


def test_a_chance_holds_for_each_hour_of_its_interval(read, forecast, strip):
    hours, _ = read(forecast(probabilityOfPrecipitation=strip("wmoUnit:percent", [70.0] * 8, every=6)))
    assert hours.rain_chance == pytest.approx(np.full(48, 0.7))


def test_humidity_is_made_from_the_dew_point_where_it_is_missing(read, forecast):
    hours, problems = read(forecast(relativeHumidity=None))
    assert not stops(problems)
    assert hours.humidity[0] == pytest.approx(872.5 / 1228.0, rel=0.01)  # saturation pressures at 5 and 10 degC, steam tables


def test_short_holes_are_bridged_and_said(read, forecast, strip):
    values = [10.0] * 10 + [None] * 2 + [13.0] * 36
    hours, problems = read(forecast(temperature=strip("wmoUnit:degC", values)))
    assert hours.air[10:12] == pytest.approx([11.0, 12.0])
    assert any("filled from its neighbours" in p.what for p in problems)


def test_a_long_hole_cuts_the_series_at_its_longer_side(read, forecast, strip):
    values = [10.0] * 30 + [None] * 6 + [13.0] * 12
    hours, problems = read(forecast(temperature=strip("wmoUnit:degC", values)))
    assert len(hours) == 30
    assert any("left out" in p.what for p in problems)


def test_empty_layers_are_missing_values(read, forecast):
    hours, problems = read(forecast(snowfallAmount={"values": []}, skyCover={"values": []}))
    assert not stops(problems)
    assert hours.cloud == pytest.approx(np.full(48, 0.5))
    assert {"forecast.snow", "forecast.cloud"} <= {p.where for p in problems}


def test_hours_that_are_over_are_left_out(forecast):
    later = datetime(2026, 4, 1, 11, 20, tzinfo=UTC)
    hours, _ = parse_gridpoint(forecast(), latitude=36.1, longitude=-79.95, zone="America/New_York", now=later)
    assert str(hours.utc[0]) == "2026-04-01T11:00:00"
    assert len(hours) == hours.known == 43


def test_an_old_forecast_is_told_to_be_old(forecast):
    later = datetime(2026, 4, 9, tzinfo=UTC)
    hours, problems = parse_gridpoint(forecast(), latitude=36.1, longitude=-79.95, zone="America/New_York", now=later)
    assert hours is None
    assert "in the past" in problems[0].what


BAD = {
    "unknown unit": ({"windSpeed": "furlong"}, "furlong"),
    "absurd air": ({"temperature": ("wmoUnit:degC", 200.0)}, "outside"),
    "kelvin called celsius": ({"temperature": ("wmoUnit:degC", 290.0)}, "outside"),
    "humidity over one": ({"relativeHumidity": ("wmoUnit:percent", 250.0)}, "outside"),
    "wind below zero": ({"windSpeed": ("wmoUnit:km_h-1", -5.0)}, "outside"),
}


@pytest.mark.parametrize("case", BAD)
def test_bad_layers_stop_with_their_name(read, forecast, strip, case):
    altered, said = BAD[case]
    (name, told), *_ = altered.items()
    uom, value = told if isinstance(told, tuple) else (told, 5.0)
    hours, problems = read(forecast(**{name: strip(uom, [value] * 48)}))
    assert hours is None
    assert any(said in p.what for p in stops(problems))


def test_all_faults_come_at_once(read, forecast, strip):
    hours, problems = read(
        forecast(
            windSpeed=strip("furlong", [1.0] * 48), temperature=strip("wmoUnit:foo", [1.0] * 48), skyCover=strip("x", [1.0] * 48)
        )
    )
    assert hours is None
    assert {"forecast.windSpeed", "forecast.temperature", "forecast.skyCover"} <= {p.where for p in problems}


def test_two_values_for_one_hour_stop(read, forecast, strip):
    doubled = strip("wmoUnit:degC", [10.0] * 48)
    doubled["values"].append(doubled["values"][5])
    hours, problems = read(forecast(temperature=doubled))
    assert hours is None
    assert "two values for the hour" in problems[0].what


def test_order_of_intervals_does_not_matter(read, forecast, strip):
    turned = strip("wmoUnit:degC", [float(i) / 4 for i in range(48)])
    turned["values"].reverse()
    hours, _ = read(forecast(temperature=turned))
    assert hours.air[4] == pytest.approx(1.0)


@pytest.mark.parametrize(
    "when",
    [
        "2026-04-01T06:30:00+00:00/PT1H",
        "2026-04-01T06:00:00/PT1H",
        "2026-04-01T06:00:00+00:00/P1M",
        "2026-04-01T06:00:00+00:00",
        "2026-04-01T06:00:00+00:00/PT0H",
        "2026-04-01T06:00:00+00:00/2026-03-01T06:00:00+00:00",
        "yesterday/PT1H",
        "2026-04-01T06:00:00+00:00/P9999D",
        "9999-12-31T23:00:00+00:00/P9000D",
        "0001-01-01T00:00:00+14:00/PT1H",
    ],
)
def test_times_that_cannot_be_meant_stop(read, forecast, when):
    hours, problems = read(forecast(temperature={"uom": "wmoUnit:degC", "values": [{"validTime": when, "value": 1.0}]}))
    assert hours is None
    assert stops(problems)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{",
        "[]",
        "null",
        '{"properties": 3}',
        '{"properties": {}}',
        '{"properties": {"temperature": []}}',
        '{"properties": {"temperature": {"values": 3}}}',
        '{"properties": {"temperature": {"values": [3]}}}',
        '{"properties": {"temperature": {"uom": "wmoUnit:degC", "values": [{"validTime": "NOW/PT24H", "value": NaN}]}}}',
        '{"properties": {"temperature": {"uom": "wmoUnit:degC", "values": [{"validTime": "NOW/PT24H", "value": "warm"}]}}}',
        '{"properties": {"temperature": {"uom": "wmoUnit:degC", "values": [{"validTime": "NOW/PT24H", "value": true}]}}}',
        '{"properties": {"temperature": {"uom": "wmoUnit:degC", "values": [{"validTime": "NOW/PT24H", "value": 1e999}]}}}',
        '{"properties": {"temperature": {"uom": "wmoUnit:degC", "values": [{"validTime": "NOW/PT24H", "value": '
        + "9" * 400
        + "}]}}}",
        "[" * 100_000,
        '{"a":' * 100_000,
    ],
)
def test_what_is_no_forecast_is_a_problem_and_no_traceback(read, text):
    hours, problems = read(text)
    assert hours is None
    assert stops(problems)


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9, 0.999])
def test_a_truncated_answer_is_not_half_read(read, forecast, share):
    text = forecast()
    hours, problems = read(text[: int(len(text) * share)])
    assert hours is None
    assert "cut off" in problems[0].what


def test_a_hundred_megabytes_are_refused_unread(read):
    hours, problems = read(b" " * 100_000_000)
    assert hours is None
    assert f"limit {LARGEST / 1e6:.0f} MB" in problems[0].what


def test_wrong_zone_is_a_problem(forecast):
    hours, problems = parse_gridpoint(
        forecast(),
        latitude=36.0,
        longitude=-79.0,
        zone="Mars/Base",
        now=NOW,
    )
    assert hours is None
    assert "Mars/Base" in problems[0].what


ATOMS = st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=8))
SPAN = st.builds(
    lambda d, h, n: f"2026-04-{d:02d}T{h:02d}:00:00+00:00/PT{n}H", st.integers(1, 30), st.integers(0, 23), st.integers(0, 30)
)
ROWS = st.lists(
    st.one_of(
        ATOMS, st.fixed_dictionaries({"validTime": st.one_of(SPAN, ATOMS), "value": st.one_of(ATOMS, st.floats(-50, 150))})
    ),
    max_size=6,
)
LAYER = st.one_of(
    ATOMS,
    st.fixed_dictionaries({"uom": st.sampled_from(["wmoUnit:degC", "wmoUnit:percent", "wmoUnit:km_h-1", "x"]), "values": ROWS}),
)


def sound(hours: Hours | None, problems) -> None:
    """Either hours without a hole and nothing that stops, or none and the reason."""
    if hours is None:
        assert stops(problems)
        return
    assert not stops(problems)
    assert all(np.isfinite(getattr(hours, name)).all() for name in SERIES if name not in {"sun", "infrared"})


@settings(max_examples=150, deadline=None)
@given(
    st.dictionaries(
        st.sampled_from(["temperature", "dewpoint", "relativeHumidity", "windSpeed", "skyCover", "snowfallAmount"]), LAYER
    )
)
def test_any_json_gives_hours_or_problems(read, layers):
    sound(*read(json.dumps({"properties": layers})))


@settings(max_examples=100, deadline=None)
@given(st.data())
def test_a_damaged_answer_gives_hours_or_problems(read, forecast, data):
    text = forecast(24)
    at = data.draw(st.integers(0, len(text) - 1))
    sound(*read(text[:at] + data.draw(st.text(max_size=3)) + text[at + data.draw(st.integers(0, 5)) :]))


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=200))
def test_any_bytes_give_problems(read, blob):
    sound(*read(blob))
