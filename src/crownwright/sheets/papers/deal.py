"""The quote as a paper: the amount first, then what for."""

from __future__ import annotations

import base64
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from babel.dates import format_date

from crownwright.price.business import Business
from crownwright.price.deal import Option, Party, Quote, Reason
from crownwright.price.dealing import price_shown
from crownwright.price.pricing import Price
from crownwright.sheets.draw.shapes import Drawing
from crownwright.sheets.papers.press import Paper
from crownwright.sheets.papers.say import picture

QUOTE_FOOT = "Worked from readings taken on the chimney; local code and a licensed practitioner decide."
PER = {"each": "for each", "h": "an hour", "day": "a day", "ft": "a foot", "m": "a metre", "lb": "a pound"}
"""What a unit of sale is called after a price."""
OF = {
    "people": "people on the roof", "code": "what the code asks", "cap": "the cap", "form": "the form", "repair": "the repair",
    "strip": "taking the form apart", "survey": "the readings", "problem": "the readings", "days": "the days",
}  # fmt: skip
"""What the first part of a finding's key is about, to a customer."""


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo for a paper: JPEG or PNG bytes, its size in pixels, what it shows."""

    data: bytes
    wide: int
    high: int
    says: str


def photo_picture(photo: Photo) -> dict[str, Any]:
    """Return a photo for a template: wrapped in SVG, so that it is passed on as text; its words are read out in its place."""
    kind = "png" if photo.data.startswith(b"\x89PNG") else "jpeg"
    size = f'width="{photo.wide}" height="{photo.high}"'
    href = f"data:image/{kind};base64,{base64.b64encode(photo.data).decode()}"
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" {size}><image {size} href="{href}"/></svg>'
    return {"svg": svg, "wide": 58.0, "title": "Photo", "says": photo.says}


def day(on: date | None, locale: str) -> str:
    """Return a date as people of a locale write it at length; nothing for none."""
    return format_date(on, format="long", locale=locale) if on is not None else ""


def quote_paper(quote: Quote, pictures: Sequence[Drawing] = (), photos: Sequence[Photo] = ()) -> Paper:
    """Return a quote as it is sent. A draft says so at its head."""
    locale = quote.business.locale
    content = letterhead(quote.business, quote.customer, quote.title, quote.place, f"Price of the work at {quote.title}.")
    content |= {
        "number": quote.number or "draft, not issued",
        "on": day(quote.issued, locale),
        "until": day(quote.valid_until, locale),
        "options": _options(quote, locale),
        "years": any(one.years for one in quote.options),
        "shared": _in_all([one.scope for one in quote.options]) if len(quote.options) > 1 else [],
        "not-in": _not_in(quote.options),
        "payments": payments_shown(quote.options[0].price, locale) if len(quote.options) == 1 else [],
        "why": [reason.says for reason in quote.why],
        "units": [[_capital(u.what), f"{u.price.shown(locale)} {PER.get(u.unit, f'per {u.unit}')}"]
                  for u in quote.unit_prices],
        "terms": list(quote.business.terms),
        "recorded": [_recorded(r) for r in quote.recorded if r.key != "price.examples"],
        "pictures": [picture(of, scaled=False) for of in pictures],
        "photos": [photo_picture(photo) for photo in photos],
        "foot": f"{quote.business.name}. {QUOTE_FOOT}",
    }  # fmt: skip
    return Paper(f"quote-{quote.number or 'draft'}", "Quote", "quote", content)


def letterhead(business: Business, customer: Party, title: str, place: str, says: str) -> dict[str, Any]:
    """Return what stands at the head of every paper to a customer."""
    contact = [x for x in (business.phone, business.email, business.web, business.licence) if x]
    return {
        "says": says,
        "job": {"title": title, "place": place, "customer": customer.name, "mason": business.name, "dated": ""},
        "from": {"name": business.name, "lines": [*business.address, *contact]},
        "to": {"name": customer.name or " ", "lines": [*customer.address, *(x for x in (customer.phone, customer.email) if x)]},
    }


def _options(quote: Quote, locale: str) -> list[dict[str, Any]]:
    """Options as values; what all of them do is told once, below them."""
    shared = _in_all([one.scope for one in quote.options])
    rows = [_option(one, locale) for one in quote.options]
    return [row | {"own": [line for line in row["scope"] if line not in shared]} for row in rows]


def _in_all(lists: Sequence[Sequence[str]]) -> list[str]:
    """Lines that stand in every list, in the order of the first."""
    return [line for line in lists[0] if all(line in others for others in lists[1:])] if lists else []


def _not_in(options: Sequence[Option]) -> list[str]:
    """What is left out: of every option plainly, of some with their names."""
    shared = _in_all([one.exclusions for one in options])
    own = dict.fromkeys(line for one in options for line in one.exclusions if line not in shared)
    names = {line: ", ".join(one.name for one in options if line in one.exclusions) for line in own}
    return [*shared, *(f"{names[line]}: {line[:1].lower()}{line[1:]}" for line in own)]


def _recorded(reason: Reason) -> str:
    """A reason for going on in spite of a finding: what about, why, who says so."""
    first, *rest = reason.key.removesuffix(".*").split(".")
    about = ", ".join((OF.get(first, first), *(part.replace("_", " ") for part in rest)))
    return f"{_capital(about)}: {reason.says.rstrip('.')} ({reason.by})."


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _option(one: Option, locale: str) -> dict[str, Any]:
    price = one.price
    band = f"{one.low.shown(locale)} to {one.high.shown(locale)}" if one.low is not None and one.high is not None else ""
    return {
        "name": one.name, "scope": list(one.scope), "exclusions": list(one.exclusions),
        "rows": [*(list(row) for row in price_shown(price, locale)), ["Altogether, tax included", price.gross.shown(locale)]],
        "gross": price.gross.shown(locale), "firm": one.firm,
        "rough": _rough(one, locale), "band": band, "payments": payments_shown(price, locale), "years": list(one.years),
    }  # fmt: skip


def payments_shown(price: Price, locale: str) -> list[list[str]]:
    """Return the payments as rows of words and amounts."""
    return [[stage.due[:1].upper() + stage.due[1:], stage.amount.shown(locale)] for stage in price.stages]


def _rough(one: Option, locale: str) -> str:
    """Why it is an allowance, and how it becomes a price."""
    if one.firm:
        return ""
    why = f"{one.rough[:1].upper()}{one.rough[1:]}."
    if not one.provisional or one.high is None:
        return f"An allowance, not yet a price. {why} When that is mended it becomes firm."
    return (
        f"An allowance: it comes to {one.price.net.shown(locale)} before tax as things stand. {why} What that changes is settled "
        f"in writing at the prices below, and is no more than {one.high.shown(locale)} before tax unless you agree to more."
    )
