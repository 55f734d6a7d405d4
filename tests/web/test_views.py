"""What pages show of a forecast and of a pour day, worked from a real plan."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import get_args

import pytest

from crownwright.cure.day_log import Batch as Logged
from crownwright.cure.day_log import DayLog, Happened
from crownwright.plan.job import Units
from crownwright.quantity.display import show_figure
from crownwright.service.days_to_pour import DaysTold, days_to_pour, read_weather
from crownwright.service.open_job import open_demo
from crownwright.service.plan_a_job import plan_a_job
from crownwright.web.page import figure
from crownwright.web.views.figures import Shown
from crownwright.web.views.hours import best_hours, clocks, hours_shown
from crownwright.web.views.the_day import coming, next_batch, time_left

DAY = '[[day]]\non = 2026-05-{day}\nhigh = "70 F"\nlow = "52 F"\nwind = "6 mph"\nhumidity = "60 %"\n'


@pytest.fixture(scope="module")
def told() -> DaysTold:
    opened = open_demo()
    assert opened.job is not None
    text = "\n".join(DAY.format(day=day) for day in (11, 12))
    hours, _ = read_weather(text.encode(), "days.toml", opened.job, "America/New_York", datetime(2026, 5, 10, tzinfo=UTC))
    assert hours is not None
    found = days_to_pour(plan_a_job(opened.job, opened.text, cut_list=False).plan, hours, seed=None)
    assert isinstance(found, DaysTold)
    return found


def test_every_hour_of_the_forecast_is_counted_and_every_refused_one_has_its_reason(told: DaysTold) -> None:
    cure = told.days.cure
    shown = hours_shown(cure)
    assert shown.fine == sum(window.ok for window in cure.windows)
    assert shown.fine + sum(reason.count for reason in shown.reasons) == shown.count == len(cure.windows)
    letters = {reason.letter for reason in shown.reasons}
    cells = [hour for _, row in shown.rows for hour in row if hour is not None]
    assert {hour.mark for hour in cells if hour.kind == "no"} <= letters
    assert sum(hour.kind != "no" for hour in cells) == shown.fine  # no hour that will do is left out of the picture
    assert [hour.chosen for hour in cells].count(True) == 1


def test_the_hour_that_is_followed_is_the_best_where_none_was_chosen(told: DaysTold) -> None:
    best = best_hours(told.days.cure)
    assert best[0].chosen
    assert datetime.fromisoformat(best[0].value).hour == told.days.cure.pour.at.hour  # type: ignore[union-attr]


def test_what_comes_next_is_the_first_moment_ahead(told: DaysTold) -> None:
    cure = told.days.cure
    struck = cure.struck
    assert struck is not None
    shown = clocks(cure, None, struck + timedelta(minutes=1), {"struck off": struck})
    following = coming(shown)
    assert following is not None
    assert following.key == "float"
    assert shown[0].done


def test_the_edge_waits_for_the_wash_from_the_first_batch_and_mist_runs_from_striking_off(told: DaysTold) -> None:
    mixing = told.days.mixing
    struck = told.days.cure.struck
    assert mixing is not None
    assert struck is not None
    first = struck - timedelta(minutes=50)
    log = DayLog((Logged(first, 2.0),), (), (Happened(first, "first batch"),))
    (edge,) = time_left(told, log, first + timedelta(seconds=mixing.batches.open + 60), "us")
    assert edge.over
    log = DayLog(log.batches, (), (*log.happened, Happened(struck, "struck off")))
    (mist,) = time_left(told, log, struck, "us")
    assert mist.name == "Mist"
    assert not mist.over
    assert next_batch(told, log, "us") is None


def test_batches_come_in_the_order_of_the_plan(told: DaysTold) -> None:
    assert told.days.mixing is not None
    planned = told.days.mixing.batches.batches
    at = told.days.cure.pour.at  # type: ignore[union-attr]
    for gone, batch in enumerate(planned):
        log = DayLog(tuple(Logged(at + timedelta(minutes=8 * n), 2.0) for n in range(gone)))
        following = next_batch(told, log, "us")
        assert following is not None
        assert (following.number, following.lift) == (gone + 1, batch.lift)
    assert next_batch(told, DayLog(tuple(Logged(at, 2.0) for _ in planned)), "us") is None


def test_a_figure_that_is_kept_is_the_figure_of_that_job_those_units_and_that_value() -> None:
    """Every figure of two plans, in both units, for two jobs, asked for twice: the same to the letter as when it is made anew."""
    opened = open_demo()
    assert opened.job is not None
    wider = replace(opened.job, cap=replace(opened.job.cap, overhang_wanted=0.1))
    figures = [f for job in (opened.job, wider) for f in plan_a_job(job, "", cut_list=False).plan.figures]
    asked = [(job, Shown(f, units)) for f in figures for units in get_args(Units) for job in ("a", "b")]
    for job, shown in asked * 2:
        assert figure(job, shown) == figure.__wrapped__(job, shown)
    of = next(f for f in figures if f.key == "cap.fall")
    assert 'href="/job/a/working/cap.fall"' in figure("a", Shown(of, "us"))
    assert show_figure(of, "us") in figure("a", Shown(of, "us"))
    assert show_figure(of, "metric") in figure("a", Shown(of, "metric"))
