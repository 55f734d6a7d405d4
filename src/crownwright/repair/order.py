"""The order of the whole repair: tasks cut into days' work, what waits for what and how long, and the visits that makes.

One crew does one thing after another. A task that fits a day is not begun unless it can be ended that day; a longer one is cut
into whole days and a rest. A wait told in whole days counts days (three days after Monday is Thursday); one told in hours is kept
whatever the hour the work before it ends.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from difflib import get_close_matches
from math import ceil, floor

from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import DAY, HOUR
from crownwright.quantity.working import PRACTICE, Cite, Figure
from crownwright.repair.choices import OrderChoices
from crownwright.repair.circles import circles
from crownwright.repair.model import After, Task
from crownwright.repair.schedule import Found, Link, Step, schedule
from crownwright.repair.tell import figure

SEARCHED = Cite("derived", "searched day by day, see docs/bench/repair.md", "derived")
FURTHEST = 150
"""Days looked ahead at the most."""
NO_DAYS: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class DayPart:
    """A day's work or less: of which ``task``, the ``number`` of its parts ``of`` how many, ``hours`` on the clock."""

    task: Task
    number: int
    of: int
    hours: float

    @property
    def says(self) -> str:
        """What it is called."""
        return self.task.what if self.of == 1 else f"{self.task.what} ({self.number} of {self.of})"


@dataclass(frozen=True, slots=True)
class Order:
    """All parts in an order that keeps every wait, and their links by place in that order."""

    choices: OrderChoices
    parts: tuple[DayPart, ...]
    links: tuple[tuple[Link, ...], ...]
    why: tuple[tuple[After, ...], ...]

    @property
    def horizon(self) -> int:
        """Days that are enough however the visits fall, were every day fit."""
        return min(len(self.parts) + sum(max((link.wait for link in ones), default=0) for ones in self.links) + 1, FURTHEST)


@dataclass(frozen=True, slots=True)
class Visit:
    """One day on the roof: which day counted from the first (0), its date where a first date was told, what is done."""

    day: int
    on: date | None
    parts: tuple[DayPart, ...]
    known: bool

    @property
    def hours(self) -> float:
        """Hours of work on the clock."""
        return sum(part.hours for part in self.parts)


@dataclass(frozen=True, slots=True)
class Visits:
    """The visits, ``bound`` the number that no order can beat, ``proved`` that these are fewest and soonest; what found no day is
    ``unplaced``. ``known`` days of weather went into it (0: every day was taken as fit).
    """

    order: Order
    visits: tuple[Visit, ...]
    unplaced: tuple[DayPart, ...]
    bound: int
    proved: bool
    known: int
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]

    @property
    def fits(self) -> bool:
        """Whether all of it falls on days whose weather is known."""
        return not self.unplaced and all(visit.known for visit in self.visits)

    @property
    def says(self) -> str:
        """The answer in a sentence."""
        if not self.visits:
            return "nothing to be done"
        last = self.visits[-1].day + 1
        many = f"{len(self.visits)} visit{'s' * (len(self.visits) != 1)} over {last} day{'s' * (last != 1)}"
        sure = "" if self.proved else f" (no fewer than {self.bound} are possible)"
        if self.unplaced:
            return f"{len(self.unplaced)} day's work finds no day that suits it; {many} for the rest"
        if not self.known:
            return f"{many}, were every day fit for work{sure}"
        if self.fits:
            return f"{many}, all within the forecast{sure}"
        inside = sum(visit.known for visit in self.visits)
        return f"{many}{sure}: {inside} within the forecast, {len(self.visits) - inside} after it"


def order_of(tasks: Sequence[Task], choices: OrderChoices | None = None) -> tuple[Order | None, tuple[Problem, ...]]:
    """Cut tasks into days' work and put them in an order that keeps every wait.

    A wait for a task that is not part of this repair is passed over, unless it was added by hand: then it is a problem. Steps
    that wait for each other in a circle are problems, every circle named, and there is no order.
    """
    choices = choices or OrderChoices()
    tasks = [task for task in tasks if task.hours.mean > 0]
    names = [task.key for task in tasks]
    problems = list(_problems(choices, names))
    waits = {task.key: (*task.after, *_by_hand(choices, task.key)) for task in tasks}
    rings = circles({key: [after.task for after in ones] for key, ones in waits.items()})
    problems += [_circle(ring) for ring in rings]
    if problems:
        return None, tuple(problems)
    return _cut(_sorted(tasks, waits), waits, choices), ()


def wait_days(seconds: float, hours: float) -> int:
    """Days to count for a wait, s, with ``hours`` of work a day: whole days as days, else kept from the latest end of work.

    >>> wait_days(72 * 3600.0, 8.0), wait_days(12 * 3600.0, 8.0), wait_days(20 * 3600.0, 8.0), wait_days(0.0, 8.0)
    (3, 1, 2, 0)
    """
    if seconds <= 0:
        return 0
    if abs(seconds / DAY - round(seconds / DAY)) < 1e-6:
        return round(seconds / DAY)
    night = 24 - hours  # from the end of one day's work to the start of the next
    return max(ceil((seconds / HOUR - night) / 24 - 1e-9), 0) + 1


