"""Money: exact, of one currency, rounded by a named rule, shared out to the coin."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crownwright.quantity.money import Money, Rounding, coin, exact, measured, read_decimal

AMOUNTS = st.decimals(Decimal(-(10**9)), Decimal(10**9), places=2, allow_nan=False, allow_infinity=False)
SHARES = st.lists(st.decimals(0, 1000, places=3), min_size=1, max_size=12).filter(lambda s: sum(s) > 0)


@given(AMOUNTS, SHARES)
def test_shares_add_up_to_the_coin_and_none_is_a_coin_away_from_its_due(amount: Decimal, shares: list[Decimal]) -> None:
    parts = Money(amount, "USD").shared(shares)
    assert sum(part.amount for part in parts) == amount
    whole = sum(map(Fraction, shares))
    for part, share in zip(parts, shares, strict=True):
        assert abs(Fraction(part.amount) - Fraction(amount) * Fraction(share) / whole) < Fraction(1, 100)


@given(st.decimals(-(10**7), 10**7, places=5), st.sampled_from(["half up", "half even", "down", "up"]))
def test_rounding_is_what_its_name_says(amount: Decimal, how: str) -> None:
    got = Fraction(Money(amount, "USD").rounded(Rounding(how)).amount)
    true, cent = Fraction(amount), Fraction(1, 100)
    assert (got / cent).denominator == 1
    if how == "up":
        assert 0 <= got - true < cent
    elif how == "down":
        assert abs(got) <= abs(true) < abs(got) + cent
    else:
        assert abs(got - true) <= cent / 2
        if abs(got - true) == cent / 2:
            assert (abs(got) > abs(true)) if how == "half up" else (got / cent) % 2 == 0


@pytest.mark.parametrize("bad", [0.1, 1.0, float("nan"), True, "1", None])
def test_nothing_but_decimals_gets_in(bad: object) -> None:
    with pytest.raises(TypeError):
        exact(bad)  # type: ignore[arg-type]
    with pytest.raises(TypeError):
        Money(Decimal(1), "USD") * bad  # type: ignore[operator]


def test_currencies_do_not_mix_and_have_their_own_coins() -> None:
    with pytest.raises(ValueError, match="do not add up"):
        Money(Decimal(1), "USD") + Money(Decimal(1), "EUR")
    with pytest.raises(ValueError, match="no currency"):
        Money(Decimal(1), "XQZ")
    assert [coin(c) for c in ("USD", "JPY", "KWD")] == [Decimal("0.01"), Decimal(1), Decimal("0.001")]
    assert Money(Decimal("1234.5"), "JPY").rounded().amount == 1235


@given(
    st.decimals(Decimal("-99999.99"), Decimal("99999.99"), places=2),
    st.sampled_from(["en_US", "de_DE", "fr_FR", "de_CH", "en_IN"]),
)
def test_numbers_are_read_as_they_are_written_in_a_locale(value: Decimal, locale: str) -> None:
    from babel.numbers import format_decimal

    assert read_decimal(format_decimal(value, locale=locale), locale) == value


FOREIGN = [
    ("12,50", "en_US"),
    ("12.50", "de_DE"),
    ("1.2.3", "en_US"),
    ("$5", "en_US"),
    ("", "en_US"),
    ("1e3", "en_US"),
    ("NaN", "en_US"),
]


@pytest.mark.parametrize(("text", "locale"), FOREIGN)
def test_a_number_of_another_country_is_refused_not_guessed(text: str, locale: str) -> None:
    with pytest.raises(ValueError, match="1234"):
        read_decimal(text, locale)


def test_the_gate_from_measuring_to_money_rounds_and_refuses_what_is_no_number() -> None:
    assert measured(2.0 / 3.0) == Decimal("0.6667")
    with pytest.raises(ValueError, match="no quantity"):
        measured(float("inf"))
