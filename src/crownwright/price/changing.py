"""A change agreed after a quote: lines by what the quote named at a unit price, else as the book sells it; the order for it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal, InvalidOperation

from crownwright.price.choices import More
from crownwright.price.deal import Accepted, ChangeOrder, Quote, UnitPrice
from crownwright.price.pricebook import Prices
from crownwright.price.pricing import Price, PriceLine, Stage, add_up, sell_factor
from crownwright.quantity.money import Rounding
from crownwright.quantity.problems import Problem


def change_lines(quote: Quote, prices: Prices, more: Sequence[More]) -> tuple[tuple[PriceLine, ...], tuple[Problem, ...]]:
    """Return the lines of a change: so much more (or, below nothing, less) of what the price book calls by its key.

    What the quote named at a unit price is charged at that price; all else as the book sells it on the day.
    """
    named = {unit.what: unit for unit in quote.unit_prices}
    lines, problems = [], list(prices.missing(one.key for one in more if one.key not in named))
    for one in more:
        amount = _amount(one.amount)
        if amount is None:
            problems.append(Problem(one.key, f"{one.amount!r} is no amount", "Write how much more of it, or less with a minus"))
            continue
        unit = named.get(one.key) or _unit_of(one.key, named, prices)
        if unit is not None:
            by = " ×" if unit.unit == "each" else f" {unit.unit},"
            lines.append(PriceLine(f"{amount.normalize():f}{by} {unit.what}", (unit.price * amount).rounded(), unit.tax))
    return tuple(lines), tuple(problems)


def _unit_of(key: str, named: Mapping[str, UnitPrice], prices: Prices) -> UnitPrice | None:
    """What a unit of a row of the price book is charged at: as the quote named it, else as the book sells it on the day."""
    row = prices.rows.get(key)
    if row is None:
        return None
    sold = UnitPrice(row.what, row.unit, (prices.money(row) / row.pack * sell_factor(prices)).rounded(Rounding("up")))
    return replace(named.get(row.what, sold), tax=row.tax)


def _amount(text: str) -> Decimal | None:
    try:
        amount = Decimal(text)
    except InvalidOperation:
        return None
    return amount if amount.is_finite() and 0 < abs(amount) < 100_000 else None


def change(
    deal: Accepted, nth: int, lines: Sequence[PriceLine], why: str, on: date, prices: Prices, signed_by: str
) -> ChangeOrder:
    """Return a change order, numbered under the quote. ValueError without a reason, lines or a signature."""
    if not (why.strip() and lines and signed_by.strip()):
        raise ValueError("a change order has lines, a reason and a signature")
    return ChangeOrder(f"{deal.quote.number}-C{nth}", deal.quote.number, on, why, change_price(lines, prices), signed_by)


def change_price(lines: Sequence[PriceLine], prices: Prices) -> Price:
    """Return the price of a change: no deposit on it, it is asked for when asked for."""
    made = add_up(lines, prices)
    return replace(made, stages=(Stage("with the next invoice or the last", made.gross),))
