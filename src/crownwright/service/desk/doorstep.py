"""What a cap comes to, seen from the doorstep: five questions, and bags, weight and price with an honest spread."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import ceil, floor
from typing import Any

from crownwright.codes.astm_c315 import liner
from crownwright.plan.job import Units
from crownwright.plan.model import Plan
from crownwright.quantity.display import show
from crownwright.quantity.lengths import Bare, parse_length, print_length
from crownwright.quantity.problems import Problem
from crownwright.service.desk.begin_job import begin_from_text
from crownwright.service.desk.model import By, JobRow
from crownwright.service.desk.money_of import books_of, draft_of
from crownwright.service.desk.open_desk import Desk
from crownwright.service.jobfile import write_values

NINE_IN_TEN = (0.05, 0.5, 0.95)
STANDS = {"us": "12", "metric": "300"}
"""How far a flue is taken to stand above the stone, in. or mm, where nobody has been up to look (common practice, no source)."""
MOST_FLUES = 4
SIZES = ("8.5x8.5", "8.5x13", "13x13", "13x18", "round 8", "round 12")
"""Liners met most, by their names in the table of clay flue liners (common practice, no source)."""
MASONRY = ("rubble stone", "squared stone", "brick")
LUMPINESS = ("smooth", "ordinary", "wild")


@dataclass(frozen=True, slots=True)
class Answers:
    """What was said at the door: five questions in six entries."""

    length: str = ""
    width: str = ""
    flues: int = 1
    size: str = "13x13"
    masonry: str = "rubble stone"
    lumpiness: str = "ordinary"
    units: Units = "us"


@dataclass(frozen=True, slots=True)
class Range:
    """A figure with the range in which it lies nine times in ten, as shown."""

    about: str
    low: str
    high: str


@dataclass(frozen=True, slots=True)
class Seen:
    """What it comes to. ``faults`` by the name of the answer; ``price`` None where nothing has a price, ``own`` the name of the
    firm's price book, "" when it is by the example prices; ``bring`` the bags that leave little chance of running short;
    ``taken`` what nobody told.
    """

    faults: Mapping[str, Problem] = field(default_factory=dict)
    bag: str = ""
    bags: Range | None = None
    bring: int = 0
    weight: Range | None = None
    size: str = ""
    price: Range | None = None
    own: str = ""
    taken: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()


def seen_from_the_door(desk: Desk, answers: Answers) -> Seen:
    """Plan what the answers tell; ``faults`` where they cannot be read."""
    faults = faults_of(answers)
    if faults or not (answers.length and answers.width):
        return Seen(faults)
    opened, planned = desk.planner.plan(doorstep_text("From the doorstep", answers), cut_list=False)
    if planned is None:
        return Seen(problems=opened.problems)
    plan = planned.plan
    if plan.concrete is None or plan.cap is None:
        return Seen(problems=tuple(p for p in plan.problems if p.stops))
    return Seen(
        bag=plan.concrete.bag.name,
        bags=_bags(plan),
        bring=plan.concrete.count.bags,
        weight=_weight(plan),
        size=f"{show(plan.cap.length, 'm', answers.units)} by {show(plan.cap.width, 'm', answers.units)}",
        price=_price(desk, plan),
        own="" if isinstance(books := books_of(desk), tuple) else books.own,
        taken=_taken(answers),
    )


def faults_of(answers: Answers) -> dict[str, Problem]:
    """What of the answers cannot be read, by name."""
    found: dict[str, Problem] = {}
    for name in ("length", "width"):
        typed = getattr(answers, name)
        read = parse_length(typed, _bare(answers), name) if typed else None
        if isinstance(read, Problem):
            found[name] = read
        elif read is not None and not 0.3 <= read.metres <= 6.0:
            found[name] = Problem(name, f"“{typed}” is no {name} of a chimney top", "Look at the number and its unit")
    return found


def doorstep_text(title: str, answers: Answers, told: Mapping[str, str] | None = None) -> str:
    """A job file with the doorstep survey; ``told`` are more keys: customer, place."""
    size = liner(answers.size)
    sides = (size.long,) if size.shape == "round" else (size.long, size.short)
    outside = [print_length(side, "in." if answers.units == "us" else "mm") for side in sides]
    flues = [
        {"name": f"F{n + 1}", "shape": size.shape, "outside": outside, "nominal": size.name, "above_stone": STANDS[answers.units]}
        for n in range(answers.flues)
    ]
    quick: dict[str, Any] = {"length": answers.length, "width": answers.width, "masonry": answers.masonry}
    quick |= {"lumpiness": answers.lumpiness, "flues": flues}
    beside = {key: text.strip() for key, text in (told or {}).items() if text.strip()}
    values: dict[str, Any] = {"title": title.strip()[:40], **beside}
    if answers.units == "metric":
        values |= {"units": "metric", "bare_numbers": "mm"}
    return write_values({**values, "quick": quick})


def begin_from_the_door(
    desk: Desk, by: By, job: str, title: str, answers: Answers, told: Mapping[str, str] | None = None
) -> JobRow | Problem:
    """Keep the answers as a job, under the id that the sender made: the same again changes nothing."""
    faults = faults_of(answers)
    missing = next((name for name in ("length", "width") if not getattr(answers, name)), None)
    if faults or missing:
        return next(iter(faults.values()), Problem(str(missing), "was not told", "Measure it over the lumps"))
    return begin_from_text(desk, by, job, doorstep_text(title or "From the doorstep", answers, told), "begun from the doorstep")


def _bare(answers: Answers) -> Bare:
    return "mm" if answers.units == "metric" else "in"


def _bags(plan: Plan) -> Range:
    assert plan.concrete is not None
    needed = plan.concrete.count.needed
    low, middle, high = (needed.quantile(chance) for chance in NINE_IN_TEN)
    return Range(str(round(middle)), str(floor(low)), str(ceil(high)))


def _weight(plan: Plan) -> Range:
    assert plan.concrete is not None
    weight, units = plan.concrete.weight, plan.job.units
    low, high = (max(weight.mean + times * weight.sd, 0.0) for times in (-1.645, 1.645))  # of a normal, one in twenty each side
    return Range(*(show(kg, "kg", units, 0) for kg in (weight.mean, low, high)))


def _price(desk: Desk, plan: Plan) -> Range | None:
    """The price before tax: an allowance with its band, as a quote from the doorstep gives it."""
    quote = draft_of(desk, plan)
    if isinstance(quote, tuple) or not quote.options:
        return None
    option = quote.options[0]
    locale = quote.business.locale
    low, high = option.low or option.price.net, option.high or option.price.net
    return Range(*(_whole(amount.shown(locale)) for amount in (option.price.net, low, high)))


def _whole(amount: str) -> str:
    """An amount without its cents where there are none: an allowance is no exact price."""
    return amount.removesuffix(".00").removesuffix(",00")


def _taken(answers: Answers) -> tuple[str, ...]:
    stands = f"{STANDS[answers.units]} {'in.' if answers.units == 'us' else 'mm'}"
    flues = (f"every flue stands {stands} above the stone",) if answers.flues else ()
    return (*flues, "the usual cap: what you want otherwise is told once it is a job")
