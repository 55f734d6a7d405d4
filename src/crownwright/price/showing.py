"""The working of a price: every amount and quantity on a price paper with formula, inputs and source, exact to the coin.

An amount of money cannot be a `Figure`, whose value is a float: it is a `Sum`, the same but for that. Keys begin with a stem, so
that the options of a quote keep theirs apart.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from crownwright.price.costing import Costing, CostLine
from crownwright.price.deal import UnitPrice
from crownwright.price.hours import Task
from crownwright.price.pricebook import ACCEPTED, Prices, Row
from crownwright.price.pricing import BAND, Price, Priced, PriceLine, Stage, allowance, sell_factor
from crownwright.price.takeoff import Line
from crownwright.quantity.money import Money, measured, total
from crownwright.quantity.units import HOUR
from crownwright.quantity.working import DERIVED, PRACTICE, Cite, Figure, Term

RISK = Cite("derived", "sum of log-normal task hours by convolution, what all share by quadrature; price.risk", "derived")


@dataclass(frozen=True, slots=True)
class Sum:
    """An amount of money with its working; fields as of a `Figure`. Inputs that are money are decimal text with the currency."""

    key: str
    label: str
    amount: Money
    formula: str
    inputs: tuple[Term, ...] = ()
    cite: Cite = DERIVED
    holds: str = ""


Worked = Sum | Figure


def slug(text: str) -> str:
    """Return text as a part of a key.

    >>> slug("concrete 80 lb"), slug("Recast the cap")
    ('concrete_80_lb', 'recast_the_cap')
    """
    return re.sub(r"[^\w]+", "_", text.casefold()).strip("_")


def worked(costing: Costing, priced: Priced, stem: str = "price") -> tuple[Worked, ...]:
    """Return the working of one priced way of doing the job, from the goods to the payments."""
    prices = costing.prices
    return (
        *(_goods(line, prices, stem) for line in costing.lines),
        *(_task(task, stem) for task in costing.hours.tasks),
        replace(costing.hours.figure(), key=f"{stem}.hours"),
        *_costs(costing, stem),
        _factor(prices, stem),
        *_sold(costing, priced.price, stem),
        _net(costing, priced, stem),
        *_taxes(priced.price, stem),
        *_payments(priced.price, prices, stem),
        *(_allowance(costing, priced, stem) if not costing.firm else ()),
        *_risk(costing, priced, stem),
    )


def unit_sums(units: Iterable[UnitPrice], prices: Prices, stem: str = "price") -> Iterator[Sum]:
    """Yield the working of what is charged by the unit where the work grows."""
    factor, rows = sell_factor(prices), {row.what: row for row in prices.rows.values()}
    for unit in units:
        row = rows.get(unit.what)
        if row is None:
            continue  # worked from the job, not a row of the book: its own working comes with it
        inputs = (
            _price(row, prices),
            Term("n", "in a pack", f"{row.pack} {row.unit}"),
            Term("f", "factor, to six places", f"{factor:.6f}"),
        )
        formula = "p / n x f, rounded up to the coin"
        yield Sum(f"{stem}.unit.{slug(row.key)}", f"{unit.what}, by the {unit.unit}", unit.price, formula, inputs, book_cite(row))


def book_cite(row: Row) -> Cite:
    """Return where a row of the price book comes from: the mason's own, or the invented examples."""
    document = "example_prices" if row.standing == "example" else "price_book"
    return Cite(document, f"{row.key}, since {row.since.isoformat()}", "entered")


def _goods(line: Line, prices: Prices, stem: str) -> Sum:
    row = prices.rows[line.key]
    inputs = (
        Term("w", "wanted", f"{_short(line.wanted)} {line.unit}"),
        Term("v", "of that, in the van", f"{_short(line.from_van)} {line.unit}", cite=Cite("entered", standing="entered")),
        Term("n", "in a pack", f"{line.pack.normalize():f} {line.unit}"),
        Term("k", "packs to buy: (w - v) / n, rounded up over the whole job", str(line.packs)),
        _price(row, prices),
        Term("", "counted from", "; ".join(line.sources)),
    )
    tool = line.kind == "tool"
    formula = "a tool stays with the mason: overhead pays for it" if tool else "k p + v / n x p, each rounded to the coin"
    return Sum(f"{stem}.goods.{slug(line.key)}", line.what, line.cost, formula, inputs, book_cite(row))


def _task(task: Task, stem: str) -> Figure:
    inputs = (
        Term("", "worked", task.formula),
        Term("", "counted from", "; ".join(task.sources)),
    )
    return Figure(
        f"{stem}.task.{slug(task.key)}.{task.grade}", f"{task.what} ({task.grade})", task.hours.mean * HOUR, "s",
        "people x (set-up + rate x quantity) x factors", inputs, PRACTICE,
        "the rates are judgement, a place to begin; own finished jobs move them", spread=task.hours.sd * HOUR,
    )  # fmt: skip


