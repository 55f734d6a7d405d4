"""The commands on money and on what follows the pour: price, quote, invoice, calendar, handover, learning, the price book."""

from __future__ import annotations

import os
import time
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterator, Sequence
from datetime import UTC, date, datetime
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import TYPE_CHECKING, Any

from crownwright.cli.answer import Answer, Section
from crownwright.cli.book import book_option, with_the_book
from crownwright.cli.codes import Code
from crownwright.cli.patience import patience
from crownwright.quantity.problems import Problem

if TYPE_CHECKING:
    from crownwright.plan.model import Plan
    from crownwright.price.business import Business
    from crownwright.price.pricebook import PriceBook
    from crownwright.service.desk.open_desk import Desk
    from crownwright.service.learn_from_jobs import Lessons
    from crownwright.service.price_a_job import PricedJob

Adder = Callable[..., ArgumentParser]


def add_commands(command: Adder) -> None:
    """Put the commands on money among the others; ``command`` adds one."""
    folder = "folder to put the files in; left out, where you stand"
    priced = command("price", "price a job: take-off, hours, what it costs, the chance of losing money", price, job=True)
    quoted = command(
        "quote", "write a quote: a draft, or, under a number, issued and frozen", quote, job=True, into=folder, paper=True
    )
    for sub in (priced, quoted):
        _book_options(sub)
        sub.add_argument("--on", metavar="DATE", type=date.fromisoformat, help="day of the prices, 2026-05-03; left out, today")
        sub.add_argument(
            "--with", dest="more", metavar="KEY=AMOUNT", action="append", default=[], help="work or goods beside the cap"
        )
        sub.add_argument("--van", metavar="KEY=AMOUNT", action="append", default=[], help="what the van holds")
        sub.add_argument("--finished", metavar="FILE", type=Path, help="finished jobs (CSV), to take bags and hours as they say")
    quoted.add_argument("--number", help="issue it under this number")
    quoted.add_argument(
        "--reason", metavar="KEY=WHY", action="append", default=[], help="why, in spite of what stops it; key may end in *"
    )
    quoted.add_argument("--by", default="", help="who records the reasons")
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
    _book_options(changed)
    dated = command("calendar", "write the visits of a job as iCalendar", calendar, job=True, into="file to write")
    handed = command(
        "handover", "write the handover: record, care plan, days to look again", handover, job=True, into=folder, paper=True
    )
    for sub in (dated, handed):
        sub.add_argument("--firm", metavar="FILE", type=Path, help="your firm and terms (TOML)")
        sub.add_argument("--pour", metavar="TIME", type=datetime.fromisoformat, required=True, help="local, 2026-05-20T09:00")
    dated.add_argument("--revision", type=int, default=0, metavar="N", help="one more each time the days move; left out, 0")
    handed.add_argument("--bags", type=int, metavar="N", help="bags used")
    handed.add_argument("--uncovered", default="", metavar="FLUES", help="flues uncovered and seen to draw, with commas")
    handed.add_argument("--by", default="", help="who saw to it")
    handed.add_argument("--link", default="", help="what the code leads to; left out, your card")
    learned = command("learn", "learn from finished jobs: forecast against actual, what follows for the next", learn)
    learned.add_argument(
        "jobs",
        metavar="FILE",
        type=Path,
        nargs="?",
        help="CSV with job, what, forecast, actual, spread; left out, the book's own",
    )
    book_option(learned)
    listed = command(
        "price-book", "check a price book, or write it as another kind of file", price_book, into="file: .csv or .xlsx"
    )
    _book_options(listed)


def _book_options(sub: ArgumentParser) -> None:
    sub.add_argument("--prices", metavar="FILE", type=Path, help="price book, .csv or .xlsx; left out, the invented example")
    sub.add_argument("--firm", metavar="FILE", type=Path, help="your firm and terms (TOML)")


