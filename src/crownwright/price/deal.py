"""What passes between mason and customer: quote, change order, invoice, receipt. Frozen as sent; each knows its number."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from crownwright.price.business import Business
from crownwright.price.documents import LATER
from crownwright.price.pricing import Price
from crownwright.quantity.money import Money


@dataclass(frozen=True, slots=True)
class Party:
    """A customer as on papers."""

    name: str
    address: tuple[str, ...] = ()
    email: str = ""
    phone: str = ""


@dataclass(frozen=True, slots=True)
class Reason:
    """Why one thing is done, in plain words, or why the mason went on in spite of a finding (then ``key`` names it)."""

    key: str
    says: str
    by: str = ""


@dataclass(frozen=True, slots=True)
class UnitPrice:
    """What could change, and what each unit of it then costs, before tax; ``tax`` names the one it falls under where it is no row
    of the price book.
    """

    what: str
    unit: str
    price: Money
    tax: str = field(default="", metadata=LATER)


@dataclass(frozen=True, slots=True)
class Option:
    """One way of doing the job: what is done, its price; while ``firm`` is false the price is an allowance from ``low`` to
    ``high`` (before tax), and ``rough`` says what is lacking. ``provisional``: it may be signed all the same, and is settled by a
    change order when that is known, within the band unless more is agreed. ``years`` tells in plain words how long it lasts.
    """

    name: str
    scope: tuple[str, ...]
    exclusions: tuple[str, ...]
    price: Price
    firm: bool = True
    rough: str = ""
    low: Money | None = None
    high: Money | None = None
    provisional: bool = field(default=False, metadata=LATER)
    years: tuple[str, ...] = field(default=(), metadata=LATER)


@dataclass(frozen=True, slots=True)
class Quote:
    """A quote. ``number`` is empty until it is issued; then nothing in it changes any more. ``recorded`` are the reasons for
    going on in spite of findings that stop a job; they stay on the paper.
    """

    number: str
    issued: date | None
    valid_until: date | None
    business: Business
    customer: Party
    title: str
    place: str
    options: tuple[Option, ...]
    why: tuple[Reason, ...]
    unit_prices: tuple[UnitPrice, ...]
    recorded: tuple[Reason, ...]
    priced_on: date
    plan_version: str

    def option(self, name: str) -> Option:
        """Return an option by name; KeyError lists those there are."""
        for one in self.options:
            if one.name == name:
                return one
        raise KeyError(f"no option {name!r} in this quote; there are: {', '.join(o.name for o in self.options)}")


@dataclass(frozen=True, slots=True)
class Accepted:
    """A quote taken: which option, by whom (the signature as written), on what day, and the seal of the quote as it was."""

    quote: Quote
    option: str
    signed_by: str
    on: date
    seal: str


@dataclass(frozen=True, slots=True)
class ChangeOrder:
    """A change agreed after the quote, numbered under it: ``price`` more (or less), why, signed."""

    number: str
    quote: str
    on: date
    why: str
    price: Price
    signed_by: str = ""


@dataclass(frozen=True, slots=True)
class Receipt:
    """Money that came in for an invoice or a deposit: ``how`` it was paid, in words."""

    number: str
    against: str
    on: date
    amount: Money
    how: str = ""


@dataclass(frozen=True, slots=True)
class Asked:
    """What an earlier invoice of the deal asked for (a credit note: less than nothing), tax included."""

    number: str
    on: date
    stage: str
    amount: Money


@dataclass(frozen=True, slots=True)
class Invoice:
    """An invoice of a deal: the accepted option's price and the changes agreed, together ``gross``; of it what this one ``asks``
    for, tax apart (None: all of it, as invoices did before they went by stages), and for which ``stage`` ("": all that was
    left); what earlier ones asked ``before``; what was ``paid``; what is ``due``: all that was asked so far, less what was paid.

    One that asks for less than nothing is a credit note: a change has lowered what was invoiced.
    """

    number: str
    quote: str
    on: date
    business: Business
    customer: Party
    title: str
    place: str
    price: Price
    changes: tuple[ChangeOrder, ...]
    receipts: tuple[Receipt, ...]
    gross: Money
    paid: Money
    due: Money
    due_by: date | None = None
    asks: Price | None = field(default=None, metadata=LATER)
    stage: str = field(default="", metadata=LATER)
    before: tuple[Asked, ...] = field(default=(), metadata=LATER)

    @property
    def credits(self) -> bool:
        """Whether it is a credit note."""
        return self.asks is not None and self.asks.gross.amount < 0
