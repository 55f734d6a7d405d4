"""The pour day as it goes: what comes next, how long is left, what was logged."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import datetime, timedelta, tzinfo

from crownwright.cure.day_log import DayLog
from crownwright.plan.job import Units
from crownwright.plan.the_day import BatchLogged, EventLogged, TemperatureLogged
from crownwright.quantity.display import show
from crownwright.quantity.units import QUART
from crownwright.service.days_to_pour import DaysTold
from crownwright.service.desk.days_of import PourDay
from crownwright.weather.hours import zone_of
from crownwright.web.views.dates import USUAL, clock
from crownwright.web.views.hours import Clock, clocks, span_words

EVENTS = (
    ("bed laid", "Bed laid"),
    ("first batch", "First batch in"),
    ("struck off", "Struck off"),
    ("floated", "Floated"),
    ("trowelled", "Trowelled"),
    ("covered", "Covered damp"),
    ("stripped", "Form stripped"),
    ("uncovered", "Cover off"),
    ("rain", "Rain"),
)
"""What may be logged with one press, in the order of the work."""
PLACES = (("top", "top"), ("edge", "edge"), ("middle", "middle"), ("mix", "mix"), ("air", "air in the shade"))
MISTED = "misted"
Typed = BatchLogged | TemperatureLogged | EventLogged


@dataclass(frozen=True, slots=True)
class Left:
    """Time left for one thing: its ``name``, until when (words and ISO time), what that rests on, how much is left, and whether
    it is over.
    """

    name: str
    until: str
    at: str
    why: str
    left: str
    over: bool


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the log: when, what, and the place in the job file that taking it out takes away."""

    at: datetime
    when: str
    what: str
    path: str


@dataclass(frozen=True, slots=True)
class Next:
    """The batch that comes next: its number of all, its lift, bags, water, and when the plan has it."""

    number: int
    of: int
    lift: str
    bags: str
    water: str
    when: str


def done_of(log: DayLog | None) -> dict[str, datetime]:
    """When each thing was logged as done, last."""
    return {} if log is None else {event.kind: event.at for event in log.happened}


def clocks_now(day: PourDay, now: datetime, locale: str = USUAL) -> tuple[Clock, ...]:
    """The moments of the pour, moved by what was logged."""
    told = day.days.told
    return () if told is None else clocks(told.days.cure, day.revision, now, done_of(day.log), locale)


def coming(shown: Iterable[Clock]) -> Clock | None:
    """What comes next: the first moment that is not over, but for those that only wait."""
    return next((c for c in shown if not c.done and c.at and not c.past), None)


def time_left(told: DaysTold, log: DayLog | None, now: datetime, units: Units) -> tuple[Left, ...]:
    """How long the edge may wait for the wash, and when to mist again."""
    made = []
    batches = told.days.mixing.batches if told.days.mixing is not None else None
    first = _first(log)
    done = done_of(log)
    if batches is not None and first is not None and "struck off" not in done:
        until = first + timedelta(seconds=batches.open)
        why = f"the first batch stays open {span_words(batches.open)} at this warmth; the wash has to cover it by then"
        made.append(_left("Wash over the edge", until, now, why))
    every = next((f.value for f in told.days.figures if f.key == "cure.mist"), None)
    if every and "struck off" in done and "covered" not in done:
        last = max([done["struck off"], *(e.at for e in log.happened if e.note == MISTED)] if log else [done["struck off"]])
        made.append(_left("Mist", last + timedelta(seconds=every), now, f"every {span_words(every)} until it is covered"))
    return tuple(made)


def _first(log: DayLog | None) -> datetime | None:
    if log is None:
        return None
    told = log.when("first batch")
    return told or (log.batches[0].at if log.batches else None)


def _left(name: str, until: datetime, now: datetime, why: str) -> Left:
    seconds = (until - now).total_seconds()
    left = f"{span_words(abs(seconds))} {'left' if seconds > 0 else 'over'}"
    return Left(name, f"{until:%H:%M}", until.isoformat(), why, left, seconds <= 0)


def next_batch(told: DaysTold, log: DayLog | None, units: Units) -> Next | None:
    """The batch that comes next by what was logged; None where all are in, or none are planned."""
    mixing = told.days.mixing
    if mixing is None or "struck off" in done_of(log):
        return None
    planned = mixing.batches.batches
    gone = len(log.batches) if log is not None else 0
    if gone >= len(planned):
        return None
    batch = planned[gone]
    water = f"{batch.water / QUART:.1f} qt" if units == "us" else f"{batch.water * 1000:.1f} L"
    at = f"{int(batch.wet // 3600) % 24:02d}:{int(batch.wet % 3600 // 60):02d}"
    return Next(gone + 1, len(planned), batch.lift, str(batch.bags), water, at)


def lines(day: PourDay, units: Units, locale: str = USUAL) -> tuple[Line, ...]:
    """The log, the newest first."""
    log, kept = day.log, day.days.day
    if log is None:
        raw: tuple[tuple[str, tuple[Typed, ...]], ...] = (
            ("batches", kept.batches),
            ("temperatures", kept.temperatures),
            ("events", kept.events),
        )
        never = datetime.min
        return tuple(Line(never, row.at, _typed(row), f"day.{name}[{i}]") for name, rows in raw for i, row in enumerate(rows))
    zone = zone_of(kept.zone or "UTC")
    taken = [(t.at, f"{t.place} {show(t.temperature, 'degC', units)}") for t in log.taken]
    found = (
        ("batches", [(b.at, _batch(b.bags, b.water, b.temperature, units)) for b in log.batches], kept.batches),
        ("temperatures", taken, kept.temperatures),
        ("events", [(e.at, f"{e.kind}{', ' + e.note if e.note else ''}") for e in log.happened], kept.events),
    )
    made = [line for name, told, typed in found for line in _lines(name, told, typed, zone, locale)]
    return tuple(sorted(made, key=lambda line: line.at, reverse=True))


def _lines(name: str, found: list[tuple[datetime, str]], kept: Iterable[Typed], zone: tzinfo, locale: str) -> Iterable[Line]:
    """Lines of one list. The log is in order of time and the job file in the order typed: each finds its own place again."""
    typed = [(_at(row.at, zone), i) for i, row in enumerate(kept)]
    order = [i for _, i in sorted(typed, key=lambda pair: pair[0])]
    for (at, what), i in zip(found, order, strict=True):
        yield Line(at, clock(at.astimezone(zone), locale), what, f"day.{name}[{i}]")


def _at(typed: str, zone: tzinfo) -> datetime:
    at = datetime.fromisoformat(typed)
    return at if at.tzinfo else at.replace(tzinfo=zone)


def _batch(bags: float, water: float | None, temperature: float | None, units: Units) -> str:
    parts = [f"batch of {bags:g} bag{'s' if bags != 1 else ''}"]
    if water is not None:
        parts.append(f"{water / 1000 / QUART:.1f} qt" if units == "us" else f"{water:.1f} L")
    if temperature is not None:
        parts.append(show(temperature, "degC", units))
    return ", ".join(parts)


def _typed(row: Typed) -> str:
    return ", ".join(str(value) for key, value in asdict(row).items() if value and key != "at")
