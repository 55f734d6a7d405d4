"""A week of all jobs: day by day, where visits clash, and whom to call."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from crownwright.sheets.calendar import Visit


@dataclass(frozen=True, slots=True)
class Day:
    """One day: its visits in order, pairs that overlap in time, and a word on its weather ("" where none is known)."""

    on: date
    visits: tuple[Visit, ...]
    clashes: tuple[tuple[Visit, Visit], ...]
    weather: str = ""


def week(visits: Sequence[Visit], monday: date, weather: Mapping[date, str] | None = None) -> tuple[Day, ...]:
    """Return seven days from ``monday``; visits that were cancelled are left out."""
    days = (monday + timedelta(days=n) for n in range(7))
    return tuple(_day(visits, on, (weather or {}).get(on, "")) for on in days)


def _day(visits: Sequence[Visit], on: date, weather: str) -> Day:
    mine = sorted((v for v in visits if not v.cancelled and _date(v) == on), key=_when)
    timed = [v for v in mine if isinstance(v.start, datetime)]
    clashes = tuple((a, b) for n, a in enumerate(timed) for b in timed[n + 1 :] if _overlap(a, b))
    return Day(on, tuple(mine), clashes, weather)


def _date(visit: Visit) -> date:
    return visit.start.date() if isinstance(visit.start, datetime) else visit.start


def _when(visit: Visit) -> tuple[bool, str]:
    """Timed visits first, in order of time."""
    return not isinstance(visit.start, datetime), visit.start.isoformat()


def _overlap(a: Visit, b: Visit) -> bool:
    assert isinstance(a.start, datetime)
    assert isinstance(b.start, datetime)
    return a.start < (b.end or b.start + timedelta(hours=1)) and b.start < (a.end or a.start + timedelta(hours=1))


def calls(days: Sequence[Day], on: date, phones: Mapping[str, str]) -> tuple[str, ...]:
    """Return whom to call on a day: everybody visited on the next day. ``phones`` by job; a job without a number says so."""
    tomorrow = next((day for day in days if day.on == on + timedelta(days=1)), None)
    if tomorrow is None:
        return ()
    jobs = dict.fromkeys(visit.job for visit in tomorrow.visits)
    firsts = (next(v for v in tomorrow.visits if v.job == job) for job in jobs)
    return tuple(f"{phones.get(v.job) or 'no number'}: {v.what}, {_clock(v)}" for v in firsts)


def shown(days: Sequence[Day]) -> tuple[str, ...]:
    """Return the week as lines of text."""
    lines = []
    for day in days:
        lines.append(f"{day.on:%A} {day.on.isoformat()}" + (f": {day.weather}" if day.weather else ""))
        lines += [f"  {_clock(v)} {v.what}" + (f", {v.place}" if v.place else "") for v in day.visits]
        lines += [f"  ! {a.what} and {b.what} overlap" for a, b in day.clashes]
    return tuple(lines)


def _clock(visit: Visit) -> str:
    return f"{visit.start:%H:%M}" if isinstance(visit.start, datetime) else "all day"
