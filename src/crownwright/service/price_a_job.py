"""Price a job: take-off, hours, price and its risk for the mason's eyes; quote and invoice for the customer's."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from crownwright.plan.model import Plan
from crownwright.price.billing import askable, stage_named
from crownwright.price.business import Business
from crownwright.price.changing import change_lines, change_price
from crownwright.price.choices import More
from crownwright.price.deal import Accepted, ChangeOrder, Invoice, Party, Quote, Reason, Receipt
from crownwright.price.dealing import accept, draft_quote, invoice, issue
from crownwright.price.documents import as_json, read_json
from crownwright.price.pricebook import PriceBook
from crownwright.quantity.problems import Problem
from crownwright.service.quote_options import (
    Beside,
    PricedJob,
    option_for,
    price_way,
    price_ways,
    problems_of,
    reasons_of,
    scope_of,
    ways_of,
)
from crownwright.service.quote_record import unit_prices_of
from crownwright.service.quote_years import year_figures, years_of

__all__ = ["Beside", "PricedJob", "price_a_plan", "price_options", "quote_a_plan", "scope_of"]

if TYPE_CHECKING:
    from crownwright.sheets.papers.deal import Photo

WHY = {
    "overhang": "A cap that ends too near the wall lets water run down its face and into the joints. This one stands clear.",
    "wash": "A top that falls away sheds water at once, and what does not stay cannot freeze.",
    "drip": "The groove under the edge makes drops let go before they reach the wall.",
    "joint": "The flues grow when they are hot. A soft joint lets them, so that they do not split the cap.",
    "steel": "Wire in the concrete holds shrinkage cracks closed.",
}
"""Plain words for the customer; what each is for is common practice."""


def price_a_plan(plan: Plan, book: PriceBook, on: date, beside: Beside | None = None) -> PricedJob:
    """Price a plan by the book as it stood on a day; of several options the first."""
    return price_way(plan, ways_of(plan)[0], book.on(on), beside or Beside())


def price_options(plan: Plan, book: PriceBook, on: date, beside: Beside | None = None) -> tuple[PricedJob, ...]:
    """Price every option of a plan by the book as it stood on a day; how long each lasts is part of its working."""
    made = price_ways(plan, book.on(on), beside or Beside())
    if problems_of(made):
        return made
    years = year_figures(plan, made)
    return tuple(replace(one, figures=(*one.figures, *more)) for one, more in zip(made, years, strict=True))


def why_of(plan: Plan) -> tuple[Reason, ...]:
    """Return why it is done, in plain words, for what the cap has."""
    if plan.cap is None:
        return ()
    there = {"overhang": True, "wash": True, "drip": plan.cap.drip is not None, "joint": bool(plan.cap.flues),
             "steel": bool(plan.cap.steel)}  # fmt: skip
    return tuple(Reason(key, says) for key, says in WHY.items() if there[key])


def quote_a_plan(
    plan: Plan, book: PriceBook, business: Business, on: date, beside: Beside | None = None
) -> Quote | tuple[Problem, ...]:
    """Draft the quote of a plan with its options side by side, or say what has no price."""
    beside, prices = beside or Beside(), book.on(on)
    made = price_ways(plan, prices, beside)
    problems = problems_of(made)
    if problems:
        return problems
    lasts = years_of(plan, made, business.locale)
    options = tuple(option_for(one, plan, business, beside, years) for one, years in zip(made, lasts, strict=True))
    units = unit_prices_of([one.record for one in made], prices, plan.job.units)
    why = (*reasons_of(tuple(one.option for one in made)), *why_of(plan))
    customer = beside.customer or customer_of(plan)
    return draft_quote(plan, prices, business, options, why=why, unit_keys=_unit_keys(plan), customer=customer, more_units=units)


def _unit_keys(plan: Plan) -> tuple[str, ...]:
    """What may change when the old cap is off: the job's own bags, a length of flue, hours."""
    concrete = f"concrete {plan.concrete.bag.name}" if plan.concrete is not None else "concrete 80 lb"
    return concrete, f"mortar {plan.job.concrete.mortar_bag}", "flue liner", "labour mason", "labour helper"