def _costs(costing: Costing, stem: str) -> Iterator[Sum]:
    prices = costing.prices
    for line in costing.costs:
        if line.group in ("labour", "travel") and not any(line.what == goods.what for goods in costing.lines):
            yield _by_rate(line, costing, stem)
    inputs = tuple(_money(line.what, line.cost) for line in costing.costs)
    yield Sum(f"{stem}.cost.bare", "what the job costs, before overhead", costing.total, "sum of the costs", inputs)
    overhead = prices.rule("overhead")
    bare = (_money("what the job costs", costing.total, "c"), _rule(prices, "overhead", overhead, "o"))
    yield Sum(f"{stem}.cost", "cost with overhead", (costing.total * (1 + overhead)).rounded(), "c (1 + o)", bare)


def _by_rate(line: CostLine, costing: Costing, stem: str) -> Sum:
    """Hours of a grade, or miles, at their price."""
    prices = costing.prices
    key = "distance" if line.group == "travel" else next(
        k for k, row in prices.rows.items() if row.kind == "labour" and line.what.startswith(f"{row.what}, ")
    )  # fmt: skip
    row = prices.rows[key]
    if line.group == "travel":
        miles = 2 * prices.rule("distance") * costing.hours.visits
        amount = Term("q", "there and back, each visit", f"{miles.normalize():f} {row.unit}")
    else:
        hours = measured(costing.hours.of(key.removeprefix("labour ")), 2)
        amount = Term("q", "hours of all tasks, to the hundredth", f"{hours} h")
    inputs = (amount, _price(row, prices), Term("n", "for", f"{row.pack.normalize():f} {row.unit}"))
    return Sum(f"{stem}.{line.group}.{slug(key)}", row.what, line.cost, "q p / n, rounded to the coin", inputs, book_cite(row))


def _factor(prices: Prices, stem: str) -> Figure:
    overhead = _rule(prices, "overhead", prices.rule("overhead"), "o")
    if "rule mark-up" in prices.rows:
        formula, second = "(1 + o) (1 + u)", _rule(prices, "mark-up", prices.rule("mark-up"), "u")
    else:
        formula, second = "(1 + o) / (1 - m)", _rule(prices, "margin", prices.rule("margin"), "m")
    return Figure(f"{stem}.factor", "what a cost is multiplied by", float(sell_factor(prices)), "1", formula, (overhead, second))


def _sold(costing: Costing, price: Price, stem: str) -> Iterator[Sum]:
    """Each line that the customer sees: the costs of its group and tax, times the factor, and its share of what rounds up."""
    factor = sell_factor(costing.prices)
    groups = list(dict.fromkeys((line.group, line.tax) for line in costing.costs))
    sums = {at: total((c.cost for c in costing.costs if (c.group, c.tax) == at), costing.prices.currency) for at in groups}
    shown = [at for at in groups if sums[at]]
    for at, line in zip(shown, price.lines, strict=False):
        bare = (sums[at] * factor).rounded()
        inputs = (
            _money(f"costs under {at[0]}, tax {at[1] or 'none'}", sums[at], "c"),
            Term("f", "factor, to six places", f"{factor:.6f}"),
            _money("share of the rise to the least price and to whole steps", line.amount - bare, "r"),
        )
        yield Sum(f"{stem}.line.{slug(at[0])}.{slug(at[1]) or 'untaxed'}", line.what, line.amount, "c f + r", inputs)
    yield from _least_line(price.lines[len(shown) :], stem)


def _least_line(rest: Iterable[PriceLine], stem: str) -> Iterator[Sum]:
    for line in rest:
        yield Sum(
            f"{stem}.line.{slug(line.what)}", line.what, line.amount, "r", (_money("rise to the least price", line.amount),)
        )


def _net(costing: Costing, priced: Priced, stem: str) -> Sum:
    prices = costing.prices
    inputs = [
        _money("costs times the factor", (costing.total * sell_factor(prices)).rounded(), "b"),
        _rule(prices, "minimum charge", prices.rule("minimum charge"), "l"),
        _rule(prices, "round to", prices.rule("round to"), "s"),
    ]
    if priced.least_for_chance is not None:
        inputs.append(_money("least price for the chance of loss that you accept", priced.least_for_chance, "k"))
    most = "max(b, l, k)" if priced.least_for_chance is not None else "max(b, l)"
    return Sum(f"{stem}.net", "price before tax", priced.price.net, f"{most}, rounded up to whole s", tuple(inputs))


def _taxes(price: Price, stem: str) -> Iterator[Sum]:
    for tax in price.taxes:
        inputs = (_money("sum of the lines under it", tax.on, "a"), Term("t", "rate", str(tax.rate)))
        yield Sum(f"{stem}.tax.{slug(tax.name)}", f"tax on {tax.name}", tax.amount, "a t, rounded half up to the coin", inputs)
    parts = (_money("price before tax", price.net), *(_money(f"tax on {tax.name}", tax.amount) for tax in price.taxes))
    yield Sum(f"{stem}.gross", "price, tax included", price.gross, "price before tax + taxes", parts)


