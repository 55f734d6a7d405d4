"""From price to ledger: everything adds up to the coin, nothing is issued that should not be, nothing changes once sent."""

from __future__ import annotations

import importlib.util
import random
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.plan.model import Plan
from crownwright.price.business import Business, parse_business
from crownwright.price.costing import CostLine, cost_job
from crownwright.price.deal import Accepted, Quote, Reason
from crownwright.price.dealing import accept, draft_quote, invoice, issue, option_of, stands_against
from crownwright.price.documents import as_json, as_plain, read_json, seal
from crownwright.price.pricebook import PriceBook, Prices, Row
from crownwright.price.pricing import PriceLine, mark_up_of, price_job, raised
from crownwright.price.rows import example_book
from crownwright.quantity.money import Money, Rounding, total
from crownwright.quantity.problems import Problem

DAY = date(2026, 5, 3)


def book(rules: dict[str, str], taxes: dict[str, str]) -> Prices:
    rows = [Row(f"rule {k}", k, "rule", "%", Decimal(1), Decimal(v), "", date(2026, 1, 1)) for k, v in rules.items()]
    rows += [Row(f"tax {k}", k, "tax", "%", Decimal(1), Decimal(v), "", date(2026, 1, 1)) for k, v in taxes.items()]
    return PriceBook(tuple(rows)).on(DAY)


LINES = st.lists(st.tuples(st.decimals("0.01", 50_000, places=2), st.sampled_from(["a", "b", ""])), min_size=1, max_size=12)


def test_random_quotes_add_up_to_the_coin() -> None:
    """Five hundred of the hundred thousand of bench.quotes, whose sums are worked in fractions."""
    spec = importlib.util.spec_from_file_location("quotes", Path(__file__).parents[2] / "bench" / "quotes.py")
    assert spec is not None
    assert spec.loader is not None
    bench = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(bench)
    rng = random.Random(bench.SEED)
    for _ in range(500):
        bench.random_quote(rng)


@settings(max_examples=50)
@given(LINES, st.decimals(0, 90_000, places=2), st.sampled_from(["0.01", "1", "5", "25"]))
def test_a_raised_price_is_the_least_whole_step_and_the_lines_say_so(
    lines: list[tuple[Decimal, str]], least: Decimal, step: str
) -> None:
    asked = [PriceLine("x", Money(amount, "USD"), tax) for amount, tax in lines]
    up = raised(asked, Money(least, "USD"), Rounding("up", Decimal(step)), "USD")
    bare, whole = sum(a for a, _ in lines), total((line.amount for line in up), "USD").amount
    wanted = max(bare, least)
    assert 0 <= whole - wanted < Decimal(step)
    assert whole % Decimal(step) == 0
    assert [line.tax for line in up] == [line.tax for line in asked]


def test_margin_and_mark_up_by_hand(plan: Plan) -> None:
    """Cost 100, overhead 10 %: 110. A margin of 20 % asks 110 / 0.8 = 137.50, which leaves 27.50; a mark-up of 20 % asks 132."""
    assert mark_up_of(Decimal("0.2")) == Decimal("0.25")
    for rule, asked in (("margin", "137.50"), ("mark-up", "132.00")):
        prices = book({"overhead": "10", rule: "20"}, {})
        costing = cost_job(plan, prices, with_cap=False)
        costing = replace(costing, costs=(CostLine("labour", "x", Money(Decimal(100), "USD"), "", ("x",)),))
        assert str(price_job(costing).price.net.amount) == asked


@pytest.mark.parametrize(("currency", "unit"), [("JPY", "1"), ("KWD", "0.001"), ("USD", "0.01")])
def test_a_whole_price_is_in_the_coins_of_its_currency(plan: Plan, currency: str, unit: str) -> None:
    """The example book's numbers taken for another currency, with a tax that falls between coins."""
    book = replace(example_book(), currency=currency)
    rows = tuple(replace(row, price=Decimal("7.775")) if row.key == "tax materials" else row for row in book.rows)
    made = price_job(cost_job(plan, replace(book, rows=rows).on(DAY)))
    price = made.price
    amounts = [*(x.amount for x in price.lines), price.net, price.gross, *(t.amount for t in price.taxes), made.cost, made.left]
    amounts += [stage.amount for stage in price.stages]
    for amount in amounts:
        assert amount.amount % Decimal(unit) == 0
        assert amount.amount.as_tuple().exponent == Decimal(unit).as_tuple().exponent
    assert total((stage.amount for stage in price.stages), currency) == price.gross == price.net + price.taxes[0].amount
    half = Fraction(unit) / 2
    exact = Fraction(price.taxes[0].on.amount) * Fraction("0.07775")
    assert abs(Fraction(price.taxes[0].amount.amount) - exact) <= half
    assert price.net.amount % 5 == 0, "whole steps of five"


