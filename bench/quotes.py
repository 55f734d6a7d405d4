"""A hundred thousand random quotes: lines sum to totals to the cent, tax by rule, deposit and stages add up, no float anywhere.

Run ``python -m bench.quotes`` (``--quotes 100000`` by default). Seeded. The sums are worked here in whole coins, another way
than the code's. It stops at the first quote that is wrong, and prints how many were right.
"""

from __future__ import annotations

import argparse
import random
from dataclasses import replace
from datetime import date
from decimal import Decimal

from crownwright.price.billing import balances, left_of, take
from crownwright.price.documents import as_plain
from crownwright.price.pricebook import ACCEPTED, PriceBook, Prices, Row
from crownwright.price.pricing import Price, PriceLine, add_up, raised
from crownwright.quantity.money import Money, Rounding, total

SEED = 20_260_507
SINCE = date(2026, 1, 1)
COIN = {"USD": Decimal("0.01"), "JPY": Decimal(1), "KWD": Decimal("0.001")}


def prices_of(currency: str, rules: dict[str, str], taxes: dict[str, str]) -> Prices:
    """A book of nothing but rules and taxes, in per cent."""
    rows = [Row(f"rule {k}", k, "rule", "%", Decimal(1), Decimal(v), "", SINCE) for k, v in rules.items()]
    rows += [Row(f"tax {k}", k, "tax", "%", Decimal(1), Decimal(v), "", SINCE) for k, v in taxes.items()]
    return PriceBook(tuple(rows), currency).on(SINCE)


def random_quote(rng: random.Random) -> None:
    """Make one random quote and check it; AssertionError where it is wrong."""
    currency = rng.choice(list(COIN))
    coin = COIN[currency]
    rates = {name: f"{rng.randrange(30_000) / 1000:.3f}" for name in "ab"}
    deposit = f"{rng.randrange(10_000) / 100:.2f}"
    prices = prices_of(currency, {"deposit": deposit}, rates)
    lines = [
        PriceLine(f"line {n}", Money(rng.randrange(1, 5_000_000) * coin, currency), rng.choice(["a", "b", ""]))
        for n in range(rng.randint(1, 12))
    ]
    step, least = rng.choice([None, Decimal(1), Decimal(5)]), Money(rng.randrange(9_000_000) * coin, currency)
    up = raised(lines, least, Rounding("up", step), currency)
    whole, bare = total((x.amount for x in up), currency).amount, sum(x.amount.amount for x in lines)
    assert 0 <= whole - max(bare, least.amount) < (step or coin)
    stages = [(f"stage {n}", Decimal(rng.randrange(4_000)) / 10_000) for n in range(rng.randint(0, 4))]
    made = add_up(up, prices, stages)
    check(made, up, rates, deposit, coin)
    check_invoices(made, prices, rng)


def check(made: Price, lines: tuple[PriceLine, ...], rates: dict[str, str], deposit: str, coin: Decimal) -> None:
    """Work a quote again, in whole coins and whole thousandths of a per cent; AssertionError where it differs."""

    def coins(amount: Decimal) -> int:
        whole = int(amount / coin)
        assert whole * coin == amount
        return whole

    net = sum(coins(line.amount.amount) for line in lines)
    assert coins(made.net.amount) == net
    due = 0
    for name, rate in rates.items():
        on = sum(coins(line.amount.amount) for line in lines if line.tax == name)
        due += (2 * on * int(rate.replace(".", "")) + 100_000) // 200_000  # half up; nothing here is below nothing
    assert coins(made.gross.amount) == net + due
    assert sum(coins(stage.amount.amount) for stage in made.stages) == net + due
    assert all(stage.amount.amount >= 0 for stage in made.stages)
    asked = (2 * (net + due) * int(deposit.replace(".", "")) + 10_000) // 20_000
    first = coins(made.stages[0].amount.amount) if made.stages[0].due == ACCEPTED else 0
    assert first == asked
    as_plain(made)  # refuses a float, wherever it is


def check_invoices(price: Price, prices: Prices, rng: random.Random) -> None:
    """Invoice a price stage by stage with a change in between; AssertionError where the invoices do not come to the whole.

    Tax by rule on each: P r/(1 + r) of a share P that bears it, within half a coin, but for the last, which evens out what
    rounding has left: half a coin an invoice.
    """
    sign = rng.choice([-1, 1])
    lines = [replace(line, amount=(line.amount * Decimal(rng.randrange(900)) / 1000).rounded() * sign) for line in price.lines]
    change = add_up([line for line in lines if line.amount], prices, ())
    whole: list[Price] = [price]
    asked: list[Price] = []
    changed = rng.randrange(len(price.stages))
    for n, stage in enumerate(price.stages):
        if n == changed:
            whole.append(change)
        left = left_of(whole, asked)
        if left is None or not min(stage.amount, left).amount > 0:
            continue
        asked.append(take(balances(whole, asked), min(stage.amount, left)))
    if left_of(whole, asked):
        asked.append(take(balances(whole, asked)))
    for kind in ("net", "gross"):
        assert sum(getattr(p, kind).amount for p in asked) == sum(getattr(p, kind).amount for p in whole)
    coin = COIN[prices.currency]
    for name in "ab":
        taxes = [[t for t in p.taxes if t.name == name] for p in asked]
        agreed = sum(t.amount.amount for p in whole for t in p.taxes if t.name == name)
        assert sum(t.amount.amount for group in taxes for t in group) == agreed
        for t in (t for group in taxes for t in group):
            assert abs(t.amount.amount - t.on.amount * t.rate) <= coin * (len(asked) + 2) / 2 + coin
    for one in asked:
        assert one.net + total((t.amount for t in one.taxes), prices.currency) == one.gross
        assert total((line.amount for line in one.lines), prices.currency) == one.net


def main() -> None:
    """Run them all."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quotes", type=int, default=100_000)
    count = parser.parse_args().quotes
    rng = random.Random(SEED)
    for _ in range(count):
        random_quote(rng)
    print(f"{count:,} random quotes in three currencies: all add up to the coin")


if __name__ == "__main__":
    main()
