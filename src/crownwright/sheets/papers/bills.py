"""What was agreed, a change to it, invoices, credit notes and receipts as papers: the amount first, then what for."""

from __future__ import annotations

from typing import Any

from crownwright.price.business import Business
from crownwright.price.deal import Accepted, ChangeOrder, Invoice, Party, Quote, Receipt
from crownwright.price.dealing import price_shown
from crownwright.price.pricing import Price
from crownwright.quantity.money import Money, total
from crownwright.sheets.papers.deal import day, letterhead, payments_shown
from crownwright.sheets.papers.press import Paper

Rows = list[list[str]]


def invoice_paper(invoice: Invoice) -> Paper:
    """Return an invoice or a credit note: what it asks for, tax told apart, what was asked and paid before, what is to come."""
    locale, title = invoice.business.locale, "Credit note" if invoice.credits else "Invoice"
    says = f"What is {'credited' if invoice.credits else 'owed'} for the work at {invoice.title}."
    content = letterhead(invoice.business, invoice.customer, invoice.title, invoice.place, says)
    in_parts = invoice.asks is not None and bool(invoice.before or invoice.stage)
    content |= {
        "number": invoice.number, "on": day(invoice.on, locale), "note": _note(invoice), "signed": "",
        "foot": invoice.business.name, **_to_pay(invoice, locale),
        **(_in_parts(invoice, invoice.asks, locale) if in_parts and invoice.asks is not None else _whole(invoice, locale)),
    }  # fmt: skip
    return Paper(f"{title.lower().replace(' ', '-')}-{invoice.number}", title, "invoice", content)


def _to_pay(invoice: Invoice, locale: str) -> dict[str, str]:
    """The amount at the head: what is to pay, or what stands in the customer's favour."""
    if invoice.credits and invoice.asks is not None:
        return {"head-due": "Credited, tax included", "due": (-invoice.asks.gross).shown(locale), "by": ""}
    head = "In your favour" if invoice.due.amount < 0 else "To pay"
    by = day(invoice.due_by, locale) if invoice.due.amount > 0 else ""
    return {"head-due": head, "due": _size(invoice.due).shown(locale), "by": by}


def _note(invoice: Invoice) -> str:
    if invoice.credits:
        numbers = ", ".join(one.number for one in invoice.before if one.amount.amount > 0)
        return f"For quote {invoice.quote}. A change has lowered what was agreed: this corrects invoice {numbers}."
    what = invoice.stage or ("all that was not asked for before" if invoice.before else "")
    return f"For quote {invoice.quote}{': ' if what else ''}{what}."


def _whole(invoice: Invoice, locale: str) -> dict[str, Any]:
    """One invoice for everything: line by line, with the changes."""
    rows = price_shown(invoice.price, locale)
    for order in invoice.changes:
        rows += [(f"Change order {order.number}: {order.why}", ""), *price_shown(order.price, locale)]
    sums = [["Altogether", invoice.gross.shown(locale)], *_received(invoice, locale), _due_row(invoice, locale)]
    return {"rows": [list(row) for row in rows], "sums": sums, "head-sums": "Paid and to pay"}


def _in_parts(invoice: Invoice, asks: Price, locale: str) -> dict[str, Any]:
    """One of several invoices: what this one asks for, how it stands with the others, how the whole stands."""
    so_far = total((*(one.amount for one in invoice.before), asks.gross), asks.gross.currency)
    this = "This credit note" if invoice.credits else "This invoice"
    before = [
        [f"{'Invoice' if one.amount.amount > 0 else 'Credit note'} {one.number}, {day(one.on, locale)}{_for(one.stage)}",
         one.amount.shown(locale)]
        for one in invoice.before
    ]  # fmt: skip
    sums = [*before, [this, asks.gross.shown(locale)], *_received(invoice, locale), _due_row(invoice, locale)]
    agreed = [[f"Quote {invoice.quote}", invoice.price.gross.shown(locale)]]
    agreed += [[f"Change order {c.number}: {c.why}", c.price.gross.shown(locale)] for c in invoice.changes]
    agreed += [["Altogether, tax included", invoice.gross.shown(locale)]] if invoice.changes else []
    agreed += [["Asked for so far", so_far.shown(locale)], ["Still to come", (invoice.gross - so_far).shown(locale)]]
    rows = [*price_shown(asks, locale), (f"{this}, tax included", asks.gross.shown(locale))]
    return {
        "rows": [list(row) for row in rows], "head-rows": "What it asks for" if not invoice.credits else "What it credits",
        "sums": sums, "head-sums": "Asked for and paid", "agreed": agreed,
    }  # fmt: skip


