"""Invoices, credit notes and receipts as CSV with plain decimals, for whoever keeps the books."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from datetime import date
from decimal import Decimal

from crownwright.price.billing import asked_of
from crownwright.price.deal import Invoice, Receipt
from crownwright.price.pricing import Price
from crownwright.quantity.money import nothing, total

LEDGER = (
    "date", "kind", "number", "belongs to", "customer", "for", "tax name", "tax %", "net", "tax", "gross", "received", "currency",
)  # fmt: skip


def ledger(invoices: Sequence[Invoice], receipts: Sequence[Receipt]) -> str:
    """Return invoices (those of one deal oldest first) and receipts in order of date.

    An invoice has a row for each kind of tax in it, so that net + tax = gross in every row, and sums over rows are true.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(LEDGER)
    rows = [*_invoice_rows(invoices), *_receipt_rows(invoices, receipts)]
    writer.writerows(row for _, _, row in sorted(rows, key=lambda row: row[:2]))
    return out.getvalue()


Dated = tuple[date, int, tuple[str, ...]]


def _invoice_rows(invoices: Sequence[Invoice]) -> Iterator[Dated]:
    for quote in dict.fromkeys(one.quote for one in invoices):
        mine = [one for one in invoices if one.quote == quote]
        for one, asks in zip(mine, asked_of(mine), strict=True):
            kind = "credit note" if asks.gross.amount < 0 else "invoice"
            head = (one.on.isoformat(), kind, one.number, quote, one.customer.name, _for(one, asks))
            yield from ((one.on, 0, (*head, *kinds, "", asks.gross.currency)) for kinds in _kinds(asks))


def _for(one: Invoice, asks: Price) -> str:
    return one.stage or ("correction" if asks.gross.amount < 0 else "all that was left")


def _kinds(price: Price) -> Iterator[tuple[str, ...]]:
    """Net, tax and gross of each kind of tax, and of what bears none."""
    zero = nothing(price.gross.currency)
    free = price.net - total((tax.on for tax in price.taxes), zero.currency)
    if free or not price.taxes:
        yield "", "", str(free.amount), str(zero.amount), str(free.amount)
    for tax in price.taxes:
        rate = f"{(tax.rate * Decimal(100)).normalize():f}"
        yield tax.name, rate, str(tax.on.amount), str(tax.amount.amount), str((tax.on + tax.amount).amount)


def _receipt_rows(invoices: Sequence[Invoice], receipts: Sequence[Receipt]) -> Iterator[Dated]:
    names = {i.quote: i.customer.name for i in invoices} | {i.number: i.customer.name for i in invoices}
    for one in receipts:
        kind = "paid back" if one.amount.amount < 0 else "receipt"
        head = (one.on.isoformat(), kind, one.number, one.against, names.get(one.against, ""), one.how)
        yield one.on, 1, (*head, "", "", "", "", "", str(one.amount.amount), one.amount.currency)
