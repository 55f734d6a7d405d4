"""The usual visits round a pour day, and the days to look at the cap again over the years."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta

from crownwright.sheets.calendar import Visit

CARE_YEARS = (2, 4, 6)
"""Years after the pour in which the sealant is looked at (common practice, no source)."""
USUAL_STRIP = 7
"""Days from pour to strip where no cure was followed (common practice, no source)."""
WARN = 7
"""Days before a look at the sealant in which the calendar reminds of it (judgement)."""


def visits_of(
    job: str,
    title: str,
    place: str,
    pour: datetime,
    *,
    bed: datetime | None = None,
    strip_after_days: int = USUAL_STRIP,
    care_years: Iterable[int] = CARE_YEARS,
) -> tuple[Visit, ...]:
    """Return the usual visits round a pour day: bed and form, pour, mist, strip and seal, hand over, care checks over the years.

    ``bed`` None: the day before at eight. Days between are common practice, no source; the cure's own times replace them.
    """
    bed = bed or (pour - timedelta(days=1)).replace(hour=8, minute=0)
    strip = (pour + timedelta(days=strip_after_days)).replace(hour=9, minute=0)
    hours = timedelta(hours=1)
    wet = pour.date() + timedelta(days=1)
    made = [
        Visit(job, "bed", f"Bed and form: {title}", bed, bed + 6 * hours, place, "Plug and tag the flues first."),
        Visit(job, "pour", f"Pour: {title}", pour, pour + 5 * hours, place, "Look at the forecast the evening before."),
        Visit(job, "mist", f"Keep it wet: {title}", wet, None, place, "Mist and cover, by the cure plan."),
        Visit(job, "strip", f"Strip and seal: {title}", strip, strip + 4 * hours, place, "Uncover the flues before you leave."),
        Visit(job, "handover", f"Hand over: {title}", strip.date(), None, place, "Care plan, record, photos."),
    ]
    made += care_visits(job, title, place, strip.date(), care_years)
    return tuple(made)


def care_visits(job: str, title: str, place: str, stripped: date, care_years: Iterable[int] = CARE_YEARS) -> tuple[Visit, ...]:
    """Return the days to look at the sealant, so many years after the form came off, each with a word a week before.

    They are entries of their own, not one that repeats: each can be moved or struck out by itself, and they end.
    """
    return tuple(
        Visit(
            job, f"care {years}", f"Look at the sealant: {title}", _years_on(stripped, years), None, place,
            f"{years} years after the pour.", warn=WARN,
        )
        for years in care_years
    )  # fmt: skip


def _years_on(day: date, years: int) -> date:
    try:
        return day.replace(year=day.year + years)
    except ValueError:  # 29 February
        return day.replace(year=day.year + years, day=28)