def _received(invoice: Invoice, locale: str) -> Rows:
    def words(one: Receipt) -> str:
        how = f", {one.how}" if one.how else ""
        return f"{'Paid' if one.amount.amount > 0 else 'Paid back'} {day(one.on, locale)}{how} ({one.number})"

    return [[words(one), (-one.amount).shown(locale)] for one in invoice.receipts]


def _due_row(invoice: Invoice, locale: str) -> list[str]:
    return ["In your favour" if invoice.due.amount < 0 else "To pay", _size(invoice.due).shown(locale)]


def _for(stage: str) -> str:
    return f": {stage}" if stage else ""


def _size(amount: Money) -> Money:
    return max(amount, -amount)


def acceptance_paper(deal: Accepted) -> Paper:
    """Return what was agreed: the option of a quote that was chosen, its price and payments, who signed and when."""
    quote, locale = deal.quote, deal.quote.business.locale
    price = quote.option(deal.option).price
    content = letterhead(quote.business, quote.customer, quote.title, quote.place, f"What was agreed on quote {quote.number}.")
    firm = quote.option(deal.option).firm
    settled = "" if firm else " It is an allowance: what is not known yet is settled in writing, as the quote says."
    content |= {
        "number": f"{quote.number}-A", "on": day(deal.on, locale), "rows": [list(row) for row in price_shown(price, locale)],
        "sums": payments_shown(price, locale), "due": price.gross.shown(locale), "by": "",
        "note": f"Quote {quote.number} of {day(quote.issued, locale)}, “{deal.option}”. "
        f"Accepted by {deal.signed_by} on {day(deal.on, locale)}.{settled}",
        "signed": deal.signed_by, "head-due": f"Agreed {'price' if firm else 'allowance'}, tax included",
        "head-sums": "Payments", "foot": quote.business.name,
    }  # fmt: skip
    return Paper(f"agreed-{quote.number}", "Agreed", "invoice", content)


def change_paper(order: ChangeOrder, quote: Quote) -> Paper:
    """Return a change order of a quote, with room for a signature."""
    locale = quote.business.locale
    content = letterhead(quote.business, quote.customer, quote.title, quote.place, f"A change to quote {quote.number}.")
    content |= {
        "number": order.number, "on": day(order.on, locale), "rows": [list(row) for row in price_shown(order.price, locale)],
        "sums": [], "due": _size(order.price.gross).shown(locale), "by": "", "note": f"To quote {quote.number}: {order.why}.",
        "signed": order.signed_by or " ",
        "head-due": f"{'More' if order.price.gross.amount >= 0 else 'Less'} to pay, tax included", "foot": quote.business.name,
    }  # fmt: skip
    return Paper(f"change-{order.number}", "Change order", "invoice", content)


def receipt_paper(receipt: Receipt, business: Business, customer: Party, title: str) -> Paper:
    """Return a receipt for money that came in, or was paid back."""
    locale, back = business.locale, receipt.amount.amount < 0
    content = letterhead(business, customer, title, "", f"Money {'paid back' if back else 'received'} for {title}.")
    content |= {
        "number": receipt.number, "on": day(receipt.on, locale), "rows": [], "sums": [],
        "due": _size(receipt.amount).shown(locale), "by": "",
        "note": f"For quote {receipt.against}{', ' + receipt.how if receipt.how else ''}.", "signed": " ",
        "head-due": "Paid back" if back else "Received", "foot": business.name,
    }  # fmt: skip
    return Paper(f"receipt-{receipt.number}", "Receipt", "invoice", content)