def test_the_book_of_rules_by_hand(plan: Plan) -> None:
    """Cost 1,000 labour without tax and 200 goods under 8.875 %; overhead 12.5 %, margin 20 %: factor 1.125/0.8 = 1.40625.

    Labour 1,406.25, goods 281.25, before tax 1,687.50; rounded up to whole 5: 1,690.00, the rise of 2.50 shared 2.08 (2.0833) and
    0.42 (0.4167): 1,408.33 and 281.67. Tax 8.875 % of 281.67 = 24.998, 25.00. Gross 1,715.00. Deposit a third of it at the most
    500: 33.333 % = 571.66, so 500.00; poured 40 %: 73.333 % = 1,257.66 less 571.66 = 686.00; the rest 529.00.
    With a least charge of 1,800: the rise of 112.50 is 93.75 and 18.75: 1,500.00 and 300.00; tax 26.63 (26.625).
    """
    rules = {"overhead": "12.5", "margin": "20", "deposit": "33.333", "stage 1": "40"}
    prices = book(rules, {"goods": "8.875"})
    each = {"rule round to": "5", "rule deposit at most": "500"}
    for least, told in (("0", ("1408.33", "281.67", "25.00", "1715.00")), ("1800", ("1500.00", "300.00", "26.63", "1826.63"))):
        rows = {k: Row(k, k, "rule", "each", Decimal(1), Decimal(v), "", DAY) for k, v in
                (each | {"rule minimum charge": least}).items()}  # fmt: skip
        sold = replace(prices, rows=prices.rows | rows)
        costs = (
            CostLine("labour", "x", Money(Decimal(1000), "USD"), "", ("x",)),
            CostLine("materials", "y", Money(Decimal(200), "USD"), "goods", ("y",)),
        )
        price = price_job(replace(cost_job(plan, sold, with_cap=False), costs=costs, prices=sold, cast=True)).price
        got = (*(line.amount for line in price.lines), price.taxes[0].amount, price.gross)
        assert tuple(str(amount.amount) for amount in got) == told
        if least == "0":
            assert [str(stage.amount.amount) for stage in price.stages] == ["500.00", "686.00", "529.00"]


def quoted(plan: Plan, prices: Prices) -> Quote:
    option = option_of("Recast", cost_job(plan, prices), ("Cast a new cap.",), (), {})
    return draft_quote(plan, prices, Business(), [option])


def issued(plan: Plan, prices: Prices, reasons: Sequence[Reason]) -> Quote:
    made, problems = issue(quoted(plan, prices), plan, prices, "2026-0001", DAY, reasons)
    assert made is not None, problems
    return made


def test_a_quote_is_not_issued_against_open_findings_or_example_prices(plan: Plan, prices: Prices) -> None:
    made, problems = issue(quoted(plan, prices), plan, prices, "2026-0001", DAY)
    assert made is None
    keys = {p.where for p in problems}
    assert {f.key for f in plan.findings if f.blocks and f.verdict.value in ("short", "cannot tell") and not f.waiver} <= keys
    assert "price.examples" in keys


@pytest.mark.parametrize(
    "reason", [Reason("people.*", "", "E. Marr"), Reason("people.*", "done", ""), Reason("*", "all", "E. Marr")]
)
def test_a_reason_without_a_word_or_a_name_or_for_everything_answers_nothing(plan: Plan, reason: Reason) -> None:
    assert stands_against(plan, [reason]) == stands_against(plan)
    assert stands_against(plan)


