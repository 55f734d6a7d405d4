"""What a job costs and at what it is priced, by the firm's price book where one lies on the shelf, else by the example book."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from crownwright.book.shelf import Shelved
from crownwright.plan.model import Plan
from crownwright.price.business import Business, parse_business
from crownwright.price.deal import Quote
from crownwright.price.hours import HoursChoices
from crownwright.price.pricebook import PriceBook
from crownwright.price.rows import example_book
from crownwright.quantity.problems import Problem
from crownwright.service.desk.kept_lessons import lessons_in
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.shelf import FIRM, LESSONS, PRICES, shelve, shelved_together, unshelve
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
    """What a job is priced by: the price book, the firm, the name of the firm's own price book ("" for the example), how hours
    are reckoned by what was learned (None: nothing was), and the ``mark`` of the files that all this was read from.
    """

    prices: PriceBook
    business: Business
    own: str
    hours: HoursChoices | None
    mark: str


def books_of(desk: Desk) -> Books | tuple[Problem, ...]:
    """The price book and the firm on the shelf; those that come with the program where there are none.

    The files are looked at every time. What is read from their bytes is kept by those bytes, so that it is never out of date.
    """
    files = firm, prices, learned = shelved_together(desk, FIRM, PRICES, LESSONS)
    business, problems = parse_business(firm.data.decode("utf-8", "replace")) if firm else (Business(), ())
    if business is None:
        return problems
    book, faults = book_of_bytes(prices.data, prices.name, business) if prices else (example_book(), ())
    if book is None:
        return faults
    lessons = lessons_in(learned.data) if learned else None
    hours = lessons.hours() if lessons is not None else None
    return Books(book, business, prices.name if prices else "", hours, _mark(files))


def _mark(files: Sequence[Shelved | None]) -> str:
    """What files say, in one word: their names and bytes. The time they were put there would not tell two in one second apart."""
    said = ((file.name, hashlib.sha256(file.data).hexdigest()) if file else None for file in files)
    return hashlib.sha256(repr(tuple(said)).encode()).hexdigest()


def money_of(desk: Desk, plan: Plan, *, side_by_side: bool = False) -> Priced | tuple[Problem, ...]:
    """Price a plan by today's prices, the first way or all of them, or say what is wrong with the price book or the firm."""
    books = books_of(desk)
    return books if isinstance(books, tuple) else money_by(books, plan, desk.clock().date(), side_by_side=side_by_side)


def money_by(books: Books, plan: Plan, on: date, *, side_by_side: bool = False) -> Priced:
    """Price a plan by books and the prices of a day, the first way or all of them."""
    beside = Beside(hours=books.hours)
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
    return quote_a_plan(plan, books.prices, books.business, desk.clock().date(), Beside(hours=books.hours))


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
