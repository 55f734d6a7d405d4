"""A time zone as iCalendar tells it (RFC 5545, 3.6.5): every change of the clock in a span of years."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo


def vtimezone(zone: str, first: datetime, last: datetime) -> list[str]:
    """Return the time zone from a year before the first time to one after the last: one part for each change of the clock.

    RDATE says the start once more, as it may: a common reader takes no notice of a part that has neither RRULE nor RDATE.
    """
    tz = ZoneInfo(zone)
    lines = ["BEGIN:VTIMEZONE", f"TZID:{zone}"]
    for at, before in _changes(tz, first, last):
        after = at.astimezone(tz)
        offset = after.utcoffset() or timedelta(0)
        kind = "DAYLIGHT" if after.dst() else "STANDARD"
        local = (at + before).replace(tzinfo=None)  # the clock as it stood before the change
        lines += [
            f"BEGIN:{kind}", f"DTSTART:{local:%Y%m%dT%H%M%S}", f"RDATE:{local:%Y%m%dT%H%M%S}",
            f"TZOFFSETFROM:{_offset(before)}", f"TZOFFSETTO:{_offset(offset)}",
            f"TZNAME:{after.tzname()}", f"END:{kind}",
        ]  # fmt: skip
    return [*lines, "END:VTIMEZONE"]


def _changes(tz: ZoneInfo, first: datetime, last: datetime) -> Iterator[tuple[datetime, timedelta]]:
    """Each change of the clock, in UTC, with the offset before it; the first is where the span begins."""
    at = datetime(first.year - 1, 1, 1, tzinfo=UTC)
    end = datetime(last.year + 2, 1, 1, tzinfo=UTC)  # a reader may keep the zone for the next file too
    offset = at.astimezone(tz).utcoffset() or timedelta(0)
    yield at, offset
    while at < end:
        following = at + timedelta(days=1)
        after = following.astimezone(tz).utcoffset() or timedelta(0)
        if after != offset:
            yield _found(tz, at, following, offset), offset
            offset = after
        at = following


def _found(tz: ZoneInfo, low: datetime, high: datetime, offset: timedelta) -> datetime:
    """The second of a change of the clock between two times, by halving."""
    while high - low > timedelta(seconds=1):
        middle = low + timedelta(seconds=(high - low) // timedelta(seconds=2))
        low, high = (middle, high) if middle.astimezone(tz).utcoffset() == offset else (low, middle)
    return high


def _offset(of: timedelta) -> str:
    seconds = int(of.total_seconds())
    sign, seconds = "-" if seconds < 0 else "+", abs(seconds)
    return f"{sign}{seconds // 3600:02d}{seconds % 3600 // 60:02d}"
