"""The days to pour, from weather of any kind to words; and the day as it goes."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from pypdfium2 import PdfDocument

from crownwright.concrete.mixing import mixing_for
from crownwright.plan.days import DaysPlan, as_revised, conditions, mix_in_cure, plan_days
from crownwright.quantity.findings import Verdict
from crownwright.quantity.problems import Problem
from crownwright.service.days_to_pour import DaysTold, days_to_pour, on_the_day
from crownwright.service.draw_the_days import drawn_days, printed_revision
from crownwright.service.open_job import open_demo, open_text
from crownwright.service.plan_a_job import plan_a_job
from crownwright.service.weather_for import ask_for_weather, read_weather

TEN_DAYS = Path(__file__).parents[2] / "examples" / "weather" / "ten-days.toml"
NOW = datetime(2026, 5, 10, 12, tzinfo=UTC)
ZONE = "America/New_York"


@pytest.fixture(scope="module")
def told() -> DaysTold:
    job = open_demo().job
    assert job is not None
    hours, problems = read_weather(TEN_DAYS.read_bytes(), TEN_DAYS.name, job, ZONE, NOW)
    assert hours is not None, problems
    found = days_to_pour(plan_a_job(job, cut_list=False).plan, hours, seed=None)
    assert isinstance(found, DaysTold)
    return found


def test_every_hour_will_do_or_has_its_reason(told: DaysTold) -> None:
    cure = told.days.cure
    assert len(cure.windows) == 240
    assert {cure.windows[i].at for i in cure.best} == {w.at for w in cure.windows if w.ok}
    assert all(w.refused[0].cite.document for w in cure.windows if not w.ok)


def test_the_rainy_days_and_the_frosty_morning_are_refused(told: DaysTold) -> None:
    good = {w.at.date().day for w in told.days.cure.windows if w.ok}
    assert not good & {13, 14, 18}


def test_strength_at_strip_reaches_the_checks(told: DaysTold) -> None:
    days: DaysPlan = told.days
    strip = [f for f in days.plan.findings if f.key.startswith("strength.") and f.key.endswith(".strip")]
    assert strip
    assert all(f.verdict is not Verdict.CANNOT_TELL for f in strip)
    assert [f.key for f in days.plan.figures].count("cap.volume") == 1


def test_the_form_stays_on_three_days_at_least(told: DaysTold) -> None:
    assert told.days.strip is not None
    assert told.days.strip.strip is not None
    assert told.days.strip.strip >= 3 * 86400


def test_batches_hold_every_bag_of_the_plan(told: DaysTold) -> None:
    mixing, concrete = told.days.mixing, told.days.plan.concrete
    assert mixing is not None
    assert concrete is not None
    assert sum(b.bags for b in mixing.batches.batches) + mixing.batches.reserve == concrete.count.bags


def test_a_warmer_day_than_forecast_brings_the_times_forward(told: DaysTold) -> None:
    at = told.days.cure.pour.at if told.days.cure.pour else None
    assert at is not None
    log = {"batches": [{"at": f"{at:%Y-%m-%d} {at.hour:02d}:05", "bags": 2, "temperature": 30.0}]}
    revision, _, problems = on_the_day(told.days, log)
    assert revision is not None, problems
    moved = {m.key: m.by for m in revision.moved}
    initial = next(by for key, by in moved.items() if "initial" in key or "float" in key)
    assert initial is not None
    assert initial.total_seconds() < 0


def test_the_cure_card_is_printed_again_with_the_moved_times(told: DaysTold) -> None:
    at = told.days.cure.struck
    assert at is not None
    late = {"events": [{"at": f"{at + timedelta(minutes=50):%Y-%m-%d %H:%M}", "what": "struck off"}]}
    revision, _, problems = on_the_day(told.days, late)
    assert revision is not None, problems
    files = dict(printed_revision(told.days, revision, "letter", 0))
    assert set(files) == {"cure-now.svg", "cure-card-now.pdf"}
    words = "".join(page.get_textpage().get_text_bounded() for page in PdfDocument(files["cure-card-now.pdf"]))
    strip = revision.moments[[m.key for m in revision.moments].index("strip")].at
    assert strip is not None
    assert f"{strip:%a} {strip.day} {strip:%b}, {strip:%H:%M}" in words
    assert "0 h 50 min later" in words
    assert as_revised(told.days, revision).cure.struck == at + timedelta(minutes=50)


def test_a_log_with_faults_tells_them_all(told: DaysTold) -> None:
    revision, _, problems = on_the_day(told.days, {"batches": [{"at": "noon", "bags": -2}], "events": [{"at": 3, "what": "tea"}]})
    assert revision is None
    assert len(problems) >= 4


def test_charts_are_drawings_with_words(told: DaysTold) -> None:
    files = dict(drawn_days(told.days))
    assert b"will do for the first batch" in files["days.svg"]
    assert b"Strength of the youngest concrete" in files["cure.svg"]


def test_days_by_hand_tell_every_fault_at_once() -> None:
    job = open_demo().job
    assert job is not None
    data = b'[[day]]\non = "monday"\nhigh = "hot"\nlow = "46 F"\nwind = "7"\nsky = "blue"\nmoon = 1\n'
    hours, problems = read_weather(data, "w.toml", job, ZONE, NOW)
    assert hours is None
    wrong = {p.where.split(".")[-1] for p in problems}
    assert wrong == {"on", "high", "wind", "humidity", "sky", "moon"}


@pytest.mark.parametrize("data", [b"", b"{", b"\xff\xfe\x00", b"LOCATION,", b"[[day]]\n=", b"time,air [F]\n"])
def test_broken_weather_is_a_problem_not_an_exception(data: bytes) -> None:
    job = open_demo().job
    assert job is not None
    hours, problems = read_weather(data, "w", job, ZONE, NOW)
    assert hours is None
    assert problems


def test_a_job_that_tells_no_place_is_asked_for_it() -> None:
    job = open_text('title = "x"\n[quick]\nlength = "48"\nwidth = "36"\nmasonry = "brick"\n', "x").job
    assert job is not None
    assert ask_for_weather(job, NOW)[1][0].where == "surroundings.latitude"


def test_no_cap_no_days() -> None:
    job = open_text('title = "x"\n[readings]\ncorners = ["A","B","C"]\nmasonry = "brick"\n', "x").job
    assert job is not None
    demo = open_demo().job
    assert demo is not None
    hours, _ = read_weather(TEN_DAYS.read_bytes(), "w", demo, ZONE, NOW)
    assert hours is not None
    assert isinstance(days_to_pour(plan_a_job(job).plan, hours), Problem)


def test_warm_water_and_warm_bags_open_hours_that_cold_ones_close() -> None:
    job = open_demo().job
    assert job is not None
    hours, _ = read_weather(TEN_DAYS.read_bytes(), TEN_DAYS.name, job, ZONE, NOW)
    assert hours is not None
    plan = plan_a_job(job, cut_list=False).plan
    cold = plan_days(plan, hours, replace(plan.job.pour, bags=5.0, water=5.0))
    warm = plan_days(plan, hours, replace(plan.job.pour, bags=18.0, water=35.0))
    assert cold is not None
    assert warm is not None
    assert cold.cure.best == ()
    assert len(warm.cure.best) > 0


@pytest.mark.parametrize("air", [2.0, 12.0, 31.0])
@pytest.mark.parametrize(("bags", "water", "ice"), [(None, None, 0.0), (4.0, None, 0.0), (None, 40.0, 0.0), (None, 5.0, 0.5)])
def test_the_search_and_the_mixing_agree_on_how_warm_the_mix_is(
    told: DaysTold, air: float, bags: float | None, water: float | None, ice: float
) -> None:
    pour, days = told.days.plan.concrete, told.days
    assert pour is not None
    choices = replace(days.choices, bags=bags, water=water, ice=ice)
    hours = replace(days.hours, air=np.full_like(days.hours.air, air))
    mixed = mixing_for(pour, conditions(hours, days.cure, choices), 0.1).warmth.temperature
    assert mix_in_cure(pour, choices).placed(np.array([air]))[0] == pytest.approx(mixed, abs=1e-9)


def test_hot_water_alone_lets_a_cool_hour_in(told: DaysTold) -> None:
    """A search that took the mix at the air's warmth would refuse both alike."""
    plan, hours = told.days.plan, told.days.hours
    cool = replace(hours, air=hours.air - 6.0)
    cold = plan_days(plan, cool, replace(plan.job.pour, water=None))
    warm = plan_days(plan, cool, replace(plan.job.pour, water=60.0))
    assert cold is not None
    assert warm is not None
    refused = [sum(r.key == "cure.window.mix_low" for w in days.cure.windows for r in w.refused) for days in (cold, warm)]
    assert refused[1] < refused[0]
