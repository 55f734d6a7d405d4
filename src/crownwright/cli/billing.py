"""The commands on what follows a quote, by files alone: invoice and change order."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from datetime import date
from decimal import Decimal, InvalidOperation
from pathlib import Path

from crownwright.cli.answer import Answer
from crownwright.cli.codes import Code
from crownwright.cli.firm import bad, book_options, now, prices_of, safe, wrote
from crownwright.quantity.problems import Problem

Adder = Callable[..., ArgumentParser]
FOLDER = "folder to put the files in; left out, where you stand"


def add_invoice(command: Adder) -> None:
    """Put the command that invoices among the others."""
    billed = command("invoice", "write an invoice of a quote that was accepted: of a payment, or of all that is left", invoice,
        into=FOLDER, paper=True,
    )  # fmt: skip
    billed.add_argument("quote", metavar="QUOTE", type=Path, help="the quote as it was kept (JSON)")
    billed.add_argument("--number", required=True, help="number of the invoice")
    billed.add_argument("--signed-by", required=True, help="who accepted the quote")
    billed.add_argument("--signed", metavar="DATE", type=date.fromisoformat, required=True, help="the day it was accepted")
    billed.add_argument("--option", default="", help="the option chosen; left out, the first")
    billed.add_argument("--on", metavar="DATE", type=date.fromisoformat, help="day of the invoice; left out, today")
    billed.add_argument("--change", metavar="FILE", type=Path, action="append", default=[], help="a change order as it was kept")
    billed.add_argument("--paid", metavar="DATE=AMOUNT", action="append", default=[], help="money that came in before")
    billed.add_argument("--before", metavar="FILE", type=Path, action="append", default=[],
        help="an earlier invoice of the quote as it was kept, oldest first")  # fmt: skip
    billed.add_argument("--stage", default="", metavar="WHICH",
        help="which payment: its place among those not asked for yet (1 ...), its words, or a change order's number; left out, "
        "all that is left")  # fmt: skip


def add_change_order(command: Adder) -> None:
    """Put the command that writes change orders among the others."""
    changed = command("change-order", "write a change order to a quote that was accepted", change_order, into=FOLDER, paper=True)
    changed.add_argument("quote", metavar="QUOTE", type=Path, help="the quote as it was kept (JSON)")
    changed.add_argument("--nth", type=int, default=1, metavar="N", help="which change order to it; left out, the first")
    changed.add_argument(
        "--more", metavar="KEY=AMOUNT", action="append", default=[], help="so much more of it; less with a minus"
    )
    changed.add_argument("--why", required=True, help="why")
    changed.add_argument("--signed-by", required=True, help="who agreed to it")
    changed.add_argument("--on", metavar="DATE", type=date.fromisoformat, help="the day; left out, today")
    book_options(changed)


def invoice(args: Namespace) -> Answer:
    """Invoice a quote."""
    from crownwright.price.deal import ChangeOrder, Invoice, Receipt
    from crownwright.price.documents import read_json
    from crownwright.quantity.money import Money
    from crownwright.service.price_a_job import bill_a_quote, kept_quote
    from crownwright.sheets.papers.bills import invoice_paper
    from crownwright.sheets.papers.press import pdf

    try:
        text = args.quote.read_text("utf-8")
        number, currency = _number_and_currency(text)
        paid = [(date.fromisoformat(on), Decimal(amount)) for on, _, amount in (x.partition("=") for x in args.paid)]
    except (OSError, ValueError, KeyError, InvalidOperation) as error:
        return bad(Problem(str(args.quote), f"it cannot be used: {error}", "Give a kept quote, and --paid DATE=AMOUNT"))
    receipts = tuple(Receipt(f"{number}-R{n}", number, on, Money(amount, currency)) for n, (on, amount) in enumerate(paid, 1))
    try:
        changes = tuple(read_json(ChangeOrder, file.read_text("utf-8")) for file in args.change)
        before = tuple(read_json(Invoice, file.read_text("utf-8")) for file in args.before)
    except (OSError, ValueError) as error:
        return bad(Problem("--change, --before", str(error), "Give the JSON that was kept beside each change order or invoice"))
    made = bill_a_quote(
        text,
        args.number,
        args.option,
        args.signed_by,
        args.signed,
        args.on or date.today(),
        receipts,
        changes,
        before,
        args.stage,
    )
    if isinstance(made, Problem):
        return bad(made)
    name = f"{'credit-note' if made.credits else 'invoice'}-{safe(made.number)}"
    printed = pdf(invoice_paper(made), args.paper or "letter", now())
    return wrote(args.into or Path(), {f"{name}.pdf": printed, f"{name}.json": kept_quote(made).encode()}, "send it",
                  {"gross": made.gross, "asks": made.asks, "paid": made.paid, "due": made.due})  # fmt: skip


def change_order(args: Namespace) -> Answer:
    """Write a change order."""
    from crownwright.price.choices import More
    from crownwright.service.price_a_job import change_a_quote, kept_quote
    from crownwright.sheets.papers.bills import change_paper
    from crownwright.sheets.papers.press import pdf

    found = prices_of(args)
    if isinstance(found, Answer):
        return found
    more = tuple(More(key.strip(), amount.strip()) for key, _, amount in (text.rpartition("=") for text in args.more))
    try:
        text = args.quote.read_text("utf-8")
    except OSError as error:
        return bad(Problem(str(args.quote), f"it cannot be read: {error}", "Give a kept quote"))
    made, problems = change_a_quote(text, args.nth, more, args.why, args.signed_by, args.on or date.today(), found[0])
    if made is None:
        return Answer(Code.ASKED_WRONG, problems=problems, next="put these right and ask again")
    order, quoted = made
    name = f"change-{safe(order.number)}"
    printed = pdf(change_paper(order, quoted), args.paper or "letter", now())
    return wrote(args.into or Path(), {f"{name}.pdf": printed, f"{name}.json": kept_quote(order).encode()},
                  "have it signed; give it to crownwright invoice with --change", {"gross": order.price.gross})  # fmt: skip


def _number_and_currency(text: str) -> tuple[str, str]:
    import json

    told = json.loads(text)
    return str(told["number"]), str(told["business"]["currency"])
