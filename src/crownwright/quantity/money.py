"""Money: an exact decimal amount of one currency. A float can neither get in nor come out.

Every sum that is shown is rounded by a named rule before it is added up, so that what stands on a paper adds up to the cent.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_DOWN, ROUND_HALF_EVEN, ROUND_HALF_UP, Context, Decimal, DecimalException
from functools import cache
from typing import Final

from babel.numbers import (
    NumberFormatError,
    format_currency,
    format_decimal,
    get_currency_precision,
    is_currency,
    parse_decimal,
)

EXACT: Final = Context(prec=40)
"""Forty digits: no product or sum of a job's amounts loses one before it is rounded on purpose."""
HOW: Final = {"half up": ROUND_HALF_UP, "half even": ROUND_HALF_EVEN, "down": ROUND_DOWN, "up": ROUND_CEILING}


@dataclass(frozen=True, slots=True)
class Rounding:
    """A rounding rule. ``how``: "half up" (as tax offices mostly ask), "half even", "down" (towards nothing), "up" (never less).

    ``step`` is what an amount is a whole number of: None for the currency's smallest coin, else 0.05, 1, 5 ...
    """

    how: str = "half up"
    step: Decimal | None = None

    def __post_init__(self) -> None:
        if self.how not in HOW:
            raise ValueError(f"no rounding {self.how!r}; there are: {', '.join(HOW)}")
        if self.step is not None and not exact(self.step) > 0:
            raise ValueError(f"a rounding step must be above 0, is {self.step}")


COIN: Final = Rounding()
"""Half up to the currency's smallest coin."""


@dataclass(frozen=True, slots=True)
class Money:
    """``amount`` of a ``currency`` (ISO 4217). Amounts of different currencies are never added: ValueError.

    >>> Money(Decimal("12.50"), "USD") + Money(Decimal("0.05"), "USD")
    Money(amount=Decimal('12.55'), currency='USD')
    """

    amount: Decimal
    currency: str

    def __post_init__(self) -> None:
        object.__setattr__(self, "amount", exact(self.amount))
        if not _is_known(self.currency):
            raise ValueError(f"{self.currency!r} is no currency of ISO 4217")

    def __add__(self, other: Money) -> Money:
        return Money(EXACT.add(self.amount, self._same(other)), self.currency)

    def __sub__(self, other: Money) -> Money:
        return Money(EXACT.subtract(self.amount, self._same(other)), self.currency)

    def __neg__(self) -> Money:
        return Money(-self.amount, self.currency)

    def __mul__(self, times: Decimal | int) -> Money:
        return Money(EXACT.multiply(self.amount, exact(times)), self.currency)

    def __truediv__(self, by: Decimal | int) -> Money:
        return Money(EXACT.divide(self.amount, exact(by)), self.currency)

    def __lt__(self, other: Money) -> bool:
        return self.amount < self._same(other)

    def __le__(self, other: Money) -> bool:
        return self.amount <= self._same(other)

    def __bool__(self) -> bool:
        return bool(self.amount)

    def rounded(self, rule: Rounding = COIN) -> Money:
        """Return the amount rounded by a rule.

        >>> str(Money(Decimal("2.345"), "USD").rounded().amount), str(Money(Decimal("1203"), "JPY").rounded().amount)
        ('2.35', '1203')
        >>> str(Money(Decimal("2.31"), "CHF").rounded(Rounding("half up", Decimal("0.05"))).amount)
        '2.30'
        """
        step = coin(self.currency) if rule.step is None else rule.step
        whole = (self.amount / step).quantize(Decimal(1), HOW[rule.how], EXACT)
        made = EXACT.multiply(whole, step)
        return Money(made.quantize(coin(self.currency), context=EXACT) if step >= coin(self.currency) else made, self.currency)

    def shared(self, shares: Sequence[Decimal]) -> tuple[Money, ...]:
        """Share a whole number of coins out so that the parts add up to it to the coin.

        Each part is rounded down and the coins left over go to those that lost most, the first of equals. ValueError for no
        shares, a negative one, or all of them nothing.

        >>> [str(part.amount) for part in Money(Decimal("100"), "USD").shared([Decimal(1)] * 3)]
        ['33.34', '33.33', '33.33']
        """
        shares = [exact(share) for share in shares]
        if not shares or min(shares) < 0 or sum(shares) <= 0:
            raise ValueError(f"shares must not be negative nor all nothing, are {[str(s) for s in shares]}")
        unit, whole = coin(self.currency), sum(shares)
        coins = self.amount / unit
        if coins != coins.to_integral_value():
            raise ValueError(f"{self.amount} is not a whole number of coins of {unit}; round it first")
        due = [EXACT.divide(EXACT.multiply(coins, share), whole) for share in shares]
        parts = [d.to_integral_value(ROUND_DOWN) for d in due]
        sign = 1 if coins >= 0 else -1
        lost = sorted(range(len(due)), key=lambda i: -abs(due[i] - parts[i]))
        for i in lost[: int(abs(coins - sum(parts)))]:
            parts[i] += sign
        return tuple(Money(EXACT.multiply(part, unit).quantize(unit), self.currency) for part in parts)

    def shown(self, locale: str) -> str:
        """Return it as people of a locale write it.

        >>> Money(Decimal("1234.5"), "USD").shown("en_US")
        '$1,234.50'
        >>> Money(Decimal("1234.5"), "EUR").shown("de_DE").replace(chr(160), " ")
        '1.234,50 €'
        """
        return str(format_currency(self.amount, self.currency, locale=locale))

    def _same(self, other: Money) -> Decimal:
        if other.__class__ is Money and other.currency == self.currency:
            return other.amount
        if not isinstance(other, Money):
            raise TypeError(f"money adds to money only, not to {type(other).__name__}")
        if other.currency != self.currency:
            raise ValueError(f"{self.currency} and {other.currency} do not add up; change one into the other first")
        return other.amount


