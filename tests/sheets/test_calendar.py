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
from crownwright.sheets.calendar import Organizer, Visit
from crownwright.sheets.calendar import icalendar as written
from crownwright.sheets.calendar_card import qr_svg, vcard
from crownwright.sheets.calendar_sent import followed, read_visits
from crownwright.sheets.calendar_text import escaped, folded, plain
from crownwright.sheets.calendar_visits import care_visits, visits_of
from crownwright.sheets.calendar_week import rows, title, week

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


def test_the_zone_of_the_file_is_right_round_every_change_of_the_clock_for_years() -> None:
    """Both readers under a name they cannot know, three days round both changes of 2026 and 2027 in three zones."""
    changes = {
        "America/New_York": ((2026, 3, 8), (2026, 11, 1), (2027, 3, 14), (2027, 11, 7)),
        "Europe/Dublin": ((2026, 3, 29), (2026, 10, 25), (2027, 3, 28), (2027, 10, 31)),
        "Australia/Lord_Howe": ((2026, 4, 5), (2026, 10, 4), (2027, 4, 4), (2027, 10, 3)),
    }
    for zone, days in changes.items():
        times = [datetime(*day, 9) + timedelta(days=n) for day in days for n in (-1, 0, 1)]
        text = written([Visit("j", f"pour {n}", "Pour", at) for n, at in enumerate(times)], zone, MADE).replace(
            zone, f"Own/{zone[:3]}"
        )
        truth = [at.replace(tzinfo=ZoneInfo(zone)).astimezone(UTC) for at in times]
        assert [e[1] for e in first_reader(text)] == truth
        assert [e[1] for e in second_reader(text)] == truth


class Calendar:
    """A reader's calendar kept by RFC 5546, 2.1.5: the higher revision of an id holds; cancelled is out."""

    def __init__(self, read: Any) -> None:
        self.read, self.kept, self.status = read, {}, {}

    def take_in(self, text: str) -> dict[str, Event]:
        states = {str(e["UID"]): str(e["STATUS"]) for e in icalendar.Calendar.from_ical(text).walk("VEVENT")}
        for event in self.read(text):
            if event[4] >= self.kept.get(event[0], event)[4]:
                self.kept[event[0]], self.status[event[0]] = event, states[event[0]]
        return {uid: event for uid, event in self.kept.items() if self.status[uid] != "CANCELLED"}


@pytest.mark.parametrize("read", [first_reader, second_reader])
def test_moved_visits_replace_and_dropped_ones_go(read: Any) -> None:
    """Three visits become two, one of them moved; then the job is lost; then it comes back."""
    zone, on = "America/New_York", date(2026, 5, 4)
    three = visits_of("job", "x", "", POUR, care_years=())[:3]  # bed, pour, mist
    two = (three[0], replace(three[1], start=POUR + timedelta(days=2), end=None))
    steps = [three, two, (), two]
    mine, sent = Calendar(read), ()
    left = []
    for now in steps:
        text = written(followed(sent, now, zone, on), zone, MADE)
        sent = read_visits(text)
        left.append(mine.take_in(text))
    assert [set(one) for one in left] == [{v.uid for v in now} for now in steps]
    bed, pour, mist = (v.uid for v in three)
    assert left[1][bed] == left[0][bed], "what did not move keeps its revision"
    assert left[1][pour][1] == datetime(2026, 5, 22, 13, tzinfo=UTC)
    assert left[1][pour][4] == left[0][pour][4] + 1
    assert left[3][pour][4] > left[1][pour][4]
    late = Calendar(read)
    late.take_in(written(followed(read_visits(written(three, zone, MADE)), two, zone, on), zone, MADE))
    assert set(late.take_in(written(three, zone, MADE))) == {bed, pour}, "an old file that comes late brings nothing back"
    assert mist not in left[1]


def test_what_was_struck_out_is_said_for_a_while_and_what_has_happened_stays() -> None:
    zone, on = "America/New_York", date(2026, 5, 21)  # the day after the pour
    sent = visits_of("job", "x", "", POUR, care_years=())
    ended = followed(sent, (), zone, on)
    assert [v.key for v in ended if not v.cancelled] == ["bed", "pour"]
    assert {v.key for v in ended if v.cancelled} == {"mist", "strip", "handover"}
    assert all(v.revision == 1 for v in ended if v.cancelled)
    assert followed(ended, (), zone, on) == ended, "said again as it was said"
    assert followed(ended, (), zone, date(2026, 9, 1)) == ()


def test_a_revision_counts_up_from_what_was_given_out_before() -> None:
    first = replace(visits_of("job", "x", "", POUR)[1], revision=7)
    (same,) = followed([first], [replace(first, revision=9)], "UTC", date(2026, 5, 4))
    (moved,) = followed([first], [replace(first, start=POUR + timedelta(days=1), end=None, revision=9)], "UTC", date(2026, 5, 4))
    assert (same.revision, moved.revision) == (7, 9)