def place(order: Order, *, fit: Mapping[str, frozenset[int]] | None = None, known: int = 0, first: date | None = None) -> Visits:
    """Put the parts on days. ``fit`` names for each task the days of the ``known`` that suit it; later days are taken as fit.

    Day 0 is ``first``, where that is told.
    """
    horizon = known + order.horizon
    later = frozenset(range(known, horizon))
    suits = {part.task.key: later | (fit or {}).get(part.task.key, frozenset(range(known))) for part in order.parts}
    steps = [Step(part.hours, suits[part.task.key], links) for part, links in zip(order.parts, order.links, strict=True)]
    found = schedule(steps, horizon, order.choices.hours)
    visits = tuple(_visits(order, found, known, first))
    unplaced = tuple(part for part, day in zip(order.parts, found.day, strict=True) if day is None)
    made = Visits(order, visits, unplaced, found.bound, found.proved, known, (), ())
    return Visits(order, visits, unplaced, found.bound, found.proved, known, tuple(_findings(made)), tuple(_figures(order, made)))


def _visits(order: Order, found: Found, known: int, first: date | None) -> Iterator[Visit]:
    for day in sorted({d for d in found.day if d is not None}):
        parts = tuple(part for part, d in zip(order.parts, found.day, strict=True) if d == day)
        yield Visit(day, None if first is None else first + timedelta(days=day), parts, day < known or not known)


def _problems(choices: OrderChoices, names: Sequence[str]) -> Iterator[Problem]:
    if choices.crew < 1 or choices.hours <= 0:
        yield Problem("repair.order", "a crew of nobody, or a day without hours, does nothing", "Tell crew and hours a day")
    for n, wait in enumerate(choices.waits):
        for name in (wait.task, wait.after):
            if name not in names:
                near = get_close_matches(name, names, n=1)
                remedy = f"Did you mean “{near[0]}”?" if near else f"Name one of: {', '.join(names) or 'none'}"
                yield Problem(f"repair.order.waits[{n + 1}]", f"there is no task “{name}” in this repair", remedy)


def _by_hand(choices: OrderChoices, key: str) -> Iterator[After]:
    for wait in choices.waits:
        if wait.task == key:
            yield After(wait.after, wait.days * DAY, "as the mason wants it", Cite("entered", standing="entered"))


def _circle(ring: tuple[str, ...]) -> Problem:
    walk = " waits for ".join((*ring, ring[0]))
    remedy = "Take one of these waits out: nothing in a circle can ever begin"
    return Problem("repair.order", f"steps wait for each other in a circle: {walk}", remedy)


def _sorted(tasks: Sequence[Task], waits: Mapping[str, Iterable[After]]) -> list[Task]:
    """Tasks so that each comes after what it waits for, else as told."""
    left, made = list(tasks), []
    while left:
        there = {task.key for task in left}
        task = next(t for t in left if not any(after.task in there for after in waits[t.key] if after.task != t.key))
        left.remove(task)
        made.append(task)
    return made


def _cut(tasks: Sequence[Task], waits: Mapping[str, tuple[After, ...]], choices: OrderChoices) -> Order:
    parts: list[DayPart] = []
    links: list[tuple[Link, ...]] = []
    last: dict[str, int] = {}
    for task in tasks:
        own = [
            Link(last[one.task], wait_days(one.wait, choices.hours), None if one.most is None else floor(one.most / DAY))
            for one in waits[task.key]
            if one.task in last
        ]
        clock = task.hours.mean / max(min(task.people, choices.crew), 1)
        count = max(ceil(clock / choices.hours - 1e-9), 1)
        for n in range(count):
            parts.append(DayPart(task, n + 1, count, min(clock - n * choices.hours, choices.hours)))
            links.append(tuple(own))
            own = [Link(len(parts) - 1, 0)]
        last[task.key] = len(parts) - 1
    return Order(choices, tuple(parts), tuple(links), tuple(waits[part.task.key] for part in parts))


def _findings(made: Visits) -> Iterator[Finding]:
    key = "repair.order."
    for part in made.unplaced[:1]:
        names = ", ".join(dict.fromkeys(p.task.key for p in made.unplaced))
        act = "Wait for other weather, or change the waits: nothing suits it within what was looked at"
        yield Finding(
            key + "unplaced", "a day for every step", SEARCHED, names, Verdict.SHORT, act, provided=part.hours * HOUR, unit="s"
        )
    if made.known and not made.unplaced:
        after = [visit for visit in made.visits if not visit.known]
        act = "Days after the forecast are taken as fit: look again when the weather for them is known" if after else ""
        verdict = Verdict.CANNOT_TELL if after else Verdict.OK
        subject = f"{len(after)} of {len(made.visits)} visits after the forecast" if after else "every visit within the forecast"
        yield Finding(key + "forecast", "the whole repair within the forecast", SEARCHED, subject, verdict, act)


def _figures(order: Order, made: Visits) -> Iterator[Figure]:
    hours = sum(part.hours for part in order.parts)
    day = ("h", "hours of work a day", order.choices.hours * HOUR, "s")
    total = ("H", "hours on the clock, all steps", hours * HOUR, "s")
    parts = ("n", "steps of a day or less", float(len(order.parts)), "1")
    sure = "fewest visits, then soonest done: proved" if made.proved else f"no fewer than {made.bound} visits are possible"
    yield figure(
        "repair.order.hours",
        "work on the clock",
        hours * HOUR,
        "s",
        "people-hours / people, over all tasks",
        parts,
        cite=PRACTICE,
    )
    formula = "fewest days on which all steps fit with their waits"
    yield figure(
        "repair.order.visits", "visits", float(len(made.visits)), "1", formula, total, day, parts, cite=SEARCHED, holds=sure
    )
    last = (made.visits[-1].day + 1) * DAY if made.visits else 0.0
    yield figure(
        "repair.order.days",
        "from the first visit's day to the last",
        last,
        "s",
        "last day - first + 1",
        parts,
        cite=SEARCHED,
        holds=sure,
    )
