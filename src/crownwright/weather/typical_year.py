"""What files of a typical year have in common: months from different years, local standard time, hours named by their end."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import numpy as np

from crownwright.weather.hours import Floats, Stamps

HOURS = 8760
YEAR = 2025
"""The year a typical year is laid on when nobody says another: one without a 29 February, as the files have none."""


def year_stamps(year: int, offset_hours: float) -> Stamps:
    """Return the UTC starts of the 8760 hours of a year in local standard time.

    Raises ValueError for a leap year: the files have no 29 February.
    """
    if (year % 4 == 0 and year % 100 != 0) or year % 400 == 0:
        raise ValueError(f"{year} is a leap year; a typical year has no 29 February")
    first = datetime(year, 1, 1, tzinfo=UTC) - timedelta(hours=offset_hours)
    start = np.datetime64(int(first.timestamp()), "s")
    return start + np.arange(HOURS) * np.timedelta64(1, "h")


def offset_name(offset_hours: float) -> str:
    """Spell a fixed zone.

    >>> offset_name(-5.0), offset_name(5.5)
    ('UTC-05:00', 'UTC+05:30')
    """
    minutes = round(offset_hours * 60)
    return f"UTC{'-' if minutes < 0 else '+'}{abs(minutes) // 60:02d}:{abs(minutes) % 60:02d}"


def calendar_fault(month: Floats, day: Floats, hour: Floats) -> str:
    """Return what is wrong with the rows' calendar (hours 1 to 24, from 1 January to 31 December), or "" when nothing is."""
    if len(month) != HOURS:
        return f"{len(month)} hours instead of {HOURS}: cut off, or not a whole year"
    dates = np.datetime64("2025-01-01") + np.repeat(np.arange(365), 24)
    right_month = dates.astype("datetime64[M]").astype(np.int64) % 12 + 1
    right_day = (dates - dates.astype("datetime64[M]")).astype(np.int64) + 1
    right_hour = np.tile(np.arange(1, 25), 365)
    wrong = np.flatnonzero((month != right_month) | (day != right_day) | (hour != right_hour))
    if not wrong.size:
        return ""
    i = wrong[0]
    found = f"month {month[i]:g} day {day[i]:g} hour {hour[i]:g}"
    return f"data row {i + 1} is {found} where {right_month[i]}/{right_day[i]} hour {right_hour[i]} should be"
