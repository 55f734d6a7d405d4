"""Options side by side, the old cap that comes off, the repair below: priced once each, told in words, refused when doubled."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

import numpy as np
import pytest

from crownwright.plan.model import Plan
from crownwright.price.below import below_tasks, below_wants, parts_of
from crownwright.price.business import Business
from crownwright.price.choices import More, OldCap, QuoteChoices, QuoteOption
from crownwright.price.pricebook import Prices
from crownwright.price.removal import removal_of, removal_wants
from crownwright.price.rows import example_book
from crownwright.price.takeoff import take_off
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import INCH, LB, PCF
from crownwright.service.price_a_job import price_options, quote_a_plan

DAY = date(2026, 5, 3)
PATCH = QuoteOption("Patch", "patch", ("Patch what is loose.",), more=(More("labour mason", "6"), More("mortar 80 lb", "2")))
RECAST = QuoteOption("Recast", "recast")
REBUILD = QuoteOption("Rebuild", "recast and rebuild", more=(More("labour mason", "14"), More("mortar 80 lb", "6")))


def with_options(plan: Plan, *options: QuoteOption, old: OldCap | None = None) -> Plan:
    return replace(plan, job=replace(plan.job, quote=QuoteChoices(options, old)))


@dataclass(frozen=True)
class Goods:
    key: str
    amount: float
    unit: str
    source: str
    why: str = "relaying"


@dataclass(frozen=True)
class Work:
    key: str
    what: str
    hours: Uncertain
    source: str
    grade: str = "mason"
    aloft: bool = True


@dataclass(frozen=True)
class Below:
    materials: tuple[Goods, ...]
    tasks: tuple[Work, ...]


BELOW = Below(
    (
        Goods("mortar 80 lb", 3, "1", "repair.rebuild.mortar"),
        Goods("mortar 80 lb", 2, "1", "repair.repointing.mortar"),
        Goods("portland", 5.0, "kg", "repair.rebuild.mortar"),
    ),
    (Work("lay", "laying the top course", Uncertain(8.0, 1.0), "repair.rebuild.volume"),),
)


def test_three_ways_stand_side_by_side_each_dearer_than_the_one_before(plan: Plan) -> None:
    made = price_options(with_options(plan, PATCH, RECAST, REBUILD, old=OldCap(2.5 * INCH)), example_book(), DAY)
    nets = [one.priced.price.net.amount for one in made]
    assert nets == sorted(nets)
    patch, recast, rebuild = made
    assert [line.key for line in patch.costing.lines] == ["mortar 80 lb"]
    assert (patch.costing.hours.visits, recast.costing.hours.visits, rebuild.costing.hours.visits) == (1, 3, 4)
    assert {"disposal", "disposal weight"} <= {line.key for line in recast.costing.lines}
    assert patch.removal is None
    assert patch.costing.firm


def test_the_old_cap_by_hand(plan: Plan, prices: Prices) -> None:
    """48 in. x 36 in. x 3 in., two flues of the demo standing in it, mortar of 130 lb/ft3, four fifths of it off.

    V = (4 ft x 3 ft - flues) x 0.25 ft x 0.8; m = V x 130 lb/ft3. The flues' areas are taken from their outside sizes here.
    """
    assert plan.survey is not None
    flues = sum(f.size[0] * f.size[1] if f.shape == "rectangular" else np.pi / 4 * f.size[0] ** 2 for f in plan.survey.flues)
    found = removal_of(OldCap(3 * INCH, 48 * INCH, 36 * INCH, "mortar", 0.8), plan.survey)
    assert found is not None
    volume = (48 * INCH * 36 * INCH - flues) * 3 * INCH * 0.8
    assert found.volume.mean == pytest.approx(volume, rel=0.01)  # a round flue's ring is a polygon
    assert found.mass.mean == pytest.approx(found.volume.mean * 130 * PCF)
    line = next(x for x in take_off(removal_wants(found), prices)[0] if x.key == "disposal weight")
    assert line.packs == -(-found.mass.mean / LB // 100)
    assert removal_of(OldCap(3 * INCH, lower=False), plan.survey).hauled == 0.0  # type: ignore[union-attr]
    assert removal_of(OldCap(3 * INCH), None) is None


def test_parts_of_the_repair_below_are_bought_once_and_only_where_they_belong(prices: Prices) -> None:
    assert parts_of(BELOW) == ("rebuild", "repointing")
    wants = below_wants(BELOW, ("rebuild", "repointing"))
    lines, problems = take_off(wants, prices)
    assert problems == ()
    assert {line.key: line.packs for line in lines} == {"mortar 80 lb": 5, "portland": 1}
    assert [w.amount for w in below_wants(BELOW, ("repointing",))] == [2]
    assert below_tasks(BELOW, ("rebuild",), 1.5)[0].hours.mean == 12.0
    assert below_tasks(BELOW, ("rebuild",), 1.5, 1.1)[0].hours.mean == pytest.approx(13.2)
    assert take_off((*wants, *wants), prices)[1], "the same line twice is refused"


def test_a_quote_says_what_differs_and_what_was_not_told(plan: Plan) -> None:
    firm = Business(exclusions=())
    quote = quote_a_plan(with_options(plan, PATCH, RECAST), example_book(), firm, DAY)
    assert not isinstance(quote, tuple)
    assert [o.name for o in quote.options] == ["Patch", "Recast"]
    assert quote.options[0].exclusions == ()
    assert "old cap" in quote.options[1].exclusions[0]
    assert [r.key for r in quote.why[:2]] == ["option.patch", "option.recast"]


def test_an_unknown_key_of_an_option_has_no_price(plan: Plan) -> None:
    odd = replace(PATCH, more=(More("gold leaf", "1"),))
    problems = quote_a_plan(with_options(plan, odd), example_book(), Business(), DAY)
    assert isinstance(problems, tuple)
    assert "gold leaf" in problems[0].where


def test_every_amount_of_a_price_opens_and_adds_up(plan: Plan) -> None:
    made = price_options(with_options(plan, PATCH, RECAST, old=OldCap(2.5 * INCH)), example_book(), DAY)
    keys = [one.key for way in made for one in way.figures]
    assert len(set(keys)) == len(keys)
    for way in made:
        price = way.priced.price
        sums = {f.key.rsplit(".", 1)[-1]: f for f in way.figures if hasattr(f, "amount")}
        assert sums["net"].amount == price.net  # type: ignore[union-attr]
        assert sums["gross"].amount == price.gross  # type: ignore[union-attr]
        lines = [f for f in way.figures if ".line." in f.key]
        assert [f.amount for f in lines] == [line.amount for line in price.lines]  # type: ignore[union-attr]
        goods = [f for f in way.figures if ".goods." in f.key]
        assert len(goods) == len(way.costing.lines)
        taxed = sum((Decimal(t.value) for f in lines for t in f.inputs if t.symbol == "c"), Decimal(0))
        assert taxed == way.costing.total.amount, "what the lines were made of is what the job costs"
