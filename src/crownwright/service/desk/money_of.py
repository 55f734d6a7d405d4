"""What a job costs and at what it is priced, by the firm's price book where one lies on the shelf, else by the example book."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from crownwright.plan.model import Plan
from crownwright.price.business import Business, parse_business
from crownwright.price.deal import Quote
from crownwright.price.pricebook import PriceBook
from crownwright.price.rows import example_book
from crownwright.quantity.problems import Problem
from crownwright.service.desk.kept_lessons import own_hours_of
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.shelf import FIRM, PRICES, shelve, shelved, unshelve
from crownwright.service.price_a_job import Beside, PricedJob, price_a_plan, price_options, quote_a_plan
from crownwright.service.price_files import book_of_bytes
from crownwright.service.quote_options import problems_of
from crownwright.service.quote_years import years_of


@dataclass(frozen=True, slots=True)
class Priced:
    """A priced job, its ways side by side, the first in full, and how long each lasts; ``own`` is the name of the firm's price
    book ("" for the example), ``problems`` what has no price.
    """

    ways: tuple[PricedJob, ...]
    years: tuple[tuple[str, ...], ...]
    business: Business
    own: str
    on: date
    problems: tuple[Problem, ...]

    @property
    def made(self) -> PricedJob:
        """The first way."""
        return self.ways[0]


@dataclass(frozen=True, slots=True)
class Books:
    """What a job is priced by: the price book, the firm, and the name of the firm's own price book ("" for the example)."""

    prices: PriceBook
    business: Business
    own: str


def books_of(desk: Desk) -> Books | tuple[Problem, ...]:
    """The price book and the firm on the shelf; those that come with the program where there are none."""
    firm, prices = shelved(desk, FIRM), shelved(desk, PRICES)
    business, problems = parse_business(firm.data.decode("utf-8", "replace")) if firm else (Business(), ())
    if business is None:
        return problems
    if prices is None:
        return Books(example_book(), business, "")
    book, faults = book_of_bytes(prices.data, prices.name, business)
    return faults if book is None else Books(book, business, prices.name)


def money_of(desk: Desk, plan: Plan, *, side_by_side: bool = False) -> Priced | tuple[Problem, ...]:
    """Price a plan by today's prices, the first way or all of them, or say what is wrong with the price book or the firm."""
    books = books_of(desk)
    if isinstance(books, tuple):
        return books
    on = desk.clock().date()
    beside = Beside(hours=own_hours_of(desk))
    if not side_by_side:
        one = price_a_plan(plan, books.prices, on, beside)
        return Priced((one,), (), books.business, books.own, on, one.costing.problems)
    ways = price_options(plan, books.prices, on, beside)
    return Priced(ways, years_of(plan, ways, books.business.locale), books.business, books.own, on, problems_of(ways))


def draft_of(desk: Desk, plan: Plan) -> Quote | tuple[Problem, ...]:
    """The quote of a plan as it would be sent today, without a number; or what has no price."""
    books = books_of(desk)
    if isinstance(books, tuple):
        return books
    beside = Beside(hours=own_hours_of(desk))
    return quote_a_plan(plan, books.prices, books.business, desk.clock().date(), beside)


def keep_prices(desk: Desk, name: str, data: bytes) -> Sequence[Problem]:
    """Take the firm's price book (CSV or XLSX) in; the problems where it cannot be used, and then nothing is taken in."""
    books = books_of(desk)
    book, problems = book_of_bytes(data, name, Business() if isinstance(books, tuple) else books.business)
    return problems if book is None else _kept(desk, PRICES, name, data)


def keep_firm(desk: Desk, name: str, data: bytes) -> Sequence[Problem]:
    """Take the firm's file (TOML) in; the problems where it cannot be used, and then nothing is taken in."""
    business, problems = parse_business(data.decode("utf-8", "replace"))
    return problems if business is None else _kept(desk, FIRM, name, data)


def forget_prices(desk: Desk) -> None:
    """Go back to the example prices."""
    unshelve(desk, PRICES)


def _kept(desk: Desk, place: str, name: str, data: bytes) -> Sequence[Problem]:
    kept = shelve(desk, place, name, data)
    return (kept,) if isinstance(kept, Problem) else ()
