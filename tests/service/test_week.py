"""The week over all jobs, the calls of a day, and a calendar whose entries move with the pour."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Any

import icalendar
import pytest

from crownwright.service.desk.begin_job import begin_from_text
from crownwright.service.desk.days_of import keep_forecast
from crownwright.service.desk.keep_work import set_state, set_visit
from crownwright.service.desk.model import By, Change, Entry
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.desk.week import calendar_of_job, calls_of, week_of
from crownwright.service.open_job import open_demo

ANSEL = By("Ansel", "phone-1")
TEN_DAYS = Path(__file__).resolve().parents[2] / "examples" / "weather" / "ten-days.toml"
MONDAY = date(2026, 5, 11)


def begun(desk: Desk, job: str, begins: str = "", title: str = "") -> str:
    text = open_demo().text + f'\n[day]\nzone = "America/New_York"\nbegins = "{begins}"\n' if begins else open_demo().text
    begin_from_text(desk, ANSEL, job, text + '\n[quote]\nphone = "555 0142"\n')
    return job


def events(text: str) -> dict[str, Any]:
    return {str(e["UID"]): e for e in icalendar.Calendar.from_ical(text).walk("VEVENT")}


@pytest.fixture
def poured(desk: Desk, clock: Any) -> str:
    clock.at = clock.at.replace(year=2026, month=5, day=11, hour=8)
    job = begun(desk, "demo", "2026-05-16T12:00")
    assert keep_forecast(desk, job, TEN_DAYS.name, TEN_DAYS.read_bytes()) == ()
    set_state(desk, job, "agreed")
    return job


def test_visits_follow_the_cure_and_move_with_the_pour(desk: Desk, poured: str) -> None:
    before = events(calendar_of_job(desk, poured))
    save_entry(desk, ANSEL, Entry("e1", poured, 1, (Change("day.begins", "2026-05-18T11:00"),)))
    after = events(calendar_of_job(desk, poured))
    assert set(before) == set(after), "ids stay"
    uid = next(uid for uid, e in before.items() if str(e["SUMMARY"]).startswith("Pour"))
    moves = [e[uid].decoded("DTSTART").replace(tzinfo=None) for e in (before, after)]
    assert moves == [datetime(2026, 5, 16, 12), datetime(2026, 5, 18, 11)]
    assert all(int(after[u]["SEQUENCE"]) > int(before[u]["SEQUENCE"]) for u in before)
    strip = next(e for e in before.values() if str(e["SUMMARY"]).startswith("Strip"))
    at = strip.decoded("DTSTART")
    assert at.date() > date(2026, 5, 16)
    assert 7 <= at.hour <= 16, "people are at work"
    assert "Float" in str(before[uid]["DESCRIPTION"])


def test_a_week_of_all_jobs_with_clashes_and_weather(desk: Desk, poured: str) -> None:
    begun(desk, "other", "2026-05-16T13:00")
    set_state(desk, "other", "agreed")
    begun(desk, "third")
    set_visit(desk, "third", "2026-05-14")
    days = week_of(desk, MONDAY)
    saturday, thursday = days[5], days[3]
    assert {v.job for v in saturday.visits} == {poured, "other"}
    assert len(saturday.clashes) == 1, "two pours at one time"
    assert [v.job for v in thursday.visits] == ["third"]
    assert "rain" in saturday.weather
    assert "°F" in saturday.weather
    assert next(day.on for day in week_of(desk)) == MONDAY, "this week's monday"


def test_whom_to_call_and_why(desk: Desk, poured: str) -> None:
    calls = calls_of(desk, date(2026, 5, 15))
    assert [(c.job, c.who, c.phone) for c in calls] == [(poured, "R. Tallow", "555 0142")]
    assert calls[0].why == "tomorrow, 12:00: pour"
    assert calls_of(desk, date(2026, 5, 12)) == ()


def test_an_hour_that_is_none_breaks_nothing(desk: Desk) -> None:
    begun(desk, "odd", "soon")
    set_state(desk, "odd", "agreed")
    assert all(not day.visits for day in week_of(desk, MONDAY))
    assert calendar_of_job(desk, "odd").startswith("BEGIN:VCALENDAR")
