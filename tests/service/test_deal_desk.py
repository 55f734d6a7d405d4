"""A deal over the book: quote, acceptance, change order, invoice and receipts, each frozen under its number, and what is owed."""

from __future__ import annotations

import csv
import io
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from crownwright.book.issued import IssuedRow
from crownwright.price.choices import More
from crownwright.price.deal import Reason
from crownwright.quantity.problems import Problem
from crownwright.service.desk.account import account_of, ledger_of
from crownwright.service.desk.add_photo import add_photo
from crownwright.service.desk.agree import accept_quote, order_change, send_invoice, take_money
from crownwright.service.desk.begin_job import begin_from_text
from crownwright.service.desk.issue_deal import issue_quote
from crownwright.service.desk.issue_paper import issued_paper
from crownwright.service.desk.keep_work import set_state
from crownwright.service.desk.list_jobs import find_job
from crownwright.service.desk.model import By, Change, Entry
from crownwright.service.desk.money_of import money_of
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.own_way import learn_and_keep, take_own_yield
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.desk.revisions_of import history
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.open_job import open_demo

ANSEL = By("Ansel", "phone-1")
REASONS = tuple(
    Reason(key, "a test", "E. Marr") for key in ("people.*", "checks.*", "price.examples", "code.*", "cap.*", "form.*")
)


@pytest.fixture
def demo(desk: Desk) -> str:
    begin_from_text(desk, ANSEL, "demo", open_demo().text)
    return "demo"


def handed(row: Any) -> IssuedRow:
    assert isinstance(row, IssuedRow), row
    return row


def test_a_deal_from_quote_to_paid(desk: Desk, demo: str) -> None:
    assert account_of(desk, demo).next == "send a quote"
    quote = handed(issue_quote(desk, demo, REASONS, "q1"))
    assert issue_quote(desk, demo, REASONS, "q1") == quote, "sent twice, handed out once"
    assert take_money(desk, demo, "10.00"), "nothing was agreed"
    agreed = handed(accept_quote(desk, demo, quote.number, "R. Tallow", issue="a1"))
    assert handed(accept_quote(desk, demo, quote.number, "R. Tallow", issue="a1")) == agreed
    assert isinstance(accept_quote(desk, demo, quote.number, "R. Tallow"), tuple), "not accepted twice"
    assert find_job(desk, demo).state == "agreed"
    account = account_of(desk, demo)
    assert account.accepted is not None
    price = account.accepted.quote.options[0].price.gross
    assert account.owed == account.agreed == price
    more = handed(order_change(desk, demo, [More("labour mason", "3"), More("mortar 80 lb", "-1")], "loose stone", "R. Tallow"))
    assert more.number == f"{quote.number}-C1"
    account = account_of(desk, demo)
    unit = {u.what: u.price.amount for u in account.accepted.quote.unit_prices}  # type: ignore[union-attr]
    assert [line.amount.amount for line in account.changes[0].price.lines] == [
        3 * unit["mason"],
        -unit["masonry mortar, 80 lb bag"],
    ]
    first = handed(take_money(desk, demo, "600.00", how="bank transfer"))
    assert first.number == f"{quote.number}-R1"
    bill = handed(send_invoice(desk, demo))
    account = account_of(desk, demo)
    assert account.invoices[0].due == account.owed
    assert account.agreed == price + account.changes[0].price.gross
    assert (account.asked, account.next) == (True, "wait for the money, or remind")
    handed(take_money(desk, demo, str(account.owed.amount)))  # type: ignore[union-attr]
    account = account_of(desk, demo)
    assert account.owed is not None
    assert account.owed.amount == Decimal(0)
    assert account.next == "nothing: it is paid"
    assert ledger_of(desk, [demo]).count("\n") == 5  # heads, an invoice under no tax and under one, two receipts
    for row in (quote, agreed, more, first, bill):
        assert issued_paper(desk, row.id)[1].startswith(b"%PDF")


def test_stages_a_credit_note_and_money_paid_back(desk: Desk, demo: str) -> None:
    """Deposit, paid; all that is left, paid; then two hours less: a credit note, and the money goes back, no more than that."""
    quote = handed(issue_quote(desk, demo, REASONS))
    handed(accept_quote(desk, demo, quote.number, "R. Tallow"))
    assert account_of(desk, demo).next == "send the invoice: when the quote is accepted"
    deposit = handed(send_invoice(desk, demo, stage="1"))
    account = account_of(desk, demo)
    assert account.accepted is not None
    price = account.accepted.quote.options[0].price
    assert account.lacks == {deposit.number: price.stages[0].amount}
    assert account.next == "wait for the money, or remind"
    assert isinstance(send_invoice(desk, demo, stage="when the quote is accepted"), tuple), "asked for once"
    handed(take_money(desk, demo, str(price.stages[0].amount.amount)))
    assert account_of(desk, demo).next == "send the invoice: when the cap is poured"
    handed(send_invoice(desk, demo))
    assert isinstance(send_invoice(desk, demo), tuple), "nothing is left to ask for"
    handed(take_money(desk, demo, str((price.gross - price.stages[0].amount).amount)))
    assert isinstance(take_money(desk, demo, "-1.00"), tuple), "nothing came in too much"
    handed(order_change(desk, demo, [More("labour mason", "-2")], "went faster", "R. Tallow"))
    assert account_of(desk, demo).next == "send a credit note: more was invoiced than is agreed now"
    note = handed(send_invoice(desk, demo))
    assert note.kind == "credit note"
    account = account_of(desk, demo)
    assert (account.asked, account.next) == (True, "pay back what came in too much")
    back = account.owed
    assert back is not None
    assert back == account.changes[0].price.gross
    handed(take_money(desk, demo, str(back.amount), how="by bank"))
    assert account_of(desk, demo).next == "nothing: it is paid"
    rows = list(csv.DictReader(io.StringIO(ledger_of(desk, [demo]))))
    booked = {column: sum(Decimal(row[column]) for row in rows if row[column]) for column in ("gross", "received")}
    assert booked["gross"] == booked["received"] == account.agreed.amount  # type: ignore[union-attr]
    assert issued_paper(desk, note.id)[1].startswith(b"%PDF")


