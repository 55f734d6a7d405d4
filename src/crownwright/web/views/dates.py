"""Days and hours as people write them where they are: the order of day and month by the browser's locale, the words in English,
the clock by twenty-four hours as on the papers.
"""

from __future__ import annotations

import re
from datetime import date, datetime
from functools import lru_cache

from babel import Locale, UnknownLocaleError
from babel.dates import format_date

USUAL = "en_GB"
"""Where a browser does not say: day before month, month in letters, so that nobody reads it wrong."""
_WRITTEN = re.compile(r"\d{4}-\d\d-\d\d(?:[T ]\d\d:\d\d(?::\d\d(?:\.\d+)?)?(?:Z|[+-]\d\d:?\d\d)?)?(?![\w-])")


@lru_cache(maxsize=64)
def locale_of(accepted: str) -> str:
    """The English of the place that a browser's Accept-Language names first.

    >>> locale_of("en-US,en;q=0.9"), locale_of("en"), locale_of("en-IE"), locale_of("de-AT,de;q=0.8"), locale_of("")
    ('en_US', 'en_US', 'en_IE', 'en_AT', 'en_GB')
    """
    first = re.split("[,;]", accepted, maxsplit=1)[0].strip().replace("-", "_")
    if not first or first == "*":
        return USUAL
    try:
        told = Locale.parse(first)
        place = told.territory or ("US" if told.language == "en" else None)
        return str(Locale("en", place)) if place else USUAL
    except (UnknownLocaleError, ValueError):
        return USUAL


def day(at: str | None, locale: str = USUAL) -> str:
    """A day as it is written on a sheet.

    >>> day("2026-05-03"), day("2026-05-03", "en_US"), day(None)
    ('3 May 2026', 'May 3, 2026', '')
    """
    then = _read(at)
    return (at or "") if then is None else _in_full(then.date(), locale)


def moment(at: str | None, locale: str = USUAL) -> str:
    """A day and time of this machine.

    >>> moment("2026-05-03T08:30"), moment("2026-05-03T08:30", "en_US")
    ('3 May 2026, 08:30', 'May 3, 2026, 08:30')
    """
    then = _read(at)
    return day(at, locale) if then is None or len(at or "") < 12 else f"{day(at, locale)}, {then:%H:%M}"


def clock(at: datetime | None, locale: str = USUAL) -> str:
    """A local time as it is said.

    >>> clock(datetime(2026, 5, 13, 16, 9)), clock(datetime(2026, 5, 13, 16, 9), "en_US")
    ('Wed 13 May, 16:09', 'Wed May 13, 16:09')
    """
    return "not within the time followed" if at is None else f"{weekday(at, locale)}, {at:%H:%M}"


def weekday(at: date, locale: str = USUAL) -> str:
    """A day of this season with its name: Wed 13 May."""
    return f"{at:%a %b} {at.day}" if _month_first(locale) else f"{at:%a} {at.day} {at:%b}"


def short(at: date, locale: str = USUAL) -> str:
    """A day in figures, for the head of a narrow column.

    >>> short(date(2026, 5, 13)), short(date(2026, 5, 13), "en_US")
    ('13/5', '5/13')
    """
    return f"{at.month}/{at.day}" if _month_first(locale) else f"{at.day}/{at.month}"


def dates_in(text: str, locale: str = USUAL) -> str:
    """A text of the book with the days and times that stand in it as people write them.

    >>> dates_in("next visit: 2026-05-13T08:30, was 2026-05-12", "en_US")
    'next visit: May 13, 2026, 08:30, was May 12, 2026'
    >>> dates_in("quote 2026-0001 accepted")
    'quote 2026-0001 accepted'
    """
    return _WRITTEN.sub(lambda found: moment(found[0], locale), text)


@lru_cache(maxsize=4096)
def _in_full(at: date, locale: str) -> str:
    """A list has the same few days over and over, and the locale's pattern takes its time."""
    return format_date(at, "long", locale)


@lru_cache(maxsize=64)
def _month_first(locale: str) -> bool:
    pattern: str = Locale.parse(locale).date_formats["medium"].pattern
    return pattern.index("M") < pattern.index("d")


def _read(at: str | None) -> datetime | None:
    try:
        then = datetime.fromisoformat(at or "")
    except ValueError:
        return None
    return then.astimezone() if then.tzinfo else then
