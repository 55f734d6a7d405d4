"""What a price takes from the condition record alone: joints no patch was counted for, a patched cap, a top to be read again.

Worked with its working where the record has the measures; where it lacks one, the price is an allowance and says what is lacking.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from crownwright.plan.job import Units
from crownwright.plan.model import Plan
from crownwright.price.below import below_tasks, below_wants
from crownwright.price.choices import QuoteOption
from crownwright.price.costing import Extra, Unsure
from crownwright.price.deal import UnitPrice
from crownwright.price.hours import HoursChoices, Task, height_factor
from crownwright.price.pricebook import Prices
from crownwright.price.pricing import sell_factor
from crownwright.price.showing import Sum, Worked, book_cite
from crownwright.price.takeoff import Want
from crownwright.price.units import in_unit
from crownwright.quantity.money import EXACT, Money, Rounding, measured, nothing
from crownwright.quantity.units import FOOT
from crownwright.quantity.working import Figure, Term
from crownwright.repair.model import RepairPlan
from crownwright.repair.mortar import Bag
from crownwright.repair.patching import Patching, patching
from crownwright.repair.tell import run_words
from crownwright.repair.unsampled import Unsampled, unsampled

JOINT = "joint raked out and repointed"
AGAIN = "the top is read again when it has been rebuilt, and the cap may then want more or less"


@dataclass(frozen=True, slots=True)
class Record:
    """What one way takes from the record: ``joints``, ``patches``; ``again`` when the top is yet to be rebuilt."""

    joints: Unsampled | None = None
    patches: Patching | None = None
    again: bool = False


def by_record(plan: Plan, option: QuoteOption) -> Record:
    """Return what a way takes from the record alone. A patch for which the mason has told work himself takes nothing of it."""
    repair, again = plan.repair, option.way == "recast and rebuild"
    if repair is None or plan.survey is None:
        return Record(again=again)
    again = again and not (repair.record.rebuild is not None and repair.record.rebuild.done)
    patch = option.way == "patch"
    joints = "repoint" in option.repair if option.repair is not None else not (patch and option.more)
    return Record(
        _joints(plan, repair) if joints else None,
        patching(repair, _bag(plan)) if patch and not option.more else None,
        again,
    )


def _joints(plan: Plan, repair: RepairPlan) -> Unsampled | None:
    from crownwright.repair.stack import stack_of

    assert plan.survey is not None
    return unsampled(repair, stack_of(plan.survey, plan.job.surroundings, repair.record.units), _bag(plan))


def _bag(plan: Plan) -> Bag:
    from crownwright.concrete.bags import mortar_bag

    sold = mortar_bag(plan.job.concrete.mortar_bag)
    return Bag(sold.name, sold.yields)


def record_extra(record: Record, option: QuoteOption, plan: Plan, prices: Prices, hours: HoursChoices | None, stem: str) -> Extra:
    """Return the goods, the tasks and what is unsure of them; sources are the keys of `record_figures`."""
    factor, aloft = (hours.factor if hours is not None else 1.0), height_factor(plan, prices)
    wants: list[Want] = []
    tasks: list[Task] = []
    for part, name in ((record.joints, "unsampled"), (record.patches, "patching")):
        if part is not None:
            wants += below_wants(part, (name,))
            tasks += below_tasks(part, (name,), factor, aloft)
    return Extra(
        tuple(replace(one, sources=tuple(_key(source, stem) for source in one.sources)) for one in wants),
        tuple(replace(one, sources=tuple(_key(source, stem) for source in one.sources)) for one in tasks),
        unsure=tuple(_unsure(record, plan)),
    )


def joined(one: Extra, other: Extra) -> Extra:
    """Return two extras as one."""
    counts = {**one.counts, **other.counts}
    return Extra((*one.wants, *other.wants), (*one.tasks, *other.tasks), counts, (*one.unsure, *other.unsure))


def _unsure(record: Record, plan: Plan) -> Iterator[Unsure]:
    for part in (record.joints, record.patches):
        yield from (Unsure(f"not in it for want of a measure: {says}") for says in (part.lacks if part is not None else ()))
    yield from (Unsure(says) for says in (record.joints.open_ if record.joints is not None else ()))
    if record.again:
        between = plan.repair.between if plan.repair is not None else None
        if between is None or plan.concrete is None:
            yield Unsure(AGAIN)
            return
        first, now = between.surveyed, between.bags
        terms = (
            Term("n", "bags by the first survey", first.mean), Term("s0", "its standard error, bags", first.sd),
            Term("s", "standard error until the rebuilt top is read, bags", now.sd),
        )  # fmt: skip
        yield Unsure(AGAIN, f"concrete {plan.concrete.bag.name}", between.bags, terms)


def record_figures(record: Record, prices: Prices, stem: str) -> tuple[Worked, ...]:
    """Return the working, its keys under the way's stem."""
    found: list[Figure] = [*(record.joints.figures if record.joints else ()), *(record.patches.figures if record.patches else ())]
    made: list[Worked] = [replace(one, key=_key(one.key, stem)) for one in found]
    return (*made, *(shown for _, shown in _joint_price(record, prices, "us", stem)))


