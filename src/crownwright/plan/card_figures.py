"""The figures that stand on the cards of the pour and nowhere else: water batch by batch, the mix step by step, care compared."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from crownwright.concrete.early import Saying
from crownwright.concrete.enriching import steps
from crownwright.concrete.mixing import MixingPlan
from crownwright.concrete.model import ConcretePlan
from crownwright.concrete.showing import mix_figures
from crownwright.cure.figures import BALANCE
from crownwright.cure.model import CurePlan
from crownwright.quantity.units import DAY
from crownwright.quantity.working import ENTERED, Cite, Figure, Term

LABEL = Cite("derived", "between the least and the most that the bag's label allows", "derived")


def card_figures(pour: ConcretePlan, mixing: MixingPlan, cure: CurePlan, said: Saying) -> tuple[Figure, ...]:
    """Return what the batch card, the cure card and the day plan show beside the figures of mixing, cure and strip."""
    return (*_batches(pour, mixing), *_steps(pour), *_told(mixing), *_ways(cure), *_three_days(cure, said), *_refused(cure))


def _batches(pour: ConcretePlan, mixing: MixingPlan) -> Iterator[Figure]:
    """Water and portland of each batch, its place on the clock as time since the first, and the label's water."""
    plan = mixing.batches
    start = min(batch.wet for batch in plan.batches)
    lifts = {lift.name: lift for lift in pour.lifts}
    for batch in plan.batches:
        bags, water = Term("n", "bags in it", batch.bags), Term("w", "water for one bag", lifts[batch.lift].water, "m3")
        key, of = f"concrete.batch.{batch.number}", f"batch {batch.number}, {batch.lift}"
        yield Figure(f"{key}.water", f"water, {of}", batch.water, "m3", "n w", (bags, water))
        took = Term("t", "a batch in the mixer", batch.mixed - batch.wet, "s")
        placed = Term("T", "last bucket of it placed, after the first water", batch.placed - start, "s")
        yield Figure(f"{key}.at", f"begun after the first, {of}", batch.wet - start, "s", "by the batch clock", (took, placed))
    for lift in pour.lifts:
        looks = Term("slump", "slump asked for, in.", lift.slump)
        for name, value in (("least", lift.water_low), ("most", lift.water_high)):
            key = f"concrete.lift.{'lower' if lift is pour.lifts[0] else 'upper'}.water_{name}"
            yield Figure(key, f"{name} water for one bag, {lift.name}", value, "m3", "on the label", (looks,), pour.bag.cite)


def _steps(pour: ConcretePlan) -> Iterator[Figure]:
    """The bag at each amount of portland worth a look."""
    for k, step in enumerate(steps(pour), 1):
        for figure in mix_figures(step.mix, pour.bag):
            yield replace(
                figure, key=figure.key.replace("concrete.", f"concrete.step.{k}.", 1), label=f"{figure.label}: {step.says}"
            )


def _told(mixing: MixingPlan) -> Iterator[Figure]:
    """The temperatures that the mix was reckoned with."""
    seen = mixing.conditions
    for name, value in (("bags", seen.bags), ("water", seen.water), ("air", seen.air)):
        air = Term("T", "air at the first batch", seen.air, "degC")
        rule = "as told; else of the air, the water within 10 to 20 degC"
        yield Figure(f"concrete.with.{name}", f"temperature of the {name} reckoned with", value, "degC", rule, (air,), ENTERED)


def _ways(cure: CurePlan) -> Iterator[Figure]:
    """What each way of looking after the cap would do."""
    for way in cure.options:
        key = f"cure.way.{way.name.replace(' ', '_')}"
        terms = (Term("way", "care", way.name), Term("d", "days under cover", way.care.moist_days if way.care.damp else 0.0))
        for name, label, value, unit in (
            ("coldest", "coldest concrete before it stands a freezing", way.coldest, "degC"),
            ("hottest", "hottest concrete", way.hottest, "degC"),
            ("drying", "greatest drying before final set", way.drying, "kg/(m2 s)"),
            ("final", "final set after striking off", way.final, "s"),
        ):
            rule = "heat balance through the thickness"
            yield Figure(f"{key}.{name}", f"{label}, {way.name}", value, unit, rule, terms, BALANCE, "thin caps on masonry")


def _three_days(cure: CurePlan, said: Saying) -> Iterator[Figure]:
    """This cap's share at three days, and how far the measured mixes lie apart."""
    there = cure.strength_at(3 * DAY)
    terms = Term("S", "strength at 3 days", there.mean, "Pa"), Term("f", "strength at 28 days", cure.mix.strength, "Pa")
    yield Figure("cure.three_days.share", "share of 28-day strength at 3 days, this cap", there.mean / cure.mix.strength, "1",
                 "S / f", terms)  # fmt: skip
    age = (Term("t", "age", 3 * DAY, "s"),)
    cite = Cite("uci_concrete", "22 mixes", "derived")
    for name, value in (("least", said.data[0]), ("most", said.data[2])):
        yield Figure(f"concrete.three_days.{name}", f"{name} share at 3 days of the mixes measured", value, "1", name, age, cite)


def _refused(cure: CurePlan) -> Iterator[Figure]:
    """How many hours of the forecast each rule refuses first."""
    looked = Term("n", "hours looked at", float(len(cure.windows)))
    counts = Counter(window.refused[0].rule for window in cure.windows if window.refused)
    for k, (rule, count) in enumerate(sorted(counts.items(), key=lambda row: (-row[1], row[0])), 1):
        says = "hours of the forecast whose first reason this is"
        yield Figure(f"cure.refused.{k}", f"hours refused: {rule}", float(count), "1", says, (looked,))
