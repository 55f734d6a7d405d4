"""ISO 8601 intervals and durations, as far as forecasts use them."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

_DURATION = re.compile(r"P(?:(\d{1,4})D)?(?:T(?:(\d{1,5})H)?(?:(\d{1,6})M)?(?:(\d{1,8})S)?)?")


def duration(text: str) -> timedelta:
    """Return the length of an ISO 8601 duration in days, hours, minutes and seconds.

    Raises ValueError, with the text, for anything else: years and months have no fixed length.

    >>> duration("P1DT6H")
    datetime.timedelta(days=1, seconds=21600)
    """
    found = _DURATION.fullmatch(text)
    if not found or text.endswith(("P", "T")):
        raise ValueError(f"{text[:40]!r} is not a duration in days and hours")
    days, hours, minutes, seconds = (int(part or 0) for part in found.groups())
    return timedelta(days=days, hours=hours, minutes=minutes, seconds=seconds)


def instant(text: str, now: datetime) -> datetime:
    """Return the UTC moment written with its offset, or ``now`` for "NOW".

    Raises ValueError for a time without an offset: it would be a guess.

    >>> instant("2026-05-01T06:00:00-07:00", datetime(2026, 1, 1, tzinfo=UTC))
    datetime.datetime(2026, 5, 1, 13, 0, tzinfo=datetime.timezone.utc)
    """
    when = now if text == "NOW" else datetime.fromisoformat(text)
    if when.tzinfo is None:
        raise ValueError(f"{text[:40]!r} has no offset from UTC")
    try:
        return when.astimezone(UTC)
    except OverflowError:
        raise ValueError(f"{text[:40]!r} is outside the calendar") from None


def interval(text: str, now: datetime) -> tuple[datetime, datetime]:
    """Return start and end of an interval: start/end, start/duration or duration/end.

    Raises ValueError when it is none of them or does not go forward.

    >>> [t.hour for t in interval("2026-05-01T06:00:00+00:00/PT3H", datetime(2026, 1, 1, tzinfo=UTC))]
    [6, 9]
    """
    left, slash, right = text.partition("/")
    if not slash:
        raise ValueError(f"{text[:40]!r} is not an interval")
    try:
        if left.startswith("P"):
            end = instant(right, now)
            start = end - duration(left)
        else:
            start = instant(left, now)
            end = start + duration(right) if right.startswith("P") else instant(right, now)
    except OverflowError:
        raise ValueError(f"{text[:40]!r} is outside the calendar") from None
    if end <= start:
        raise ValueError(f"{text[:60]!r} does not go forward")
    return start, end
