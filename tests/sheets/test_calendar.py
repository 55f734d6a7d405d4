"""The calendar, read by two independent readers: same events, right instants, moves that replace."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import icalendar
import pytest
import vobject
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.price.business import Business
from crownwright.sheets.calendar import Visit, folded, moved, visits_of
from crownwright.sheets.calendar import icalendar as written
from crownwright.sheets.calendar_card import qr_svg, vcard
from crownwright.sheets.calendar_week import calls, shown, week

MADE = datetime(2026, 5, 3, 12, tzinfo=UTC)
POUR = datetime(2026, 5, 20, 9, 0)
Event = tuple[str, Any, Any, str, int]


def first_reader(text: str) -> list[Event]:
    """uid, start, end, what, revision: times with a clock as instants in UTC."""
    events = icalendar.Calendar.from_ical(text).walk("VEVENT")
    return [
        (str(e["UID"]), _instant(e.decoded("DTSTART")), _instant(e.decoded("DTEND")), str(e["SUMMARY"]), int(e["SEQUENCE"]))
        for e in events
    ]


def second_reader(text: str) -> list[Event]:
    """This reader keeps the first zone of a name that it ever read, so that its memory is emptied first."""
    zones = vars(vobject.icalendar)["__tzidMap"]
    zones.clear()
    zones["UTC"] = UTC
    events = vobject.readOne(text).vevent_list
    return [
        (e.uid.value, _instant(e.dtstart.value), _instant(e.dtend.value), e.summary.value, int(e.sequence.value)) for e in events
    ]


def _instant(at: date) -> date:
    return at.astimezone(UTC) if isinstance(at, datetime) else at


def test_both_readers_see_the_same_events() -> None:
    visits = visits_of("job", "Tallow, R.; kitchen stack\nback", "Oldbarrow", POUR)
    text = written(visits, "America/New_York", MADE)
    one, two = first_reader(text), second_reader(text)
    assert one == two
    assert len(one) == len(visits)
    assert [e[0] for e in one] == [v.uid for v in visits]
    assert one[1][1] == datetime(2026, 5, 20, 13, tzinfo=UTC)  # nine in New York in summer
    assert one[1][3] == "Pour: Tallow, R.; kitchen stack\nback"
    assert one[2][1:3] == (date(2026, 5, 21), date(2026, 5, 22))


ZONES = [
    "America/New_York",
    "Europe/Berlin",
    "Australia/Lord_Howe",
    "Asia/Kolkata",
    "America/Phoenix",
    "America/St_Johns",
    "Europe/Dublin",
]


@settings(max_examples=25, deadline=None, derandomize=True)
@given(st.sampled_from(ZONES), st.datetimes(datetime(2024, 1, 1), datetime(2031, 12, 31)))
def test_the_clock_is_right_all_year_in_every_zone(zone: str, at: datetime) -> None:
    at, tz = at.replace(microsecond=0, second=0), ZoneInfo(zone)
    truth = at.replace(tzinfo=tz).astimezone(UTC)
    if truth.astimezone(tz).replace(tzinfo=None) != at or at.replace(tzinfo=tz, fold=1).astimezone(UTC) != truth:
        return  # an hour that does not exist, or exists twice
    text = written([Visit("j", "pour", "Pour", at, at + timedelta(minutes=30))], zone, MADE)
    assert first_reader(text)[0][1] == truth
    assert second_reader(text)[0][1] == truth


@pytest.mark.parametrize(("on", "utc"), [((2026, 3, 7), 14), ((2026, 3, 8), 13), ((2026, 10, 31), 13), ((2026, 11, 1), 14)])
def test_the_days_round_the_change_of_the_clock(on: tuple[int, int, int], utc: int) -> None:
    """New York, nine in the morning: UTC - 5 until 8 March and from 1 November 2026, UTC - 4 between."""
    at = datetime(*on, 9)
    text = written([Visit("j", "pour", "Pour", at)], "America/New_York", MADE)
    assert first_reader(text)[0][1] == second_reader(text)[0][1] == datetime(*on, utc, tzinfo=UTC)


def test_the_zone_in_the_file_says_it_without_the_reader_knowing_the_zone() -> None:
    """Under a name that no reader knows, only the file's own zone can give the instant."""
    text = written([Visit("j", "pour", "Pour", POUR)], "America/New_York", MADE).replace("America/New_York", "Somewhere")
    assert second_reader(text)[0][1] == datetime(2026, 5, 20, 13, tzinfo=UTC)


