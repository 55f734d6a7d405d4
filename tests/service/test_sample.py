"""The sample job: invented, dated from the day it is laid in, and with something to show on every page from then on."""

from __future__ import annotations

from datetime import UTC, date, datetime
from itertools import pairwise
from pathlib import Path

import pytest

from crownwright.service.desk.days_of import plan_the_days
from crownwright.service.desk.list_jobs import find_job
from crownwright.service.desk.model import By
from crownwright.service.desk.open_desk import open_desk
from crownwright.service.desk.sample import WEEK, ZONE, lay_in_sample, sample_text, sample_weather
from crownwright.service.desk.shelf import forecast_place, shelved
from crownwright.service.desk.text_of import values_as_typed
from crownwright.service.desk.week import week_of


@pytest.mark.parametrize("today", [date(2026, 6, 20), date(2026, 12, 21)])
def test_its_pour_has_weather_and_daylight_in_summer_as_in_winter(today: date) -> None:
    text, noon = sample_text(today), datetime(today.year, today.month, today.day, 12, tzinfo=UTC)
    begins = f"{today.replace(day=today.day + 5)}T07:00"
    assert f'begins = "{begins}"' in text
    told, problems = plan_the_days(text, sample_weather(today), WEEK, ZONE, begins, noon, False)
    assert not [problem for problem in problems if problem.stops]
    assert told is not None
    followed = told.days.cure.pour
    assert followed is not None
    assert f"{followed.at:%Y-%m-%dT%H:%M}" == begins
    assert followed.ok, followed.refused


def test_its_hours_follow_one_another_where_clocks_change() -> None:
    for today in (date(2026, 3, 6), date(2026, 10, 30)):
        first, *rows = sample_weather(today).decode().splitlines()
        assert first.startswith("time,")
        times = [datetime.fromisoformat(row.partition(",")[0]) for row in rows]
        assert len(times) == 240
        assert {(b - a).total_seconds() for a, b in pairwise(times)} == {3600.0}


def test_it_is_agreed_and_stands_in_the_week(tmp_path: Path) -> None:
    desk = open_desk(tmp_path / "jobs.book", clock=lambda: datetime(2026, 5, 4, 3, 0, tzinfo=UTC))  # still the third where it is
    assert lay_in_sample(desk, By("E. Marr")) is not None
    assert lay_in_sample(desk, By("E. Marr")) is None
    row = find_job(desk, "sample")
    assert (row.state, row.next_visit) == ("agreed", "2026-05-07")
    assert values_as_typed(desk, "sample")["read_on"] == "2026-04-30"
    shelf = shelved(desk, forecast_place("sample"))
    assert shelf is not None
    assert shelf.name == WEEK
    assert b"2026-05-03T04:00+00:00,51" in shelf.data
    assert "pour: weir cottage" in repr(week_of(desk, date(2026, 5, 4))).lower()
    desk.close()
