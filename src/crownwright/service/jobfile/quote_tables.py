"""The job file's table on the quote: options side by side, the old cap, where the customer is reached, what the job took."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import Annotated, Any, Literal

from pydantic import Field, PlainValidator, WithJsonSchema

from crownwright.price.choices import Done, More, OldCap, QuoteChoices, QuoteOption
from crownwright.service.jobfile.entry import (
    LENGTH_SCHEMA,
    LongText,
    Name,
    Share,
    Size,
    Table,
    Text,
    as_text,
    complaint,
    described,
)


def key(description: str, **limits: Any) -> Any:
    """A key that may be left out: what it fills then keeps the default of the Python model."""
    return Field(default=None, description=description, **limits)


def needed(description: str, **limits: Any) -> Any:
    """A key that has to be there."""
    return Field(description=description, **limits)


def _amount(value: Any) -> str:
    text = as_text(value) or ""
    try:
        good = 0 <= Decimal(text) < 100_000 and len(text) <= 12
    except InvalidOperation:
        good = False
    if not good:
        raise complaint(f"{described(value)} is not an amount", 'Write how many of the price book\'s unit, like "2.5"')
    return text


def _material(value: Any) -> str:
    from crownwright.codes.unit_weights import materials

    if not isinstance(value, str) or value not in materials():
        raise complaint(f"no material is called {described(value)}", f"There are: {', '.join(materials())}")
    return value


Amount = Annotated[str, PlainValidator(_amount), WithJsonSchema(LENGTH_SCHEMA)]


Weighed = Annotated[str, PlainValidator(_material), WithJsonSchema({"type": "string"})]


class MoreLine(Table):
    """Work or goods told by hand, by the price book's key and in its unit."""

    key: Name = Field(description="key of the price book: labour mason, mortar 80 lb")
    amount: Amount = needed('how much of it, in the book\'s unit: "2.5"')


class OptionLine(Table):
    """One way of doing the job, as it stands beside the others in the quote."""

    name: Name = needed("what you call it: Patch the cap")
    way: Literal["patch", "recast", "recast and rebuild"] = needed(
        "patch: what the record calls for on the cap and in the joints, or, where you name more, only what more and repair "
        "name; recast: the cap as planned, the old one off; recast and rebuild: the rebuilt course besides"
    )
    scope: list[Text] = key("what is done, in your words, beside what the way brings along")
    without: list[Text] = key("what is not in it, beside what every quote of yours leaves out")
    why: LongText = key("a word to the customer on this way")
    repair: list[Name] = key(
        "parts of the repair that go with it: repoint, rebuild, replace, flue, flashing, repellent; left out, as the way says"
    )
    more: list[MoreLine] = key("work and goods beside: key and amount")


class OldCapTable(Table):
    """The old cap that comes off before a recast."""

    thickness: Size = needed("how thick it is over the whole top, as far as you can see")
    length: Size = key("its length; left out, it lies flush with the stone")
    width: Size = key("its width; left out, it lies flush with the stone")
    material: Weighed = key("what it is of, by a row of the table of weights: concrete plain, mortar")
    share: Share = key("how much of it comes off")
    lower: bool = key("false when it is left on the site")


class DoneTable(Table):
    """What the job took in the end; by that the next forecasts learn."""

    bags: float = key("bags of concrete used", gt=0, le=1000)
    hours: float = key("people-hours, all told", gt=0, le=5000)


class QuoteTable(Table):
    """The quote: its options, the old cap, where the customer is reached; and what the job took in the end."""

    options: list[OptionLine] = key("ways of doing it, side by side; left out, one, by what the plan holds", max_length=4)
    old_cap: OldCapTable = key("the old cap that comes off before a recast")
    address: list[Text] = key("the customer's address, line by line", max_length=6)
    phone: Text = key("the customer's telephone, for the call list")
    email: Text = key("the customer's e-mail")
    done: DoneTable = key("what the job took in the end")


def quote_of(table: QuoteTable) -> QuoteChoices:
    """Return what a table tells."""
    typed = table.typed()
    if table.options is not None:
        typed["options"] = tuple(_option(line) for line in table.options)
    typed |= {key: make(**typed[key].typed()) for key, make in (("old_cap", OldCap), ("done", Done)) if key in typed}
    if "address" in typed:
        typed["address"] = tuple(typed["address"])
    return QuoteChoices(**typed)


def _option(line: OptionLine) -> QuoteOption:
    typed = line.typed()
    typed |= {key: tuple(typed[key]) for key in ("scope", "without", "repair") if key in typed}
    if line.more is not None:
        typed["more"] = tuple(More(**one.typed()) for one in line.more)
    return QuoteOption(**typed)
