"""Deals by command: in the book from quote to paid, and with files alone; the week, the calls, learning from the book."""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from crownwright.cli.main import run
from crownwright.service.open_job import open_demo

REASONS = ["--reason", "people.*=on the day", "--reason", "price.examples=a test", "--by", "E. Marr"]


def told(capsys: pytest.CaptureFixture[str], *argv: str, code: int = 0) -> dict[str, Any]:
    assert run([*argv, "--json"]) == code
    answer: dict[str, Any] = json.loads(capsys.readouterr().out)
    return answer


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> str:
    monkeypatch.setenv("CROWNWRIGHT_BOOK", str(tmp_path / "jobs.book"))
    monkeypatch.chdir(tmp_path)
    Path("job.toml").write_text(open_demo().text + "\n[quote]\ndone = { bags = 11, hours = 30 }\n", "utf-8")
    return str(told(capsys, "import", "job.toml")["job"]["id"])


def test_a_deal_in_the_book(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    refused = told(capsys, "send-quote", job, code=1)
    assert {p["where"].split(".")[0] for p in refused["problems"]} == {"people", "price"}
    number = told(capsys, "send-quote", job, *REASONS, "--into", "q.pdf")["paper"]["number"]
    assert Path("q.pdf").read_bytes().startswith(b"%PDF")
    told(capsys, "accept", job, "--quote", number, "--signed-by", "R. Tallow")
    more = ["--more", "labour mason=2", "--why", "loose stone", "--signed-by", "R. Tallow"]
    assert told(capsys, "order-change", job, *more)["paper"]["number"] == f"{number}-C1"
    told(capsys, "take-money", job, "--amount", "100")
    told(capsys, "take-money", job, "--amount", "ten", code=1)
    told(capsys, "send-invoice", job, "--stage", "1")
    told(capsys, "send-invoice", job, "--stage", "C1")
    told(capsys, "send-invoice", job)
    stands = told(capsys, "account", job)["account"]
    assert [one["stage"] for one in stands["invoices"]] == ["when the quote is accepted", f"change order {number}-C1", ""]
    assert len(stands["invoices"]) - 2 == len(stands["receipts"]) == len(stands["changes"]) == 1
    assert Decimal(stands["owed"]["amount"]) == Decimal(stands["agreed"]["amount"]) - 100
    assert told(capsys, "ledger")["ledger"].count("\n") == 7  # heads, invoices under no tax and under one, a receipt
    assert told(capsys, "account", "none", code=2)


def test_a_deal_with_files_alone(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    on = ["--on", "2026-05-03"]
    told(capsys, "quote", "job.toml", "--number", "7", *REASONS, *on)
    signed = ["--signed-by", "R. Tallow"]
    told(capsys, "change-order", "quote-7.json", "--more", "labour mason=2", "--why", "loose stone", *signed, *on)
    dated = ["--signed", "2026-05-04", "--on", "2026-06-01"]
    plain = told(capsys, "invoice", "quote-7.json", "--number", "8", *signed, *dated)
    more = told(capsys, "invoice", "quote-7.json", "--number", "9", *signed, *dated, "--change", "change-7-C1.json")
    first = told(capsys, "invoice", "quote-7.json", "--number", "10", *signed, *dated, "--stage", "1")
    rest = told(capsys, "invoice", "quote-7.json", "--number", "11", *signed, *dated, "--before", "invoice-10.json")
    asked = [Decimal(answer["asks"]["gross"]["amount"]) for answer in (first, rest)]
    assert sum(asked) == Decimal(plain["due"]["amount"]) == Decimal(rest["due"]["amount"])
    told(capsys, "invoice", "quote-7.json", "--number", "12", *signed, *dated, "--stage", "when the moon is full", code=2)
    order = json.loads(Path("change-7-C1.json").read_text("utf-8"))
    extra = float(order["price"]["gross"]["amount"])
    assert float(more["due"]["amount"]) == pytest.approx(float(plain["due"]["amount"]) + extra)
    wrong = told(capsys, "change-order", "quote-7.json", "--more", "gold leaf=1", "--why", " ", "--signed-by", "", code=2)
    assert len(wrong["problems"]) == 3


def test_week_calls_visits_and_lessons(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert len(told(capsys, "week", "--from", "2026-05-11")["days"]) == 7
    assert told(capsys, "calls")["calls"] == []
    told(capsys, "visits", job, code=1)
    told(capsys, "learn")  # nothing is finished yet
    from crownwright.service.desk.keep_work import set_state
    from crownwright.service.desk.open_desk import open_desk

    desk = open_desk("jobs.book")
    set_state(desk, job, "closed")
    desk.close()
    lessons = told(capsys, "learn")
    assert {one["what"] for one in lessons["learned"]} == {"bags", "hours"}
    assert lessons["jobs"]["bags"][0]["actual"] == 11


def test_own_finished_jobs_move_bags_and_hours(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    rows = [f"j{n},{what},10,{took}" for n in range(12) for what, took in (("bags", 12), ("hours", 13))]
    Path("done.csv").write_text("job,what,forecast,actual,spread\n" + "\n".join(f"{row}," for row in rows), "utf-8")
    usual = told(capsys, "price", "job.toml", "--on", "2026-05-03")
    mine = told(capsys, "price", "job.toml", "--on", "2026-05-03", "--finished", "done.csv")

    def bags(answer: dict[str, Any]) -> int:
        return next(int(line["packs"]) for line in answer["lines"] if line["key"].startswith("concrete"))

    assert bags(mine) > bags(usual)
    assert float(mine["cost"]["amount"]) > float(usual["cost"]["amount"])
