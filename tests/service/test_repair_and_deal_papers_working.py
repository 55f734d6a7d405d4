"""No number on the papers of a repair and of a deal stands bare: it is a figure's, a finding's, a sum's, or in a name."""

from __future__ import annotations

import re
from datetime import date
from functools import cache

import pytest
from tests.service.test_papers_working import SIZES, bare, names_of, planned, values, words

from crownwright.plan.model import Plan
from crownwright.price.business import Business
from crownwright.price.rows import example_book
from crownwright.price.showing import Sum, unit_sums
from crownwright.quantity.units import LB
from crownwright.quantity.working import Figure
from crownwright.service.price_a_job import price_options, quote_a_plan
from crownwright.sheets.everything import papers_of
from crownwright.sheets.papers.deal import quote_paper
from crownwright.sheets.papers.handover import Record, handover_paper

SIZES.setdefault("share", {"": 1.0, "%": 0.01})
DAY = date(2026, 5, 3)
DATED = re.compile(r"[A-Z][a-z]+ \d{1,2}, \d{4}")
NAMED = {"name", "lines", "svg", "says", "number", "on", "until", "by", "code", "job", "from", "to"}
"""Parts of a deal's paper that name somebody, a day or a document."""
JOBS = ("stone-two-flues", "repair-first", "metric")


@cache
def known_of(name: str) -> tuple[Plan, set[tuple[float, str]], set[str]]:
    """A plan, the values its papers may print, and what its names and findings say."""
    plan = planned(name)
    known = values(plan.figures, plan.findings)
    known |= {(part / 3600, "1") for value, unit in known if unit == "s" for part in (value,)}  # hours under a head that says so
    return plan, known, names_of(plan)


def test_no_number_on_the_scope_of_a_repair_stands_bare() -> None:
    plan, known, told = known_of("repair-first")
    assert plan.repair is not None
    photos = {photo for one in plan.repair.condition.judged for photo in one.seen.photos}
    paper = next(paper for paper in papers_of(plan, ()) if paper.name == "repair")
    lost = {says: found for says in words(paper.content) if (found := bare(says, known, told | photos))}
    assert lost == {}


@cache
def deal_of(name: str):
    plan, known, told = known_of(name)
    quote = quote_a_plan(plan, example_book(), Business(), DAY)
    assert not isinstance(quote, tuple), quote
    worked = [one for way in price_options(plan, example_book(), DAY) for one in way.figures]
    worked += unit_sums(quote.unit_prices, example_book().on(DAY))
    known = known | values([one for one in worked if isinstance(one, Figure)], ()) | _rates(worked) | _spans(worked)
    return plan, quote, known, told, worked


def _rates(worked) -> set[tuple[float, str]]:
    """Rates among the inputs of amounts, which are decimal text: a tax, a margin."""
    terms = (term for one in worked if isinstance(one, Sum) for term in one.inputs)
    return {(float(text), "1") for term in terms if re.fullmatch(r"\d+(\.\d+)?", text := str(term.value).split(" ")[0])}


def _spans(worked) -> set[tuple[float, str]]:
    """Sums of money that are a forecast, printed with their sign in front."""
    return {(one.value, "1") for one in worked if isinstance(one, Figure) and one.unit == "currency"}


@pytest.mark.parametrize("name", JOBS)
def test_no_number_on_a_quote_stands_bare(name: str) -> None:
    _, quote, known, told, worked = deal_of(name)
    amounts = {one.amount.shown("en_US") for one in worked if isinstance(one, Sum)}
    content = {key: part for key, part in quote_paper(quote).content.items() if key not in NAMED}
    lost = {says: found for says in words(content) if (found := bare(_open(says, amounts), known, told))}
    assert lost == {}


def _open(says: str, amounts: set[str]) -> str:
    """A text without its dates, and without the amounts that are the price's own."""
    for amount in sorted(amounts, key=len, reverse=True):
        says = re.sub(rf"(?<![\d.,]){re.escape(amount)}(?![\d])", " ", says)
    return DATED.sub(" ", says)


@pytest.mark.parametrize("name", JOBS)
def test_no_number_on_a_handover_stands_bare(name: str) -> None:
    """What was told of the day itself (bags and batches used, the day) is the record's; weights are told to three digits."""
    plan, _, known, told, _ = deal_of(name)
    record = Record(DAY, 13, 3, "air 61 °F", uncovered=("F1",), uncovered_by="E. Marr")
    paper = handover_paper(plan, Business(), record, ())
    content = {key: part for key, part in paper.content.items() if key not in NAMED}
    kept = known | {(13.0, "1"), (3.0, "1")}
    kept |= {(float(f"{v / u:.3g}") * u, "kg") for v, si in known if si == "kg" for u in (LB, 1.0)}
    lost = {says: found for says in words(content) if (found := bare(_open(says, set()), kept, told | {"air 61 °F"}))}
    assert lost == {}


def test_an_amount_that_is_nobodys_is_found() -> None:
    _, _, known, told, worked = deal_of("stone-two-flues")
    amounts = {one.amount.shown("en_US") for one in worked if isinstance(one, Sum)}
    assert bare(_open("Altogether $9,999,999.01 before May 3, 2026", amounts), known, told)
    assert not bare(_open(f"Altogether {next(iter(amounts))} before May 3, 2026", amounts), known, told)
