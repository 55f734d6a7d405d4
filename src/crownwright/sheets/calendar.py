"""Visits as iCalendar (RFC 5545, 5546, 7986): a visit keeps its id, so that a moved day moves the entry."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from urllib.parse import quote
from uuid import NAMESPACE_URL, uuid5

from crownwright.sheets.calendar_text import escaped, folded, quoted
from crownwright.sheets.calendar_zone import vtimezone

PRODUCT = "-//Crownwright//visits//EN"
SPACE = uuid5(NAMESPACE_URL, "tag:crownwright,2026:visits")
HOUR = timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class Visit:
    """A visit, or a day to remember: ``job`` and ``key`` ("pour", "strip", "care 2") make its id. ``start`` and ``end`` are local
    times in ``zone`` (IANA name; "" for the calendar's); a ``date`` for a whole day (``end`` None). ``revision`` grows each time
    it moves; ``cancelled`` takes it out of the reader's calendar; ``sure`` is False while it is only pencilled in. ``warn`` days
    before it the reader is reminded. ``sent_as`` is the id of one that was read back from a calendar.
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
    zone: str = ""
    sure: bool = True
    warn: int | None = None
    sent_as: str = ""

    @property
    def uid(self) -> str:
        """The id that stays when the visit moves."""
        return self.sent_as or f"{uuid5(SPACE, f'{self.job}/{self.key}')}@crownwright"

    @property
    def on(self) -> date:
        """The day it begins."""
        return self.start.date() if isinstance(self.start, datetime) else self.start

    @property
    def ends(self) -> datetime | None:
        """When it ends: an hour after its start where that was not told; None for a whole day."""
        return (self.end or self.start + HOUR) if isinstance(self.start, datetime) else None

    @property
    def status(self) -> str:
        """Its STATUS (RFC 5545, 3.8.1.11)."""
        return "CANCELLED" if self.cancelled else "CONFIRMED" if self.sure else "TENTATIVE"


@dataclass(frozen=True, slots=True)
class Organizer:
    """Whose visits they are: name and e-mail."""

    name: str
    email: str


def icalendar(
    visits: Sequence[Visit], zone: str, made_at: datetime, name: str = "Crownwright", organizer: Organizer | None = None
) -> str:
    """Return the visits as an iCalendar text. ``zone``: IANA name, for visits with a time and no zone of their own; ``made_at``:
    an aware time. It is a PUBLISH of its organizer, who must then be named (RFC 5546, 3.2.1); without one it is a plain calendar.

    ValueError for a visit that ends before it starts, two with one id, or a time with a zone of its own (they are local).
    """
    _possible(visits)
    who = organizer if organizer is not None and "@" in organizer.email else None
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{PRODUCT}", "CALSCALE:GREGORIAN"]
    lines += ["METHOD:PUBLISH"] if who else []
    lines += [f"NAME:{escaped(name)}", f"X-WR-CALNAME:{escaped(name)}"]
    for used in dict.fromkeys(v.zone or zone for v in visits if isinstance(v.start, datetime)):
        times = [at for v in visits if (v.zone or zone) == used for at in (v.start, v.end) if isinstance(at, datetime)]
        lines += vtimezone(used, min(times), max(times))
    for visit in visits:
        lines += _event(visit, visit.zone or zone, made_at, who)
    lines.append("END:VCALENDAR")
    return "".join(f"{part}\r\n" for line in lines for part in folded(line))


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


def _event(visit: Visit, zone: str, made_at: datetime, who: Organizer | None) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{visit.uid}"
    yield f"DTSTAMP:{made_at.astimezone(UTC):%Y%m%dT%H%M%SZ}"
    yield f"SEQUENCE:{visit.revision}"
    if visit.ends is not None:
        yield f"DTSTART;TZID={zone}:{visit.start:%Y%m%dT%H%M%S}"
        yield f"DTEND;TZID={zone}:{visit.ends:%Y%m%dT%H%M%S}"
    else:
        yield f"DTSTART;VALUE=DATE:{visit.start:%Y%m%d}"
        yield f"DTEND;VALUE=DATE:{visit.start + timedelta(days=1):%Y%m%d}"
        yield "TRANSP:TRANSPARENT"
    yield f"SUMMARY:{escaped(visit.what)}"
    if visit.place:
        yield f"LOCATION:{escaped(visit.place)}"
    if visit.says:
        yield f"DESCRIPTION:{escaped(visit.says)}"
    if who is not None:
        yield f"ORGANIZER;CN={quoted(who.name)}:mailto:{quote(who.email, safe='@+')}"
    yield f"STATUS:{visit.status}"
    if visit.warn is not None and not visit.cancelled:
        yield from ("BEGIN:VALARM", "ACTION:DISPLAY", f"TRIGGER:-P{visit.warn}D")
        yield from (f"DESCRIPTION:{escaped(visit.what)}", "END:VALARM")
    yield "END:VEVENT"
