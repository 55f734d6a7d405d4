"""The order of work: waits kept, circles named, long tasks cut into days, forecasts obeyed."""

from __future__ import annotations

from datetime import date

import pytest

from crownwright.quantity.findings import Verdict
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import DAY, HOUR
from crownwright.quantity.working import PRACTICE
from crownwright.repair.choices import OrderChoices, Wait
from crownwright.repair.model import After, Task
from crownwright.repair.order import order_of, place, wait_days


def task(key: str, hours: float, *after: After, people: int = 1) -> Task:
    return Task(key, f"do {key}", 1.0, "1", "x", Uncertain(hours), people=people, after=after)


def after(key: str, days: float = 0.0) -> After:
    return After(key, days * DAY, "it must", PRACTICE)


EIGHT = OrderChoices(hours=8.0)


def test_a_long_task_is_cut_into_days():
    order, problems = order_of([task("repoint", 20.0)], EIGHT)
    assert not problems
    assert [(p.number, p.of, p.hours) for p in order.parts] == [(1, 3, 8.0), (2, 3, 8.0), (3, 3, 4.0)]
    assert place(order).says == "3 visits over 3 days, were every day fit for work"


def test_two_people_halve_what_two_can_do():
    order, _ = order_of([task("form", 6.0, people=2)], EIGHT)
    assert order.parts[0].hours == 3.0
    alone, _ = order_of([task("form", 6.0, people=2)], OrderChoices(crew=1, hours=8.0))
    assert alone.parts[0].hours == 6.0


def test_told_out_of_order_is_put_in_order_and_waits_for_what_is_not_there_are_passed_over():
    order, problems = order_of([task("strip", 1.0, after("pour", 3)), task("pour", 3.0, after("rebuild", 7))], EIGHT)
    assert not problems
    assert [part.task.key for part in order.parts] == ["pour", "strip"]
    assert [v.day for v in place(order).visits] == [0, 3]


def test_every_circle_is_named_and_nothing_is_placed():
    tasks = [task("a", 1.0, after("b")), task("b", 1.0, after("a")), task("c", 1.0, after("c")), task("d", 1.0)]
    order, problems = order_of(tasks, EIGHT)
    assert order is None
    told = [p.what for p in problems]
    assert any("a waits for b waits for a" in what for what in told)
    assert any("c waits for c" in what for what in told)


def test_a_wait_by_hand_may_close_a_circle_and_may_name_nothing():
    tasks = [task("form", 1.0), task("pour", 1.0, after("form"))]
    _, problems = order_of(tasks, OrderChoices(waits=(Wait("form", "pour"), Wait("pour", "dance"))))
    told = " ".join(map(str, problems))
    assert "circle" in told
    assert "dance" in told


def test_on_a_forecast_rain_moves_the_pour_and_what_lies_after_it_is_said():
    tasks = [task("form", 4.0), task("pour", 3.0, after("form", 1)), task("strip", 1.0, after("pour", 3))]
    order, _ = order_of(tasks, EIGHT)
    fit = {"form": frozenset({0, 1, 2, 3, 4}), "pour": frozenset({3}), "strip": frozenset({0, 1})}
    laid = place(order, fit=fit, known=5, first=date(2026, 5, 11))
    assert [(v.on, [p.task.key for p in v.parts]) for v in laid.visits] == [
        (date(2026, 5, 11), ["form"]),
        (date(2026, 5, 14), ["pour"]),
        (date(2026, 5, 17), ["strip"]),
    ]
    assert [v.known for v in laid.visits] == [True, True, False]
    assert not laid.fits
    assert laid.findings[0].verdict is Verdict.CANNOT_TELL
    assert "2 within the forecast, 1 after it" in laid.says


def test_all_within_the_forecast():
    order, _ = order_of([task("form", 4.0)], EIGHT)
    laid = place(order, fit={"form": frozenset({2})}, known=5)
    assert laid.fits
    assert laid.findings[0].verdict is Verdict.OK


@pytest.mark.parametrize(
    ("seconds", "days"), [(0.0, 0), (1 * HOUR, 1), (16 * HOUR, 1), (17 * HOUR, 2), (24 * HOUR, 1), (72 * HOUR, 3), (36 * HOUR, 2)]
)
def test_days_counted_for_a_wait(seconds, days):
    """With 8 hours of work, 16 lie between one day's end and the next one's start."""
    assert wait_days(seconds, 8.0) == days


def test_figures_say_what_was_found():
    order, _ = order_of([task("repoint", 20.0)], EIGHT)
    figures = {f.key: f for f in place(order).figures}
    assert figures["repair.order.visits"].value == 3
    assert figures["repair.order.hours"].value == 20 * HOUR
    assert figures["repair.order.days"].value == 3 * DAY


def test_nobody_does_nothing():
    order, problems = order_of([task("a", 1.0)], OrderChoices(crew=0))
    assert order is None
    assert problems
