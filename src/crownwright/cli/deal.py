"""The commands on a deal in the book: how it stands, quote, acceptance, change, invoice, money; week, calls, ledger."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from crownwright.cli.answer import Answer, Section
from crownwright.cli.book import book_option, me, with_the_book
from crownwright.cli.codes import Code
from crownwright.quantity.problems import Problem

if TYPE_CHECKING:
    from crownwright.book.issued import IssuedRow
    from crownwright.price.choices import More
    from crownwright.service.desk.account import Account
    from crownwright.service.desk.open_desk import Desk

Adder = Callable[..., ArgumentParser]


def add_commands(command: Adder) -> None:
    """Put the commands on deals and on the week among the others; ``command`` adds one."""
    stands = command("account", "how a job of the book stands in money: agreed, paid, owed, what to do next", account)
    sent = command("send-quote", "hand out the quote of a job in the book under its number, frozen", send_quote)
    sent.add_argument(
        "--reason", metavar="KEY=WHY", action="append", default=[], help="why, in spite of what stops it; key may end in *"
    )
    sent.add_argument("--by", default="", help="who records the reasons")
    taken = command("accept", "write down that a quote was signed", accept)
    taken.add_argument("--quote", required=True, metavar="NUMBER", help="the quote's number")
    taken.add_argument("--option", default="", help="the option that was chosen; left out, the only one")
    changed = command("order-change", "write a change order under the accepted quote", order_change)
    changed.add_argument(
        "--more", metavar="KEY=AMOUNT", action="append", default=[], help="so much more of it; less with a minus"
    )
    changed.add_argument("--why", required=True, help="why")
    for sub in (taken, changed):
        sub.add_argument("--signed-by", required=True, help="who signed")
    billed = command("send-invoice", "hand out an invoice: of one payment, or of all that was not asked for yet", send_invoice)
    billed.add_argument("--stage", default="", metavar="WHICH",
        help="which payment: its place among those that account lists (1 ...), its words, or a change order's number; left out, "
        "all that was not asked for yet")  # fmt: skip
    billed.add_argument("--days", type=int, default=14, metavar="N", help="days in which it is due; left out, 14")
    paid = command("take-money", "write a receipt for money that came in", take_money)
    paid.add_argument("--amount", required=True, help="how much: 642.21; with a minus, money paid back")
    paid.add_argument("--how", default="", help="how it was paid: bank transfer")
    for sub in (taken, changed, billed, paid):
        sub.add_argument("--on", metavar="DATE", type=date.fromisoformat, help="the day; left out, today")
    for sub in (stands, sent, taken, changed, billed, paid):
        sub.add_argument("job", metavar="ID", help="the job, by the id that crownwright jobs shows")
    for sub in (sent, taken, changed, billed, paid):
        sub.add_argument("--into", metavar="FILE", type=Path, help="write the paper there too; the book keeps it in any case")
    books = command("ledger", "write invoices and receipts of all jobs as CSV, for whoever keeps the books", ledger)
    books.add_argument("--into", metavar="FILE", type=Path, help="file to write; left out, the screen")
    ahead = command("week", "the week over all jobs: visits, clashes, weather", week)
    ahead.add_argument("--from", dest="monday", metavar="DATE", type=date.fromisoformat, help="first day; left out, this monday")
    called = command("calls", "whom to call today and why", calls)
    called.add_argument("--on", metavar="DATE", type=date.fromisoformat, help="the day; left out, today")
    dated = command(
        "visits", "write the visits of a job in the book, or of all of them, as iCalendar: what fell away is struck out", visits
    )
    dated.add_argument("job", metavar="ID", nargs="?", default="", help="the job; left out, all jobs")
    dated.add_argument("--into", metavar="FILE", type=Path, help="file to write; left out, the id with .ics, or visits.ics")
    for sub in (stands, sent, taken, changed, billed, paid, books, ahead, called, dated):
        book_option(sub)


@with_the_book
def account(desk: Desk, args: Namespace) -> Answer:
    """How a job stands."""
    from crownwright.service.desk.account import account_of
    from crownwright.service.desk.list_jobs import find_job

    try:
        found, row = account_of(desk, args.job), find_job(desk, args.job)
    except KeyError as error:
        return _unknown(error)
    return Answer(Code.DONE, row.title, (Section("", tuple(_stands(found))),), found.next, {"account": found})


def _stands(found: Account) -> Iterator[str]:
    from crownwright.price.billing import before_of

    locale = found.quotes[0][1].business.locale if found.quotes else "en_US"
    for row, quote in found.quotes:
        until = f", holds until {quote.valid_until.isoformat()}" if quote.valid_until else ""
        yield f"Quote {row.number} of {row.issued_at[:10]}{until}"
    if found.accepted is not None and found.agreed is not None:
        yield f"Accepted by {found.accepted.signed_by} on {found.accepted.on.isoformat()}: {found.accepted.option}"
        for change in found.changes:
            yield f"Change {change.number}: {change.why}, {change.price.gross.shown(locale)}"
        yield f"Agreed {found.agreed.shown(locale)}"
    for asked in before_of(found.invoices):
        kind = "Credit note" if asked.amount.amount < 0 else "Invoice"
        lacks = found.lacks[asked.number]
        open_ = f", {lacks.shown(locale)} open" if lacks else ", paid" if asked.amount.amount >= 0 else ""
        what = f", {asked.stage}" if asked.stage else ""
        yield f"{kind} {asked.number} of {asked.on.isoformat()}{what}: {asked.amount.shown(locale)}{open_}"
    for receipt in found.receipts:
        yield f"Received {receipt.on.isoformat()}: {receipt.amount.shown(locale)}{', ' + receipt.how if receipt.how else ''}"
    if found.owed is not None and found.to_ask is not None:
        yield f"Owed {found.owed.shown(locale)}, of it {found.to_ask.shown(locale)} not invoiced yet"
    for n, stage in enumerate(found.askable, 1):
        yield f"Can be invoiced, {n}: {stage.due}, {stage.amount.shown(locale)}"


@with_the_book
def send_quote(desk: Desk, args: Namespace) -> Answer:
    """Hand a quote out."""
    from crownwright.price.deal import Reason
    from crownwright.service.desk.issue_deal import issue_quote

    reasons = tuple(Reason(key, why, args.by) for key, _, why in (text.partition("=") for text in args.reason))
    then = "put these right, or record why with --reason KEY=WHY and --by NAME; nothing was handed out"
    return _handed(desk, args, lambda: issue_quote(desk, args.job, reasons), then)


@with_the_book
def accept(desk: Desk, args: Namespace) -> Answer:
    """Take a signature."""
    from crownwright.service.desk.agree import accept_quote

    return _handed(desk, args, lambda: accept_quote(desk, args.job, args.quote, args.signed_by, args.on, args.option, by=me()))


@with_the_book
def order_change(desk: Desk, args: Namespace) -> Answer:
    """Order a change."""
    from crownwright.service.desk.agree import order_change as order

    return _handed(desk, args, lambda: order(desk, args.job, _more(args.more), args.why, args.signed_by, args.on))


def _more(texts: list[str]) -> tuple[More, ...]:
    from crownwright.price.choices import More

    return tuple(More(key.strip(), amount.strip()) for key, _, amount in (text.rpartition("=") for text in texts))


@with_the_book
def send_invoice(desk: Desk, args: Namespace) -> Answer:
    """Hand an invoice out."""
    from crownwright.service.desk.agree import send_invoice as send

    return _handed(desk, args, lambda: send(desk, args.job, args.on, args.days, stage=args.stage))


@with_the_book
def take_money(desk: Desk, args: Namespace) -> Answer:
    """Take money."""
    from crownwright.service.desk.agree import take_money as take

    return _handed(desk, args, lambda: take(desk, args.job, args.amount, args.on, args.how))


def _handed(
    desk: Desk, args: Namespace, hand: Callable[[], IssuedRow | tuple[Problem, ...]], wrong: str = "put these right and ask again"
) -> Answer:
    """Hand a paper out, write it to a file where one is named, and say how the job stands now."""
    from crownwright.service.desk.account import account_of
    from crownwright.service.desk.issue_paper import issued_paper
    from crownwright.service.folder import put

    try:
        row = hand()
    except KeyError as error:
        return _unknown(error)
    if isinstance(row, tuple):
        return Answer(Code.NOT_READY, problems=row, next=wrong)
    said = f"{row.kind[:1].upper()}{row.kind[1:]} {row.number}: kept in the book as handed out."
    data = {"paper": row}
    if args.into is not None:
        done = put(args.into.parent, args.into.name, issued_paper(desk, row.id)[1])
        if isinstance(done, Problem):
            return Answer(Code.NOT_WRITTEN, said, problems=(done,), next="name a file you may write with --into")
        said += f" Written to {done}."
    return Answer(Code.DONE, said, next=account_of(desk, args.job).next, data=data)


@with_the_book
def ledger(desk: Desk, args: Namespace) -> Answer:
    """Write the ledger."""
    from crownwright.service.desk.account import ledger_of
    from crownwright.service.desk.list_jobs import all_jobs
    from crownwright.service.folder import put

    text = ledger_of(desk, [row.id for row in all_jobs(desk)])
    if args.into is None:
        return Answer(Code.DONE, raw=text, data={"ledger": text})
    done = put(args.into.parent, args.into.name, text.encode())
    if isinstance(done, Problem):
        return Answer(Code.NOT_WRITTEN, problems=(done,), next="name a file you may write with --into")
    return Answer(Code.DONE, f"Wrote {done}.", next="hand it to whoever keeps the books", data={"files": [done]})


@with_the_book
def week(desk: Desk, args: Namespace) -> Answer:
    """Show a week."""
    from crownwright.service.desk.week import week_of
    from crownwright.sheets.calendar_week import rows, title

    days = week_of(desk, args.monday).days
    sections = (
        Section(title(day), tuple(text for _, text in rows(day)) or ("free",), tuple(at for at, _ in rows(day))) for day in days
    )
    head = f"Week from {days[0].on.isoformat()}"
    return Answer(Code.DONE, head, tuple(sections), "crownwright calls says whom to call", {"days": days})


@with_the_book
def calls(desk: Desk, args: Namespace) -> Answer:
    """Show the calls."""
    from crownwright.service.desk.calls import calls_of

    found = calls_of(desk, args.on)
    lines = tuple(f"{call.who}: {call.why}" for call in found)
    title = "Nobody to call" if not found else f"{len(found)} to call"
    section = Section("", lines, tuple(call.phone or "no number" for call in found))
    return Answer(Code.DONE, title, (section,), "crownwright week shows the days ahead", {"calls": found})


@with_the_book
def visits(desk: Desk, args: Namespace) -> Answer:
    """Write visits."""
    from crownwright.service.desk.calendars import calendar_of_book, calendar_of_job
    from crownwright.service.folder import put

    try:
        text = calendar_of_job(desk, args.job) if args.job else calendar_of_book(desk)
    except KeyError as error:
        return _unknown(error)
    count, gone = text.count("BEGIN:VEVENT"), text.count("STATUS:CANCELLED")
    if not count:
        lacking = Problem("visits", "no pour hour was chosen and no next visit written down", "Choose the hour on the days' page")
        return Answer(Code.NOT_READY, problems=(lacking,), next="crownwright days finds the hours that will do")
    into = args.into or Path(f"{args.job or 'visits'}.ics")
    done = put(into.parent, into.name, text.encode())
    if isinstance(done, Problem):
        return Answer(Code.NOT_WRITTEN, problems=(done,), next="name a file you may write with --into")
    says = f"Wrote {done}: {count - gone} visit{'s' * (count - gone != 1)}" + (f", {gone} struck out." if gone else ".")
    return Answer(Code.DONE, says, next="open it with your calendar; send it again when days move: its entries move with it",
                  data={"files": [done], "count": count, "cancelled": gone})  # fmt: skip


def _unknown(error: KeyError) -> Answer:
    return Answer(Code.ASKED_WRONG, f"{error.args[0]}.", next="crownwright jobs lists those there are, with their ids")