TEXTS = st.text(st.characters(exclude_categories=["Cs", "Cc"], include_characters="\n"), max_size=60)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(TEXTS, TEXTS, st.integers(0, 99), st.booleans(), st.booleans(), st.booleans(), st.sampled_from([None, 7]))
def test_what_is_written_is_read_back(
    what: str, place: str, revision: int, timed: bool, cancelled: bool, sure: bool, warn: int | None
) -> None:
    visit = Visit(
        "j", "k", what, POUR if timed else POUR.date(), POUR + timedelta(hours=2) if timed else None, place, what[::-1],
        revision, cancelled, "Europe/Berlin" if timed else "", sure or cancelled, None if cancelled else warn,
    )  # fmt: skip
    (back,) = read_visits(written([visit], "America/New_York", MADE, organizer=Organizer('M "x"; y', "a@b.example")))
    assert replace(back, sent_as="", job="j", key="k") == visit
    assert back.uid == visit.uid
    assert plain(escaped(what)) == what


@pytest.mark.parametrize("text", ["", "BEGIN:VCALENDAR\nBEGIN:VEVENT\nUID:1\nEND:VEVENT",
                                  "BEGIN:VCALENDAR\nBEGIN:VEVENT\nUID:1\nDTSTART:soon\nEND:VEVENT"])  # fmt: skip
def test_what_is_no_calendar_is_said(text: str) -> None:
    with pytest.raises(ValueError, match=r"calendar|no start|format"):
        read_visits(text)


def test_published_only_with_an_organizer_and_pencilled_in_until_agreed() -> None:
    """RFC 5546, 3.2.1: a PUBLISH must name its ORGANIZER; without one it is a calendar and no message."""
    visit = replace(visits_of("j", "x", "", POUR)[1], sure=False)
    alone = icalendar.Calendar.from_ical(written([visit], "America/New_York", MADE))
    sent = icalendar.Calendar.from_ical(
        written([visit], "America/New_York", MADE, "Marr", Organizer("Marr; Sons", "e@marr.example"))
    )
    assert "METHOD" not in alone
    assert sent["METHOD"] == "PUBLISH"
    (event,) = sent.walk("VEVENT")
    assert (str(event["ORGANIZER"]), event["ORGANIZER"].params["CN"]) == ("mailto:e@marr.example", "Marr; Sons")
    assert str(event["STATUS"]) == "TENTATIVE"


def test_jobs_in_two_zones_in_one_file() -> None:
    east = Visit("a", "pour", "Pour", POUR, zone="America/New_York")
    west = Visit("b", "pour", "Pour", POUR, zone="America/Denver")
    text = written([east, west], "UTC", MADE)
    assert text.count("BEGIN:VTIMEZONE") == 2
    assert [e[1].hour for e in first_reader(text)] == [e[1].hour for e in second_reader(text)] == [13, 15]


def test_a_look_at_the_sealant_reminds_a_week_before() -> None:
    (alarm,) = icalendar.Calendar.from_ical(written(care_visits("j", "x", "", date(2024, 2, 29), [2]), "UTC", MADE)).walk(
        "VALARM"
    )
    assert alarm.decoded("TRIGGER") == timedelta(days=-7)
    assert care_visits("j", "x", "", date(2024, 2, 29), [2])[0].start == date(2026, 2, 28)
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


def test_the_week_with_its_clashes() -> None:
    a = visits_of("a", "Weir Cottage", "Oldbarrow", POUR)
    b = [Visit("b", "bed", "Bed: Mill Row", POUR + timedelta(hours=2), POUR + timedelta(hours=4))]
    days = week([*a, *b], date(2026, 5, 18), {date(2026, 5, 20): "dry, 61 °F"})
    wednesday = days[2]
    assert [v.what for v in wednesday.visits] == ["Pour: Weir Cottage", "Bed: Mill Row"]
    assert [clash.why for clash in wednesday.clashes] == ["at the same time"]
    assert rows(wednesday)[1:] == (
        ("11:00 to 13:00", "Bed: Mill Row"),
        ("clash", "Pour: Weir Cottage and Bed: Mill Row: at the same time"),
    )
    assert title(wednesday) == "Wednesday 2026-05-20: dry, 61 °F"


def test_one_mixer_makes_one_pour_a_day_and_one_job_never_clashes_with_itself() -> None:
    early = Visit("a", "pour", "Pour: a", POUR.replace(hour=7), POUR.replace(hour=9))
    late = Visit("b", "pour", "Pour: b", POUR.replace(hour=13), POUR.replace(hour=15))
    (day,) = [day for day in week([early, late], date(2026, 5, 18)) if day.clashes]
    assert day.clashes[0].says.startswith("Pour: a and Pour: b: pours on one day")
    own = replace(early, key="bed")
    assert not any(day.clashes for day in week([early, own], date(2026, 5, 18)))
    doubts = {late.uid: "rain before it sets"}
    assert week([early, late], date(2026, 5, 18), doubts=doubts)[2].doubts == ((late, "rain before it sets"),)


def test_the_card_is_read_by_an_independent_reader() -> None:
    card = vobject.readOne(vcard(Business("Marr; Sons, masons", ("4 Kiln Lane", "Oldbarrow"), "555 0142", "e@marr.example")))
    assert card.fn.value == "Marr; Sons, masons"
    assert (card.tel.value, card.email.value) == ("555 0142", "e@marr.example")
    assert (card.adr.value.street, card.adr.value.city) == ("4 Kiln Lane", "Oldbarrow")


def test_a_code_is_a_square_of_the_size_asked_with_its_quiet_border() -> None:
    svg = qr_svg("https://marr.example/record/1", 30.0)
    assert 'width="30' in svg
    assert svg.count("<path") >= 1
