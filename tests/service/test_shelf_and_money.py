"""A job's forecast, the firm's prices, what a choice costs before it is kept, quotes and invoices under their own numbers."""

from __future__ import annotations

from datetime import date
from importlib import resources

import pytest

from crownwright.quantity.problems import Problem
from crownwright.service.desk.begin_job import begin_from_text
from crownwright.service.desk.days_of import days_of, fetch_for, keep_forecast, pour_day_of
from crownwright.service.desk.issue_deal import issue_invoice, issue_quote
from crownwright.service.desk.issue_paper import issued_paper
from crownwright.service.desk.model import By, Change, Entry
from crownwright.service.desk.money_of import forget_prices, keep_firm, keep_prices, money_of
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.desk.shelf import BIGGEST, shelve, shelved
from crownwright.service.desk.try_changes import try_changes

ANSEL = By("Ansel")
DEMO = resources.files("crownwright.service").joinpath("demo.toml").read_text("utf-8")
DAYS = ["2026-11-26", "2026-11-27", "2026-11-28"]


@pytest.fixture
def job(desk: Desk) -> str:
    begin_from_text(desk, ANSEL, "j1", DEMO)
    return "j1"


def put(desk: Desk, name: str, *changes: Change) -> None:
    save_entry(desk, ANSEL, Entry(name, "j1", 0, changes))


def test_a_choice_is_tried_and_nothing_is_kept(desk: Desk, job: str) -> None:
    trial = try_changes(desk, job, [Change("cap.edge_board", "2x4")])
    moved = {effect.key: effect for effect in trial.effects}
    assert trial.changed
    assert float(moved["concrete.bags"].after) < float(moved["concrete.bags"].before)
    assert plan_of(desk, job, cut_list=False).revision.number == 1
    assert not try_changes(desk, job, []).changed


def test_a_choice_that_cannot_be_read_is_told_and_stops_only_the_trial(desk: Desk, job: str) -> None:
    trial = try_changes(desk, job, [Change("cap.overhang_wanted", "wide")])
    assert trial.tried.planned is None
    assert "overhang_wanted" in trial.tried.opened.problems[0].where
    assert trial.kept.planned is not None


def test_prices_of_the_firm_take_the_place_of_the_example(desk: Desk, job: str) -> None:
    from crownwright.price.rows import example_book
    from crownwright.service.price_files import book_bytes

    planned = plan_of(desk, job).planned
    assert planned is not None
    before = money_of(desk, planned.plan)
    text = book_bytes(example_book(), "p.csv").decode().replace(",48.00,", ",76.00,")
    assert keep_prices(desk, "prices.csv", b"key,what\nnothing") != ()
    assert shelved(desk, "prices") is None
    assert keep_prices(desk, "prices.csv", text.encode()) == ()
    after = money_of(desk, planned.plan)
    assert not isinstance(before, tuple)
    assert not isinstance(after, tuple)
    assert (before.own, after.own) == ("", "prices.csv")
    assert after.made.priced.price.gross > before.made.priced.price.gross
    forget_prices(desk)
    again = money_of(desk, planned.plan)
    assert not isinstance(again, tuple)
    assert again.made.priced == before.made.priced
    assert keep_firm(desk, "firm.toml", b'name = "Heron & Daughter"') == ()


def test_too_big_a_file_is_turned_away(desk: Desk) -> None:
    assert isinstance(shelve(desk, "prices", "x.csv", bytes(BIGGEST + 1)), Problem)


def test_a_quote_bears_the_number_it_is_kept_under_and_can_be_billed(desk: Desk, job: str) -> None:
    against = issue_quote(desk, job)
    assert isinstance(against, tuple)  # the demo has findings that want an answer or the mason's reason
    from crownwright.price.deal import Reason

    row = issue_quote(desk, job, [Reason(p.where, "seen on the roof, and told to the customer", "Ansel") for p in against], "q1")
    assert not isinstance(row, tuple), row
    assert (row.kind, row.number) == ("quote", "2026-0001")
    pdf = issued_paper(desk, "q1")[1]
    assert pdf.startswith(b"%PDF")
    unsigned = issue_invoice(desk, job, "q1", "", date(2026, 11, 26))
    assert isinstance(unsigned, tuple)
    bill = issue_invoice(desk, job, "q1", "R. Tallow", date(2026, 11, 26))
    assert not isinstance(bill, tuple), bill
    assert bill.number == "2026-0002"


def weather(desk: Desk) -> None:
    rows = [{"on": on, "high": "66 F", "low": "50 F", "wind": "6 mph", "humidity": "60 %"} for on in DAYS]
    put(desk, "w1", Change("day.zone", "America/New_York"), Change("day.weather", rows))


def test_without_weather_the_days_say_what_to_do(desk: Desk, job: str) -> None:
    assert days_of(desk, job).problems[0].where == "weather"


def test_weather_by_hand_gives_days_and_the_log_moves_them(desk: Desk, job: str) -> None:
    weather(desk)
    put(desk, "w2", Change("day.begins", "2026-11-27T11:00"))
    days = days_of(desk, job)
    assert days.told is not None
    planned = days.told.days.cure.moment("float").at
    put(desk, "w3", Change("day.events[+]", {"at": "2026-11-27 13:30", "what": "struck off"}))
    put(desk, "w4", Change("day.temperatures[+]", {"at": "2026-11-27 14:30", "place": "top", "temperature": "80 F"}))
    day = pour_day_of(desk, job)
    assert day.revision is not None
    assert day.days.told is days.told  # what is logged plans nothing anew
    now = {m.key: m.now for m in day.revision.moved}
    assert planned is not None
    assert now["float"] is not None
    assert now["struck"].strftime("%H:%M") == "13:30"  # type: ignore[union-attr]
    warm = (now["float"] - now["struck"]).total_seconds()  # type: ignore[operator]
    cold = (planned - days.told.days.cure.struck).total_seconds()  # type: ignore[operator]
    assert warm < cold  # a warmer top sets sooner


def test_a_slip_in_the_log_is_told_and_stops_no_plan(desk: Desk, job: str) -> None:
    weather(desk)
    put(desk, "w3", Change("day.temperatures[+]", {"at": "noonish", "place": "top", "temperature": "warm"}))
    day = pour_day_of(desk, job)
    assert [p.where for p in day.problems] == ["temperature 1"]
    assert plan_of(desk, job, cut_list=False).planned is not None


def test_a_forecast_that_was_asked_for_is_kept_with_its_local_time(desk: Desk, job: str) -> None:
    fetched = fetch_for(desk, ANSEL, job, lambda *_: (None, "", (Problem("forecast", "offline", "Type it by hand"),)))
    assert [p.what for p in fetched] == ["offline"]
    assert keep_forecast(desk, job, "notes.txt", b"fine all week") != ()
    assert shelved(desk, "forecast j1") is None
