"""How a job stands in money: quotes sent, the one accepted, changes, invoices, receipts, what is owed; all as handed out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

from sqlalchemy import Connection

from crownwright.book import issued, jobs
from crownwright.book.issued import IssuedRow
from crownwright.price.deal import Accepted, ChangeOrder, Invoice, Quote, Receipt
from crownwright.price.dealing import ledger
from crownwright.price.documents import read_json
from crownwright.quantity.money import Money, total
from crownwright.service.desk.open_desk import Desk

Document = TypeVar("Document", Quote, Accepted, ChangeOrder, Invoice, Receipt)
KINDS = {
    "quote": Quote, "acceptance": Accepted, "change order": ChangeOrder, "invoice": Invoice, "receipt": Receipt,
}  # fmt: skip
"""What each kind of paper was made from."""


@dataclass(frozen=True, slots=True)
class Account:
    """Papers of one job, oldest first. ``accepted`` is the deal (None: no quote was accepted yet); ``agreed`` its price with all
    changes, tax included; ``paid`` what came in; ``owed`` the rest (less than nothing: too much came in); ``asked`` whether it
    was invoiced, ``next`` what is to be done now, in words.
    """

    job: str
    quotes: tuple[tuple[IssuedRow, Quote], ...]
    accepted: Accepted | None
    changes: tuple[ChangeOrder, ...]
    invoices: tuple[Invoice, ...]
    receipts: tuple[Receipt, ...]
    agreed: Money | None
    paid: Money | None
    owed: Money | None
    asked: bool
    next: str


def account_of(desk: Desk, job: str) -> Account:
    """How a job stands in money; KeyError when there is no such job."""
    with desk.book.reading() as c:
        jobs.need(c, job)
        return read_account(c, job)


def read_account(connection: Connection, job: str) -> Account:
    """The same inside a transaction."""
    rows = issued.of_job(connection, job)[::-1]
    quotes = tuple((row, _read(connection, row, Quote)) for row in rows if row.kind == "quote")
    accepted = next((_read(connection, row, Accepted) for row in rows if row.kind == "acceptance"), None)
    changes = tuple(_read(connection, row, ChangeOrder) for row in rows if row.kind == "change order")
    invoices = tuple(_read(connection, row, Invoice) for row in rows if row.kind == "invoice")
    receipts = tuple(_read(connection, row, Receipt) for row in rows if row.kind == "receipt")
    agreed = paid = owed = None
    if accepted is not None:
        price = accepted.quote.option(accepted.option).price.gross
        agreed = total((price, *(change.price.gross for change in changes)), price.currency)
        paid = total((receipt.amount for receipt in receipts), price.currency)
        owed = agreed - paid
    asked = bool(invoices) and agreed == invoices[-1].gross
    return Account(
        job, quotes, accepted, changes, invoices, receipts, agreed, paid, owed, asked, _next(quotes, owed, asked)
    )  # fmt: skip


def ledger_of(desk: Desk, listed: Sequence[str]) -> str:
    """Invoices and receipts of these jobs in order of date, as CSV for whoever keeps the books."""
    with desk.book.reading() as c:
        accounts = [read_account(c, job) for job in listed]
    # an invoice that a later one of the same deal takes up is not owed twice: it stands there with its own sum only
    invoices = [account.invoices[-1] for account in accounts if account.invoices]
    return ledger(invoices, [receipt for account in accounts for receipt in account.receipts])


def _next(quotes: Sequence[object], owed: Money | None, asked: bool) -> str:
    if owed is None:
        return "have the quote signed" if quotes else "send a quote"
    if owed.amount > 0:
        return "wait for the money, or remind" if asked else "send the invoice"
    return "nothing: it is paid" if not owed else "pay back what came in too much"


def _read(connection: Connection, row: IssuedRow, kind: type[Document]) -> Document:
    return read_json(kind, issued.made_from(connection, row.id))
