"""What a calendar that was sent before makes of the next one: unchanged visits keep their revision, moved ones get the next, and
what is no longer to come is sent once more as cancelled, under its id and the next revision (RFC 5545, 3.8.7.4; RFC 5546, 2.1.4).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from crownwright.sheets.calendar import Visit
from crownwright.sheets.calendar_text import lines_of, plain

DAYS_BEFORE = re.compile(r"-P(\d{1,4})D")
KEPT = timedelta(days=90)
"""So long after its day a visit is sent on: a reader that looks in seldom still hears that it was cancelled (judgement)."""


def followed(before: Sequence[Visit], now: Sequence[Visit], zone: str, on: date) -> tuple[Visit, ...]:
    """Return what is to be sent on a day, where ``before`` was sent last and ``now`` are the visits as they stand.

    ``zone`` is that of visits without one. What was sent for a day gone by and is planned no more
    has happened: it stays.
    """
    sent = {visit.uid: visit for visit in before}
    due = [_next(sent.pop(visit.uid, None), visit, zone) for visit in now]
    due += (_gone(visit, on) for visit in sent.values() if visit.on >= on - KEPT)
    return tuple(sorted(due, key=lambda visit: (visit.on.isoformat(), visit.start.isoformat(), visit.uid)))


def _next(old: Visit | None, new: Visit, zone: str) -> Visit:
    if old is None:
        return new
    same = _content(old, zone) == _content(new, zone)
    return replace(new, revision=old.revision if same else max(old.revision + 1, new.revision))


def _gone(old: Visit, on: date) -> Visit:
    return old if old.cancelled or old.on < on else replace(old, cancelled=True, revision=old.revision + 1)


def _content(visit: Visit, zone: str) -> tuple[object, ...]:
    place = (visit.zone or zone) if visit.ends is not None else ""
    return visit.start, visit.ends, place, visit.what, visit.place, visit.says, visit.status


def read_visits(text: str) -> tuple[Visit, ...]:
    """Return the visits of a calendar that was written here, as they were sent; their ids stand in for job and key.

    ValueError where it is no calendar, or one with an entry that has no id or no start.
    """
    if "BEGIN:VCALENDAR" not in text:
        raise ValueError("it is no calendar file")
    return tuple(_visit(told) for told in _events(text))


def _events(text: str) -> Iterator[dict[str, tuple[str, str]]]:
    """Each entry: name -> parameters and value; of what stands within it only when it is to remind."""
    inside: dict[str, tuple[str, str]] | None = None
    depth = 0
    for name, parameters, value in lines_of(text):
        if (name, value) == ("BEGIN", "VEVENT"):
            inside, depth = {}, 0
        elif inside is not None and (name, value) == ("END", "VEVENT"):
            yield inside
            inside = None
        elif inside is not None and name in ("BEGIN", "END"):
            depth += 1 if name == "BEGIN" else -1
        elif inside is not None and (depth == 0 or name == "TRIGGER"):
            inside[name] = parameters, value


def _visit(told: dict[str, tuple[str, str]]) -> Visit:
    if "UID" not in told or "DTSTART" not in told:
        raise ValueError("an entry of it has no id or no start")
    parameters, value = told["DTSTART"]
    timed = "T" in value
    start: date = datetime.strptime(value[:15], "%Y%m%dT%H%M%S") if timed else datetime.strptime(value[:8], "%Y%m%d").date()
    end = datetime.strptime(told["DTEND"][1][:15], "%Y%m%dT%H%M%S") if timed and "DTEND" in told else None
    says = {name: plain(told[name][1]) if name in told else "" for name in ("SUMMARY", "LOCATION", "DESCRIPTION", "STATUS")}
    zone = next((part.partition("=")[2] for part in parameters.split(";") if part.upper().startswith("TZID=")), "")
    revision, warn = told.get("SEQUENCE", ("", "0"))[1], DAYS_BEFORE.fullmatch(told.get("TRIGGER", ("", ""))[1])
    if not revision.isdecimal():
        raise ValueError(f"an entry of it has the revision {revision!r}")
    return Visit(
        "", "", says["SUMMARY"], start, end, says["LOCATION"], says["DESCRIPTION"], int(revision),
        says["STATUS"] == "CANCELLED", zone, says["STATUS"] != "TENTATIVE",
        int(warn[1]) if warn else None, told["UID"][1],
    )  # fmt: skip
