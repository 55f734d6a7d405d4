"""How a job stands in money: quotes sent, the one accepted, changes, invoices, receipts, what is owed; all as handed out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeVar

from sqlalchemy import Connection

from crownwright.book import issued, jobs
from crownwright.book.issued import IssuedRow
from crownwright.price.billing import askable, asked_of, owed
from crownwright.price.deal import Accepted, ChangeOrder, Invoice, Quote, Receipt
from crownwright.price.documents import read_json
from crownwright.price.ledger import ledger
from crownwright.price.pricing import Stage
from crownwright.quantity.money import Money, total
from crownwright.service.desk.open_desk import Desk

Document = TypeVar("Document", Quote, Accepted, ChangeOrder, Invoice, Receipt)
KINDS = {
    "quote": Quote, "acceptance": Accepted, "change order": ChangeOrder, "invoice": Invoice, "credit note": Invoice,
    "receipt": Receipt,
}  # fmt: skip
"""What each kind of paper was made from."""


@dataclass(frozen=True, slots=True)
class Account:
    """Papers of one job, oldest first. ``accepted`` is the deal (None: no quote was accepted yet); ``agreed`` its price with all
    changes, tax included; ``invoiced`` what was asked for so far; ``paid`` what came in; ``owed`` what of the agreed sum has not
    (less than nothing: too much came in); ``lacks`` what each invoice still lacks, by its number; ``asked`` whether all was
    invoiced; ``askable`` what can be invoiced by itself; ``next`` what is to be done now, in words.
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
    invoiced: Money | None = None
    lacks: Mapping[str, Money] = field(default_factory=dict)
    askable: tuple[Stage, ...] = ()

    @property
    def to_ask(self) -> Money | None:
        """What is still to be invoiced; less than nothing where a credit note is due."""
        return self.agreed - self.invoiced if self.agreed is not None and self.invoiced is not None else None


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
    invoices = tuple(_read(connection, row, Invoice) for row in rows if row.kind in ("invoice", "credit note"))
    receipts = tuple(_read(connection, row, Receipt) for row in rows if row.kind == "receipt")
    if accepted is None:
        return Account(job, quotes, None, changes, invoices, receipts, None, None, None, False, _before_signing(quotes))
    price = accepted.quote.option(accepted.option).price.gross
    agreed = total((price, *(change.price.gross for change in changes)), price.currency)
    paid = total((receipt.amount for receipt in receipts), price.currency)
    invoiced = total((one.gross for one in asked_of(invoices)), price.currency)
    open_ = askable(accepted, changes, invoices)
    return Account(
        job, quotes, accepted, changes, invoices, receipts, agreed, paid, agreed - paid, agreed == invoiced,
        _next(agreed, invoiced, paid, open_), invoiced, owed(invoices, paid), open_,
    )  # fmt: skip


def ledger_of(desk: Desk, listed: Sequence[str]) -> str:
    """Invoices, credit notes and receipts of these jobs in order of date, as CSV for whoever keeps the books."""
    with desk.book.reading() as c:
        accounts = [read_account(c, job) for job in listed]
    invoices = [one for account in accounts for one in account.invoices]
    return ledger(invoices, [receipt for account in accounts for receipt in account.receipts])


def _before_signing(quotes: Sequence[object]) -> str:
    return "have the quote signed" if quotes else "send a quote"


def _next(agreed: Money, invoiced: Money, paid: Money, open_: Sequence[Stage]) -> str:
    if invoiced > agreed:
        return "send a credit note: more was invoiced than is agreed now"
    if paid < invoiced:
        return "wait for the money, or remind"
    if invoiced < agreed:
        return f"send the invoice: {open_[0].due}" if open_ else "send the invoice"
    return "nothing: it is paid" if paid == agreed else "pay back what came in too much"


def _read(connection: Connection, row: IssuedRow, kind: type[Document]) -> Document:
    return read_json(kind, issued.made_from(connection, row.id))