def price(args: Namespace) -> Answer:
    """Price a job."""
    from crownwright.service.price_a_job import price_a_plan

    found = _planned(args)
    if isinstance(found, Answer):
        return found
    plan, book, business, beside = found
    made = price_a_plan(plan, book, args.on or date.today(), beside)
    priced, costing, locale = made.priced, made.costing, business.locale
    if costing.problems:
        return Answer(
            Code.NOT_READY, plan.job.title, problems=costing.problems, next="add these to the price book, then ask again"
        )
    buys = tuple(
        f"{x.packs} × {x.what}: {x.buys.shown(locale)}" + (" (some from the van)" if x.from_van else "") for x in costing.lines
    )
    sections = (
        Section("To buy", buys),
        Section("Hours", tuple(f"{t.what} ({t.grade}): {t.hours.mean:.1f} h" for t in costing.hours.tasks)),
        Section("What it comes to", tuple(_comes_to(made, locale))),
        Section("Not firm yet", (costing.rough,) if not costing.firm else ()),
        Section("Example prices", (f"{len(costing.prices.examples)} prices are invented examples: put your own.",)
                if costing.prices.examples else ()),
    )  # fmt: skip
    data = {"price": priced.price, "cost": priced.cost, "left": priced.left, "chance_of_loss": priced.chance_of_loss,
            "lines": costing.lines, "tasks": costing.hours.tasks, "firm": costing.firm}  # fmt: skip
    return Answer(Code.DONE, plan.job.title, sections, f"crownwright quote {args.job}", data)


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
    pdf = quote_pdf(made, plan, args.paper or usual_size(plan.job.units), _now())
    name = f"quote-{_safe(made.number) or 'draft'}"
    then = "send it; the JSON is the quote as sent, keep it" if made.number else "read it, then issue it with --number"
    return _write(
        args.into or Path(), {f"{name}.pdf": pdf, f"{name}.json": kept_quote(made).encode()}, then, {"number": made.number}
    )


def invoice(args: Namespace) -> Answer:
    """Invoice a quote."""
    from crownwright.price.deal import ChangeOrder, Receipt
    from crownwright.price.documents import read_json
    from crownwright.quantity.money import Money
    from crownwright.service.price_a_job import bill_a_quote, kept_quote
    from crownwright.sheets.papers.deal import invoice_paper
    from crownwright.sheets.papers.press import pdf

    try:
        text = args.quote.read_text("utf-8")
        number, currency = _number_and_currency(text)
        paid = [(date.fromisoformat(on), Decimal(amount)) for on, _, amount in (x.partition("=") for x in args.paid)]
    except (OSError, ValueError, KeyError, InvalidOperation) as error:
        return _bad(Problem(str(args.quote), f"it cannot be used: {error}", "Give a kept quote, and --paid DATE=AMOUNT"))
    receipts = tuple(Receipt(f"{number}-R{n}", number, on, Money(amount, currency)) for n, (on, amount) in enumerate(paid, 1))
    try:
        changes = tuple(read_json(ChangeOrder, file.read_text("utf-8")) for file in args.change)
    except (OSError, ValueError) as error:
        return _bad(Problem("--change", str(error), "Give the JSON that was kept beside each change order"))
    made = bill_a_quote(text, args.number, args.option, args.signed_by, args.signed, args.on or date.today(), receipts, changes)
    if isinstance(made, Problem):
        return _bad(made)
    name = f"invoice-{_safe(made.number)}"
    printed = pdf(invoice_paper(made), args.paper or "letter", _now())
    return _write(args.into or Path(), {f"{name}.pdf": printed, f"{name}.json": kept_quote(made).encode()}, "send it",
                  {"gross": made.gross, "paid": made.paid, "due": made.due})  # fmt: skip


def change_order(args: Namespace) -> Answer:
    """Write a change order."""
    from crownwright.price.choices import More
    from crownwright.service.price_a_job import change_a_quote, kept_quote
    from crownwright.sheets.papers.deal import change_paper
    from crownwright.sheets.papers.press import pdf

    found = _prices(args)
    if isinstance(found, Answer):
        return found
    more = tuple(More(key.strip(), amount.strip()) for key, _, amount in (text.rpartition("=") for text in args.more))
    try:
        text = args.quote.read_text("utf-8")
    except OSError as error:
        return _bad(Problem(str(args.quote), f"it cannot be read: {error}", "Give a kept quote"))
    made, problems = change_a_quote(text, args.nth, more, args.why, args.signed_by, args.on or date.today(), found[0])
    if made is None:
        return Answer(Code.ASKED_WRONG, problems=problems, next="put these right and ask again")
    order, quoted = made
    name = f"change-{_safe(order.number)}"
    printed = pdf(change_paper(order, quoted), args.paper or "letter", _now())
    return _write(args.into or Path(), {f"{name}.pdf": printed, f"{name}.json": kept_quote(order).encode()},
                  "have it signed; give it to crownwright invoice with --change", {"gross": order.price.gross})  # fmt: skip


