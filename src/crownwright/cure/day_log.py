"""What happened on the day: batches, temperatures and events as typed, read from a job file's table or from JSON."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo
from math import isfinite
from typing import Literal, get_args

from crownwright.quantity.problems import Problem
from crownwright.weather.hours import zone_of

Place = Literal["air", "mix", "top", "middle", "edge"]
Kind = Literal[
    "bed laid",
    "first batch",
    "struck off",
    "floated",
    "trowelled",
    "covered",
    "uncovered",
    "blanket on",
    "blanket off",
    "stripped",
    "rain",
    "note",
]
COLDEST, HOTTEST = -40.0, 80.0
"""degC; outside them a thermometer was misread."""
TIME_REMEDY = "Write it as 2026-05-01 14:30, in the job's local time."


@dataclass(frozen=True, slots=True)
class Batch:
    """One batch into the form: when, how many bags, water kg and its temperature as placed, degC (None: not taken)."""

    at: datetime
    bags: float
    water: float | None = None
    temperature: float | None = None


@dataclass(frozen=True, slots=True)
class Taken:
    """A temperature taken, degC: of the air in the shade, of the mix, on the top, in the middle, at the edge."""

    at: datetime
    place: Place
    temperature: float


@dataclass(frozen=True, slots=True)
class Happened:
    """An event, with a word on it."""

    at: datetime
    kind: Kind
    note: str = ""


@dataclass(frozen=True, slots=True)
class DayLog:
    """The day so far, each list in order of time."""

    batches: tuple[Batch, ...] = ()
    taken: tuple[Taken, ...] = ()
    happened: tuple[Happened, ...] = ()

    def when(self, kind: Kind) -> datetime | None:
        """Return when something happened last, None if it has not."""
        times = [event.at for event in self.happened if event.kind == kind]
        return times[-1] if times else None


def parse_log(data: object, zone: str) -> tuple[DayLog | None, tuple[Problem, ...]]:
    """Read a day's log from what a TOML or JSON file holds: lists ``batches``, ``temperatures`` and ``events``.

    Each entry has ``at``: a local time of ``zone``, or one with its offset (TOML's own times do too). A batch has ``bags`` and
    may have ``water`` (kg) and ``temperature`` (degC); a temperature ``place`` and ``temperature``; an event ``what`` and may
    have ``note``. Every fault is told at once, with its place in the file, and nothing is half-read.
    """
    try:
        local = zone_of(zone)
    except ValueError as fault:
        return None, (Problem("log.zone", str(fault), "Name the local time of the job."),)
    if not isinstance(data, Mapping):
        return None, (Problem("log", "it is not a table", "Give lists of batches, temperatures and events."),)
    reader = _Reader(local)
    unknown = set(map(str, data)) - {"batches", "temperatures", "events"}
    for name in sorted(unknown):
        reader.problems.append(Problem(f"log.{name}", "not known", "Known: batches, temperatures, events."))
    batches = [reader.batch(where, row) for where, row in reader.rows(data, "batches")]
    taken = [reader.temperature(where, row) for where, row in reader.rows(data, "temperatures")]
    happened = [reader.event(where, row) for where, row in reader.rows(data, "events")]
    if reader.problems:
        return None, tuple(reader.problems)
    log = DayLog(
        tuple(sorted((b for b in batches if b), key=lambda b: b.at)),
        tuple(sorted((t for t in taken if t), key=lambda t: t.at)),
        tuple(sorted((h for h in happened if h), key=lambda h: h.at)),
    )
    return log, ()


class _Reader:
    """Reads entries one by one and gathers what is wrong with them."""

    def __init__(self, zone: tzinfo) -> None:
        self.zone = zone
        self.problems: list[Problem] = []

    def rows(self, data: Mapping[object, object], name: str) -> Sequence[tuple[str, Mapping[object, object]]]:
        """Return the entries of a list with their place in the file."""
        found = data.get(name, [])
        if not isinstance(found, list):
            self.problems.append(Problem(f"log.{name}", "it is not a list", "Give one entry for each."))
            return []
        good = []
        for i, row in enumerate(found):
            if isinstance(row, Mapping):
                good.append((f"log.{name}[{i}]", row))
            else:
                self.problems.append(Problem(f"log.{name}[{i}]", f"{str(row)[:30]!r} is not an entry", TIME_REMEDY))
        return good

    def time(self, where: str, row: Mapping[object, object]) -> datetime | None:
        """Return the entry's time."""
        told = row.get("at")
        try:
            when = told if isinstance(told, datetime) else datetime.fromisoformat(told) if isinstance(told, str) else None
        except ValueError:
            when = None
        if when is None:
            self.problems.append(Problem(f"{where}.at", f"{str(told)[:30]!r} is not a time", TIME_REMEDY))
            return None
        return when if when.tzinfo else when.replace(tzinfo=self.zone)

    def number(self, where: str, row: Mapping[object, object], name: str, low: float, high: float) -> float | None:
        """Return a number of the entry between two bounds, None where it is not there."""
        told = row.get(name)
        if told is None:
            return None
        if isinstance(told, bool) or not isinstance(told, int | float) or not isfinite(told) or not low <= told <= high:
            self.problems.append(
                Problem(f"{where}.{name}", f"{str(told)[:30]!r} is not one", f"A number from {low:g} to {high:g}.")
            )
            return None
        return float(told)

    def needed(self, where: str, row: Mapping[object, object], name: str, low: float, high: float) -> float:
        """Return a number that has to be there; 0 with a problem noted where it is not."""
        before = len(self.problems)
        value = self.number(where, row, name, low, high)
        if value is None and len(self.problems) == before:
            self.problems.append(Problem(f"{where}.{name}", "is missing", f"Give {name}."))
        return value or 0.0

    def batch(self, where: str, row: Mapping[object, object]) -> Batch | None:
        """Return a batch."""
        at = self.time(where, row)
        bags = self.needed(where, row, "bags", 0.1, 50.0)
        water = self.number(where, row, "water", 0.0, 500.0)
        temperature = self.number(where, row, "temperature", COLDEST, HOTTEST)
        return Batch(at, bags, water, temperature) if at else None

    def temperature(self, where: str, row: Mapping[object, object]) -> Taken | None:
        """Return a temperature."""
        at, value = self.time(where, row), self.needed(where, row, "temperature", COLDEST, HOTTEST)
        place = row.get("place")
        if place not in get_args(Place):
            self.problems.append(
                Problem(f"{where}.place", f"{str(place)[:30]!r} is no place", f"One of {', '.join(get_args(Place))}.")
            )
            return None
        return Taken(at, place, value) if at else None  # type: ignore[arg-type]

    def event(self, where: str, row: Mapping[object, object]) -> Happened | None:
        """Return an event."""
        at, kind = self.time(where, row), row.get("what")
        if kind not in get_args(Kind):
            self.problems.append(
                Problem(f"{where}.what", f"{str(kind)[:30]!r} is no event", f"One of {', '.join(get_args(Kind))}.")
            )
            return None
        return Happened(at, kind, str(row.get("note", ""))[:500]) if at else None  # type: ignore[arg-type]
