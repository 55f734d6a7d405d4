"""Hand out a quote or an invoice under its number: made, printed and kept as one, so that the number on it is its own."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from crownwright.book.issued import IssuedRow
from crownwright.price.deal import Reason
from crownwright.quantity.problems import Problem
from crownwright.service.desk.account import account_of
from crownwright.service.desk.agree import accept_quote, send_invoice
from crownwright.service.desk.hand_out import Made, hand_out
from crownwright.service.desk.keep_work import NOBODY_NAMED
from crownwright.service.desk.model import By
from crownwright.service.desk.money_of import books_of, draft_of
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.photos_for_papers import photos_for_papers
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.price_a_job import issue_a_quote, kept_quote, quote_pdf
from crownwright.service.write_papers import usual_size


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

    photos = photos_for_papers(desk, job)

    def make(number: str) -> Made | tuple[Problem, ...]:
        quote, problems = issue_a_quote(draft, plan, books.prices, number, on, told)
        if quote is None:
            return problems
        return quote_pdf(quote, plan, usual_size(plan.job.units), at, photos), kept_quote(quote)

    return hand_out(desk, job, found.revision.number, "quote", make, issue=issue)


def issue_invoice(
    desk: Desk,
    job: str,
    quote: str,
    signed_by: str,
    signed: date,
    option: str = "",
    issue: str = "",
    by: By = NOBODY_NAMED,
) -> IssuedRow | tuple[Problem, ...]:
    """Hand out the invoice of a quote (its id or number) that the customer signed; an acceptance is not asked for twice."""
    if account_of(desk, job).accepted is None:
        taken = accept_quote(desk, job, quote, signed_by, signed, option, by=by)
        if isinstance(taken, tuple):
            return taken
    return send_invoice(desk, job, issue=issue)
