"""What is done to hours as a whole: cut, lengthened, brought to the chimney top, lit."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from crownwright.weather.by_hand import Day, hours_by_hand
from crownwright.weather.columns import Place
from crownwright.weather.hours import Hours, at_top, between, lengthened, local_hours, zone_of
from crownwright.weather.sky import day_length, light_enough, sky_over


@pytest.fixture(scope="module")
def week() -> Hours:
    days = [Day(date(2026, 6, 1 + i), 25.0 + i, 12.0, 4.0, 0.6, 0.3, 2.0) for i in range(7)]
    hours, _ = hours_by_hand(days, place=Place(40.0, -105.0, 1600.0, "America/Denver"))
    assert hours is not None
    return hours


def test_a_gap_is_refused(week):
    with pytest.raises(ValueError, match="without a gap"):
        replace(week, utc=week.utc + np.where(np.arange(len(week)) > 5, np.timedelta64(1, "h"), np.timedelta64(0, "h")))


def test_a_short_column_is_refused(week):
    with pytest.raises(ValueError, match="air"):
        replace(week, air=week.air[:-1])


def test_lengthened_repeats_the_last_days_dry_and_says_what_is_known(week):
    long = lengthened(week, len(week) + 50)
    assert len(long) == len(week) + 50
    assert long.known == len(week)
    assert long.rain[len(week) :].sum() == 0
    assert long.air[len(week)] == pytest.approx(week.air[-72::24].mean())
    assert lengthened(week, 10) is week


def test_between_keeps_count_of_what_is_known(week):
    long = lengthened(week, 200)
    assert between(long, 160, 180).known == 8
    assert between(long, 170, 180).known == 0


def test_wind_comes_to_the_top_of_the_chimney(week):
    top = at_top(week, 8.0, "wooded or suburb")
    assert top.wind == pytest.approx(week.wind * 0.682, rel=1e-3)
    assert top.wind_height == 8.0
    with pytest.raises(KeyError, match="open, wooded or suburb, town centre"):
        at_top(week, 8.0, "forest")


def test_nights_are_dark_and_noons_are_light(week):
    lit = light_enough(week)
    hour = np.array([t.hour for t in local_hours(week)])
    assert lit[hour == 13].all()
    assert not lit[hour == 1].any()
    assert 14.7 < day_length(week).total_seconds() / 3600 < 15.2  # 40 N in early June, almanac 14 h 54 min


def test_clouds_dim_the_sun_and_warm_the_sky(week):
    clear, grey = (sky_over(replace(week, cloud=np.full(len(week), c))) for c in (0.0, 1.0))
    assert (grey.sun <= clear.sun).all()
    assert (grey.infrared > clear.infrared).all()


def test_measured_sunshine_is_kept(week):
    measured = np.full(len(week), 123.0)
    assert sky_over(replace(week, sun=measured)).sun == pytest.approx(measured)


@pytest.mark.parametrize("name", ["UTC-25:99", "Nowhere/Town", "", "UTC+5", "../etc/passwd"])
def test_zones_that_are_none(name):
    with pytest.raises(ValueError, match="time zone"):
        zone_of(name)
