"""The steps of a deal: draft a quote, issue it, accept it, change it, invoice it. All pure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from crownwright.price.billing import asked_of, asks_for, before_of
from crownwright.price.business import Business
from crownwright.price.costing import Costing
from crownwright.price.deal import Accepted, ChangeOrder, Invoice, Option, Party, Quote, Reason, Receipt, UnitPrice
from crownwright.price.documents import seal
from crownwright.price.pricebook import Prices
from crownwright.price.pricing import Price, allowance, price_job, sell_factor
from crownwright.price.work import Plan
from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.money import Rounding, total
from crownwright.quantity.problems import Problem


def option_of(
    name: str,
    costing: Costing,
    scope: Sequence[str],
    exclusions: Sequence[str],
    words: dict[str, str],
    years: Sequence[str] = (),
) -> Option:
    """Return one option of a quote from what it costs: firm, or an allowance with its band while the survey is rough.

    Where the survey is good, and only what the work itself will show is not known yet, it may be signed as an allowance.
    """
    priced = price_job(costing, words)
    told = name, tuple(scope), tuple(exclusions), priced.price
    if costing.firm:
        return Option(*told, years=tuple(years))
    low, high = allowance(costing, priced.price.net)
    only_work = bool(costing.unsure) and costing.rough == "; ".join(one.says for one in costing.unsure)
    return Option(*told, False, costing.rough, low, high, only_work, tuple(years))


def draft_quote(
    plan: Plan,
    prices: Prices,
    business: Business,
    options: Sequence[Option],
    *,
    why: Sequence[Reason] = (),
    unit_keys: Sequence[str] = (),
    customer: Party | None = None,
    more_units: Sequence[UnitPrice] = (),
) -> Quote:
    """Return a quote that has not been issued: no number, no date. ``unit_keys`` of the price book are sold by the unit where the
    work grows, ``more_units`` besides; keys without a price are left out.
    """
    factor, rows = sell_factor(prices), (prices.rows[key] for key in unit_keys if key in prices.rows)
    units = tuple(UnitPrice(r.what, r.unit, (prices.money(r) / r.pack * factor).rounded(Rounding("up"))) for r in rows)
    party = customer or Party(plan.job.customer, (plan.job.place,) if plan.job.place else ())
    return Quote(
        "",
        None,
        None,
        business,
        party,
        plan.job.title,
        plan.job.place,
        tuple(options),
        tuple(why),
        (*units, *more_units),
        (),
        prices.day,
        plan.version,
    )


def stands_against(plan: Plan, reasons: Iterable[Reason] = ()) -> tuple[Problem, ...]:
    """Return everything that keeps a quote from being issued: readings that make no survey, findings that block and that nobody
    answered. A reason recorded for a key ("people.falls", or "people.*" for all that begin so), with a name, answers it.
    """
    told = tuple(reason for reason in reasons if reason.says.strip() and reason.by.strip())
    return tuple(problem for key, problem in _stops(plan) if not any(_answers(reason.key, key) for reason in told))


def _stops(plan: Plan) -> Iterator[tuple[str, Problem]]:
    remedy = "Put it right, or record the reason for quoting all the same, with your name"
    if plan.survey is None:
        yield "survey.unreadable", Problem("survey.unreadable", "the readings make no survey", remedy)
    elif not plan.survey.closure.closes or plan.survey.suspects:
        yield "survey.closure", Problem("survey.closure", "the readings do not close", remedy)
    for problem in plan.problems:
        if problem.stops:
            yield f"problem.{problem.where}", Problem(f"problem.{problem.where}", problem.what, remedy)
    for finding in unanswered(plan.findings):
        says = f"{finding.subject}: {finding.rule} ({finding.verdict.value})"
        yield finding.key, Problem(finding.key, says, remedy)


def unanswered(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings that block, are short or cannot be told, and that nobody waived with a reason."""
    open_ = (Verdict.SHORT, Verdict.CANNOT_TELL)
    return tuple(f for f in findings if f.blocks and f.verdict in open_ and not (f.waiver and f.waiver.reason.strip()))


def _answers(pattern: str, key: str) -> bool:
    return key.startswith(pattern[:-1]) if pattern.endswith("*") and len(pattern) > 1 else key == pattern


def issue(
    quote: Quote, plan: Plan, prices: Prices, number: str, on: date, reasons: Sequence[Reason] = ()
) -> tuple[Quote | None, tuple[Problem, ...]]:
    """Return the quote as it is sent, under its number, or None and what stands against it.

    Example prices stop it as a finding does (key "price.examples"), and so does a price worked out on another day's rows.
    ValueError for a quote that was issued already, or an empty number.
    """
    if quote.number or not number.strip():
        raise ValueError(f"quote {quote.number or number!r}: a quote is issued once, under a number")
    problems = [*stands_against(plan, reasons), *_of_the_book(quote, prices, reasons)]
    if problems:
        return None, tuple(problems)
    days = int(prices.rule("valid for", Decimal(30)))
    return replace(quote, number=number, issued=on, valid_until=on + timedelta(days=days), recorded=tuple(reasons)), ()