def exact(value: Decimal | int) -> Decimal:
    """Return a finite decimal; TypeError for a float (whatever its value), ValueError for what is no number.

    >>> exact(0.1)
    Traceback (most recent call last):
    TypeError: money is counted in decimals: a float (0.1) is not let in
    """
    if type(value) is Decimal and value.is_finite():
        return value
    if isinstance(value, bool) or not isinstance(value, Decimal | int):
        raise TypeError(f"money is counted in decimals: a {type(value).__name__} ({value!r}) is not let in")
    made = Decimal(value)
    if not made.is_finite():
        raise ValueError(f"{value} is no amount")
    return made


@cache
def _is_known(currency: str) -> bool:
    """Asked for every amount that is made; the list of currencies does not change while a program runs."""
    return is_currency(currency)


@cache
def coin(currency: str) -> Decimal:
    """Return the smallest coin of a currency, by the number of decimals of ISO 4217.

    >>> str(coin("USD")), str(coin("JPY")), str(coin("KWD"))
    ('0.01', '1', '0.001')
    """
    return Decimal(1).scaleb(-get_currency_precision(currency))


def nothing(currency: str) -> Money:
    """Return nothing of a currency."""
    return Money(Decimal(0).quantize(coin(currency)), currency)


def total(parts: Iterable[Money], currency: str) -> Money:
    """Return the sum of amounts of one currency; nothing for none."""
    whole = nothing(currency)
    amount = whole.amount
    for part in parts:
        amount = EXACT.add(amount, whole._same(part))
    return Money(amount, currency)


def measured(value: float, places: int = 4) -> Decimal:
    """Return a measured quantity (bags, metres, hours: never money) as the decimal that prices are multiplied by.

    This is the one gate between measuring, which is done in floats, and money; ``places`` decimals. ValueError for what is no
    number.

    >>> measured(0.1 + 0.2)
    Decimal('0.3000')
    """
    made = Decimal(repr(float(value)))
    if not made.is_finite():
        raise ValueError(f"{value} is no quantity")
    return made.quantize(Decimal(1).scaleb(-places), ROUND_HALF_EVEN, EXACT)


def read_decimal(text: str, locale: str) -> Decimal:
    """Read a number as people of a locale write it; ValueError, with what it may have meant, for another country's way.

    >>> str(read_decimal("1,234.50", "en_US")), str(read_decimal("1.234,50", "de_DE"))
    ('1234.50', '1234.50')
    >>> read_decimal("12,50", "en_US")
    Traceback (most recent call last):
    ValueError: '12,50' is not a number as it is written in en_US; there, 1234.5 is 1,234.5
    """
    typed = text.strip()
    sample = format_decimal(Decimal("1234.5"), locale=locale)
    says = f"{text!r} is not a number as it is written in {locale}; there, 1234.5 is {sample}"
    if not typed or not all(c.isdigit() or c in "+-.,'’ \u00a0\u202f" for c in typed):
        raise ValueError(says)
    try:
        return exact(parse_decimal(typed, locale=locale, strict=True))
    except (NumberFormatError, DecimalException, ValueError):
        raise ValueError(says) from None


def shown_number(value: Decimal, locale: str, places: int = 2) -> str:
    """Return a quantity as people of a locale write it, no more than ``places`` decimals and none that say nothing.

    >>> shown_number(Decimal("12.5000"), "en_US"), shown_number(Decimal("1234"), "de_DE")
    ('12.5', '1.234')
    """
    return str(format_decimal(value, format="#,##0." + "#" * places if places else "#,##0", locale=locale))