def calendar(args: Namespace) -> Answer:
    """Write visits."""
    from crownwright.service.price_a_job import calendar_of

    found = _plan_and_firm(args)
    if isinstance(found, Answer):
        return found
    plan, business = found
    if args.pour.tzinfo is not None:
        return _bad(Problem("--pour", "it has a time zone of its own", "Write local time; the zone stands in the firm's file"))
    made_at = datetime.fromtimestamp(_now(), UTC)
    text = calendar_of(plan, f"{plan.job.title}|{plan.job.place}", args.pour, business.zone, made_at, args.revision)
    path = args.into or Path("visits.ics")
    return _write(
        path.parent, {path.name: text.encode()}, "open it with your calendar; send it again with --revision when days move"
    )


def handover(args: Namespace) -> Answer:
    """Write the handover."""
    from crownwright.sheets.calendar import visits_of
    from crownwright.sheets.calendar_card import vcard
    from crownwright.sheets.papers.handover import Record, handover_paper, still_covered
    from crownwright.sheets.papers.press import pdf

    found = _plan_and_firm(args)
    if isinstance(found, Answer):
        return found
    plan, business = found
    flues = tuple(name.strip() for name in args.uncovered.split(",") if name.strip())
    record = Record(args.pour.date(), args.bags, uncovered=flues, uncovered_by=args.by)
    care = [v for v in visits_of("", plan.job.title, plan.job.place, args.pour) if v.key.startswith("care")]
    files = {
        "handover.pdf": pdf(handover_paper(plan, business, record, care, args.link), args.paper or "letter", _now()),
        "card.vcf": vcard(business).encode(),
    }
    covered = still_covered(plan, record)
    answer = _write(args.into or Path(), files, "give it to the customer")
    if not covered or answer.code is not Code.DONE:
        return answer
    lacking = Problem(
        ", ".join(covered), "not signed as uncovered; the paper says so", "--uncovered FLUES --by NAME", stops=False
    )
    return Answer(
        Code.NOT_READY,
        answer.title,
        answer.sections,
        "uncover the flues, sign for them, and write it again",
        answer.data,
        (lacking,),
    )