def customer_of(plan: Plan) -> Party:
    """Return the customer as on papers; the place of the work stands in for an address that was not told."""
    job = plan.job
    address = job.quote.address or ((job.place,) if job.place else ())
    return Party(job.customer, address, job.quote.email, job.quote.phone)


def issue_a_quote(quote: Quote, plan: Plan, book: PriceBook, number: str, on: date, reasons: Sequence[Reason]
                  ) -> tuple[Quote | None, tuple[Problem, ...]]:  # fmt: skip
    """Freeze a quote under its number, or say everything that stands against it."""
    return issue(quote, plan, book.on(quote.priced_on), number, on, reasons)


def quote_pdf(quote: Quote, plan: Plan, size: str, made_at: int, photos: Sequence[Photo] = ()) -> bytes:
    """Print a quote with the elevation before and after, and photos."""
    from crownwright.sheets.drawings.elevation import elevation
    from crownwright.sheets.papers.deal import quote_paper
    from crownwright.sheets.papers.press import pdf

    pictures = (elevation(plan),) if plan.cap is not None and plan.survey is not None else ()
    return pdf(quote_paper(quote, pictures, photos), "a4" if size == "a4" else "letter", made_at)


def working_pdf(plan: Plan, made: Sequence[PricedJob], business: Business, size: str, made_at: int) -> bytes:
    """Print how the price of each way is made, for the mason."""
    from crownwright.sheets.papers.press import pdf
    from crownwright.sheets.papers.price_working import price_working_paper

    locale = business.locale
    ways = [(one.option.name, one.priced.price.net.shown(locale), one.stem, one.figures) for one in made]
    return pdf(price_working_paper(plan, ways, locale), "a4" if size == "a4" else "letter", made_at)


def bill_a_quote(text: str, number: str, option: str, signed_by: str, signed: date, on: date,
                 receipts: Sequence[Receipt] = (), changes: Sequence[ChangeOrder] = (), before: Sequence[Invoice] = (),
                 stage: str = "") -> Invoice | Problem:  # fmt: skip
    """Return an invoice of a quote as it was kept (JSON), or what is wrong; ``stage`` as `stage_named` takes it."""
    try:
        quote = read_json(Quote, text)
        deal = accept(quote, option or quote.options[0].name, signed_by, signed)
        if isinstance(deal, Problem):
            return deal
        of = stage_named(askable(deal, changes, before), stage)
        return invoice(deal, number, on, changes, receipts, before=before, stage=of)
    except ValueError as error:
        return Problem("invoice", str(error), "Give the files as they were kept, and ask for what is left")
    except KeyError as error:
        return Problem("option", str(error.args[0]), "Name one of these")


def change_a_quote(
    text: str, nth: int, more: Sequence[More], why: str, signed_by: str, on: date, book: PriceBook
) -> tuple[tuple[ChangeOrder, Quote] | None, tuple[Problem, ...]]:
    """Return a change order to a quote as it was kept (JSON), and that quote; or None and all that is wrong."""
    try:
        quote = read_json(Quote, text)
    except ValueError as error:
        return None, (Problem("quote", str(error), "Give the file that was kept when the quote was issued"),)
    prices = book.on(on)
    lines, problems = change_lines(quote, prices, more)
    wanted = (
        ("quote", quote.number and nth > 0, "Issue it first"),
        ("lines", lines or problems, "Say what is more or less"),
        ("why", why.strip(), "Say why"),
        ("signature", signed_by.strip(), "Have it signed"),
    )
    problems += tuple(Problem(what, "there is none", remedy) for what, there, remedy in wanted if not there)
    if problems:
        return None, problems
    made = ChangeOrder(f"{quote.number}-C{nth}", quote.number, on, why.strip(), change_price(lines, prices), signed_by.strip())
    return (made, quote), ()


def kept_quote(quote: Quote | Accepted | Invoice | ChangeOrder) -> str:
    """Return a document as it is kept."""
    return as_json(quote)
