"""The day's log: read whole or not at all; and what it does to the times."""

from __future__ import annotations

import tomllib
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.cure.cure import cure_for
from crownwright.cure.day_log import Batch, DayLog, Happened, Taken, parse_log
from crownwright.cure.inputs import CureChoices
from crownwright.cure.on_the_day import correction, mix_as_placed, revise
from crownwright.quantity.units import HOUR

NOON = datetime(2026, 5, 6, 18, tzinfo=UTC)  # noon in Denver
ZONE = "America/Denver"
LOG = """
[[batches]]
at = 2026-05-06T12:05:00
bags = 2
water = 5.6
temperature = 24.0

[[batches]]
at = "2026-05-06 12:40"
bags = 1.5

[[temperatures]]
at = 2026-05-06T15:00:00
place = "top"
temperature = 27.5

[[events]]
at = 2026-05-06T14:00:00-06:00
what = "struck off"
note = "a little late"
"""


@pytest.fixture(scope="module")
def weather(days):
    return days()


@pytest.fixture(scope="module")
def plan(cap, mix, weather):
    return cure_for(cap, weather, mix, CureChoices(pour_at=NOON, with_bed=False, cure_days=4.0))


def by(revision, key):
    return next(m.by for m in revision.moved if m.key == key)


def test_a_log_is_read():
    log, problems = parse_log(tomllib.loads(LOG), ZONE)
    assert not problems
    assert [batch.bags for batch in log.batches] == [2.0, 1.5]
    assert log.batches[0].at.astimezone(UTC) == datetime(2026, 5, 6, 18, 5, tzinfo=UTC)
    assert log.when("struck off") == datetime(2026, 5, 6, 20, tzinfo=UTC)
    assert log.when("stripped") is None
    assert mix_as_placed(log, 20.0) == 24.0


@pytest.mark.parametrize(
    ("data", "where"),
    [
        ([], "log"),
        ({"cakes": []}, "log.cakes"),
        ({"batches": {}}, "log.batches"),
        ({"batches": [3]}, "log.batches[0]"),
        ({"batches": [{"at": "noon", "bags": 1}]}, "log.batches[0].at"),
        ({"batches": [{"at": "2026-05-06 12:00"}]}, "log.batches[0].bags"),
        ({"batches": [{"at": "2026-05-06 12:00", "bags": -1}]}, "log.batches[0].bags"),
        ({"batches": [{"at": "2026-05-06 12:00", "bags": True}]}, "log.batches[0].bags"),
        ({"batches": [{"at": "2026-05-06 12:00", "bags": 1, "temperature": 300}]}, "log.batches[0].temperature"),
        ({"temperatures": [{"at": "2026-05-06 12:00", "place": "roof", "temperature": 20}]}, "log.temperatures[0].place"),
        ({"temperatures": [{"at": "2026-05-06 12:00", "place": "top"}]}, "log.temperatures[0].temperature"),
        (
            {"temperatures": [{"at": "2026-05-06 12:00", "place": "top", "temperature": float("nan")}]},
            "log.temperatures[0].temperature",
        ),
        ({"events": [{"at": "2026-05-06 12:00", "what": "lunch"}]}, "log.events[0].what"),
    ],
)
def test_faults_in_a_log_are_placed(data, where):
    log, problems = parse_log(data, ZONE)
    assert log is None
    assert where in {problem.where for problem in problems}


def test_all_faults_of_a_log_come_at_once():
    log, problems = parse_log({"batches": [{"at": "x", "bags": 0}], "events": [{"at": "y", "what": "z"}]}, ZONE)
    assert log is None
    assert len(problems) == 4


ATOMS = st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=10), st.datetimes())
ROW = st.dictionaries(st.sampled_from(["at", "bags", "water", "temperature", "place", "what", "note"]), ATOMS, max_size=6)


