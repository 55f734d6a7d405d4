"""A week of all jobs: day by day, where visits clash, what the weather says."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from crownwright.sheets.calendar import Visit


@dataclass(frozen=True, slots=True)
class Clash:
    """Visits that one crew with one mixer cannot all make, and why."""

    visits: tuple[Visit, ...]
    why: str

    @property
    def says(self) -> str:
        """All of it in words."""
        names = [visit.what for visit in self.visits]
        return f"{', '.join(names[:-1])} and {names[-1]}: {self.why}"


@dataclass(frozen=True, slots=True)
class Day:
    """One day: its visits in order, which of them clash, a word on its weather ("" where none is known), and what the weather
    has against a visit: visit and reason.
    """

    on: date
    visits: tuple[Visit, ...]
    clashes: tuple[Clash, ...]
    weather: str = ""
    doubts: tuple[tuple[Visit, str], ...] = ()


def week(
    visits: Sequence[Visit], first: date, weather: Mapping[date, str] | None = None, doubts: Mapping[str, str] | None = None
) -> tuple[Day, ...]:
    """Return seven days from ``first``; visits that were cancelled are left out. ``doubts``: why not, by the visit's id."""
    days = (first + timedelta(days=n) for n in range(7))
    return tuple(_day(visits, on, (weather or {}).get(on, ""), doubts or {}) for on in days)


def _day(visits: Sequence[Visit], on: date, weather: str, doubts: Mapping[str, str]) -> Day:
    mine = sorted((v for v in visits if not v.cancelled and v.on == on), key=_when)
    said = tuple((v, doubts[v.uid]) for v in mine if v.uid in doubts)
    return Day(on, tuple(mine), tuple(_clashes(mine)), weather, said)


def _when(visit: Visit) -> tuple[bool, str]:
    """Timed visits first, in order of time."""
    return not isinstance(visit.start, datetime), visit.start.isoformat()


def _clashes(visits: Sequence[Visit]) -> Iterator[Clash]:
    """Visits of several jobs at one time, and pours on one day: the one is still to be finished when the next begins."""
    together: list[list[Visit]] = []
    for a in visits:
        into = next((group for group in together if any(a.job != b.job and _overlap(a, b) for b in group)), None)
        if into is None:
            together.append([a])
        else:
            into.append(a)
    groups = [group for group in together if len(group) > 1]
    yield from (Clash(tuple(group), "at the same time") for group in groups)
    pours = tuple(visit for visit in visits if visit.key == "pour")
    if len(pours) > 1 and not any(set(pours) <= set(group) for group in groups):
        yield Clash(pours, "pours on one day; there is one mixer, and the first is still to be finished and kept wet")


def _overlap(a: Visit, b: Visit) -> bool:
    if a.ends is None or b.ends is None:
        return False
    assert isinstance(a.start, datetime)
    assert isinstance(b.start, datetime)
    return a.start < b.ends and b.start < a.ends


def rows(day: Day) -> tuple[tuple[str, str], ...]:
    """Return a day as rows of text: when and what; then what clashes and what the weather has against it."""
    return (
        *((clock(visit), told(visit)) for visit in day.visits),
        *(("clash", clash.says) for clash in day.clashes),
        *(("weather", f"{visit.what}: {why}") for visit, why in day.doubts),
    )


def title(day: Day) -> str:
    """Return a day's name, date and weather."""
    return f"{day.on:%A} {day.on.isoformat()}" + (f": {day.weather}" if day.weather else "")


def told(visit: Visit) -> str:
    """A visit in words: what, where, whether it is only pencilled in."""
    return visit.what + (f", {visit.place}" if visit.place else "") + ("" if visit.sure else " (pencilled in)")


def clock(visit: Visit) -> str:
    """From when to when."""
    if visit.ends is None:
        return "all day"
    return f"{visit.start:%H:%M} to {visit.ends:%H:%M}"
