"""Jobs taken out of the book go for good when a person says so on the machine with the book, and not because of a clock."""

from __future__ import annotations

from typing import Any

import pytest

from crownwright.quantity.problems import Problem
from crownwright.service.desk.begin_job import begin_job
from crownwright.service.desk.clear_out import KEPT_DAYS, clear_out, may_be_cleared
from crownwright.service.desk.clock_doubt import clock_doubt
from crownwright.service.desk.issue_paper import keep_issued
from crownwright.service.desk.keep_work import bring_back, set_state, take_out
from crownwright.service.desk.list_jobs import find_job, list_jobs
from crownwright.service.desk.model import By
from crownwright.service.desk.open_desk import Desk

PHONE, DESK = By("Ansel", "phone-1"), By("Ansel", "desk")


@pytest.fixture
def out(desk: Desk, clock: Any) -> Desk:
    """Three jobs taken out, one of them with a quote that was handed out, and one left in."""
    for job in ("gone", "quoted", "back", "kept"):
        begin_job(desk, DESK, job, f"Stack {job}")
    keep_issued(desk, "quoted", 1, "quote", b"%PDF-1.7", "{}")
    for job in ("gone", "quoted", "back"):
        take_out(desk, job)
    return desk


def test_nothing_may_go_before_its_time_and_then_only_what_is_named(out: Desk, clock: Any) -> None:
    clock.on(days=KEPT_DAYS - 1)
    assert may_be_cleared(out) == ()
    assert clear_out(out, DESK, ["gone"]) == ()
    clock.on(days=2)
    bring_back(out, "back")
    assert [row.id for row in may_be_cleared(out)] == ["gone"], "not the one brought back, nor the one with a quote"
    assert clear_out(out, DESK, ["kept", "quoted", "back", "none"]) == ()
    went = clear_out(out, DESK, ["gone"])
    assert not isinstance(went, Problem)
    assert [row.id for row in went] == ["gone"]
    with pytest.raises(KeyError):
        find_job(out, "gone")
    assert [row.id for row in list_jobs(out, deleted=True).rows] == ["quoted"]


def test_a_number_of_a_paper_is_never_given_twice(out: Desk, clock: Any) -> None:
    clock.on(days=KEPT_DAYS + 1)
    clear_out(out, DESK, ["quoted"])
    assert keep_issued(out, "kept", 1, "quote", b"%PDF-1.7", "{}").number == "2026-0002"


def test_a_phone_clears_nothing(out: Desk, clock: Any) -> None:
    clock.on(days=KEPT_DAYS + 1)
    assert isinstance(clear_out(out, PHONE, ["gone"]), Problem)
    assert find_job(out, "gone").deleted_at


def test_a_clock_that_went_back_is_told_and_clears_nothing(desk: Desk, clock: Any) -> None:
    """The machine wakes up in 2027, is worked with, and is then set right."""
    begin_job(desk, DESK, "j1", "North stack")
    take_out(desk, "j1")
    assert clock_doubt(desk) is None
    clock.on(days=400)
    begin_job(desk, DESK, "j2", "South stack")
    set_state(desk, "j2", "quoted")
    clock.on(days=-350)
    doubt = clock_doubt(desk)
    assert doubt is not None
    assert "South stack" in doubt.what
    assert "2027-12-30 08:00" in doubt.what
    assert not doubt.stops, "work goes on; only clearing waits"
    assert isinstance(clear_out(desk, DESK, ["j1"]), Problem)
    clock.on(days=351)
    assert clock_doubt(desk) is None


def test_clocks_of_two_machines_a_little_apart_are_no_matter(desk: Desk, clock: Any) -> None:
    begin_job(desk, DESK, "j1", "North stack")
    clock.on(minutes=-4)
    assert clock_doubt(desk) is None
    clock.on(minutes=-2)
    assert clock_doubt(desk) is not None