def learn(args: Namespace) -> Answer:
    """Learn from finished jobs."""
    if args.jobs is None:
        return learn_from_book(args)
    from crownwright.service.learn_from_jobs import lessons

    try:
        text = args.jobs.read_text("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        return _bad(Problem(str(args.jobs), f"it cannot be read: {error}", "Name a CSV file in UTF-8"))
    found, problems = lessons(text)
    if found is None:
        return Answer(Code.BAD_JOB, problems=problems, next="put these right and ask again; nothing was taken in")
    return _lessons(found)


@with_the_book
def learn_from_book(desk: Desk, args: Namespace) -> Answer:
    """Learn from the finished jobs of the book."""
    from crownwright.service.desk.finished_jobs import lessons_of_book

    found = lessons_of_book(desk)
    if not found.learned:
        return Answer(Code.DONE, "No job of the book says yet what it took.",
                      next="write bags and hours under [quote] done in a finished job, and its state of work")  # fmt: skip
    return _lessons(found)


def _lessons(found: Lessons) -> Answer:
    """What was learned, forecast against actual, and how the stated risks have held."""
    lines = tuple(
        f"{x.factor:.3f} of the forecast, give or take {x.belief.scale():.0%} a job; {x.jobs} jobs counted, {x.own:.0%} of the "
        f"weight is your own, one in {1 / max(x.belief.usual, 1e-6):,.1f} that the defaults hold after all"
        for x in found.learned
    )
    taken = tuple(
        f"{what} {job.forecast:.3g} forecast, {job.actual:.3g} taken: {job.actual / job.forecast:.2f}"
        for what, jobs in found.jobs.items()
        for job in jobs[-20:]
    )
    names = tuple(job.job for jobs in found.jobs.values() for job in jobs[-20:])
    held = tuple(f"{h.what}: {h.came} of {h.times}, {'within' if h.holds else 'outside'} {h.low} to {h.high}" for h in found.held)
    sections = (
        Section("What your jobs say", lines, tuple(x.what for x in found.learned)),
        Section("Forecast against actual, the newest last", taken, names),
        Section("How stated risks have held", held),
        Section("Set aside", tuple(a.says for x in found.learned for a in x.aside)),
    )
    return Answer(Code.DONE, "Finished jobs", sections, "crownwright price JOB --finished FILE takes bags and hours as they say",
                  {"learned": found.learned, "held": found.held, "jobs": found.jobs})  # fmt: skip


def price_book(args: Namespace) -> Answer:
    """Check a price book, or write it."""
    from crownwright.service.price_files import book_bytes

    found = _prices(args)
    if isinstance(found, Answer):
        return found
    book, _ = found
    if args.into is not None:
        return _write(
            args.into.parent,
            {args.into.name: book_bytes(book, args.into.name)},
            "put your own prices in, and 'own' under standing",
        )
    examples = sum(row.standing == "example" for row in book.rows)
    says = (f"{len(book.rows)} rows, {book.currency}, {book.locale}; {examples} are invented examples",)
    return Answer(
        Code.DONE, "Price book", (Section("", says),), "write it with --into prices.csv or prices.xlsx", {"rows": book.rows}
    )


def _prices(args: Namespace) -> Answer | tuple[PriceBook, Business]:
    from crownwright.service.price_files import read_book, read_business

    business, problems = read_business(args.firm)
    if business is None:
        return Answer(Code.BAD_JOB, problems=problems, next="put these right and ask again")
    book, problems = read_book(args.prices, business)
    if book is None:
        return Answer(Code.BAD_JOB, problems=problems, next="put these right and ask again; nothing was taken in")
    return book, business


def _plan_and_firm(args: Namespace) -> Answer | tuple[Plan, Business]:
    from crownwright.service.price_files import read_business

    business, problems = read_business(args.firm)
    if business is None:
        return Answer(Code.BAD_JOB, problems=problems, next="put these right and ask again")
    plan = _plan(args)
    return plan if isinstance(plan, Answer) else (plan, business)


def _plan(args: Namespace, learned: Lessons | None = None) -> Answer | Plan:
    from crownwright.cli.verbs import bad_job, open_named
    from crownwright.service.learn_from_jobs import by_own_jobs
    from crownwright.service.plan_a_job import plan_a_job

    opened = open_named(args.job)
    if opened.job is None:
        return bad_job(opened)
    with patience("Planning"):
        job = by_own_jobs(opened.job, learned) if learned is not None else opened.job
        return plan_a_job(job, opened.text).plan


def _planned(args: Namespace) -> Answer | tuple[Plan, PriceBook, Business, Any]:
    from crownwright.service.learn_from_jobs import lessons
    from crownwright.service.price_a_job import Beside

    found = _prices(args)
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
    plan = _plan(args, learned)
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


def _write(folder: Path, files: dict[str, bytes], then: str, data: dict[str, Any] | None = None) -> Answer:
    from crownwright.service.folder import put

    written = []
    for name, content in files.items():
        path = put(folder, name, content)
        if isinstance(path, Problem):
            return Answer(Code.NOT_WRITTEN, problems=(path,), next="name a place you may write to with --into")
        written.append(path)
    return Answer(Code.DONE, f"Wrote {', '.join(map(str, written))}", next=then, data={"files": written, **(data or {})})


def _bad(problem: Problem) -> Answer:
    return Answer(Code.ASKED_WRONG, problems=(problem,), next="put it right and ask again")


def _safe(number: str) -> str:
    """A number as a name of a file."""
    return "".join(c if c.isalnum() or c in "-_." else "-" for c in number)


def _now() -> int:
    return int(os.environ.get("SOURCE_DATE_EPOCH", "") or time.time())