def _key(key: str, stem: str) -> str:
    return f"{stem}.record.{key.removeprefix('repair.')}"


def record_words(record: Record, units: Units) -> Iterator[str]:
    """Yield what is done, for the customer."""
    if record.joints is not None and record.joints.length is not None:
        yield f"Rake out and repoint the joints found open, {run_words(record.joints.length, units)} of joint."
    for task in record.patches.tasks if record.patches is not None else ():
        yield f"{task.what[:1].upper()}{task.what[1:]}."


def record_without(record: Record) -> Iterator[str]:
    """Yield what is not in the price: what could not be told by the record, and what a patch does not cure."""
    lacks = (says for part in (record.joints, record.patches) if part is not None for says in part.lacks)
    yield from (f"{says[:1].upper()}{says[1:]}. It is agreed when it has been measured." for says in lacks)
    if record.patches is not None and record.patches.uncured:
        yield f"What a patch does not cure: {', '.join(record.patches.uncured)}."


def joint_price(record: Record, prices: Prices, units: Units) -> UnitPrice | None:
    """Return what a foot (or metre) of joint is charged at, where joints were worked from the record."""
    return next((unit for unit, _ in _joint_price(record, prices, units, "price")), None)


def _joint_price(record: Record, prices: Prices, units: Units, stem: str) -> Iterator[tuple[UnitPrice, Sum]]:
    joints, labour = record.joints, prices.rows.get("labour mason")
    if joints is None or joints.length is None or labour is None or not joints.length.mean:
        return
    hours = measured(sum(task.hours.mean for task in joints.tasks), 4)
    cost = prices.money(labour) * hours / labour.pack
    rows = [(prices.rows[line.key], line) for line in joints.materials if line.key in prices.rows]
    goods = nothing(prices.currency)
    for row, line in rows:
        goods = goods + prices.money(row) * EXACT.divide(in_unit(line.amount, line.unit, row.unit), row.pack)
    unit, size = ("ft", FOOT) if units == "us" else ("m", 1.0)
    runs, factor = measured(joints.length.mean / size, 4), sell_factor(prices)
    price = ((cost + goods) * factor / runs).rounded(Rounding("up"))
    inputs = (
        Term("h", "hours for all of it", str(hours), "h"),
        Term("w", f"price of one: {labour.what}", str(labour.price), prices.currency, book_cite(labour)),
        Term("g", "mortar for it", str(_coins(goods).amount), prices.currency),
        Term("f", "factor, to six places", f"{factor:.6f}"), Term("L", "joint", str(runs), unit),
    )  # fmt: skip
    shown = Sum(f"{stem}.unit.joint", f"{JOINT}, by the {unit}", price, "(h w + g) f / L, rounded up to the coin", inputs)
    yield UnitPrice(JOINT, unit, price, labour.tax), shown


def _coins(amount: Money) -> Money:
    return amount.rounded()


def unit_prices_of(records: Sequence[Record], prices: Prices, units: Units) -> tuple[UnitPrice, ...]:
    """Return what a run of joint is charged at, once for all ways."""
    found = (joint_price(record, prices, units) for record in records)
    return tuple(dict.fromkeys(unit for unit in found if unit is not None))[:1]