def test_who_took_the_signature_stands_in_the_history_and_sent_again_it_moves_nothing_back(desk: Desk, demo: str) -> None:
    quote, berit = handed(issue_quote(desk, demo, REASONS)), By("Berit", "phone-2")
    signed = handed(accept_quote(desk, demo, quote.number, "R. Tallow", issue="a1", by=berit))
    newest = history(desk, demo)[0]
    assert (newest.who, newest.device, newest.state) == ("Berit", "phone-2", "agreed")
    set_state(desk, demo, "poured")
    assert handed(accept_quote(desk, demo, quote.number, "R. Tallow", issue="a1", by=berit)) == signed
    assert find_job(desk, demo).state == "poured"


def test_what_was_sent_stays_whatever_changes_later(desk: Desk, demo: str) -> None:
    quote = handed(issue_quote(desk, demo, REASONS))
    before = issued_paper(desk, quote.id)[1]
    save_entry(desk, ANSEL, Entry("e1", demo, 1, (Change("cap.edge_board", "2x8"),)))
    again = handed(issue_quote(desk, demo, REASONS))
    assert again.number != quote.number
    handed(accept_quote(desk, demo, quote.number, "R. Tallow"))
    account = account_of(desk, demo)
    assert [q.number for _, q in account.quotes] == [quote.number, again.number]
    assert account.agreed == account.quotes[0][1].options[0].price.gross
    assert issued_paper(desk, quote.id)[1] == before


def test_every_slip_is_told_and_nothing_is_handed_out(desk: Desk, demo: str) -> None:
    assert isinstance(issue_quote(desk, demo), tuple), "example prices and open findings stop it"
    quote = handed(issue_quote(desk, demo, REASONS))
    for row, says in (
        (accept_quote(desk, demo, "2026-9999", "x"), "no quote"),
        (accept_quote(desk, demo, quote.number, " "), "there is none"),
        (accept_quote(desk, demo, quote.number, "x", date(2030, 1, 1)), "is not between"),
        (accept_quote(desk, demo, quote.number, "x", option="gold"), "no option"),
        (send_invoice(desk, demo), "no quote of this job was accepted"),
    ):
        assert isinstance(row, tuple)
        assert says in row[0].what
    handed(accept_quote(desk, demo, quote.number, "R. Tallow"))
    wrong = order_change(desk, demo, [More("gold leaf", "1"), More("quartz", "x")], " ", "")
    assert isinstance(wrong, tuple)
    assert len(wrong) == 5, "two without a price, one no amount, no reason, no signature"
    for amount in ("", "-5", "1.234", "nan", "1e400", "10 $"):
        assert isinstance(take_money(desk, demo, amount), tuple), amount
    assert account_of(desk, demo).receipts == ()


def test_photos_with_a_note_stand_in_the_quote(desk: Desk, demo: str) -> None:
    from PIL import Image

    for n, note in enumerate(("The crack on the north side.", "")):
        out = io.BytesIO()
        Image.new("RGB", (1600, 1200), (200, 150, 10 * n)).save(out, "JPEG")
        add_photo(desk, demo, out.getvalue(), note=note)
    import pypdfium2

    made = pypdfium2.PdfDocument(issued_paper(desk, handed(issue_quote(desk, demo, REASONS)).id)[1])
    text = "".join(page.get_textpage().get_text_range() for page in made)
    assert "The crack on the north side." in text


def test_finished_jobs_teach_bags_and_hours_and_a_job_takes_it_up(desk: Desk, demo: str) -> None:
    assert isinstance(take_own_yield(desk, ANSEL, demo), Problem), "nothing is known yet"
    needed = plan_of(desk, demo).planned.plan.concrete.count.needed.mean  # type: ignore[union-attr]
    usual = money_of(desk, plan_of(desk, demo).planned.plan)  # type: ignore[union-attr]
    for n in range(6):
        text = open_demo().text.replace('title = "', f'title = "{n} ', 1)
        begin_from_text(desk, ANSEL, f"old{n}", text + f"\n[quote]\ndone = {{ bags = {needed * 1.12:.2f}, hours = 40 }}\n")
        set_state(desk, f"old{n}", "closed")
    found = learn_and_keep(desk)
    assert [(one.what, one.jobs) for one in found.learned] == [("bags", 6), ("hours", 6)]
    assert found.jobs["bags"][0].actual / found.jobs["bags"][0].forecast == pytest.approx(1.12, abs=0.001)
    before = plan_of(desk, demo).planned.plan.concrete.count  # type: ignore[union-attr]
    saved = take_own_yield(desk, ANSEL, demo)
    assert not isinstance(saved, Problem)
    plan = plan_of(desk, demo).planned.plan  # type: ignore[union-attr]
    assert plan.concrete is not None
    assert plan.concrete.count.needed.mean > 1.05 * before.needed.mean
    made = money_of(desk, plan)
    assert not isinstance(made, tuple)
    assert not isinstance(usual, tuple)
    assert made.made.costing.hours.total.mean > usual.made.costing.hours.total.mean
    again = take_own_yield(desk, ANSEL, demo)
    assert not isinstance(again, Problem)
    assert plan_of(desk, demo).planned.plan.job.concrete == plan.job.concrete, "taken up twice is the same"  # type: ignore[union-attr]
