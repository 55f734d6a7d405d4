"""Tables and typical years: the real ones come through whole, damaged ones are refused with the row named."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import numpy as np
import pvlib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.weather.by_hand import SKIES, Day, hours_by_hand
from crownwright.weather.columns import Place
from crownwright.weather.epw import parse_epw
from crownwright.weather.hours import SERIES, local_hours
from crownwright.weather.table_csv import parse_csv
from crownwright.weather.tmy3 import in_tenths, parse_tmy3

TMY = Path(pvlib.__file__).parent / "data"
GREENSBORO = (TMY / "723170TYA.CSV").read_bytes()
HERE = Place(36.1, -79.95, 273.0, "America/New_York")


def stops(problems):
    return [p for p in problems if p.stops]


def table(n=48, first="2026-05-01 00:00", header="time,air [F],humidity [%],wind [mph]", row="{t},50,60,10"):
    start = np.datetime64(first.replace(" ", "T"))
    times = [str(start + np.timedelta64(i, "h")).replace("T", " ") for i in range(n)]
    return "\n".join([header, *(row.format(t=t) for t in times)]) + "\n"


def test_table_in_trade_units():
    hours, problems = parse_csv(table(), place=HERE)
    assert not stops(problems)
    assert hours.air[0] == pytest.approx(10.0)
    assert hours.wind[0] == pytest.approx(4.4704)
    assert local_hours(hours)[0].hour == 0


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (table(header="time,air,humidity [%],wind [mph]"), "has no unit"),
        (table(header="time,air [furlong],humidity [%],wind [mph]"), "furlong"),
        (table(header="when,air [F],humidity [%],wind [mph]"), "no column 'time'"),
        (table(header="time,air [F],air [C],wind [mph]"), "comes twice"),
        (table(header="time,air [F],cloud [%],wind [mph]"), "no humidity"),
        (table(row="{t},warm,60,10"), "'warm' in data row 1"),
        (table(row="{t},500,60,10"), "outside"),
        (table(row="{t},50,60"), "is not a number"),
        (table() + "2026-05-01 05:00,50,60,10\n", "go backwards"),
        (table() + "2026-05-02 23:00,50,60,10\n", "comes twice"),
        (table() + "2026-05-04 00:00,50,60,10\n", "hours are missing"),
        (table() + "2026-05-03 00:15,50,60,10\n", "is not a whole hour"),
        (table() + "2026-13-03 00:00,50,60,10\n", "is not a time"),
        (table(12), "only 12 whole hours"),
        ("time,air [F]\n", "no rows"),
        ('time,air [F]\n"2026-05-01,5\n', "comma-separated"),
        (table(row="{t},,60,10"), "no air"),
    ],
)
def test_damaged_tables_are_refused_with_the_reason(text, said):
    hours, problems = parse_csv(text, place=HERE)
    assert hours is None
    assert any(said in p.what for p in stops(problems)), [str(p) for p in problems]


def test_autumn_hour_that_comes_twice_is_two_hours():
    local = ["00:00", "01:00", "01:00", "02:00"]
    rows = [f"2026-11-01 {t},50,60,10" for t in local] + [f"2026-11-01 {h:02d}:00,50,60,10" for h in range(3, 24)]
    hours, problems = parse_csv("time,air [F],humidity [%],wind [mph]\n" + "\n".join(rows), place=HERE)
    assert not stops(problems)
    assert len(hours) == 25


def test_spring_hour_that_clocks_skip_is_refused():
    rows = [f"2026-03-08 {h:02d}:00,50,60,10" for h in range(24)]
    hours, problems = parse_csv("time,air [F],humidity [%],wind [mph]\n" + "\n".join(rows), place=HERE)
    assert hours is None
    assert any("clocks skip" in p.what for p in problems)


def test_spring_day_written_as_clocks_show_it_has_23_hours():
    rows = [f"2026-03-08 {h:02d}:00,50,60,10" for h in range(24) if h != 2] + ["2026-03-09 00:00,50,60,10"]
    hours, problems = parse_csv("time,air [F],humidity [%],wind [mph]\n" + "\n".join(rows), place=HERE)
    assert not stops(problems)
    assert len(hours) == 24


def test_offsets_override_the_zone():
    text = table().replace(" 00:00,", " 00:00,")
    with_offset = "\n".join(line.replace(",", "-07:00,", 1) if line[:4] == "2026" else line for line in text.splitlines())
    hours, _ = parse_csv(with_offset, place=HERE)
    assert str(hours.utc[0]) == "2026-05-01T07:00:00"


def test_greensboro_is_the_year_its_makers_wrote():
    hours, problems = parse_tmy3(GREENSBORO)
    assert not stops(problems)
    assert len(hours) == 8760
    assert hours.air.min() == pytest.approx(-16.7)
    assert hours.air.max() == pytest.approx(35.6)
    assert str(hours.utc[0]) == "2025-01-01T05:00:00"  # hour-ending 01:00 at UTC-5 begins at 05:00 UTC


def test_rain_in_tenths_is_found_out():
    hours, problems = parse_tmy3(GREENSBORO)
    assert 600 < hours.rain.sum() < 1500  # the place gets about 1.1 m a year; read as headed it would be 8 m
    assert any("tenths of a mm" in p.what for p in problems)


def test_rain_in_mm_with_codes_is_found_out():
    hours, problems = parse_tmy3((TMY / "703165TY.csv").read_bytes())
    assert not stops(problems)
    assert hours.rain.max() < 25.0
    assert any("codes from 190 up left out" in p.what for p in problems)


def test_whole_millimetres_are_not_tenths():
    assert not in_tenths(np.arange(1.0, 60.0))
    assert in_tenths(np.round(2.54 * np.arange(1, 60)))


@pytest.mark.parametrize(
    ("damage", "said"),
    [
        (lambda b: b[: len(b) // 2], "instead of 8760"),
        (lambda b: b.replace(b"01/01/1988,02:00", b"01/01/1988,01:00"), "should be"),
        (lambda b: b.replace(b"Dry-bulb (C)", b"Dry (C)"), "Dry-bulb"),
        (lambda b: b.replace(b",10.0,A,7,6.1", b",hot,A,7,6.1"), "'hot'"),
        (lambda b: b.replace(b"-5.0,36.100", b"x,36.100"), "could not convert"),
        (lambda b: b"", "does not begin"),
        (lambda b: b"\n" * 5, "does not begin"),
    ],
)
def test_damaged_years_are_refused(damage, said):
    hours, problems = parse_tmy3(damage(GREENSBORO))
    assert hours is None
    assert said in problems[0].what


def epw(rows=None, hour=lambda h: h):
    days = np.datetime64("2025-01-01") + np.arange(365)
    lines = ["LOCATION,Town,NC,USA,made,0,36.1,-79.95,-5.0,273.0"] + [f"HEADER {i}" for i in range(7)]
    for day in days:
        y, m, d = str(day).split("-")
        lines += [
            f"{y},{int(m)},{int(d)},{hour(h)},60,?,10.0,99.9,60,98325,0,0,9999,{100 if h == 12 else 0},0,0,0,0,0,0,180,4.0,5,"
            f"4,20,77777,9,999999999,20,0.1,{h // 24},88,0.2,0.5,1.0"
            for h in range(1, 25)
        ]
    return "\n".join(lines[: rows + 8] if rows else lines)


def test_epw_fields_come_through():
    hours, problems = parse_epw(epw())
    assert not stops(problems)
    assert len(hours) == 8760
    assert hours.sun[11] == pytest.approx(100.0)
    assert np.isnan(hours.infrared).all()  # marked missing throughout
    assert hours.cloud[0] == pytest.approx(0.4)
    assert hours.snow.sum() == pytest.approx(365 * 10.0)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (epw(100), "instead of 8760"),
        (epw(hour=lambda h: 25 - h), "should be"),
        ("LOCATION\n" * 20, "does not begin"),
        ("", "does not begin"),
    ],
)
def test_damaged_epw_is_refused(text, said):
    hours, problems = parse_epw(text)
    assert hours is None
    assert said in problems[0].what


@pytest.mark.parametrize("parse", [parse_epw, parse_tmy3, lambda b: parse_csv(b, place=HERE)])
def test_a_hundred_megabytes_are_refused_unread(parse):
    hours, problems = parse(b"1" * 100_000_000)
    assert hours is None
    assert "it was not read" in problems[0].what


def test_leap_years_are_refused():
    with pytest.raises(ValueError, match="leap year"):
        parse_tmy3(GREENSBORO, year=2024)


@settings(max_examples=60, deadline=None)
@given(st.sampled_from([parse_epw, parse_tmy3, lambda b: parse_csv(b, place=HERE)]), st.binary(max_size=300))
def test_any_bytes_give_problems(parse, blob):
    hours, problems = parse(blob)
    assert hours is None
    assert stops(problems)


@settings(max_examples=80, deadline=None)
@given(st.data())
def test_a_damaged_table_gives_hours_or_problems(data):
    text = table(30)
    at = data.draw(st.integers(0, len(text)))
    damaged = text[:at] + data.draw(st.text(max_size=4)) + text[at + data.draw(st.integers(0, 4)) :]
    hours, problems = parse_csv(damaged, place=HERE)
    assert (hours is None) == bool(stops(problems))


DAYS = st.builds(
    Day,
    on=st.just(date(2026, 5, 1)),
    high=st.floats(0, 40),
    low=st.floats(-20, 0),
    wind=st.floats(0, 20),
    humidity=st.floats(0.05, 1),
    rain_chance=st.floats(0, 1),
    rain=st.floats(0, 50),
    sky=st.sampled_from(list(SKIES)),
)


@settings(max_examples=60, deadline=None)
@given(DAYS)
def test_hours_by_hand_keep_within_what_was_said(day):
    hours, problems = hours_by_hand([day], place=HERE)
    assert not stops(problems)
    assert day.low - 1e-9 <= hours.air.min()
    assert hours.air.max() <= day.high + 1e-9
    assert hours.rain.sum() == pytest.approx(day.rain)
    assert all(np.isfinite(getattr(hours, name)).all() for name in SERIES if name not in {"sun", "infrared"})


def test_high_is_in_the_afternoon_and_low_near_dawn():
    hours, _ = hours_by_hand([Day(date(2026, 6, 21), 30.0, 15.0, 3.0, 0.6)], place=HERE)
    local = [t.hour for t in local_hours(hours)]
    assert 14 <= local[int(hours.air.argmax())] <= 17
    assert 4 <= local[int(hours.air.argmin())] <= 7


@pytest.mark.parametrize(("on", "n"), [(date(2026, 3, 8), 23), (date(2026, 11, 1), 25), (date(2026, 6, 1), 24)])
def test_days_when_clocks_change_have_their_hours(on, n):
    hours, _ = hours_by_hand([Day(on, 20.0, 10.0, 3.0, 0.6)], place=HERE)
    assert len(hours) == n


def test_impossible_numbers_by_hand_are_named_all_at_once():
    first, second = Day(date(2026, 5, 1), 5.0, 15.0, 3.0, 0.6, sky="purple"), Day(date(2026, 5, 3), 15.0, 5.0, 3.0, 0.0)
    hours, problems = hours_by_hand([first, second], place=HERE)
    assert hours is None
    assert len(problems) == 4
