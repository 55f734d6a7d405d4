"""What each invoice of a deal asks for: the deposit, a stage, a change order, or all that is left; tax on each.

What is still to be asked for is kept apart by kind of tax (its name and rate). An invoice of an agreed amount takes of each
kind in proportion to what is left of it, to the coin; the tax in it is P r/(1 + r), half up to the coin, P being its share, tax
included. The last one takes whatever is left of each kind. So nothing is ever asked twice, no share is below nothing, and net,
taxes and gross of all invoices add up to those of the deal.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from crownwright.price.deal import Accepted, Asked, ChangeOrder, Invoice
from crownwright.price.pricing import Price, PriceLine, Stage, TaxLine
from crownwright.quantity.money import EXACT, Money, nothing, total


@dataclass(frozen=True, slots=True)
class Balance:
    """What is under one tax (``name`` "": none) at one ``rate``: ``net`` and the ``tax`` on it."""

    name: str
    rate: Decimal
    net: Money
    tax: Money

    @property
    def gross(self) -> Money:
        """Tax included."""
        return self.net + self.tax


def balances(prices: Iterable[Price], less: Iterable[Price] = ()) -> tuple[Balance, ...]:
    """Return what these prices come to by kind of tax, ``less`` what was asked for already; kinds in the order first met."""
    found: dict[tuple[str, Decimal], Balance] = {}
    for sign, group in ((1, prices), (-1, less)):
        for price in group:
            for one in _kinds(price):
                at = (one.name, one.rate)
                had = found.get(at, replace(one, net=nothing(one.net.currency), tax=nothing(one.net.currency)))
                found[at] = replace(had, net=had.net + one.net * sign, tax=had.tax + one.tax * sign)
    return tuple(found.values())


def _kinds(price: Price) -> Iterator[Balance]:
    taxed = total((tax.on for tax in price.taxes), price.net.currency)
    if price.net != taxed:
        yield Balance("", Decimal(0), price.net - taxed, nothing(price.net.currency))
    for tax in price.taxes:
        yield Balance(tax.name, tax.rate, tax.on, tax.amount)


def left_of(prices: Iterable[Price], before: Iterable[Price]) -> Money | None:
    """Return what is left to ask for, tax included; less than nothing where too much was asked; None for no price at all."""
    found = balances(prices, before)
    return total((one.gross for one in found), found[0].net.currency) if found else None


def take(left: Sequence[Balance], amount: Money | None = None) -> Price:
    """Return what an invoice of ``amount``, tax included, asks for; None: all that is left, more or less than nothing.

    ValueError for an amount that is nothing, less, or more than is left.
    """
    whole = total((one.gross for one in left), left[0].net.currency)
    if amount is None or amount == whole:
        return _asks(left)
    if not 0 < amount.amount < whole.amount:
        raise ValueError(f"{amount.amount} cannot be asked for: {whole.amount} is left")
    open_ = [one for one in left if one.gross.amount > 0]
    parts = amount.shared([one.gross.amount for one in open_])
    return _asks([_of(one, part) for one, part in zip(open_, parts, strict=True)])


def _of(left: Balance, part: Money) -> Balance:
    """A part of a balance, tax included: the tax in it by its rate, within what is left of net and of tax."""
    tax = (part * EXACT.divide(left.rate, 1 + left.rate)).rounded()
    tax = min(max(tax, part - left.net), left.tax)
    return replace(left, net=part - tax, tax=tax)


def _asks(parts: Iterable[Balance]) -> Price:
    kept = [one for one in parts if one.net or one.tax]
    if not kept:
        raise ValueError("nothing is left to ask for")
    currency = kept[0].net.currency
    lines = tuple(PriceLine(_words(one, len(kept)), one.net, one.name) for one in kept)
    taxes = tuple(TaxLine(one.name, one.rate, one.net, one.tax) for one in kept if one.name)
    net, gross = total((one.net for one in kept), currency), total((one.gross for one in kept), currency)
    return Price(lines, net, taxes, gross, ())


def _words(one: Balance, kinds: int) -> str:
    if kinds == 1:
        return "Of the agreed price"
    return f"Of what is taxed as {one.name}" if one.name else "Of what bears no tax"


def asked_of(invoices: Sequence[Invoice]) -> tuple[Price, ...]:
    """Return what each invoice of one deal, oldest first, asks for; one that does not say asks for all that was left."""
    found: list[Price] = []
    for one in invoices:
        whole = (one.price, *(change.price for change in one.changes))
        found.append(one.asks if one.asks is not None else _all_left(whole, found))
    return tuple(found)


def _all_left(whole: Sequence[Price], before: Sequence[Price]) -> Price:
    left = balances(whole, before)
    zero = nothing(whole[0].net.currency)
    return take(left) if any(one.net or one.tax for one in left) else Price((), zero, (), zero, ())


def before_of(invoices: Sequence[Invoice]) -> tuple[Asked, ...]:
    """Return what the invoices of a deal asked for, as a later one tells it."""
    asked = zip(invoices, asked_of(invoices), strict=True)
    return tuple(Asked(one.number, one.on, one.stage, price.gross) for one, price in asked)


def askable(deal: Accepted, changes: Sequence[ChangeOrder], before: Sequence[Invoice]) -> tuple[Stage, ...]:
    """Return what can be asked for by itself and was not yet: the payments as signed, then change orders that cost more.

    Amounts are cut to what is left; with nothing left there is none. An invoice of all that was left has asked for every payment,
    and for the changes that stand in it.
    """
    price = deal.quote.option(deal.option).price
    left = left_of((price, *(c.price for c in changes)), asked_of(before))
    if left is None or left.amount <= 0:
        return ()
    gone = {one.stage for one in before}
    gone |= {change_words(c) for one in before if not one.stage for c in one.changes}
    payments = price.stages if "" not in gone else ()
    stages = (*payments, *(Stage(change_words(c), c.price.gross) for c in changes))
    open_ = (stage for stage in stages if stage.due not in gone and stage.amount.amount > 0)
    return tuple(Stage(stage.due, min(stage.amount, left)) for stage in open_)


def asks_for(deal: Accepted, changes: Sequence[ChangeOrder], before: Sequence[Invoice], stage: str) -> Price:
    """Return what an invoice asks for: of the agreed price for a payment, of its own price for a change order, else all that is
    left. ValueError for a stage that there is not or that was asked already, or where nothing is left.
    """
    price, asked = deal.quote.option(deal.option).price, asked_of(before)
    if not stage:
        return take(balances((price, *(c.price for c in changes)), asked))
    amount = _amount_of(stage, askable(deal, changes, before))
    by_words = {change_words(c): c.price for c in changes}
    if stage in by_words:
        return take(balances([by_words[stage]]), amount)
    payments = [part for one, part in zip(before, asked, strict=True) if one.stage and one.stage not in by_words]
    return take(balances([price], payments), amount)


def _amount_of(stage: str, open_: Sequence[Stage]) -> Money:
    for one in open_:
        if one.due == stage:
            return one.amount
    there = "; ".join(one.due for one in open_) or "nothing"
    raise ValueError(f"{stage!r} is no payment that is still to be asked for; there is: {there}")


def stage_named(open_: Sequence[Stage], named: str) -> str:
    """Return the words of a payment by them, its place among those that can be asked for (from 1), or a change order's number.

    What is none of these comes back as it is; nothing for nothing.
    """
    words = [stage.due for stage in open_]
    if named.isdecimal() and 1 <= int(named) <= len(words):
        return words[int(named) - 1]
    return next((one for one in words if one.endswith((f" {named}", f"-{named}"))), named) if named else ""


def change_words(change: ChangeOrder) -> str:
    """Return a change order as a thing to be paid."""
    return f"change order {change.number}"


def owed(invoices: Sequence[Invoice], paid: Money | None) -> dict[str, Money]:
    """Return what each invoice of one deal still lacks: money, and credit notes, count for the oldest first.

    Where more came in than was asked, the last invoice lacks less than nothing.
    """
    if not invoices:
        return {}
    asked = [price.gross for price in asked_of(invoices)]
    zero = nothing(asked[0].currency)
    purse = (paid or zero) - total((one for one in asked if one.amount < 0), zero.currency)
    lacks: dict[str, Money] = {}
    for one, gross in zip(invoices, asked, strict=True):
        due = max(gross, zero)
        used = min(purse, due)
        purse, lacks[one.number] = purse - used, due - used
    last = invoices[-1].number
    return lacks | {last: lacks[last] - purse}