def _of_the_book(quote: Quote, prices: Prices, reasons: Iterable[Reason]) -> Iterator[Problem]:
    answered = any(r.key == "price.examples" and r.says.strip() and r.by.strip() for r in reasons)
    if prices.examples and not answered:
        says = f"{len(prices.examples)} prices are still the examples that came with the program"
        yield Problem("price.examples", says, "Put your own prices, or record why these will do")
    if not quote.options:
        yield Problem("quote", "there is nothing on offer", "Give it at least one option")
    if quote.priced_on != prices.day:
        yield Problem("quote", f"it was priced on {quote.priced_on}, not {prices.day}", "Draft it again")


def accept(quote: Quote, option: str, signed_by: str, on: date) -> Accepted | Problem:
    """Return the deal, or what is wrong: not issued, not signed, out of date, an allowance. KeyError for an unknown option."""
    chosen = quote.option(option)
    if not quote.number or quote.valid_until is None or quote.issued is None:
        return Problem("quote", "it was never issued", "Issue it first")
    if not signed_by.strip():
        return Problem("signature", "there is none", "Have it signed")
    if not quote.issued <= on <= quote.valid_until:
        return Problem("date", f"{on} is not between {quote.issued} and {quote.valid_until}", "Issue a new quote")
    if not (chosen.firm or chosen.provisional):
        return Problem(option, f"its price is an allowance: {chosen.rough}", "Read the top, and issue a firm quote")
    return Accepted(quote, option, signed_by.strip(), on, seal(quote))


def invoice(
    deal: Accepted,
    number: str,
    on: date,
    changes: Sequence[ChangeOrder] = (),
    receipts: Sequence[Receipt] = (),
    days: int = 14,
    before: Sequence[Invoice] = (),
    stage: str = "",
) -> Invoice:
    """Return an invoice of a deal: what it asks for, and how the deal stands with it.

    ``stage`` is a payment as signed, by its words, or a change order ("change order 2026-0001-C1"); left out, it asks for all
    that earlier ones (``before``, oldest first) have not, changes included. ValueError for a change or receipt of another deal,
    one that stands there twice, a stage that there is not or that was asked already, nothing left to ask, or a quote that was
    altered after it was signed.
    """
    if seal(deal.quote) != deal.seal:
        raise ValueError(f"quote {deal.quote.number} is not as it was when it was signed")
    price = deal.quote.option(deal.option).price
    _mine(deal.quote.number, (number, *(one.number for one in before)), changes, receipts)
    currency = price.gross.currency
    whole = (price, *(c.price for c in changes))
    asked = asked_of(before)
    asks = asks_for(deal, changes, before, stage)
    gross = total((one.gross for one in whole), currency)
    paid = total((r.amount for r in receipts), currency)
    due = total((*(one.gross for one in asked), asks.gross), currency) - paid
    q = deal.quote
    return Invoice(
        number, q.number, on, q.business, q.customer, q.title, q.place, price, tuple(changes), tuple(receipts),
        gross, paid, due, on + timedelta(days=days), asks, stage, before_of(before),
    )  # fmt: skip


def _mine(quote: str, invoices: Sequence[str], changes: Sequence[ChangeOrder], receipts: Sequence[Receipt]) -> None:
    for what, numbers in (("change order", [c.number for c in changes]), ("receipt", [r.number for r in receipts])):
        if len(set(numbers)) < len(numbers):
            raise ValueError(f"a {what} stands there twice: {', '.join(numbers)}")
    for of in (c.quote for c in changes):
        if of != quote:
            raise ValueError(f"a change order belongs to quote {of}, not {quote}")
    for of in (r.against for r in receipts):
        if of not in (quote, *invoices):
            raise ValueError(f"a receipt belongs to {of}, not to {quote}")


def price_shown(price: Price, locale: str) -> list[tuple[str, str]]:
    """Return a price as rows of words and amounts, as it stands on papers."""
    rows = [(line.what, line.amount.shown(locale)) for line in price.lines]
    rows += [("Before tax", price.net.shown(locale))] if price.taxes else []
    rows += [(f"Tax on {t.name}, {_percent(t.rate)} % of {t.on.shown(locale)}", t.amount.shown(locale)) for t in price.taxes]
    return rows


def _percent(rate: Decimal) -> str:
    return f"{(rate * 100).normalize():f}"