def test_a_moved_visit_keeps_its_id_and_replaces_the_old_one() -> None:
    pour = visits_of("job", "x", "", POUR)[1]
    later = moved(pour, POUR + timedelta(days=2), POUR + timedelta(days=2, hours=5))
    assert moved(pour, pour.start, pour.end) is pour
    old, new = (first_reader(written([v], "America/New_York", MADE))[0] for v in (pour, later))
    assert old[0] == new[0]
    assert (old[4], new[4]) == (0, 1)
    kept = {e[0]: e for e in sorted([new, old], key=lambda e: e[4])}  # what a reader does: the highest revision of an id stays
    assert list(kept.values()) == [new]
    assert len({v.uid for j in ("a", "b") for v in visits_of(j, "x", "", POUR)}) == 16


@settings(deadline=None, derandomize=True)
@given(st.text(max_size=300))
def test_no_line_is_over_75_octets_and_unfolding_brings_it_back(text: str) -> None:
    line = "SUMMARY:" + text.replace("\r", "").replace("\n", "")
    parts = folded(line)
    assert all(len(part.encode("utf-8", "surrogatepass")) <= 75 for part in parts)
    assert parts[0] + "".join(part[1:] for part in parts[1:]) == line


def test_what_cannot_be_is_refused() -> None:
    visit = Visit("j", "pour", "Pour", POUR, POUR + timedelta(hours=1))
    for bad in (replace(visit, end=POUR), replace(visit, start=POUR.replace(tzinfo=UTC)), replace(visit, start=POUR.date())):
        with pytest.raises(ValueError, match=r"ends before|zone"):
            written([bad], "America/New_York", MADE)
    with pytest.raises(ValueError, match="twice"):
        written([visit, visit], "America/New_York", MADE)


def test_the_week_with_its_clashes_and_calls() -> None:
    a = visits_of("a", "Weir Cottage", "Oldbarrow", POUR)
    b = [Visit("b", "bed", "Bed: Mill Row", POUR + timedelta(hours=2), POUR + timedelta(hours=4))]
    days = week([*a, *b], date(2026, 5, 18), {date(2026, 5, 20): "dry, 61 °F"})
    wednesday = days[2]
    assert [v.what for v in wednesday.visits] == ["Pour: Weir Cottage", "Bed: Mill Row"]
    assert len(wednesday.clashes) == 1
    assert calls(days, date(2026, 5, 19), {"a": "555 0100"}) == (
        "555 0100: Pour: Weir Cottage, 09:00",
        "no number: Bed: Mill Row, 11:00",
    )
    assert any("overlap" in line for line in shown(days))
    assert "Wednesday 2026-05-20: dry, 61 °F" in shown(days)


def test_the_card_is_read_by_an_independent_reader() -> None:
    card = vobject.readOne(vcard(Business("Marr; Sons, masons", ("4 Kiln Lane", "Oldbarrow"), "555 0142", "e@marr.example")))
    assert card.fn.value == "Marr; Sons, masons"
    assert (card.tel.value, card.email.value) == ("555 0142", "e@marr.example")
    assert (card.adr.value.street, card.adr.value.city) == ("4 Kiln Lane", "Oldbarrow")


def test_a_code_is_a_square_of_the_size_asked_with_its_quiet_border() -> None:
    svg = qr_svg("https://marr.example/record/1", 30.0)
    assert 'width="30' in svg
    assert svg.count("<path") >= 1
