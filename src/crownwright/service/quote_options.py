"""The ways of doing a job side by side: a patch, a recast, a recast with a rebuilt course; each costed and put into words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal

from crownwright.plan.job import Units
from crownwright.plan.model import Plan
from crownwright.price.below import Repair, below_tasks, below_wants, part_of, parts_of
from crownwright.price.business import Business
from crownwright.price.choices import More, QuoteOption
from crownwright.price.costing import Costing, Extra, cost_job
from crownwright.price.deal import Option, Party, Reason
from crownwright.price.dealing import option_of
from crownwright.price.hours import VISITS, HoursChoices, Task, height_factor
from crownwright.price.pricebook import Prices
from crownwright.price.pricing import Priced, price_job
from crownwright.price.removal import Removal, removal_counts, removal_of, removal_wants
from crownwright.price.showing import Worked, slug, worked
from crownwright.price.takeoff import Want
from crownwright.price.units import UNITS
from crownwright.quantity.display import show
from crownwright.quantity.problems import Problem
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import LB
from crownwright.service.quote_record import (
    Record,
    by_record,
    joined,
    record_extra,
    record_figures,
    record_without,
    record_words,
)

WORDS = {
    "patch": "A patch mends what shows. The shape that let water in stays, so it wants looking at every year.",
    "recast": "A new cap, cast to stand clear of the wall, takes away what made the old one fail.",
    "recast and rebuild": "A cap is no better than the course it lies on: loose stone is taken down and laid again first.",
}
"""What each way is, to the customer; common practice, no source."""
OLD_CAP_OUT = "Breaking out an old cap and hauling it off."
LOOSE_STAYS = "The loose top courses stay as they are: they are neither laid again nor repointed."
REBUILD, REPOINT = "rebuild", "repoint"


@dataclass(frozen=True, slots=True)
class Beside:
    """What the plan does not know: ``van`` what it holds and ``more`` work and goods beside the cap, both by key of the price
    book in its unit; ``hours`` as own finished jobs say; the customer as on papers.
    """

    van: Mapping[str, Decimal] = field(default_factory=dict)
    more: Mapping[str, Decimal] = field(default_factory=dict)
    hours: HoursChoices | None = None
    customer: Party | None = None


@dataclass(frozen=True, slots=True)
class PricedJob:
    """What one way of doing a job costs and at what it is priced; ``figures`` their whole working; keys begin with ``stem``;
    ``record`` what was worked from the condition record alone.
    """

    costing: Costing
    priced: Priced
    option: QuoteOption
    removal: Removal | None = None
    figures: tuple[Worked, ...] = ()
    stem: str = "price"
    record: Record = field(default_factory=Record)


def ways_of(plan: Plan) -> tuple[QuoteOption, ...]:
    """Return the options that the job names; none named: a recast, and with a repair that rebuilds, that beside it."""
    if plan.job.quote.options:
        return plan.job.quote.options
    usual = QuoteOption("Recast the cap", "recast")
    repair = repair_of(plan)
    if repair is None or REBUILD not in parts_of(repair):
        return (usual,)
    return usual, QuoteOption("Recast, with the top course rebuilt", "recast and rebuild")


def repair_of(plan: Plan) -> Repair | None:
    """Return the repair below the cap, where the plan has one."""
    return plan.repair


def price_way(plan: Plan, option: QuoteOption, prices: Prices, beside: Beside, stem: str = "price") -> PricedJob:
    """Price one way of doing a job."""
    removal, record = _removal(plan, option), by_record(plan, option)
    extra = _extra(plan, option, prices, beside, removal)
    extra = joined(extra, record_extra(record, option, plan, prices, beside.hours, stem))
    hours = replace(beside.hours or HoursChoices(), visits=_visits(option, beside.hours))
    costing = cost_job(plan, prices, van=beside.van, hours=hours, extra=extra, with_cap=option.way != "patch")
    priced = price_job(costing)
    old = removal.figures if removal is not None else ()
    old = tuple(replace(f, key=f.key.replace("price", stem, 1)) for f in old)
    figures = (*old, *record_figures(record, prices, stem), *worked(costing, priced, stem))
    return PricedJob(costing, priced, option, removal, figures, stem, record)


def price_ways(plan: Plan, prices: Prices, beside: Beside) -> tuple[PricedJob, ...]:
    """Price every way; the figures of the first are called price..., those of the others price.NAME..."""
    stems = ["price", *(f"price.{slug(option.name)}" for option in ways_of(plan)[1:])]
    return tuple(price_way(plan, option, prices, beside, stem) for option, stem in zip(ways_of(plan), stems, strict=True))


def problems_of(made: tuple[PricedJob, ...]) -> tuple[Problem, ...]:
    """Return all that has no price in any of them, once."""
    return tuple(dict.fromkeys(problem for one in made for problem in one.costing.problems))


def option_for(made: PricedJob, plan: Plan, business: Business, beside: Beside, years: tuple[str, ...] = ()) -> Option:
    """Return a priced way as it stands in the quote; ``years`` how long it lasts, in words."""
    option, prices = made.option, made.costing.prices
    without = (*option.without, *record_without(made.record), *_left_standing(plan, option), *business.exclusions)
    if option.way != "patch" and made.removal is None:
        without = (*without, OLD_CAP_OUT)
    scope = (*_scope(made, plan), *(_told(key, prices) for key in beside.more))
    return option_of(option.name, made.costing, scope, without, {}, years)


def reasons_of(ways: tuple[QuoteOption, ...]) -> tuple[Reason, ...]:
    """Return a word on each way, where there are several or the mason wrote one."""
    told = ((o, o.why.strip() or (WORDS[o.way] if len(ways) > 1 else "")) for o in ways)
    return tuple(Reason(f"option.{slug(o.name)}", f"{o.name}: {says[:1].lower()}{says[1:]}") for o, says in told if says)


def scope_of(plan: Plan) -> tuple[str, ...]:
    """Return what a recast does, in words for the customer, as far as the plan goes."""
    if plan.cap is None:
        return ("Recast the cap, to the sizes that a survey of the top will give.",)
    cap, units = plan.cap, plan.job.units
    size = f"{show(cap.length, 'm', units)} × {show(cap.width, 'm', units)}"
    lines = [
        f"Cast a new concrete cap, {size}, {show(cap.edge_thickness, 'm', units)} thick at its edge, in a form that is clamped "
        "on: no hole is drilled in the chimney.",
        f"It stands out at least {show(min(s.least for s in cap.sides), 'm', units)} past the wall, and falls to every side.",
    ]
    lines += ["A groove under the edge, so that water drops off clear of the wall."] if cap.drip is not None else []
    lines += [f"A soft, sealed joint round {len(cap.flues)} flue{'s' * (len(cap.flues) != 1)}."] if cap.flues else []
    lines += [f"Flue {f.name} made {show(f.extension, 'm', units)} higher." for f in cap.flues if f.extension > 0]
    return (*lines, "Keep it wet while it hardens, strip the form, seal, uncover the flues and leave the place clean.")


def _scope(made: PricedJob, plan: Plan) -> tuple[str, ...]:
    option, units = made.option, plan.job.units
    lines = ["Plug the flues and cover the roof."]
    if made.removal is not None:
        off = "lower it and haul it off" if made.removal.hauled > 0 else "leave it on the site"
        lines.append(f"Break out the old cap, about {_about(made.removal.mass.mean, units)} of it, {off}.")
    lines += [*_below_words(plan, parts_in(plan, option)), *record_words(made.record, units)]
    own = (*option.scope, *(() if option.scope else (_told(one.key, made.costing.prices) for one in option.more)))
    return (*lines, *own, *(scope_of(plan) if option.way != "patch" else ("Uncover the flues and leave the place clean.",)))


def _about(mass: float, units: Units) -> str:
    """A weight that is known to a fifth, in no more digits than that."""
    unit = LB if units == "us" else 1.0
    step = 10.0 ** max(len(f"{mass / unit:.0f}") - 2, 0)
    return show(round(mass / unit / step) * step * unit, "kg", units)


def _below_words(plan: Plan, parts: tuple[str, ...]) -> list[str]:
    repair = repair_of(plan)
    if repair is None:
        return []
    whats = dict.fromkeys(task.what for task in repair.tasks if part_of(task.source) in parts)
    return [f"{what[:1].upper()}{what[1:].rstrip('.')}." for what in whats]


def _left_standing(plan: Plan, option: QuoteOption) -> tuple[str, ...]:
    """What a way leaves undone of a top that ought to be rebuilt: its courses are counted to no other part of the repair."""
    repair = repair_of(plan)
    if repair is None or REBUILD not in parts_of(repair) or option.way == "recast and rebuild":
        return ()
    return () if REBUILD in parts_in(plan, option) else (LOOSE_STAYS,)


def _told(key: str, prices: Prices) -> str:
    row = prices.rows.get(key)
    what = row.what if row is not None else key
    return f"{what[:1].upper()}{what[1:]}."


def parts_in(plan: Plan, option: QuoteOption) -> tuple[str, ...]:
    """Return the parts of the repair that go with an option: those it names, else by its way."""
    repair = repair_of(plan)
    if option.repair is not None or repair is None:
        return option.repair or ()
    if option.way == "patch":
        return () if option.more else tuple(part for part in parts_of(repair) if part == REPOINT)
    return tuple(part for part in parts_of(repair) if part != REBUILD or option.way == "recast and rebuild")


def _removal(plan: Plan, option: QuoteOption) -> Removal | None:
    old = plan.job.quote.old_cap
    return removal_of(old, plan.survey) if old is not None and option.way != "patch" else None


def _visits(option: QuoteOption, hours: HoursChoices | None) -> int:
    """A patch takes one visit, a rebuilt course one more than the cap."""
    usual = hours.visits if hours is not None else VISITS
    return 1 if option.way == "patch" else usual + (option.way == "recast and rebuild")


def _extra(plan: Plan, option: QuoteOption, prices: Prices, beside: Beside, removal: Removal | None) -> Extra:
    """All that goes with an option beside the cap: told by hand, below the cap, the old cap."""
    told = _told_extra({f"told: {key}": More(key, str(amount)) for key, amount in beside.more.items()}, prices)
    own = _told_extra({f"option: {one.key}": one for one in option.more}, prices)
    repair, parts = repair_of(plan), parts_in(plan, option)
    factor = beside.hours.factor if beside.hours is not None else 1.0
    below = (
        Extra(below_wants(repair, parts), below_tasks(repair, parts, factor, height_factor(plan, prices)))
        if repair is not None and parts
        else Extra()
    )
    wants = (*told.wants, *own.wants, *below.wants, *(removal_wants(removal) if removal else ()))
    counts = removal_counts(removal) if removal else {}
    return Extra(wants, (*told.tasks, *own.tasks, *below.tasks), counts)


def _told_extra(more: Mapping[str, More], prices: Prices) -> Extra:
    """Work and goods told by hand: labour becomes a task with the spread of a rough guess, all else a want."""
    wants, tasks = [], []
    for source, one in more.items():
        row, amount = prices.rows.get(one.key), Decimal(one.amount)
        if row is not None and row.kind == "labour":
            hours = Uncertain(float(amount), 0.25 * float(amount))
            tasks.append(Task(source, row.what, one.key.removeprefix("labour "), hours, "as told", (source,)))
        else:
            sold = UNITS[row.unit] if row is not None else UNITS["each"]
            wants.append(Want(one.key, float(amount * sold.size), sold.si, (source,), "beside the cap"))
    return Extra(tuple(wants), tuple(tasks))