def test_an_unreadable_survey_stops_a_quote_and_a_recorded_reason_stays_on_it(
    plan: Plan, prices: Prices, reasons: Sequence[Reason]
) -> None:
    unread = replace(plan, survey=None, cap=None, form=None, concrete=None, figures=(), findings=(),
                     problems=(Problem("tapes[0]", "it cannot be read", "Read it again"),))  # fmt: skip
    assert {p.where for p in stands_against(unread, reasons)} == {"survey.unreadable", "problem.tapes[0]"}
    more = (*reasons, Reason("survey.unreadable", "priced by eye", "E. Marr"), Reason("problem.*", "priced by eye", "E. Marr"))
    made = issued(unread, prices, more)
    assert "priced by eye" in [r.says for r in made.recorded]
    assert not made.options[0].firm
    assert isinstance(accept(made, "Recast", "R. Tallow", DAY), Problem)


def test_a_survey_that_does_not_close_stops_a_quote(plan: Plan, reasons: Sequence[Reason]) -> None:
    assert plan.survey is not None
    slipped = replace(plan, survey=replace(plan.survey, closure=replace(plan.survey.closure, closes=False)))
    assert [p.where for p in stands_against(slipped, reasons)] == ["survey.closure"]


def test_a_quote_is_issued_once_and_reads_back_as_sent(plan: Plan, prices: Prices, reasons: Sequence[Reason]) -> None:
    made = issued(plan, prices, reasons)
    assert (made.number, made.issued, made.valid_until) == ("2026-0001", DAY, DAY + timedelta(days=30))
    assert read_json(Quote, as_json(made)) == made
    with pytest.raises(ValueError, match="issued once"):
        issue(made, plan, prices, "2026-0002", DAY, reasons)
    with pytest.raises(AttributeError):
        made.number = "other"  # type: ignore[misc]


def deal_of(plan: Plan, prices: Prices, reasons: Sequence[Reason]) -> Accepted:
    deal = accept(issued(plan, prices, reasons), "Recast", "R. Tallow", DAY + timedelta(days=3))
    assert isinstance(deal, Accepted)
    return deal


def test_acceptance_wants_a_signature_in_time(plan: Plan, prices: Prices, reasons: Sequence[Reason]) -> None:
    made = issued(plan, prices, reasons)
    for signed, on in ((" ", DAY), ("R. Tallow", DAY + timedelta(days=31)), ("R. Tallow", DAY - timedelta(days=1))):
        assert isinstance(accept(made, "Recast", signed, on), Problem)


def test_a_quote_altered_after_signing_makes_no_invoice(plan: Plan, prices: Prices, reasons: Sequence[Reason]) -> None:
    deal = deal_of(plan, prices, reasons)
    assert deal.seal == seal(deal.quote)
    with pytest.raises(ValueError, match="not as it was"):
        invoice(replace(deal, quote=replace(deal.quote, title="another")), "2026-0002", DAY)


def test_an_old_quote_recomputes_to_the_cent_when_prices_have_risen(plan: Plan) -> None:
    from crownwright.price.rows import example_book

    old = example_book()
    risen = tuple(replace(row, price=row.price * 2, since=date(2026, 9, 1)) for row in old.rows if row.kind == "material")
    new = replace(old, rows=old.rows + risen)
    then, again, now = (price_job(cost_job(plan, b.on(d))).price for b, d in ((old, DAY), (new, DAY), (new, date(2026, 9, 1))))
    assert then == again
    assert now.net.amount > then.net.amount


def test_a_doorstep_survey_gives_an_allowance_with_a_band(plan: Plan, prices: Prices) -> None:
    assert plan.survey is not None
    quick = replace(plan, survey=replace(plan.survey, quick=True))
    option = option_of("Recast", cost_job(quick, prices), (), (), {})
    assert not option.firm
    assert "doorstep" in option.rough
    assert option.low is not None
    assert option.high is not None
    assert option.low.amount < option.high.amount


def test_documents_take_no_float_and_know_their_kind() -> None:
    with pytest.raises(TypeError, match="float"):
        as_plain((1.5,))
    with pytest.raises(ValueError, match="no quote"):
        read_json(Quote, "{}")
    with pytest.raises(ValueError, match="not kept as text"):
        read_json(Money, '{"amount": 1.5, "currency": "USD"}')


def test_the_firm_with_faults_says_them_all() -> None:
    made, problems = parse_business('name = 3\ncurrency = "XXQ"\nzone = "Moon/Base"\nlocale = "qq_QQ"\ncolour = "red"\n')
    assert made is None
    assert [p.where.split(", ")[1] for p in problems] == ["name", "colour", "currency", "locale", "zone"]
