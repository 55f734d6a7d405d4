"""What is agreed with the customer and what he pays: a quote accepted, a change ordered, an invoice sent, money taken.

Each verb hands a paper out under its number, frozen, and returns its line, or everything that stands against it.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal, InvalidOperation

from sqlalchemy import Connection

from crownwright.book import issued, jobs
from crownwright.book.issued import IssuedRow
from crownwright.price.billing import stage_named
from crownwright.price.changing import change, change_lines
from crownwright.price.choices import More
from crownwright.price.deal import Accepted, Quote, Receipt
from crownwright.price.dealing import accept, invoice
from crownwright.price.documents import as_json, read_json
from crownwright.quantity.money import Money
from crownwright.quantity.problems import Problem
from crownwright.service.desk.account import account_of
from crownwright.service.desk.hand_out import Made, hand_out
from crownwright.service.desk.keep_work import NOBODY_NAMED, set_state
from crownwright.service.desk.model import By
from crownwright.service.desk.money_of import books_of
from crownwright.service.desk.open_desk import Desk
from crownwright.sheets.papers.bills import acceptance_paper, change_paper, invoice_paper, receipt_paper
from crownwright.sheets.papers.press import Paper, Size, pdf

Handed = IssuedRow | tuple[Problem, ...]
NOT_AGREED = Problem("quote", "no quote of this job was accepted yet", "Have one signed first")


def accept_quote(
    desk: Desk,
    job: str,
    quote: str,
    signed_by: str,
    on: date | None = None,
    option: str = "",
    issue: str = "",
    by: By = NOBODY_NAMED,
) -> Handed:
    """Write down that a quote (its number) was signed: which ``option`` (left out, the only one), by whom, on what day.

    The job is agreed from then on; ``by`` is who wrote it down, and from which device.
    """
    found = next((row for row in _papers(desk, job, "quote") if quote in (row.number, row.id)), None)
    if found is None:
        return (Problem("quote", f"no quote {quote[:40]!r} of this job was handed out", "Choose one of those handed out"),)
    with desk.book.reading() as c:
        sent = read_json(Quote, issued.made_from(c, found.id))
        gone = issued.has_number(c, f"{found.number}-A") or account_of(desk, job).accepted is not None
    if not option and len(sent.options) > 1:
        names = ", ".join(one.name for one in sent.options)
        return (Problem("option", "the quote has several", f"Name the one that was chosen: {names}"),)
    again = _is_there(desk, issue)
    if gone and not again:
        return (Problem("quote", "a quote of this job was accepted already", "Write a change order for what is to be different"),)
    try:
        deal = accept(sent, option or sent.options[0].name, signed_by, on or desk.clock().date())
    except KeyError as error:
        return (Problem("option", str(error.args[0]), "Name one of these"),)
    if isinstance(deal, Problem):
        return (deal,)
    row = hand_out(desk, job, found.revision, "acceptance", lambda _: _printed(desk, acceptance_paper(deal), deal),
                   issue=issue, number=lambda _: f"{found.number}-A")  # fmt: skip
    if isinstance(row, IssuedRow) and not again:  # sent again, it does not take a job back that was poured meanwhile
        set_state(desk, job, "agreed", by)
    return row


def order_change(
    desk: Desk, job: str, more: Sequence[More], why: str, signed_by: str, on: date | None = None, issue: str = ""
) -> Handed:
    """Write a change order under the accepted quote: ``more`` of what (less where its amount is below nothing), why, signed.

    What the quote names at a unit price is charged at that; all else by today's prices.
    """
    account, books, day = account_of(desk, job), books_of(desk), on or desk.clock().date()
    if account.accepted is None:
        return (NOT_AGREED,)
    if isinstance(books, tuple):
        return books
    deal, prices = account.accepted, books.prices.on(day)
    lines, problems = change_lines(deal.quote, prices, more)
    lacking = [
        Problem(what, "there is none", remedy)
        for what, there, remedy in (
            ("lines", lines or problems, "Say what is more or less"),
            ("reason", why.strip(), "Say why"),
            ("signature", signed_by.strip(), "Have it signed"),
        )
        if not there
    ]
    if problems or lacking:
        return (*problems, *lacking)

    def make(number: str) -> Made:
        made = change(deal, int(number.rpartition("-C")[2]), lines, why.strip(), day, prices, signed_by.strip())
        return _printed(desk, change_paper(made, deal.quote), made)

    return hand_out(
        desk, job, _head(desk, job), "change order", make, issue=issue, number=lambda c: _under(c, deal.quote.number, "C")
    )


def send_invoice(desk: Desk, job: str, on: date | None = None, days: int = 14, issue: str = "", stage: str = "") -> Handed:
    """Hand out an invoice of the deal, due in so many days: of a ``stage`` (its words, its place among what can be asked for,
    from 1, or a change order's number), or, left out, of all that was not asked for yet. Where a change has lowered what was
    invoiced, it is a credit note.
    """
    account = account_of(desk, job)
    deal = account.accepted
    if deal is None:
        return (NOT_AGREED,)
    of = stage_named(account.askable, stage.strip())

    def make(number: str) -> Made | tuple[Problem, ...]:
        day = on or desk.clock().date()
        try:
            made = invoice(deal, number, day, account.changes, account.receipts, days, account.invoices, of)
        except ValueError as error:
            return (Problem("invoice", str(error), "See how the job stands, and ask for what is left"),)
        return _printed(desk, invoice_paper(made), made)

    to_ask = account.to_ask
    kind = "credit note" if to_ask is not None and to_ask.amount < 0 else "invoice"
    return hand_out(desk, job, _head(desk, job), kind, make, issue=issue)


def take_money(desk: Desk, job: str, amount: str, on: date | None = None, how: str = "", issue: str = "") -> Handed:
    """Write a receipt for money that came in under the deal; ``amount`` a plain decimal ("642.21"), ``how`` it was paid.

    An amount below nothing is money paid back: no more than came in over what is agreed.
    """
    account = account_of(desk, job)
    deal = account.accepted
    if deal is None or account.owed is None:
        return (NOT_AGREED,)
    currency = deal.quote.option(deal.option).price.gross.currency
    try:
        money = Money(Decimal(amount.strip()), currency)
        if not money.amount or abs(money.amount) >= 10**9 or money != money.rounded():
            raise InvalidOperation
        money = money.rounded()  # as many decimals as the currency has coins, however it was typed
    except (InvalidOperation, ValueError):
        return (Problem("amount", f"{amount[:40]!r} is no amount of {currency}", "Write it like 642.21"),)
    if money.amount < min(account.owed.amount, Decimal(0)):
        return (Problem("amount", f"{amount[:40]} is more than came in too much", "Pay back what was paid over the agreed sum"),)

    def make(number: str) -> Made:
        made = Receipt(number, deal.quote.number, on or desk.clock().date(), money, how.strip()[:120])
        business, customer = deal.quote.business, deal.quote.customer
        return _printed(desk, receipt_paper(made, business, customer, deal.quote.title), made)

    return hand_out(desk, job, _head(desk, job), "receipt", make, issue=issue, number=lambda c: _under(c, deal.quote.number, "R"))


def _printed(desk: Desk, paper: Paper, document: object) -> Made:
    return pdf(paper, _size(desk), int(desk.clock().timestamp())), as_json(document)


def _size(desk: Desk) -> Size:
    """The paper usual where the firm is."""
    books = books_of(desk)
    country = "US" if isinstance(books, tuple) else books.business.locale.rpartition("_")[2]
    return "letter" if country in ("US", "CA", "MX") else "a4"


def _under(connection: Connection, quote: str, letter: str) -> str:
    """The next number under a quote: 2026-0001-C1 and up."""
    n = 1
    while issued.has_number(connection, f"{quote}-{letter}{n}"):
        n += 1
    return f"{quote}-{letter}{n}"


def _papers(desk: Desk, job: str, kind: str) -> tuple[IssuedRow, ...]:
    with desk.book.reading() as c:
        jobs.need(c, job)
        return tuple(row for row in issued.of_job(c, job) if row.kind == kind)


def _is_there(desk: Desk, issue: str) -> bool:
    if not issue:
        return False
    with desk.book.reading() as c:
        try:
            issued.made_from(c, issue)
        except KeyError:
            return False
        return True


def _head(desk: Desk, job: str) -> int:
    with desk.book.reading() as c:
        return jobs.need(c, job).head


__all__ = ["Accepted", "Handed", "accept_quote", "order_change", "send_invoice", "take_money"]