def _payments(price: Price, prices: Prices, stem: str) -> Iterator[Sum]:
    whole, deposit = _money("price, tax included", price.gross, "g"), _rule(prices, "deposit", prices.rule("deposit"), "d")
    most = prices.rule("deposit at most")
    first = (deposit, _rule(prices, "deposit at most", most, "m")) if most > 0 else (deposit,)
    shares = [Term("s", row.what, str(row.price / 100), cite=book_cite(row)) for row in prices.stages]
    for n, stage in enumerate(price.stages, 1):
        yield Sum(f"{stem}.stage.{n}", stage.due, stage.amount, *_payment(stage, whole, first, shares))


def _payment(stage: Stage, whole: Term, deposit: tuple[Term, ...], shares: list[Term]) -> tuple[str, tuple[Term, ...]]:
    """Formula and inputs of one payment."""
    if stage.due == ACCEPTED:
        return "g d, half up to the coin, no more than the most", (whole, *deposit)
    share = next((term for term in shares if term.name == stage.due), None)
    if share is not None:
        before = shares[: shares.index(share)]
        return "g (d + sum to s) - g (d + sum before s), each half up to the coin", (whole, deposit[0], *before, share)
    return "g less deposit and stages", (whole, *deposit, *shares)


def _allowance(costing: Costing, priced: Priced, stem: str) -> Iterator[Sum]:
    """From where to where a price may lie while the survey is rough."""
    prices, spread = costing.prices, costing.spread
    inputs = (
        Term("", "mean cost", f"{spread.mean:.2f}", prices.currency),
        Term("", "its standard error", f"{spread.sd:.2f}", prices.currency),
        Term("f", "factor, to six places", f"{sell_factor(prices):.6f}"),
        _rule(prices, "round to", prices.rule("round to"), "s"),
        _money("price before tax", priced.price.net, "p"),
        *(term for one in costing.unsure for term in one.terms),
    )
    for name, amount, share, most in zip(
        ("low", "high"), allowance(costing, priced.price.net), BAND, ("min", "max"), strict=True
    ):
        formula = f"{most}(p, cost that {share:.0%} lie under, times f, rounded up to whole s)"
        yield Sum(f"{stem}.band.{name}", f"allowance, {name} end", amount, formula, inputs, RISK, costing.rough)


def _risk(costing: Costing, priced: Priced, stem: str) -> Iterator[Worked]:
    prices, spread = costing.prices, costing.spread
    left = (_money("price before tax", priced.price.net, "p"), _money("cost with overhead", priced.cost, "c"))
    yield Sum(f"{stem}.left", "what is left over", priced.left, "p - c", left)
    yield Figure(f"{stem}.margin", "left over, of the price", float(priced.margin), "1", "(p - c) / p", left)
    yield Figure(f"{stem}.mark_up", "left over, on the cost", float(priced.mark_up), "1", "(p - c) / c", left)
    chance = (
        _money("price before tax, less overhead", (priced.price.net / (1 + prices.rule("overhead"))).rounded(), "a"),
        Term("", "mean cost", f"{spread.mean:.2f}", prices.currency),
        Term("", "its standard error", f"{spread.sd:.2f}", prices.currency),
        Term("", "what all hours of a job share, one standard error", spread.shared),
        *(Term("", "chance that the pour runs short", one.chance) for one in spread.chancy),
    )
    yield Figure(f"{stem}.chance_of_loss", "chance of losing money", priced.chance_of_loss, "1", "P(cost > a)", chance, RISK)
    if priced.least_for_chance is not None:
        accepted = (_rule(prices, "chance of loss", prices.rule("chance of loss"), "q"), *chance[1:])
        formula, label = "cost gone over with chance q, with overhead, rounded up", "least price for the chance you accept"
        yield Sum(f"{stem}.least", label, priced.least_for_chance, formula, accepted, RISK)


def _short(amount: Decimal) -> str:
    """A measured amount to the thousandth, no zeros that say nothing."""
    return f"{amount.quantize(Decimal('0.001')).normalize():f}"


def _money(name: str, amount: Money, symbol: str = "") -> Term:
    return Term(symbol, name, str(amount.amount), amount.currency)


def _price(row: Row, prices: Prices) -> Term:
    return Term("p", f"price of one: {row.what}", str(row.price), prices.currency, book_cite(row))


def _rule(prices: Prices, name: str, value: Decimal, symbol: str) -> Term:
    row = prices.rows.get(f"rule {name}")
    cite = book_cite(row) if row is not None else Cite("price_book", f"no rule {name}: nothing", "entered")
    return Term(symbol, name, str(value), cite=cite)
