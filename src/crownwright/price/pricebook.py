"""The price book: one table of dated rows. A row holds from its date until a later one of the same key, so that an old quote
recomputes to the cent. Taxes and the firm's rules (overhead, margin, deposit ...) are rows too, dated like the rest.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal, get_args

from crownwright.quantity.money import Money
from crownwright.quantity.problems import Problem

Kind = Literal["material", "tool", "labour", "hire", "disposal", "travel", "tax", "rule"]
KINDS: tuple[Kind, ...] = get_args(Kind)
Standing = Literal["own", "example"]
RULES = {
    "overhead": "%", "margin": "%", "mark-up": "%", "minimum charge": "each", "deposit": "%", "deposit at most": "each",
    "stage 1": "%", "stage 2": "%", "stage 3": "%", "round to": "each", "valid for": "day", "chance of loss": "%",
    "height, each ft of eave over 10": "%", "drive": "h", "distance": "mile", "spread of the job": "%",
}  # fmt: skip
"""Every rule there is, and its unit. "margin" is a share of the price, "mark-up" a share of the cost: a book has one of them. A
stage is a share of the price, tax included, and its row's ``what`` says when it is due.
"""
ACCEPTED, FINISHED = "when the quote is accepted", "when finished"
"""When the deposit and the rest are due."""
STAGES = ("stage 1", "stage 2", "stage 3")


@dataclass(frozen=True, slots=True)
class Row:
    """One dated row: ``price`` (in the book's currency; per cent, hours or days for a tax or a rule) of a ``pack`` of so many
    ``unit``. ``tax`` names the tax it falls under ("": none); ``standing`` "example" until the mason has put his own price.
    """

    key: str
    what: str
    kind: Kind
    unit: str
    pack: Decimal
    price: Decimal
    tax: str
    since: date
    standing: Standing = "own"
    note: str = ""


@dataclass(frozen=True, slots=True)
class PriceBook:
    """All rows, any order, and the currency and locale they are written in."""

    rows: tuple[Row, ...]
    currency: str = "USD"
    locale: str = "en_US"

    def on(self, day: date) -> Prices:
        """Return the prices that hold on a day."""
        latest: dict[str, Row] = {}
        for row in sorted(self.rows, key=lambda row: row.since):
            if row.since <= day:
                latest[row.key] = row
        return Prices(day, latest, self.currency, self.locale)


@dataclass(frozen=True, slots=True)
class Prices:
    """The rows that hold on one day."""

    day: date
    rows: dict[str, Row]
    currency: str
    locale: str

    def money(self, row: Row) -> Money:
        """Return a row's price of one pack."""
        return Money(row.price, self.currency)

    def rule(self, name: str, default: Decimal = Decimal(0)) -> Decimal:
        """Return a rule as a number (per cent as a share); KeyError for a rule that does not exist."""
        if name not in RULES:
            raise KeyError(f"no rule {name!r}; there are: {', '.join(RULES)}")
        row = self.rows.get(f"rule {name}")
        return default if row is None else row.price / 100 if row.unit == "%" else row.price

    def tax(self, name: str) -> Decimal:
        """Return a tax as a share; nothing for no tax."""
        row = self.rows.get(f"tax {name}") if name else None
        return Decimal(0) if row is None else row.price / 100

    @property
    def stages(self) -> tuple[Row, ...]:
        """Rows of the payments between deposit and rest, in order."""
        rows = (self.rows.get(f"rule {name}") for name in STAGES)
        return tuple(row for row in rows if row is not None and row.price > 0)

    def missing(self, keys: Iterable[str]) -> tuple[Problem, ...]:
        """Return a problem for each key without a price on this day."""
        return tuple(
            Problem(f"price book, {key}", f"there is no price on {self.day.isoformat()}", f"Add a row with the key {key!r}")
            for key in dict.fromkeys(keys)
            if key not in self.rows
        )

    @property
    def examples(self) -> tuple[str, ...]:
        """Keys that still stand at the example price that came with the program."""
        return tuple(key for key, row in self.rows.items() if row.standing == "example")
