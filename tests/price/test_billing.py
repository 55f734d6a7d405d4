"""Invoices by stage: each with its tax, all of them the whole to the coin, changes and credit notes in it; the ledger."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.price.billing import askable, asked_of, balances, left_of, owed, take
from crownwright.price.business import Business
from crownwright.price.changing import change
from crownwright.price.deal import Accepted, Invoice, Option, Party, Quote, Receipt
from crownwright.price.dealing import accept, invoice
from crownwright.price.documents import as_json, read_json, seal
from crownwright.price.ledger import ledger
from crownwright.price.pricebook import PriceBook, Prices, Row
from crownwright.price.pricing import Price, PriceLine, add_up
from crownwright.quantity.money import Money, coin, total

DAY = date(2026, 5, 3)
SINCE = date(2026, 1, 1)
COINS = {"USD": Decimal("0.01"), "JPY": Decimal(1), "KWD": Decimal("0.001")}


def rule(name: str, value: str, words: str = "") -> Row:
    return Row(f"rule {name}", words or name, "rule", "%", Decimal(1), Decimal(value), "", SINCE)


def tax(name: str, value: str) -> Row:
    return Row(f"tax {name}", name, "tax", "%", Decimal(1), Decimal(value), "", SINCE)


BOOK = (rule("deposit", "30"), rule("stage 1", "40", "when the cap is poured"), tax("materials", "6.25"))


def signed(lines: Sequence[PriceLine], prices: Prices) -> Accepted:
    quote = Quote(
        "2026-0001", DAY, DAY + timedelta(days=30), Business(currency=prices.currency), Party("R. Tallow"), "A stack", "",
        (Option("Recast", (), (), add_up(lines, prices)),), (), (), (), DAY, "1",
    )  # fmt: skip
    made = accept(quote, "Recast", "R. Tallow", DAY)
    assert isinstance(made, Accepted)
    return made


def usd(amount: str) -> Money:
    return Money(Decimal(amount), "USD")


def by_hand() -> tuple[Accepted, Prices]:
    prices = PriceBook(BOOK).on(DAY)
    return signed([PriceLine("Labour", usd("1000.00")), PriceLine("Materials", usd("333.33"), "materials")], prices), prices


def test_three_stages_by_hand() -> None:
    """Arithmetic, in US dollars:

    labour 1000.00, materials 333.33, tax 6.25 % of 333.33 = 20.833, 20.83; gross 1354.16
    deposit 30 % = 406.248, 406.25; poured: 70 % = 947.912, 947.91, less 406.25 = 541.66; finished: 1354.16 - 947.91 = 406.25
    deposit 406.25 of 1000.00 and 354.16: 406.25 x 354.16/1354.16 = 106.2479 -> 300.00 and 106.25 (the coin left over to the share
      that lost most: 300.002 and 106.248);
      tax in 106.25: 106.25 x 0.0625/1.0625 = 6.25; net 100.00; 100.00 x 6.25 % = 6.25
    poured 541.66 of 700.00 and 247.91: 541.66 x 247.91/947.91 = 141.6616 -> 400.00 (399.998) and 141.66; tax in 141.66 =
      8.333, 8.33; net 133.33
    finished, all that is left: 300.00 and 333.33 - 100.00 - 133.33 = 100.00, tax 20.83 - 6.25 - 8.33 = 6.25
    """
    deal, _ = by_hand()
    assert [str(s.amount.amount) for s in deal.quote.options[0].price.stages] == ["406.25", "541.66", "406.25"]
    made: list[Invoice] = []
    for n, stage in enumerate(("when the quote is accepted", "when the cap is poured", "when finished")):
        made.append(invoice(deal, f"2026-000{n + 2}", DAY, before=made, stage=stage))
    told = [
        (str(p.net.amount), [str(line.amount.amount) for line in p.lines], str(p.taxes[0].amount.amount), str(p.gross.amount))
        for p in asked_of(made)
    ]
    assert told == [
        ("400.00", ["300.00", "100.00"], "6.25", "406.25"),
        ("533.33", ["400.00", "133.33"], "8.33", "541.66"),
        ("400.00", ["300.00", "100.00"], "6.25", "406.25"),
    ]
    with pytest.raises(ValueError, match="nothing is left"):
        invoice(deal, "2026-0005", DAY, before=made)


def test_a_change_that_lowers_what_was_invoiced_makes_a_credit_note_and_the_ledger_adds_up() -> None:
    """Everything invoiced, 1354.16; then materials of 33.33 less, tax 2.08 (2.0831) less: 35.41 back."""
    deal, prices = by_hand()
    first = invoice(deal, "2026-0002", DAY, receipts=[Receipt("R1", "2026-0001", DAY, usd("1354.16"))])
    assert str(first.due.amount) == "0.00"
    order = change(deal, 1, [PriceLine("wrap", usd("-33.33"), "materials")], "less", DAY, prices, "R. Tallow")
    assert askable(deal, [order], [first]) == ()
    note = invoice(deal, "2026-0003", DAY, [order], first.receipts, before=[first])
    assert note.credits
    assert str(note.due.amount) == "-35.41"
    assert owed([first, note], usd("1354.16"))["2026-0003"].amount == Decimal("-35.41")
    assert owed([first, note], usd("1318.75")) == {"2026-0002": usd("0.00"), "2026-0003": usd("0.00")}
    back = Receipt("R2", "2026-0001", DAY, usd("-35.41"))
    rows = list(csv.DictReader(io.StringIO(ledger([first, note], [*first.receipts, back]))))
    assert [row["kind"] for row in rows] == ["invoice", "invoice", "credit note", "receipt", "paid back"]
    for column in ("net", "tax", "gross"):
        booked = sum(Decimal(row[column]) for row in rows if row[column])
        agreed = {"net": "1300.00", "tax": "18.75", "gross": "1318.75"}[column]
        assert booked == Decimal(agreed)
    assert all(Decimal(row["net"]) + Decimal(row["tax"]) == Decimal(row["gross"]) for row in rows if row["gross"])


def test_a_change_order_is_invoiced_by_itself_or_with_the_last_and_never_twice() -> None:
    deal, prices = by_hand()
    order = change(deal, 1, [PriceLine("mortar", usd("30.00"), "materials")], "loose", DAY, prices, "R. Tallow")
    assert str(order.price.gross.amount) == "31.88", "30.00 and 6.25 %: 1.875, half up 1.88"
    alone = invoice(deal, "2", DAY, [order], stage="change order 2026-0001-C1")
    assert alone.asks is not None
    assert str(alone.asks.gross.amount) == "31.88"
    assert [(line.tax, str(line.amount.amount)) for line in alone.asks.lines] == [("materials", "30.00")], "its own tax only"
    rest = invoice(deal, "3", DAY, [order], before=[alone])
    assert rest.asks is not None
    assert str(rest.asks.gross.amount) == "1354.16"
    with pytest.raises(ValueError, match="still to be asked"):
        invoice(deal, "4", DAY, [order], before=[alone], stage="change order 2026-0001-C1")
    more = change(deal, 2, [PriceLine("stone", usd("10.00"))], "more", DAY, prices, "R. Tallow")
    assert [s.due for s in askable(deal, [order, more], [alone, rest])] == ["change order 2026-0001-C2"], "all else was asked"
    for bad in ([Receipt("R", "9", DAY, usd("1"))], [Receipt("R", "2026-0001", DAY, usd("1"))] * 2):
        with pytest.raises(ValueError, match=r"twice|belongs"):
            invoice(deal, "4", DAY, receipts=bad)


def test_money_counts_for_the_oldest_invoice_first() -> None:
    deal, _ = by_hand()
    first = invoice(deal, "2", DAY, stage="when the quote is accepted")
    second = invoice(deal, "3", DAY, before=[first])
    assert [str(m.amount) for m in owed([first, second], usd("500.00")).values()] == ["0.00", "854.16"]
    assert [str(m.amount) for m in owed([first, second], None).values()] == ["406.25", "947.91"]


def test_invoices_kept_before_there_were_stages_read_and_ask_for_what_was_left() -> None:
    deal, prices = by_hand()
    old = replace(invoice(deal, "2", DAY), asks=None)
    kept = as_json(old)
    assert '"asks"' not in kept
    assert read_json(Invoice, kept) == old
    assert seal(read_json(Accepted, as_json(deal)).quote) == deal.seal
    order = change(deal, 1, [PriceLine("mortar", usd("30.00"), "materials")], "loose", DAY, prices, "R. Tallow")
    later = replace(invoice(deal, "3", DAY, [order]), asks=None)
    assert [str(p.gross.amount) for p in asked_of([old, later])] == ["1354.16", "31.88"]


LINES = st.lists(st.tuples(st.integers(1, 10**7), st.sampled_from(["a", "b", ""])), min_size=1, max_size=4)
SHARES = st.lists(st.integers(0, 9_999), min_size=3, max_size=3).map(lambda s: [Decimal(x) / 400 for x in s])
CHANGES = st.lists(st.tuples(st.integers(-(10**6), 10**6), st.sampled_from(["a", "b", ""]), st.integers(0, 4)), max_size=3)
RATES = st.tuples(*[st.decimals(0, 30, places=3)] * 2)


@settings(max_examples=300)
@given(LINES, SHARES, CHANGES, RATES, st.sampled_from(list(COINS)))
def test_invoices_with_changes_in_between_come_to_the_whole(
    lines: list[tuple[int, str]],
    shares: list[Decimal],
    changes: list[tuple[int, str, int]],
    rates: tuple[Decimal, Decimal],
    currency: str,
) -> None:
    unit = coin(currency)
    stages = [rule(f"stage {n}", str(s), f"payment {n}") for n, s in enumerate(shares[1:], 1)]
    rows = (rule("deposit", str(shares[0])), *stages, tax("a", str(rates[0])), tax("b", str(rates[1])))
    prices = PriceBook(rows, currency).on(DAY)
    price = add_up([PriceLine("x", Money(n * unit, currency), t) for n, t in lines], prices)
    assert total((s.amount for s in price.stages), currency) == price.gross
    assert all(s.amount.amount > 0 for s in price.stages)
    whole, asked = [price], list[Price]()
    for step, stage in enumerate((*price.stages, None)):
        whole += [add_up([PriceLine("y", Money(n * unit, currency), t)], prices) for n, t, when in changes if when == step and n]
        left = left_of(whole, asked)
        assert left is not None
        if stage is None and any(one.net or one.tax for one in balances(whole, asked)):
            asked.append(take(balances(whole, asked)))
        elif stage is not None and left.amount > 0:
            asked.append(take(balances(whole, asked), min(stage.amount, left)))
            assert asked[-1].gross == min(stage.amount, left)
    lowered = any(p.gross.amount < 0 for p in whole)
    for kind in ("net", "gross"):
        assert total((getattr(p, kind) for p in asked), currency) == total((getattr(p, kind) for p in whole), currency)
    for one in asked:
        assert total((line.amount for line in one.lines), currency) == one.net
        assert one.net + total((t.amount for t in one.taxes), currency) == one.gross
        assert lowered or all(line.amount.amount >= 0 for line in one.lines)
        # half a coin an invoice of rounding may gather in the one that takes what is left
        assert all(abs(t.amount.amount - t.on.amount * t.rate) <= 5 * unit for t in one.taxes)


def test_more_than_is_left_is_not_taken() -> None:
    deal, _ = by_hand()
    left = balances([deal.quote.options[0].price])
    for amount in ("0.00", "-1.00", "1354.17"):
        with pytest.raises(ValueError, match="cannot be asked for"):
            take(left, usd(amount))
