"""Hand out a quote or an invoice under its number: made, printed and kept as one, so that the number on it is its own."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from contextlib import suppress
from datetime import date

from sqlalchemy.exc import IntegrityError

from crownwright.book import issued, jobs
from crownwright.book.issued import IssuedRow
from crownwright.book.store import BookError
from crownwright.price.deal import Reason
from crownwright.quantity.problems import Problem
from crownwright.service.desk.issue_paper import TRIES
from crownwright.service.desk.money_of import books_of, draft_of
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.pairing import new_id
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.price_a_job import bill_a_quote, issue_a_quote, kept_quote, quote_pdf
from crownwright.service.write_papers import usual_size

Made = tuple[bytes, str]
"""A paper and what it was made from (JSON)."""


def issue_quote(desk: Desk, job: str, reasons: Iterable[Reason] = (), issue: str = "") -> IssuedRow | tuple[Problem, ...]:
    """Hand out the quote of a job as it stands, or say everything that stands against it (``reasons`` answer findings)."""
    found = plan_of(desk, job)
    books = books_of(desk)
    if found.planned is None:
        return (Problem("quote", "the job has faults that stop its plan", "Put them right first"),)
    if isinstance(books, tuple):
        return books
    plan, draft = found.planned.plan, draft_of(desk, found.planned.plan)
    if isinstance(draft, tuple):
        return draft
    on, told, at = desk.clock().date(), tuple(reasons), int(desk.clock().timestamp())

    def make(number: str) -> Made | tuple[Problem, ...]:
        quote, problems = issue_a_quote(draft, plan, books.prices, number, on, told)
        if quote is None:
            return problems
        return quote_pdf(quote, plan, usual_size(plan.job.units), at), kept_quote(quote)

    return _issue(desk, job, found.revision.number, "quote", issue, make)


def issue_invoice(
    desk: Desk, job: str, quote: str, signed_by: str, signed: date, option: str = "", issue: str = ""
) -> IssuedRow | tuple[Problem, ...]:
    """Hand out the invoice of a quote (id of the issued one) that the customer signed; KeyError when there is no such quote."""
    with desk.book.reading() as c:
        row, text = issued.paper(c, quote)[0], issued.made_from(c, quote)
    on, at = desk.clock().date(), int(desk.clock().timestamp())
    if row.kind != "quote" or row.job != job:
        return (Problem("quote", "that is no quote of this job", "Choose one of those handed out"),)

    def make(number: str) -> Made | tuple[Problem, ...]:
        from crownwright.sheets.papers.deal import invoice_paper
        from crownwright.sheets.papers.press import pdf

        made = bill_a_quote(text, number, option, signed_by, signed, on)
        return (made,) if isinstance(made, Problem) else (pdf(invoice_paper(made), "letter", at), kept_quote(made))

    return _issue(desk, job, row.revision, "invoice", issue, make)


def _issue(
    desk: Desk, job: str, revision: int, kind: str, issue: str, make: Callable[[str], Made | tuple[Problem, ...]]
) -> IssuedRow | tuple[Problem, ...]:
    """The number is printed on the paper, so it is made for a number and kept only if that number is still free."""
    for _ in range(TRIES):
        year = desk.now()[:4]
        with desk.book.reading() as c:
            number = issued.next_number(c, year)
        made = make(number)
        if not isinstance(made[0], bytes):
            return made
        paper, data = made[0], str(made[1])
        with suppress(IntegrityError), desk.book.writing() as c:
            jobs.hold(c, job)
            if issued.next_number(c, year) == number:
                return issued.issue(c, IssuedRow(issue or new_id(), job, revision, kind, number, desk.now(), ""), data, paper)
    raise BookError("Others hand out papers all the time", "Try again")
