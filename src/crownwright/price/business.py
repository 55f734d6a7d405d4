"""The mason's own firm as it stands on papers, and the terms that he writes once. TOML; all faults at once."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, fields
from typing import Any
from zoneinfo import ZoneInfo

from babel import Locale, UnknownLocaleError
from babel.numbers import is_currency

from crownwright.quantity.problems import Problem


@dataclass(frozen=True, slots=True)
class Business:
    """Name, address (lines), telephone, e-mail, licence as printed; time zone (IANA), currency (ISO 4217), locale; ``terms`` and
    ``exclusions`` that every quote carries, ``unit_prices`` the keys of what could change and is charged by the unit.
    """

    name: str = "Your firm"
    address: tuple[str, ...] = ()
    phone: str = ""
    email: str = ""
    web: str = ""
    licence: str = ""
    zone: str = "America/New_York"
    currency: str = "USD"
    locale: str = "en_US"
    terms: tuple[str, ...] = (
        "The price holds for what is written here. Anything more is agreed in writing, with its price, before it is done.",
        "Work on a roof waits for weather: days given are the plan, and move with the forecast.",
        "Payment is due as set out under Payments.",
    )
    exclusions: tuple[str, ...] = (
        "Faults below the top course that cannot be seen until the old cap is off.",
        "Work on appliances and their connection to the flue.",
        "Permits, where the local authority asks for one.",
    )


def parse_business(text: str) -> tuple[Business | None, tuple[Problem, ...]]:
    """Return the firm of a TOML text, or None and everything that is wrong with it."""
    try:
        told: dict[str, Any] = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        return None, (Problem("business", f"it is not TOML: {error}", "Put the line right"),)
    known = {field.name: field for field in fields(Business)}
    problems: list[Problem] = []
    made: dict[str, Any] = {}
    for key, value in told.items():
        if key not in known:
            problems.append(Problem(f"business, {key}", "it is not known", f"One of: {', '.join(known)}"))
            continue
        many = key in ("address", "terms", "exclusions")
        good = isinstance(value, list) and all(isinstance(v, str) for v in value) if many else isinstance(value, str)
        if not good:
            problems.append(
                Problem(f"business, {key}", f"{value!r} is not text", "Write a list of lines" if many else "Put it in quotes")
            )
            continue
        made[key] = tuple(value) if many else value
    problems += _faults(made)
    return (None, tuple(problems)) if problems else (Business(**made), ())


def _faults(made: dict[str, Any]) -> list[Problem]:
    problems = []
    if "currency" in made and not is_currency(made["currency"]):
        problems.append(Problem("business, currency", f"{made['currency']!r} is no currency", "Write three letters, like USD"))
    if "locale" in made:
        try:
            Locale.parse(made["locale"])
        except (UnknownLocaleError, ValueError, TypeError):
            problems.append(Problem("business, locale", f"{made['locale']!r} is not known", "Write language_COUNTRY, like en_US"))
    if "zone" in made:
        try:
            ZoneInfo(made["zone"])
        except (KeyError, ValueError, OSError):
            problems.append(
                Problem("business, zone", f"{made['zone']!r} is not known", "Write an IANA name, like America/Denver")
            )
    return problems
