"""The week over all jobs, the calls of a day, and a calendar whose entries move with the pour."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Any

import icalendar
import pytest

from crownwright.service.desk.begin_job import begin_from_text
from crownwright.service.desk.calendars import calendar_of_book, calendar_of_job
from crownwright.service.desk.calls import calls_of
from crownwright.service.desk.clear_out import KEPT_DAYS, clear_out
from crownwright.service.desk.days_of import keep_forecast
from crownwright.service.desk.keep_work import bring_back, set_state, set_visit, take_out
from crownwright.service.desk.model import BookError, By, Change, Entry
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.desk.shelf import sent_place, shelved
from crownwright.service.desk.week import week_of
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
def agreed(desk: Desk, clock: Any) -> str:
    """A job whose pour hour is chosen and that has no forecast: the usual visits round it."""
    clock.at = clock.at.replace(year=2026, month=5, day=11, hour=8)
    job = begun(desk, "demo", "2026-05-16T12:00")
    set_state(desk, job, "agreed")
    return job


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
    changed = [u for u in before if int(after[u]["SEQUENCE"]) > int(before[u]["SEQUENCE"])]
    assert uid in changed
    assert {u for u in before if before[u].decoded("DTSTART") != after[u].decoded("DTSTART")} <= set(changed)
    assert events(calendar_of_job(desk, poured))[uid]["SEQUENCE"] == after[uid]["SEQUENCE"], "nothing moved since"
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
    days = week_of(desk, MONDAY).days
    saturday, thursday = days[5], days[3]
    assert {v.job for v in saturday.visits} == {poured, "other"}
    assert len(saturday.clashes) == 1, "two pours at one time"
    assert [v.job for v in thursday.visits] == ["third"]
    assert "rain" in saturday.weather
    assert "°F" in saturday.weather
    assert week_of(desk).days[0].on == MONDAY, "this week's monday"


def test_whom_to_call_and_why(desk: Desk, poured: str) -> None:
    calls = calls_of(desk, date(2026, 5, 15))
    assert [(c.job, c.who, c.phone) for c in calls] == [(poured, "R. Tallow", "555 0142")]
    assert calls[0].why == "tomorrow, 12:00: pour"
    assert calls_of(desk, date(2026, 5, 12)) == ()


def test_an_hour_that_is_none_breaks_nothing(desk: Desk) -> None:
    begun(desk, "odd", "soon")
    set_state(desk, "odd", "agreed")
    assert all(not day.visits for day in week_of(desk, MONDAY).days)
    assert calendar_of_job(desk, "odd").startswith("BEGIN:VCALENDAR")


def standing(text: str) -> dict[str, str]:
    """What stands in a reader's calendar: the first word of each entry, and its STATUS."""
    return {str(e["SUMMARY"]).partition(":")[0]: str(e["STATUS"]) for e in events(text).values()}


def test_a_job_taken_out_is_struck_out_of_every_calendar_it_was_in(desk: Desk, agreed: str) -> None:
    before = events(calendar_of_book(desk))
    assert before.keys() == events(calendar_of_job(desk, agreed)).keys()
    take_out(desk, agreed)
    for text in (calendar_of_book(desk), calendar_of_job(desk, agreed), calendar_of_book(desk)):
        gone = events(text)
        assert gone.keys() == before.keys()
        assert {str(e["STATUS"]) for e in gone.values()} == {"CANCELLED"}
        assert all(int(gone[u]["SEQUENCE"]) == int(before[u]["SEQUENCE"]) + 1 for u in before)
    bring_back(desk, agreed)
    again = events(calendar_of_book(desk))
    assert {str(e["STATUS"]) for e in again.values()} == {"CONFIRMED"}
    assert all(int(again[u]["SEQUENCE"]) == int(before[u]["SEQUENCE"]) + 2 for u in before)


def test_a_job_finished_early_keeps_its_years_and_one_lost_keeps_nothing(desk: Desk, agreed: str, clock: Any) -> None:
    lost = begun(desk, "lost", "2026-05-19T09:00")
    set_state(desk, lost, "quoted")
    assert set(standing(calendar_of_job(desk, lost)).values()) == {"TENTATIVE"}
    calendar_of_book(desk)
    clock.at = clock.at.replace(day=17)  # the day after the pour
    set_state(desk, agreed, "poured")
    assert standing(calendar_of_job(desk, agreed))["Pour"] == "CONFIRMED", "it has happened"
    set_state(desk, agreed, "handed over")
    stands = standing(calendar_of_job(desk, agreed))
    assert stands["Strip and seal"] == stands["Hand over"] == "CANCELLED"
    assert stands["Pour"] == stands["Look at the sealant"] == "CONFIRMED"
    set_state(desk, lost, "closed")
    assert set(standing(calendar_of_job(desk, lost)).values()) == {"CANCELLED"}
    whole = events(calendar_of_book(desk))
    assert len([e for e in whole.values() if str(e["SUMMARY"]).startswith("Look at") and str(e["STATUS"]) == "CONFIRMED"]) == 3
    years = week_of(desk, date(2028, 5, 22)).days
    assert [v.what.partition(":")[0] for day in years for v in day.visits] == ["Look at the sealant"]
    assert [c.why for c in calls_of(desk, next(d.on for d in years if d.visits))][-1].startswith("the sealant is to be looked at")


def test_a_job_of_which_no_calendar_was_given_out_is_looked_at_again_too(desk: Desk, agreed: str) -> None:
    set_state(desk, agreed, "poured")
    set_state(desk, agreed, "closed")
    years = week_of(desk, date(2030, 5, 20)).days
    assert [(v.what.partition(":")[0], v.on) for day in years for v in day.visits] == [("Look at the sealant", date(2030, 5, 23))]


def test_a_visit_written_down_stands_beside_those_planned(desk: Desk, agreed: str) -> None:
    set_visit(desk, agreed, "2026-05-13T08:30")
    assert "Visit" in standing(calendar_of_job(desk, agreed))
    set_visit(desk, agreed, "2026-05-16T08:30")
    assert standing(calendar_of_job(desk, agreed))["Visit"] == "CANCELLED", "the pour is on that day"


def test_late_in_the_evening_it_is_not_yet_tomorrow(desk: Desk, agreed: str, clock: Any) -> None:
    """Eleven at night in New York on the fifteenth is three in the morning of the sixteenth in Greenwich."""
    clock.at = clock.at.replace(day=16, hour=3)
    assert [c.why for c in calls_of(desk)] == ["tomorrow, 12:00: pour"]


def test_a_book_that_may_only_be_read_gives_its_calendar_all_the_same(
    desk: Desk, agreed: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise BookError("The disk is full", "Make room")

    monkeypatch.setattr("crownwright.service.desk.calendars.shelve", full)
    assert standing(calendar_of_book(desk))["Pour"] == "CONFIRMED"


def test_what_was_given_out_goes_with_the_job_that_is_cleared(desk: Desk, agreed: str, clock: Any) -> None:
    calendar_of_job(desk, agreed)
    take_out(desk, agreed)
    calendar_of_job(desk, agreed)
    assert shelved(desk, sent_place(agreed)) is not None
    clock.on(days=KEPT_DAYS + 1)
    gone = clear_out(desk, By("E. Marr"), [agreed])
    assert isinstance(gone, tuple)
    assert [row.id for row in gone] == [agreed]
    assert shelved(desk, sent_place(agreed)) is None
