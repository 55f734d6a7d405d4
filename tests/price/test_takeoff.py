"""The take-off, against a job worked by hand, and against the demo's own figures."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

import pytest

from crownwright.plan.model import Plan
from crownwright.price.below import below_wants
from crownwright.price.costing import Extra, cost_job
from crownwright.price.pricebook import Prices
from crownwright.price.rows import parse_csv
from crownwright.price.takeoff import Want, in_the_van, packs_for, take_off, wants_of
from crownwright.quantity.units import FOOT, FT2, FT3, LB

BOOK = """key,what,kind,unit,pack,price,tax,since
concrete 80 lb,bag,material,each,1,6.50,,2026-01-01
portland,cement,material,lb,94,18.00,,2026-01-01
screws 10 x 3 in.,box of 50,material,each,50,7.25,,2026-01-01
sealant,lays 30 ft,material,ft,30,7.00,,2026-01-01
slip sheet,roll,material,sq ft,100,24.00,,2026-01-01
strap,strap,tool,each,1,21.00,,2026-01-01
"""


def hand_prices() -> Prices:
    book, problems = parse_csv(BOOK, "USD", "en_US")
    assert book is not None, problems
    return book.on(date(2026, 5, 1))


def test_a_job_worked_by_hand_to_the_piece() -> None:
    """Arithmetic:

    concrete: 13 bags for the cap + 2 for a pad = 15, the van holds 4: buy 11 x 6.50 = 71.50; those of the van are put back,
      4 x 6.50 = 26.00; the job bears 97.50
    portland: 2 lb a bag x 15 bags = 30 lb: one sack of 94 lb, 18.00
    screws: 12 + 8 + 32 = 52, the van holds 2: 50 to buy, one box of 50, 7.25; put back 2/50 x 7.25 = 0.29; 7.54
    sealant: 29.5 ft + 1 ft = 30.5 ft: two cartridges of 30 ft, 14.00
    straps: 3 wanted, 5 in the van: none to buy, and a tool costs the job nothing in any case
    sum: 97.50 + 18.00 + 7.54 + 14.00 = 137.04
    """
    wants = (
        Want("concrete 80 lb", 13, "1", ("cap",), ""),
        Want("concrete 80 lb", 2, "1", ("pad",), ""),
        Want("portland", 30 * LB, "kg", ("mix",), ""),
        Want("screws 10 x 3 in.", 12, "1", ("block",), ""),
        Want("screws 10 x 3 in.", 8, "1", ("wall",), ""),
        Want("screws 10 x 3 in.", 32, "1", ("kicker",), ""),
        Want("sealant", 29.5 * FOOT, "m", ("foot",), ""),
        Want("sealant", 1 * FOOT, "m", ("corner",), ""),
        Want("strap", 3, "1", ("ring",), ""),
    )
    van = {"concrete 80 lb": Decimal(4), "screws 10 x 3 in.": Decimal(2), "strap": Decimal(5)}
    lines, problems = take_off(wants, hand_prices(), van)
    assert problems == ()
    got = {line.key: (line.packs, str(line.buys.amount), str(line.cost.amount)) for line in lines}
    assert got == {
        "concrete 80 lb": (11, "71.50", "97.50"),
        "portland": (1, "18.00", "18.00"),
        "screws 10 x 3 in.": (1, "7.25", "7.54"),
        "sealant": (2, "14.00", "14.00"),
        "strap": (0, "0.00", "0.00"),
    }
    assert sum(line.cost.amount for line in lines) == Decimal("137.04")


@dataclass(frozen=True)
class Goods:
    key: str
    amount: float
    unit: str
    source: str
    why: str = ""


@dataclass(frozen=True)
class Below:
    materials: tuple[Goods, ...]
    tasks: tuple[()] = ()


def test_cap_and_repair_together_by_hand_to_the_piece() -> None:
    """The cap and the repair below it buy together. Arithmetic:

    mortar: 1 bag for the bed + 3 for the rebuilt course + 2 for the joints = 6, the van holds 2: buy 4 x 9.85 = 39.40; those of
      the van are put back, 2 x 9.85 = 19.70; 59.10
    portland: 30 lb for the mix + 60 lb for the joints' mortar = 90 lb: one sack of 94 lb does both, 18.00
    flue liner: one for the cap's own extension of F1, one more for its broken top, told apart by the figures: 2 x 68.00 = 136.00
    sand: 0.9 cu ft + 0.4 cu ft = 1.3 cu ft by the half: three halves, 3 x 3.10 = 9.30
    sum: 59.10 + 18.00 + 136.00 + 9.30 = 222.40
    With the rebuilt course left out: mortar 3, of which 2 from the van: buy 1, 9.85 + 19.70 = 29.55; cement as before; sand
      0.4 cu ft: one half, 3.10; sum 29.55 + 18.00 + 136.00 + 3.10 = 186.65
    """
    rows = "mortar 80 lb,bag,material,each,1,9.85,,2026-01-01\nflue liner,liner,material,each,1,68.00,,2026-01-01\n"
    book, problems = parse_csv(BOOK + rows + "mortar sand,sand,material,cu ft,0.5,3.10,,2026-01-01\n", "USD", "en_US")
    assert book is not None, problems
    cap = (
        Want("portland", 30 * LB, "kg", ("concrete.portland",), "mix"),
        Want("mortar 80 lb", 1, "1", ("concrete.mortar",), "bed"),
        Want("flue liner", 1, "1", ("cap.extension_piece.F1",), "F1"),
    )
    repair = Below(
        (
            Goods("mortar 80 lb", 3, "1", "repair.rebuild.bags"),
            Goods("mortar sand", 0.9 * FT3, "m3", "repair.rebuild.sand"),
            Goods("mortar 80 lb", 2, "1", "repair.repoint.bags"),
            Goods("portland", 60 * LB, "kg", "repair.repoint.cement"),
            Goods("mortar sand", 0.4 * FT3, "m3", "repair.repoint.sand"),
            Goods("flue liner", 1, "1", "repair.flue.F1.piece"),
        )
    )
    prices, van = book.on(date(2026, 5, 1)), {"mortar 80 lb": Decimal(2)}
    for parts, packs, cost in (
        (("rebuild", "repoint", "flue"), {"mortar 80 lb": 4, "portland": 1, "flue liner": 2, "mortar sand": 3}, "222.40"),
        (("repoint", "flue"), {"mortar 80 lb": 1, "portland": 1, "flue liner": 2, "mortar sand": 1}, "186.65"),
    ):
        lines, problems = take_off((*cap, *below_wants(repair, parts)), prices, van)
        assert problems == ()
        assert {line.key: line.packs for line in lines} == packs
        assert sum(line.cost.amount for line in lines) == Decimal(cost)
        sources = [source for line in lines for source in line.sources]
        assert len(set(sources)) == len(sources)
    assert take_off((*cap, *cap), prices, van)[1], "the same work twice is refused"


def test_packs_are_rounded_up_once_over_the_job_and_not_place_by_place() -> None:
    lines, _ = take_off([Want("sealant", 15 * FOOT, "m", (s,), "") for s in "ab"], hand_prices())
    assert lines[0].packs == 1
    assert packs_for(Decimal("30.01"), Decimal(0), Decimal(30)) == 2


def test_nothing_is_counted_twice() -> None:
    wants = [Want("slip sheet", 10 * FT2, "m2", ("cap.bed",), ""), Want("sealant", 1.0, "m", ("cap.bed",), "")]
    _, problems = take_off(wants, hand_prices())
    assert [p.where for p in problems] == ["take-off, sealant"]
    assert "counted already, for slip sheet" in problems[0].what


def test_every_missing_price_and_wrong_unit_is_told_at_once() -> None:
    wants = [Want("gold leaf", 1, "1", ("a",), ""), Want("sealant", 1, "kg", ("b",), ""), Want("ruby", 1, "1", ("c",), "")]
    lines, problems = take_off(wants, hand_prices())
    assert lines == ()
    assert sorted(p.where for p in problems) == ["price book, gold leaf", "price book, ruby", "price book, sealant"]


def test_the_demo_is_traced_to_its_figures_and_every_figure_once(plan: Plan, prices: Prices) -> None:
    lines, problems = take_off(wants_of(plan), prices)
    assert problems == ()
    sources = [source for line in lines for source in line.sources]
    assert len(set(sources)) == len(sources)
    keys = {figure.key for figure in plan.figures}
    for source in sources:
        assert source.startswith(("board ", "form.screws, ")) or source in keys, source
    by = {line.key: line for line in lines}
    assert plan.form is not None
    assert plan.form.cut is not None
    assert by["concrete 80 lb"].packs == plan.figure("concrete.bags").value
    assert sum(line.wanted for key, line in by.items() if key.startswith("screws")) == plan.figure("form.screws").value
    boards = sum(line.packs for key, line in by.items() if key.startswith("lumber"))
    assert boards == sum(buy.count for buy in plan.form.cut.shopping)
    assert float(by["slip sheet"].wanted) == pytest.approx(plan.figure("cap.bed").value / FT2, abs=1e-6)


def test_boards_in_the_van_are_not_bought(plan: Plan, prices: Prices) -> None:
    lines, _ = take_off(wants_of(plan), prices, in_the_van(plan, {"lumber 2x6 16 ft": Decimal(1)}))
    board = next(line for line in lines if line.key == "lumber 2x6 16 ft")
    assert board.packs == int(board.wanted) - 1
    assert board.cost == prices.money(prices.rows["lumber 2x6 16 ft"]) * board.wanted


def test_repair_work_joins_the_packs_of_the_cap(plan: Plan, prices: Prices) -> None:
    extra = Extra((Want("mortar 80 lb", 3, "1", ("repointing",), "repointing"),))
    plain, more = cost_job(plan, prices), cost_job(plan, prices, extra=extra)
    assert (more.total - plain.total).amount == 3 * prices.rows["mortar 80 lb"].price


def test_everybody_on_the_road_is_paid_as_who_he_is(plan: Plan, prices: Prices) -> None:
    """Half an hour one way, three visits, two people: 3 h of the mason's and 3 h of the helper's."""
    hours = cost_job(plan, prices).hours
    assert {task.grade: task.hours.mean for task in hours.tasks if task.key == "drive"} == {"mason": 3.0, "helper": 3.0}
