"""The commands on money, with files alone: price, quote, change order, invoice, the price book."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterator, Sequence
from datetime import date
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import TYPE_CHECKING, Any

from crownwright.cli.answer import Answer, Section
from crownwright.cli.codes import Code
from crownwright.cli.firm import bad, book_options, now, photo_option, photos_of, plan_named, prices_of, safe, wrote
from crownwright.quantity.problems import Problem

if TYPE_CHECKING:
    from crownwright.plan.model import Plan
    from crownwright.price.business import Business
    from crownwright.price.pricebook import PriceBook
    from crownwright.quantity.working import Term
    from crownwright.service.price_a_job import PricedJob

Adder = Callable[..., ArgumentParser]


def add_commands(command: Adder) -> None:
    """Put the commands on money among the others; ``command`` adds one."""
    folder = "folder to put the files in; left out, where you stand"
    priced = command("price", "price a job: take-off, hours, what it costs, the chance of losing money", price, job=True,
        into="folder for the paper on how the price is made; left out, none is written", paper=True,
    )  # fmt: skip
    quoted = command(
        "quote", "write a quote: a draft, or, under a number, issued and frozen", quote, job=True, into=folder, paper=True
    )
    for sub in (priced, quoted):
        book_options(sub)
        sub.add_argument("--on", metavar="DATE", type=date.fromisoformat, help="day of the prices, 2026-05-03; left out, today")
        sub.add_argument(
            "--with", dest="more", metavar="KEY=AMOUNT", action="append", default=[], help="work or goods beside the cap"
        )
        sub.add_argument("--van", metavar="KEY=AMOUNT", action="append", default=[], help="what the van holds")
        sub.add_argument("--finished", metavar="FILE", type=Path, help="finished jobs (CSV), to take bags and hours as they say")
    priced.add_argument(
        "--working", metavar="KEY", help="explain the amounts and quantities whose key begins so, like price.goods, and no more"
    )
    quoted.add_argument("--number", help="issue it under this number")
    quoted.add_argument(
        "--reason", metavar="KEY=WHY", action="append", default=[], help="why, in spite of what stops it; key may end in *"
    )
    quoted.add_argument("--by", default="", help="who records the reasons")
    photo_option(quoted)
    billed = command("invoice", "write the invoice of a quote that was accepted", invoice, into=folder, paper=True)
    billed.add_argument("quote", metavar="QUOTE", type=Path, help="the quote as it was kept (JSON)")
    billed.add_argument("--number", required=True, help="number of the invoice")
    billed.add_argument("--signed-by", required=True, help="who accepted the quote")
    billed.add_argument("--signed", metavar="DATE", type=date.fromisoformat, required=True, help="the day it was accepted")
    billed.add_argument("--option", default="", help="the option chosen; left out, the first")
    billed.add_argument("--on", metavar="DATE", type=date.fromisoformat, help="day of the invoice; left out, today")
    billed.add_argument("--change", metavar="FILE", type=Path, action="append", default=[], help="a change order as it was kept")
    billed.add_argument("--paid", metavar="DATE=AMOUNT", action="append", default=[], help="money that came in before")
    changed = command("change-order", "write a change order to a quote that was accepted", change_order, into=folder, paper=True)
    changed.add_argument("quote", metavar="QUOTE", type=Path, help="the quote as it was kept (JSON)")
    changed.add_argument("--nth", type=int, default=1, metavar="N", help="which change order to it; left out, the first")
    changed.add_argument(
        "--more", metavar="KEY=AMOUNT", action="append", default=[], help="so much more of it; less with a minus"
    )
    changed.add_argument("--why", required=True, help="why")
    changed.add_argument("--signed-by", required=True, help="who agreed to it")
    changed.add_argument("--on", metavar="DATE", type=date.fromisoformat, help="the day; left out, today")
    book_options(changed)
    listed = command(
        "price-book", "check a price book, or write it as another kind of file", price_book, into="file: .csv or .xlsx"
    )
    book_options(listed)


def price(args: Namespace) -> Answer:
    """Price a job."""
    from crownwright.service.price_a_job import price_options, working_pdf
    from crownwright.service.quote_options import problems_of
    from crownwright.service.write_papers import usual_size

    found = _planned(args)
    if isinstance(found, Answer):
        return found
    plan, book, business, beside = found
    ways = price_options(plan, book, args.on or date.today(), beside)
    problems = problems_of(ways)
    if problems:
        return Answer(Code.NOT_READY, plan.job.title, problems=problems, next="add these to the price book, then ask again")
    if args.working is not None:
        return _working(ways, args, business.locale)
    files = []
    if args.into is not None:
        pdf = working_pdf(plan, ways, business, args.paper or usual_size(plan.job.units), now())
        done = wrote(args.into, {"price-working.pdf": pdf}, "")
        if done.code is not Code.DONE:
            return done
        files = done.data["files"]
    made, locale = ways[0], business.locale
    priced, costing = made.priced, made.costing
    buys = tuple(
        f"{x.packs} × {x.what}: {x.buys.shown(locale)}" + (" (some from the van)" if x.from_van else "") for x in costing.lines
    )
    sections = (
        Section("To buy", buys),
        Section("Hours", tuple(f"{t.what} ({t.grade}): {t.hours.mean:.1f} h" for t in costing.hours.tasks)),
        Section("What it comes to", tuple(_comes_to(made, locale))),
        Section("Side by side", tuple(f"{x.option.name}: {x.priced.price.net.shown(locale)} before tax" for x in ways)
                if len(ways) > 1 else ()),
        Section("Not firm yet", (costing.rough,) if not costing.firm else ()),
        Section("Example prices", (f"{len(costing.prices.examples)} prices are invented examples: put your own.",)
                if costing.prices.examples else ()),
    )  # fmt: skip
    data = {"price": priced.price, "cost": priced.cost, "left": priced.left, "chance_of_loss": priced.chance_of_loss,
            "lines": costing.lines, "tasks": costing.hours.tasks, "firm": costing.firm,
            "options": {x.option.name: x.priced.price for x in ways}, "figures": [f for x in ways for f in x.figures],
            "files": files}  # fmt: skip
    return Answer(Code.DONE, plan.job.title, sections, f"crownwright quote {args.job}", data)


def _working(ways: Sequence[PricedJob], args: Namespace, locale: str) -> Answer:
    """The working of the amounts whose key begins so."""
    from crownwright.price.showing import Sum
    from crownwright.quantity.display import show_figure
    from crownwright.sources.bibliography import spell

    figures = [f for x in ways for f in x.figures if f.key.startswith(args.working)]
    if not figures:
        stems = sorted({".".join(f.key.split(".")[:2]) for x in ways for f in x.figures})
        return bad(Problem("--working", f"no key begins with {args.working!r}", f"They begin with: {', '.join(stems)}"))
    lines = []
    for one in figures:
        value = one.amount.shown(locale) if isinstance(one, Sum) else show_figure(one, "us")
        inputs = "; ".join(_input(term) for term in one.inputs)
        lines.append(f"{one.label}: {value}. {one.formula}; {inputs}. {spell(one.cite)}")
    return Answer(Code.DONE, "How the price is made", (Section("", tuple(lines), tuple(f.key for f in figures)),),
                  data={"figures": figures})  # fmt: skip


def _input(term: Term) -> str:
    head, unit = f"{term.symbol} = " if term.symbol else "", f" {term.unit}" if term.unit != "1" else ""
    return f"{head}{term.value}{unit} {term.name}"


def _comes_to(made: PricedJob, locale: str) -> Iterator[str]:
    priced, hours = made.priced, made.costing.hours.total
    yield f"People-hours: {hours.mean:.1f}, give or take {hours.sd:.1f}"
    yield f"Cost with overhead: {priced.cost.shown(locale)}"
    yield f"Price before tax: {priced.price.net.shown(locale)}; with tax {priced.price.gross.shown(locale)}"
    shares = f"a margin of {priced.margin * 100:.1f} % of the price, a mark-up of {priced.mark_up * 100:.1f} % on the cost"
    yield f"Left over: {priced.left.shown(locale)}, {shares}"
    yield f"Chance of losing money at this price: {priced.chance_of_loss:.1%}"
    if priced.least_for_chance is not None:
        yield f"Least price before tax for the chance you accept: {priced.least_for_chance.shown(locale)}"


def quote(args: Namespace) -> Answer:
    """Draft or issue a quote."""
    from crownwright.price.deal import Reason
    from crownwright.service.price_a_job import issue_a_quote, kept_quote, quote_a_plan, quote_pdf
    from crownwright.service.write_papers import usual_size

    found = _planned(args)
    if isinstance(found, Answer):
        return found
    photos = photos_of(args)
    if isinstance(photos, Answer):
        return photos
    plan, book, business, beside = found
    on = args.on or date.today()
    made = quote_a_plan(plan, book, business, on, beside)
    if isinstance(made, tuple):
        return Answer(Code.NOT_READY, plan.job.title, problems=made, next="add these to the price book, then ask again")
    if args.number:
        reasons = tuple(Reason(key, why, args.by) for key, _, why in (text.partition("=") for text in args.reason))
        issued, problems = issue_a_quote(made, plan, book, args.number, on, reasons)
        if issued is None:
            then = "put these right, or record why with --reason KEY=WHY and --by NAME; nothing was issued"
            return Answer(Code.NOT_READY, plan.job.title, problems=problems, next=then)
        made = issued
    pdf = quote_pdf(made, plan, args.paper or usual_size(plan.job.units), now(), photos)
    name = f"quote-{safe(made.number) or 'draft'}"
    then = "send it; the JSON is the quote as sent, keep it" if made.number else "read it, then issue it with --number"
    return wrote(
        args.into or Path(), {f"{name}.pdf": pdf, f"{name}.json": kept_quote(made).encode()}, then, {"number": made.number}
    )


def invoice(args: Namespace) -> Answer:
    """Invoice a quote."""
    from crownwright.price.deal import ChangeOrder, Receipt
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
    except (OSError, ValueError) as error:
        return bad(Problem("--change", str(error), "Give the JSON that was kept beside each change order"))
    made = bill_a_quote(text, args.number, args.option, args.signed_by, args.signed, args.on or date.today(), receipts, changes)
    if isinstance(made, Problem):
        return bad(made)
    name = f"invoice-{safe(made.number)}"
    printed = pdf(invoice_paper(made), args.paper or "letter", now())
    return wrote(args.into or Path(), {f"{name}.pdf": printed, f"{name}.json": kept_quote(made).encode()}, "send it",
                  {"gross": made.gross, "paid": made.paid, "due": made.due})  # fmt: skip


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


def price_book(args: Namespace) -> Answer:
    """Check a price book, or write it."""
    from crownwright.service.price_files import book_bytes

    found = prices_of(args)
    if isinstance(found, Answer):
        return found
    book, _ = found
    if args.into is not None:
        return wrote(
            args.into.parent,
            {args.into.name: book_bytes(book, args.into.name)},
            "put your own prices in, and 'own' under standing",
        )
    examples = sum(row.standing == "example" for row in book.rows)
    says = (f"{len(book.rows)} rows, {book.currency}, {book.locale}; {examples} are invented examples",)
    return Answer(
        Code.DONE, "Price book", (Section("", says),), "write it with --into prices.csv or prices.xlsx", {"rows": book.rows}
    )


def _planned(args: Namespace) -> Answer | tuple[Plan, PriceBook, Business, Any]:
    from crownwright.service.learn_from_jobs import lessons
    from crownwright.service.price_a_job import Beside

    found = prices_of(args)
    if isinstance(found, Answer):
        return found
    amounts = [_amounts(which, texts) for which, texts in (("--van", args.van), ("--with", args.more))]
    wrong = tuple(problem for _, problems in amounts for problem in problems)
    if wrong:
        return Answer(Code.ASKED_WRONG, problems=wrong, next="write KEY=AMOUNT, the key as in the price book")
    learned = None
    if args.finished is not None:
        learned, problems = lessons(args.finished.read_text("utf-8")) if args.finished.is_file() else (None, ())
        if learned is None:
            wrong = problems or (Problem(str(args.finished), "there is no such file", "Name a CSV of finished jobs"),)
            return Answer(Code.BAD_JOB, problems=wrong, next="put these right and ask again")
    plan = plan_named(args, learned)
    hours = learned.hours() if learned is not None else None
    return plan if isinstance(plan, Answer) else (plan, *found, Beside(amounts[0][0], amounts[1][0], hours))


def _amounts(which: str, texts: Sequence[str]) -> tuple[dict[str, Decimal], list[Problem]]:
    found, problems = {}, []
    for text in texts:
        key, _, amount = text.rpartition("=")
        try:
            found[key.strip()] = Decimal(amount)
            if not (key and found[key.strip()].is_finite() and found[key.strip()] >= 0):
                raise InvalidOperation
        except InvalidOperation:
            problems.append(Problem(which, f"{text!r} is no KEY=AMOUNT", "Write it like concrete 80 lb=4"))
    return found, problems


def _number_and_currency(text: str) -> tuple[str, str]:
    import json

    told = json.loads(text)
    return str(told["number"]), str(told["business"]["currency"])
