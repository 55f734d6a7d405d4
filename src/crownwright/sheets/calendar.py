"""Visits as iCalendar (RFC 5545): a visit keeps its id, so that a moved day moves the entry; time zones travel with the file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from uuid import NAMESPACE_URL, uuid5
from zoneinfo import ZoneInfo

PRODUCT = "-//Crownwright//visits//EN"
SPACE = uuid5(NAMESPACE_URL, "tag:crownwright,2026:visits")


@dataclass(frozen=True, slots=True)
class Visit:
    """A visit, or a day to remember: ``job`` and ``key`` ("pour", "strip", "care 2") make its id. ``start`` and ``end`` are local
    times in the zone; a ``date`` for a whole day (``end`` None). ``revision`` grows by one each time it moves; ``cancelled``
    takes it out of the reader's calendar.
    """

    job: str
    key: str
    what: str
    start: datetime | date
    end: datetime | None = None
    place: str = ""
    says: str = ""
    revision: int = 0
    cancelled: bool = False

    @property
    def uid(self) -> str:
        """The id that stays when the visit moves."""
        return f"{uuid5(SPACE, f'{self.job}/{self.key}')}@crownwright"


def icalendar(visits: Sequence[Visit], zone: str, made_at: datetime, name: str = "Crownwright") -> str:
    """Return the visits as an iCalendar text. ``zone``: IANA name, for visits with a time; ``made_at``: an aware time.

    ValueError for a visit that ends before it starts, two with one id, or a time with a zone of its own (they are local).
    """
    _possible(visits)
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{PRODUCT}", "CALSCALE:GREGORIAN", "METHOD:PUBLISH",
             f"X-WR-CALNAME:{escaped(name)}"]  # fmt: skip
    timed = [at for v in visits for at in (v.start, v.end) if isinstance(at, datetime)]
    if timed:
        lines += _zone(zone, min(timed), max(timed))
    for visit in visits:
        lines += _event(visit, zone, made_at)
    lines.append("END:VCALENDAR")
    return "".join(f"{part}\r\n" for line in lines for part in folded(line))


def moved(visit: Visit, start: datetime | date, end: datetime | None = None) -> Visit:
    """Return the visit at another time: same id, next revision; the same visit where nothing moves."""
    from dataclasses import replace

    if (start, end) == (visit.start, visit.end):
        return visit
    return replace(visit, start=start, end=end, revision=visit.revision + 1)


def _possible(visits: Sequence[Visit]) -> None:
    seen: set[str] = set()
    for visit in visits:
        if visit.uid in seen:
            raise ValueError(f"{visit.key!r} of job {visit.job!r} stands in the calendar twice")
        seen.add(visit.uid)
        for at in (visit.start, visit.end):
            if isinstance(at, datetime) and at.tzinfo is not None:
                raise ValueError(f"{visit.what}: times are local to the calendar's zone, {at.isoformat()} has its own")
        if visit.end is not None and not (isinstance(visit.start, datetime) and visit.start < visit.end):
            raise ValueError(f"{visit.what}: it ends before it starts, or lasts a whole day and has an end")


def _event(visit: Visit, zone: str, made_at: datetime) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{visit.uid}"
    yield f"DTSTAMP:{made_at.astimezone(UTC):%Y%m%dT%H%M%SZ}"
    yield f"SEQUENCE:{visit.revision}"
    if isinstance(visit.start, datetime):
        yield f"DTSTART;TZID={zone}:{visit.start:%Y%m%dT%H%M%S}"
        end = visit.end or visit.start + timedelta(hours=1)
        yield f"DTEND;TZID={zone}:{end:%Y%m%dT%H%M%S}"
    else:
        yield f"DTSTART;VALUE=DATE:{visit.start:%Y%m%d}"
        yield f"DTEND;VALUE=DATE:{visit.start + timedelta(days=1):%Y%m%d}"
        yield "TRANSP:TRANSPARENT"
    yield f"SUMMARY:{escaped(visit.what)}"
    if visit.place:
        yield f"LOCATION:{escaped(visit.place)}"
    if visit.says:
        yield f"DESCRIPTION:{escaped(visit.says)}"
    yield f"STATUS:{'CANCELLED' if visit.cancelled else 'CONFIRMED'}"
    yield "END:VEVENT"


def escaped(text: str) -> str:
    """Return text as a value: backslash, comma, semicolon and line ends escaped (RFC 5545, 3.3.11).

    >>> escaped("Tallow, R.; top" + chr(10) + "ring first")
    'Tallow\\\\, R.\\\\; top\\\\nring first'
    """
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    text = "".join(c for c in text if c == "\n" or c >= " ")
    return text.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,").replace("\n", "\\n")


def folded(line: str) -> list[str]:
    """Return a line in parts of no more than 75 octets, all but the first led by a blank (RFC 5545, 3.1); no letter is cut.

    >>> [len(part.encode()) for part in folded("x" * 100)]
    [75, 26]
    """
    parts, part = [], ""
    for letter in line:
        if len((part + letter).encode()) > 75:
            parts.append(part)
            part = " "
        part += letter
    return [*parts, part]


def _zone(zone: str, first: datetime, last: datetime) -> list[str]:
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


def visits_of(job: str, title: str, place: str, pour: datetime, *, bed: datetime | None = None, strip_after_days: int = 7,
              care_years: Iterable[int] = (2, 4, 6)) -> tuple[Visit, ...]:  # fmt: skip
    """Return the usual visits round a pour day: bed and form, pour, mist, strip and seal, hand over, care checks over the years.

    ``bed`` None: the day before at eight. Days between are common practice, no source; the cure's own times replace them.
    """
    bed = bed or (pour - timedelta(days=1)).replace(hour=8, minute=0)
    strip = (pour + timedelta(days=strip_after_days)).replace(hour=9, minute=0)
    hours = timedelta(hours=1)
    made = [
        Visit(job, "bed", f"Bed and form: {title}", bed, bed + 6 * hours, place, "Plug and tag the flues first."),
        Visit(job, "pour", f"Pour: {title}", pour, pour + 5 * hours, place, "Look at the forecast the evening before."),
        Visit(
            job,
            "mist",
            f"Keep it wet: {title}",
            pour.date() + timedelta(days=1),
            None,
            place,
            "Mist and cover, by the cure plan.",
        ),
        Visit(job, "strip", f"Strip and seal: {title}", strip, strip + 4 * hours, place, "Uncover the flues before you leave."),
        Visit(job, "handover", f"Hand over: {title}", strip.date(), None, place, "Care plan, record, photos."),
    ]
    for years in care_years:
        day = _years_on(strip.date(), years)
        made.append(
            Visit(job, f"care {years}", f"Look at the sealant: {title}", day, None, place, f"{years} years after the pour.")
        )
    return tuple(made)


def _years_on(day: date, years: int) -> date:
    try:
        return day.replace(year=day.year + years)
    except ValueError:  # 29 February
        return day.replace(year=day.year + years, day=28)
