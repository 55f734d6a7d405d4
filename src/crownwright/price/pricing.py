"""From costs to a price: overhead, margin or mark-up, least charge, rounding, tax by kind, deposit and stages. Decimals only.

price of a line = cost x (1 + overhead) / (1 - margin), or x (1 + mark-up). A margin is a share of the price, a mark-up a share of
the cost: margin 20 % is mark-up 25 %. Each line is rounded to the coin before it is added, each tax once, on the sum of the lines
that fall under it; so everything on the paper adds up.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from crownwright.price.costing import Costing, CostLine
from crownwright.price.pricebook import ACCEPTED, FINISHED, Prices
from crownwright.price.risk import price_for
from crownwright.quantity.money import COIN, EXACT, Money, Rounding, measured, nothing, total


@dataclass(frozen=True, slots=True)
class PriceLine:
    """A line as the customer sees it, before tax; ``tax`` names the tax it falls under ("": none)."""

    what: str
    amount: Money
    tax: str = ""


@dataclass(frozen=True, slots=True)
class TaxLine:
    """One tax: its rate as a share, the sum it is taken on, and what it comes to."""

    name: str
    rate: Decimal
    on: Money
    amount: Money


@dataclass(frozen=True, slots=True)
class Stage:
    """A payment: when it is due, in words, and how much, tax included."""

    due: str
    amount: Money


@dataclass(frozen=True, slots=True)
class Price:
    """A price: ``lines`` add up to ``net``, ``taxes`` to what ``gross`` is more, ``stages`` to ``gross``."""

    lines: tuple[PriceLine, ...]
    net: Money
    taxes: tuple[TaxLine, ...]
    gross: Money
    stages: tuple[Stage, ...]


@dataclass(frozen=True, slots=True)
class Priced:
    """A price with what stands behind it, for the mason only: ``cost`` with overhead, what is ``left``, ``margin`` and
    ``mark_up`` as shares, the chance of losing money, and the least price before tax for the chance he accepts (None: no
    chance chosen).
    """

    price: Price
    cost: Money
    left: Money
    margin: Decimal
    mark_up: Decimal
    chance_of_loss: float
    least_for_chance: Money | None


def mark_up_of(margin: Decimal) -> Decimal:
    """Return the mark-up on the cost that leaves a margin of the price; both as shares. ValueError unless 0 <= margin < 1.

    >>> mark_up_of(Decimal("0.20"))
    Decimal('0.25')
    """
    if not 0 <= margin < 1:
        raise ValueError(f"a margin is a share of the price, from 0 to under 1, is {margin}")
    return EXACT.divide(margin, 1 - margin)


def sell_factor(prices: Prices) -> Decimal:
    """Return what a cost is multiplied by: overhead, then margin or mark-up, whichever the book has."""
    mark_up = prices.rule("mark-up") if "rule mark-up" in prices.rows else mark_up_of(prices.rule("margin"))
    return (1 + prices.rule("overhead")) * (1 + mark_up)


def price_job(costing: Costing, words: dict[str, str] | None = None) -> Priced:
    """Return the price of a job: its costs gathered into lines by group and tax, priced by the book's rules.

    ``words`` puts a group ("labour", "materials" ...) into words for the customer.
    """
    prices = costing.prices
    factor, chance = sell_factor(prices), prices.rule("chance of loss")
    lines = _sold(costing.costs, factor, prices, words or {})
    floor = _loaded(costing, chance) if chance > 0 else None
    least = [Money(prices.rule("minimum charge"), prices.currency)] + ([floor] if floor else [])
    lines = raised(lines, max(least), Rounding("up", prices.rule("round to") or None), prices.currency)
    price = add_up(lines, prices, None if costing.cast else ())
    cost = (costing.total * (1 + prices.rule("overhead"))).rounded()
    left = price.net - cost
    margin = EXACT.divide(left.amount, price.net.amount) if price.net else Decimal(0)
    mark_up = EXACT.divide(left.amount, cost.amount) if cost else Decimal(0)
    loss = costing.spread.over(float(price.net.amount) / float(1 + prices.rule("overhead")))
    return Priced(price, cost, left, margin, mark_up, loss, floor)


BAND = (0.10, 0.90)
"""While a survey is rough the allowance runs between the costs of which one in ten is lower and one in ten higher."""


def allowance(costing: Costing, net: Money) -> tuple[Money, Money]:
    """Return the allowance before tax of a job whose survey is rough, round the price ``net``, in the book's whole steps and
    not under its least charge.
    """
    prices, factor = costing.prices, sell_factor(costing.prices)
    step = Rounding("up", prices.rule("round to") or None)
    low, high = ((Money(measured(costing.spread.at(1 - share), 2), prices.currency) * factor).rounded(step) for share in BAND)
    least = Money(prices.rule("minimum charge"), prices.currency)
    return min(max(low, least), net), max(high, net)


def _loaded(costing: Costing, chance: Decimal) -> Money:
    """The least price before tax for a chance of loss: the cost at that chance, overhead on it."""
    prices = costing.prices
    bare = price_for(costing.spread, float(chance), prices.currency, COIN)
    return (bare * (1 + prices.rule("overhead"))).rounded(Rounding("up"))


def _sold(costs: Iterable[CostLine], factor: Decimal, prices: Prices, words: dict[str, str]) -> tuple[PriceLine, ...]:
    """One line a group and tax; summed exactly, multiplied once, rounded once."""
    sums: dict[tuple[str, str], Money] = {}
    for line in costs:
        at = (line.group, line.tax)
        sums[at] = sums.get(at, nothing(prices.currency)) + line.cost
    return tuple(
        PriceLine(words.get(group, group.capitalize()), (cost * factor).rounded(), tax)
        for (group, tax), cost in sums.items()
        if cost
    )


def raised(lines: Sequence[PriceLine], least: Money, step: Rounding, currency: str) -> tuple[PriceLine, ...]:
    """Return the lines raised to ``least`` and then to whole steps: the rise is shared out over the lines, so that each keeps its
    tax and no line stands there that nobody can explain. With no lines, one for the least charge.
    """
    bare = total((line.amount for line in lines), currency)
    wanted = max(bare, least).rounded(step)
    rise = (wanted - bare).rounded()
    if not rise:
        return tuple(lines)
    if not bare:
        return (*lines, PriceLine("Least charge", rise))
    parts = rise.shared([line.amount.amount for line in lines])
    return tuple(PriceLine(line.what, line.amount + part, line.tax) for line, part in zip(lines, parts, strict=True))


def add_up(lines: Sequence[PriceLine], prices: Prices, stages: Sequence[tuple[str, Decimal]] | None = None) -> Price:
    """Return the price of the lines: net, each tax once on its sum, gross, and the payments.

    ``stages`` are (due, share of the whole) beside deposit and rest; left out, those of the book. ValueError for a line below the
    coin.
    """
    for line in lines:
        if line.amount != line.amount.rounded():
            raise ValueError(f"{line.what}: {line.amount.amount} is not a whole number of coins")
    net = total((line.amount for line in lines), prices.currency).rounded()
    taxes = tuple(_taxes(lines, prices))
    gross = net + total((tax.amount for tax in taxes), prices.currency)
    return Price(tuple(lines), net, taxes, gross, payments(gross, prices, stages))


def _taxes(lines: Sequence[PriceLine], prices: Prices) -> Iterable[TaxLine]:
    for name in dict.fromkeys(line.tax for line in lines if line.tax):
        rate = prices.tax(name)
        on = total((line.amount for line in lines if line.tax == name), prices.currency)
        if rate:
            yield TaxLine(name, rate, on, (on * rate).rounded(COIN))


def payments(gross: Money, prices: Prices, stages: Sequence[tuple[str, Decimal]] | None = None) -> tuple[Stage, ...]:
    """Return deposit, stages and the rest when finished, adding up to ``gross`` to the coin.

    ``stages`` are (due, share of the whole); left out, those of the book. The deposit is no more than the book's "deposit at
    most"; what that cuts off it is asked with the rest. A stage is the difference of two rounded sums: none is below nothing.
    """
    asked = prices.rule("deposit")
    deposit = (gross * asked).rounded()
    most = prices.rule("deposit at most")
    if most > 0:
        deposit = min(deposit, Money(most, prices.currency).rounded(Rounding("down")))
    made = [Stage(ACCEPTED, deposit)]
    for due, share in [(row.what, row.price / 100) for row in prices.stages] if stages is None else stages:
        upto = min(asked + share, Decimal(1))
        made.append(Stage(due, (gross * upto).rounded() - (gross * asked).rounded()))
        asked = upto
    made.append(Stage(FINISHED, gross - total((stage.amount for stage in made), prices.currency)))
    return tuple(stage for stage in made if stage.amount) or (Stage(FINISHED, gross),)
