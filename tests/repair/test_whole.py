"""The repair as a whole: joined to the plan, written and read back, laid on a forecast, told in words."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from crownwright.plan.plan_job import plan_job
from crownwright.plan.visits import fit_hours, visits_on
from crownwright.quantity.uncertain import Uncertain
from crownwright.repair.choices import OrderChoices, Wait
from crownwright.repair.model import Task
from crownwright.service.jobfile import parse_job
from crownwright.service.jobfile.writing import write_job
from crownwright.service.repair_a_job import tell_repair
from crownwright.service.weather_for import read_weather
from crownwright.sheets.everything import repair_drawings

ROOT = Path(__file__).resolve().parents[2]
TEXT = (ROOT / "examples" / "repair-first.toml").read_text("utf-8")
ZONE = "America/New_York"


@pytest.fixture(scope="module")
def job():
    return parse_job(TEXT)[0]


@pytest.fixture(scope="module")
def plan(job):
    return plan_job(job, cut_list=False)


@pytest.fixture(scope="module")
def hours(job):
    data = (ROOT / "examples" / "weather" / "ten-days.toml").read_bytes()
    made, problems = read_weather(data, "ten-days.toml", job, ZONE, datetime(2026, 5, 11, tzinfo=ZoneInfo(ZONE)))
    assert not any(problem.stops for problem in problems)
    return made


def test_the_cap_has_its_place_in_the_order(plan):
    day = {part.task.key: visit.day for visit in plan.repair.order.visits for part in visit.parts}
    assert day["rebuild"] + 7 <= day["form"] < day["pour"] <= day["form"] + 3
    assert day["pour"] + 7 <= day["seal"]
    assert day["rake"] <= day["repoint"]
    assert day["base flashing"] <= day["counterflash"]
    assert day["repoint"] + 28 <= day["repellent"]


def test_its_figures_and_findings_are_the_plan_s(plan):
    keys = {figure.key for figure in plan.figures}
    assert {"repair.order.visits", "repair.flashing.steps", "repair.cricket.height", "repair.years.1.present"} <= keys
    assert {f.key for f in plan.findings} >= {"repair.flashing.metal", "repair.repellent.dry", "repair.years"}


def test_what_was_typed_reads_back_the_same(job):
    again, problems = parse_job(write_job(job))
    assert not problems
    assert again.repair == job.repair


def test_a_circle_by_hand_stops_the_order_and_nothing_else(job):
    waits = (Wait("form", "pour"), Wait("take down", "rebuild"))
    record = replace(job.repair, order=OrderChoices(waits=waits))
    made = plan_job(replace(job, repair=record), cut_list=False)
    circles = [p for p in made.problems if "circle" in p.what]
    assert len(circles) == 2
    assert made.repair.order is None
    assert made.repair.flashing is not None
    assert made.cap is not None


def test_flashing_found_failed_is_planned_though_nothing_was_asked(job):
    record = replace(job.repair, flashing=None)
    assert plan_job(replace(job, repair=record), cut_list=False).repair.flashing is not None
    sound = replace(record, seen=tuple(one for one in record.seen if "flashing" not in one.what))
    assert plan_job(replace(job, repair=sound), cut_list=False).repair.flashing is None


def test_on_a_forecast_every_visit_within_it_suits_its_work(plan, hours):
    laid = visits_on(plan, hours)
    assert laid.visits[0].on == date(2026, 5, 11)
    assert not laid.unplaced
    assert any(visit.known for visit in laid.visits)
    assert not laid.visits[-1].known, "four weeks for the repellent reach past ten days"


def test_rain_all_week_leaves_nothing_wet_to_do(plan, hours):
    """With rain sure in every known hour only work that rain does not stop falls on known days."""
    wet = replace(hours, rain_chance=np.ones(len(hours)))
    laid = visits_on(plan, wet)
    assert all(not part.task.dry for visit in laid.visits if visit.known for part in visit.parts)


def test_a_frost_in_the_night_stops_mortar_the_day_before(hours, job):
    mortar = Task("rebuild", "lay", 1.0, "1", "x", Uncertain(2.0), coldest=4.4)
    before = fit_hours(mortar, hours, job.pour.cure)
    air = hours.air.copy()
    first = int(np.flatnonzero(before)[0])
    air[first + 20] = -2.0
    after = fit_hours(mortar, replace(hours, air=air), job.pour.cure)
    assert before[first]
    assert not after[first]
    assert not (after & ~before).any()


def test_told_in_words(plan):
    told = tell_repair(plan)
    assert "visits over" in told.visits[0].says
    assert len(told.years) == 3
    assert told.not_cured
    assert any(line.head == "Cricket" for line in told.work)


def test_drawn(plan):
    names = [drawing.name for drawing in repair_drawings(plan)]
    assert names == ["stack-faces", "visits", "sheet-cuts"]
