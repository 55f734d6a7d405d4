"""Every figure on a price paper carries formula, inputs and source; what stands on quote and invoice is one of them."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from crownwright.plan.model import Plan
from crownwright.price.business import Business
from crownwright.price.choices import More, OldCap, QuoteChoices, QuoteOption
from crownwright.price.rows import example_book
from crownwright.price.showing import Sum, Worked, unit_sums
from crownwright.quantity.money import Money, total
from crownwright.quantity.working import Cite, Figure
from crownwright.service.jobfile import read_job
from crownwright.service.plain import plain
from crownwright.service.plan_a_job import plan_a_job
from crownwright.service.price_a_job import PricedJob, price_options, quote_a_plan
from crownwright.sheets.papers.price_working import price_working_paper
from crownwright.sources.bibliography import entries, spell

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
NAMES = sorted(file.stem for file in EXAMPLES.glob("*.toml") if "title" in tomllib.loads(file.read_text("utf-8")))
DAY = date(2026, 5, 3)
PATCH = QuoteOption("Patch", "patch", more=(More("labour mason", "6"), More("mortar 80 lb", "2")))


@cache
def priced(name: str) -> tuple[Plan, tuple[PricedJob, ...]]:
    from dataclasses import replace

    job, problems = read_job(EXAMPLES / f"{name}.toml")
    assert job is not None, problems
    quote = QuoteChoices((PATCH, QuoteOption("Recast", "recast")), OldCap(0.06))
    plan = plan_a_job(replace(job, quote=quote), cut_list=False).plan
    return plan, price_options(plan, example_book(), DAY)


def faults(one: Worked) -> Iterator[str]:
    if not (one.label and one.formula and one.inputs):
        yield f"{one.key}: no label, no formula or no inputs"
    yield from (f"{one.key}: an input without name or value" for term in one.inputs if not term.name or term.value == "")
    for cite in (one.cite, *(term.cite for term in one.inputs if term.cite is not None)):
        if cite.document not in entries() or not spell(cite):
            yield f"{one.key}: {cite.document} is in no bibliography"


@pytest.mark.parametrize("name", NAMES)
def test_every_figure_of_a_price_carries_its_working(name: str) -> None:
    _, made = priced(name)
    figures = [figure for way in made for figure in way.figures]
    assert [fault for figure in figures for fault in faults(figure)] == []
    assert len({figure.key for figure in figures}) == len(figures)


@pytest.mark.parametrize("name", NAMES)
def test_every_amount_on_the_quote_is_a_figure_of_the_price(name: str) -> None:
    plan, made = priced(name)
    quote = quote_a_plan(plan, example_book(), Business(), DAY)
    assert not isinstance(quote, tuple), quote
    for option, way in zip(quote.options, made, strict=True):
        known = {one.amount for one in way.figures if isinstance(one, Sum)}
        price = option.price
        stand = [*(x.amount for x in price.lines), price.net, *(x.amount for x in price.taxes), price.gross,
                 *(x.amount for x in price.stages), *(x for x in (option.low, option.high) if x is not None)]  # fmt: skip
        assert set(stand) <= known
    units = tuple(unit_sums(quote.unit_prices, example_book().on(DAY)))
    assert [one.amount for one in units] == [unit.price for unit in quote.unit_prices]
    assert [fault for one in units for fault in faults(one)] == []


def test_the_working_works_the_amounts_out_again() -> None:
    """Formulas of goods, labour, lines, taxes and payments done here from the inputs that the paper shows."""
    _, made = priced("stone-two-flues")
    for way in made:
        sums = [one for one in way.figures if isinstance(one, Sum)]
        for one in sums:
            part = one.key.removeprefix(f"{way.stem}.").split(".")[0]
            told = {term.symbol: str(term.value).split()[0] for term in one.inputs if term.symbol}
            if part == "goods" and not one.formula.startswith("a tool"):
                used = Decimal(told["v"]) / Decimal(told["n"]) * Decimal(told["p"])
                assert one.amount.amount == (Decimal(told["k"]) * Decimal(told["p"]) + used).quantize(Decimal("0.01"))
            if part == "labour":
                assert abs(Decimal(told["q"]) * Decimal(told["p"]) / Decimal(told["n"]) - one.amount.amount) <= Decimal("0.005")
            if part == "line":
                assert abs(Decimal(told["c"]) * Decimal(told["f"]) + Decimal(told["r"]) - one.amount.amount) < Decimal("0.02")
            if part == "tax":
                assert abs(Decimal(told["a"]) * Decimal(told["t"]) - one.amount.amount) <= Decimal("0.005")
        stages = [one.amount for one in sums if ".stage." in one.key]
        assert total(stages, "USD") == way.priced.price.gross


def test_the_paper_shows_them_all_and_json_too() -> None:
    plan, made = priced("stone-two-flues")
    ways = [(way.option.name, "", way.stem, way.figures) for way in made]
    paper = price_working_paper(plan, ways, "en_US")
    groups = [group for way in paper.content["ways"] for group in way["groups"]]
    rows = {row["key"]: {**family, **row} for group in groups for family in group["families"] for row in family["members"]}
    assert set(rows) == {figure.key for way in made for figure in way.figures}
    assert all(row["formula"] and row["inputs"] and row["source"] for row in rows.values())
    told = json.loads(json.dumps(plain(made[0].figures)))
    assert all({"key", "label", "formula", "inputs", "cite"} <= set(row) for row in told)


def test_a_bare_amount_is_caught() -> None:
    bare = Sum("price.x", "x", Money(Decimal(1), "USD"), "")
    assert any("no formula" in fault for fault in faults(bare))
    assert any("bibliography" in fault for fault in faults(Figure("a", "a", 1.0, "m", "x", cite=Cite("nobody_1999"))))
