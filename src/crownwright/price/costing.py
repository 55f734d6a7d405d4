"""What a job costs the mason: materials by the take-off, labour by the hours, driving and whatever else, with its spread."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from crownwright.price.hours import Hours, HoursChoices, Task, hours_of
from crownwright.price.pricebook import Prices
from crownwright.price.risk import Chancy, CostSpread, Part
from crownwright.price.takeoff import Line, Want, in_the_van, take_off, wants_of
from crownwright.price.units import UNITS
from crownwright.price.work import Plan
from crownwright.quantity.money import Money, measured, total
from crownwright.quantity.problems import Problem
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.working import Term


@dataclass(frozen=True, slots=True)
class CostLine:
    """A cost in the mason's own words, the tax that its price falls under, and what it was counted from."""

    group: str
    what: str
    cost: Money
    tax: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Costing:
    """What a job costs. ``firm`` is false while it cannot be held to a price, and ``rough`` says why, ``unsure`` what of it hangs
    on the work itself; ``cast``: a cap is poured (else it is a patch, paid for by deposit and rest).
    """

    prices: Prices
    lines: tuple[Line, ...]
    hours: Hours
    costs: tuple[CostLine, ...]
    spread: CostSpread
    firm: bool
    rough: str
    problems: tuple[Problem, ...]
    unsure: tuple[Unsure, ...] = ()
    cast: bool = True

    @property
    def total(self) -> Money:
        """All costs, before overhead."""
        return total((line.cost for line in self.costs), self.prices.currency)


@dataclass(frozen=True, slots=True)
class Unsure:
    """Why a price is no firm one yet, in words; goods whose amount is not sure (``key`` of the price book, ``need`` in its SI
    unit with its spread), and what that hangs on.
    """

    says: str
    key: str = ""
    need: Uncertain | None = None
    terms: tuple[Term, ...] = ()


@dataclass(frozen=True, slots=True)
class Extra:
    """Work beside the plan (repair below the cap, the old cap ...): what it wants, the tasks it takes, ``counts`` of what tasks
    of the table are counted by, and what of all is ``unsure``.
    """

    wants: tuple[Want, ...] = ()
    tasks: tuple[Task, ...] = ()
    counts: Mapping[str, tuple[float, str]] = field(default_factory=dict)
    unsure: tuple[Unsure, ...] = ()


def cost_job(
    plan: Plan,
    prices: Prices,
    *,
    van: Mapping[str, Decimal] | None = None,
    hours: HoursChoices | None = None,
    extra: Extra | None = None,
    with_cap: bool = True,
) -> Costing:
    """Return what a job costs by a plan, on the day of the prices. ``with_cap`` false: only the ``extra`` work (a patch)."""
    extra, choices = extra or Extra(), hours or HoursChoices()
    wants = (*(wants_of(plan) if with_cap else ()), *extra.wants)
    lines, problems = take_off(wants, prices, in_the_van(plan, van) if with_cap else van)
    worked = hours_of(plan, prices, choices, extra.tasks, counts=dict(extra.counts), with_cap=with_cap)
    problems += prices.missing(f"labour {task.grade}" for task in worked.tasks)
    costs = (*_materials(lines), *_labour(worked, prices), *_driving(prices, choices))
    firm, rough = _firm(plan) if with_cap else (True, "")
    rough = "; ".join(filter(None, (rough, *(one.says for one in extra.unsure))))
    spread = _spread(plan if with_cap else None, costs, worked, prices, tuple(_unsure_goods(extra.unsure, prices)))
    return Costing(prices, lines, worked, costs, spread, firm and not extra.unsure, rough, problems, extra.unsure, with_cap)


def _materials(lines: Iterable[Line]) -> Iterable[CostLine]:
    groups = {"material": "materials", "tool": "tools", "hire": "hire", "disposal": "disposal", "travel": "travel"}
    for line in lines:
        yield CostLine(groups.get(line.kind, line.kind), line.what, line.cost, line.tax, line.sources)


def _labour(hours: Hours, prices: Prices) -> Iterable[CostLine]:
    for grade in dict.fromkeys(task.grade for task in hours.tasks):
        row = prices.rows.get(f"labour {grade}")
        if row is not None:
            cost = (prices.money(row) * measured(hours.of(grade), 2) / row.pack).rounded()
            sources = tuple(f"task {task.key}" for task in hours.tasks if task.grade == grade)
            yield CostLine("labour", f"{row.what}, {hours.of(grade):.2f} h", cost, row.tax, sources)


def _driving(prices: Prices, choices: HoursChoices) -> Iterable[CostLine]:
    row, one_way = prices.rows.get("distance"), prices.rule("distance")
    if row is not None and one_way > 0:
        cost = (prices.money(row) * (2 * one_way * choices.visits) / row.pack).rounded()
        yield CostLine("travel", f"{row.what}, {choices.visits} visits", cost, row.tax, ("rule distance",))


def _firm(plan: Plan) -> tuple[bool, str]:
    """Whether the survey is good enough to hold to a price, and what is lacking."""
    if plan.survey is None:
        return False, "the readings could not be made into a survey"
    if plan.survey.quick:
        return False, "the survey is a doorstep one: length, width and a guess of the lumps"
    if not plan.survey.closure.closes or plan.survey.suspects:
        return False, "the readings do not close"
    return True, ""


def _unsure_goods(unsure: Iterable[Unsure], prices: Prices) -> Iterable[Part]:
    """Goods whose amount is not sure yet, at their price; tasks bring their own spread."""
    for one in unsure:
        row = prices.rows.get(one.key)
        if row is not None and one.need is not None and one.need.mean > 0:
            each = float(row.price / row.pack) / float(UNITS[row.unit].size)
            yield Part(one.need.mean * each, one.need.sd * each, shared=False)


def _spread(
    plan: Plan | None, costs: Iterable[CostLine], hours: Hours, prices: Prices, goods: tuple[Part, ...] = ()
) -> CostSpread:
    """Return the spread of the cost: hours by task, ``goods`` not sure yet, and the chance that the pour runs short."""
    sure = float(sum((line.cost.amount for line in costs if line.group != "labour"), Decimal(0)))
    sure -= sum(part.mean for part in goods)
    rate = {
        name.removeprefix("labour "): float(row.price / row.pack) for name, row in prices.rows.items() if row.kind == "labour"
    }
    parts = [
        Part(task.hours.mean * rate[task.grade], task.hours.sd * rate[task.grade])
        for task in hours.tasks
        if task.grade in rate and task.hours.mean > 0
    ]
    return CostSpread(sure, (*parts, *goods), hours.shared, _short(plan, hours, rate, prices))


def _short(plan: Plan | None, hours: Hours, rate: Mapping[str, float], prices: Prices) -> tuple[Chancy, ...]:
    """Running short costs one visit more, with its drive, and the bags that are missing."""
    if plan is None or plan.concrete is None:
        return ()
    count, row = plan.concrete.count, prices.rows.get(f"concrete {plan.concrete.bag.name}")
    bags = float(row.price / row.pack) * max(count.missing, 1.0) if row is not None else 0.0
    visits = sum(t.hours.mean * rate.get(t.grade, 0.0) for t in hours.tasks if t.key in ("visit", "drive"))
    return (Chancy(count.chance_short, visits / hours.visits + bags),)
