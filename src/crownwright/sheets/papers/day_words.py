"""Times and amounts of a pour day as its cards tell them."""

from __future__ import annotations

from datetime import datetime

from crownwright.cure.model import Moment
from crownwright.cure.on_the_day import Moved
from crownwright.plan.days import DaysPlan
from crownwright.plan.job import Units
from crownwright.quantity.units import QUART


def water(volume: float, units: Units) -> str:
    """Return water (m3) as it is measured out: quarts, or litres.

    >>> water(3 * QUART, "us"), water(0.0028, "metric")
    ('3.0 qt', '2.8 L')
    """
    return f"{volume / QUART:.1f} qt" if units == "us" else f"{volume * 1000:.1f} L"


def clock(seconds: float) -> str:
    """Return seconds after midnight as a clock shows them.

    >>> clock(9.25 * 3600)
    '09:15'
    """
    minutes = round(seconds / 60)
    return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}"


def when(at: datetime | None) -> str:
    """Return a time as a card tells it: day and clock."""
    return "not in sight" if at is None else f"{at:%a} {at.day} {at:%b}, {at:%H:%M}"


def later(moved: Moved) -> str:
    """Return how far a moment was moved, in words; nothing where that is not known."""
    if moved.by is None:
        return ""
    minutes = round(moved.by.total_seconds() / 60)
    hours = f"{abs(minutes) // 60} h {abs(minutes) % 60:02d} min"
    return "as planned" if not minutes else f"{hours} {'later' if minutes > 0 else 'earlier'}"


def band(moment: Moment) -> str:
    """Return from when to when a moment may fall; nothing where it is sure."""
    if moment.early is None or moment.early == moment.late:
        return ""
    if moment.late is None:
        return f"{moment.early:%a %H:%M} at the earliest"
    same = moment.late.date() == moment.early.date()
    return f"{moment.early:%H:%M} to {moment.late:%H:%M}" if same else f"{moment.early:%a %H:%M} to {moment.late:%a %H:%M}"


def label(moment: Moment | Moved) -> str:
    """Return what a moment is called: on a card that hangs by the form nothing may read as leave to strip it early."""
    return "strength for stripping is there; the form stays on" if moment.key == "ready" else moment.label


def day_of(days: DaysPlan) -> str:
    """Return the day of the pour, as the head of a card."""
    pour = days.cure.pour
    return "" if pour is None else f"{pour.at:%A} {pour.at.day} {pour.at:%B}"