@settings(max_examples=150, deadline=None)
@given(
    st.dictionaries(
        st.sampled_from(["batches", "temperatures", "events", "x"]), st.one_of(ATOMS, st.lists(st.one_of(ATOMS, ROW), max_size=3))
    )
)
def test_anything_gives_a_log_or_problems(data):
    log, problems = parse_log(data, ZONE)
    assert (log is None) == bool(problems)


def test_an_empty_log_moves_nothing(plan, weather):
    revision, problems = revise(plan, weather, DayLog())
    assert not problems
    assert all(m.by in {None, timedelta(0)} for m in revision.moved)


@pytest.mark.parametrize(("warmer", "sooner"), [(4.0, True), (-4.0, False)])
def test_a_warmer_top_sets_sooner_and_a_colder_one_later(plan, weather, warmer, sooner):
    at = plan.struck + timedelta(hours=1)
    expected = float(np.interp(HOUR, plan.course.age, plan.course.top_middle))
    revision, _ = revise(plan, weather, DayLog(taken=(Taken(at, "top", expected + warmer),)))
    assert (by(revision, "final") < timedelta(0)) == sooner
    assert abs(by(revision, "final")) > timedelta(minutes=5)
    assert (by(revision, "hardy") < timedelta(0)) == sooner
    moved = next(f for f in revision.figures if f.key == "cure.moved.final")
    assert moved.value == by(revision, "final").total_seconds()


def test_warm_air_alone_moves_it_less_than_warm_concrete(plan, weather):
    at = plan.struck + timedelta(hours=1)
    air = float(np.interp(HOUR, plan.course.age, plan.course.air))
    top = float(np.interp(HOUR, plan.course.age, plan.course.top_middle))
    by_air, _ = revise(plan, weather, DayLog(taken=(Taken(at, "air", air + 4.0),)))
    by_top, _ = revise(plan, weather, DayLog(taken=(Taken(at, "top", top + 4.0),)))
    assert by(by_top, "final") < by(by_air, "final") < timedelta(0)


def test_a_late_start_moves_everything(plan, weather):
    late = plan.struck + timedelta(hours=2)
    revision, _ = revise(plan, weather, DayLog(happened=(Happened(late, "struck off"),)))
    assert revision.struck == late
    assert by(revision, "struck") == timedelta(hours=2)
    assert by(revision, "strip") == timedelta(hours=2)


def test_the_first_batch_tells_when_the_wash_will_be_struck_off(plan, weather):
    first = plan.pour.at + timedelta(hours=1)
    revision, _ = revise(plan, weather, DayLog(batches=(Batch(first, 2.0),)))
    assert revision.struck == plan.struck + timedelta(hours=1)


def test_a_warmer_mix_sets_sooner(plan, weather):
    log = DayLog(batches=(Batch(plan.pour.at, 2.0, temperature=28.0),))
    revision, _ = revise(plan, weather, log)
    assert by(revision, "final") < timedelta(0)


def test_a_day_outside_the_weather_is_a_problem(plan, weather):
    log = DayLog(happened=(Happened(plan.struck + timedelta(days=40), "struck off"),))
    revision, problems = revise(plan, weather, log)
    assert revision is None
    assert "outside the weather" in problems[0].what


def test_nothing_planned_and_nothing_logged(cap, mix, days):
    plan = cure_for(cap, days(rain_chance=0.9), mix, CureChoices(cure_days=3.0))
    revision, problems = revise(plan, days(), DayLog())
    assert revision is None
    assert "no pour" in problems[0].what


def test_the_line_passes_through_the_readings_and_then_forgets_them():
    age = np.arange(0, 48 * HOUR, 900.0)
    line = np.full_like(age, 20.0)
    ages, taken = np.array([HOUR, 3 * HOUR]), np.array([22.0, 19.0])
    fixed = line + correction(age, line, ages, taken)
    assert np.interp(ages, age, fixed) == pytest.approx(taken)
    assert fixed[0] == 20.0
    assert fixed[-1] == pytest.approx(20.0, abs=1e-3)
