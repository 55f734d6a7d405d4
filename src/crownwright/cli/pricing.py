"""The commands that price a job by files alone: price, and the price book itself."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING

from crownwright.cli.answer import Answer, Section
from crownwright.cli.codes import Code
from crownwright.cli.firm import bad, book_options, now, planned, price_options_of, prices_of, wrote
from crownwright.quantity.problems import Problem

if TYPE_CHECKING:
    from crownwright.quantity.working import Term
    from crownwright.service.price_a_job import PricedJob

Adder = Callable[..., ArgumentParser]


def add_price(command: Adder) -> None:
    """Put the command that prices among the others."""
    priced = command("price", "price a job: take-off, hours, what it costs, the chance of losing money", price, job=True,
        into="folder for the paper on how the price is made; left out, none is written", paper=True,
    )  # fmt: skip
    price_options_of(priced)
    priced.add_argument(
        "--working", metavar="KEY", help="explain the amounts and quantities whose key begins so, like price.goods, and no more"
    )


def add_price_book(command: Adder) -> None:
    """Put the command on the price book among the others."""
    listed = command(
        "price-book", "check a price book, or write it as another kind of file", price_book, into="file: .csv or .xlsx"
    )
    book_options(listed)


def price(args: Namespace) -> Answer:
    """Price a job."""
    from crownwright.service.price_a_job import price_options, working_pdf
    from crownwright.service.quote_options import problems_of
    from crownwright.service.write_papers import usual_size

    found = planned(args)
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
        Section("Side by side", tuple(_beside(x, locale) for x in ways) if len(ways) > 1 else ()),
        Section("Not firm yet", tuple(f"{x.option.name}: {x.costing.rough}" for x in ways if not x.costing.firm)),
        Section("Example prices", (f"{len(costing.prices.examples)} prices are invented examples: put your own.",)
                if costing.prices.examples else ()),
    )  # fmt: skip
    data = {"price": priced.price, "cost": priced.cost, "left": priced.left, "chance_of_loss": priced.chance_of_loss,
            "lines": costing.lines, "tasks": costing.hours.tasks, "firm": costing.firm,
            "options": {x.option.name: x.priced.price for x in ways}, "figures": [f for x in ways for f in x.figures],
            "files": files}  # fmt: skip
    return Answer(Code.DONE, plan.job.title, sections, f"crownwright quote {args.job}", data)


def _beside(made: PricedJob, locale: str) -> str:
    """A way by its price before tax, or by the band it lies in."""
    from crownwright.price.pricing import allowance

    net = made.priced.price.net
    if made.costing.firm:
        return f"{made.option.name}: {net.shown(locale)} before tax"
    low, high = allowance(made.costing, net)
    return f"{made.option.name}: {low.shown(locale)} to {high.shown(locale)} before tax, {net.shown(locale)} as things stand"


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
