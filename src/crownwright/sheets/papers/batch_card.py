"""The batch card: what goes into the mixer, when, and what is carried up."""

from __future__ import annotations

from collections.abc import Iterator

from crownwright.concrete.batches import Batch
from crownwright.concrete.enriching import Step, steps
from crownwright.plan.days import DaysPlan
from crownwright.plan.job import Units
from crownwright.quantity.display import show
from crownwright.sheets.papers.day_words import clock, day_of, water
from crownwright.sheets.papers.press import Paper
from crownwright.sheets.papers.say import common


def batch_card(days: DaysPlan) -> Paper:
    """Return the batch card: every batch with its clock, bags, water and buckets, and boxes for what the thermometer says.

    ValueError when no pour was followed.
    """
    mixing, pour, units = days.mixing, days.plan.concrete, days.plan.job.units
    if mixing is None or pour is None:
        raise ValueError("no pour was followed, so there are no batches")
    plan, warm = mixing.batches, mixing.warmth
    rich = any(batch.portland > 0 for batch in plan.batches)
    bags = {lift.name: sum(batch.bags for batch in plan.batches if batch.lift == lift.name) for lift in pour.lifts}
    lifts = [
        {
            "name": lift.name, "bags": str(bags[lift.name]), "water": water(lift.water, units), "looks": lift.looks,
            "range": f"{water(lift.water_low, units)} to {water(lift.water_high, units)}", "slump": f"{lift.slump} in.",
        }
        for lift in pour.lifts
    ]  # fmt: skip
    content = common(days.plan, "What goes into the mixer, when, and what is carried up.")
    content |= {
        "on": day_of(days),
        "rich": rich,
        "batches": [_batch(batch, units, rich) for batch in plan.batches],
        "lifts": lifts,
        "bag": pour.bag.name,
        "facts": [list(row) for row in _batch_facts(days)],
        "advice": [a.words(lambda t: show(t, "degC", units), lambda kg: show(kg, "kg", units)) for a in warm.advice],
        "enriched": [list(row) for row in _enriched(steps(pour), units)],
        "limits": f"Stop at {show(pour.enrichment.most, 'kg', units)} a bag: {pour.enrichment.why}.",
        "unit": "°F" if units == "us" else "°C",
        "cautions": [caution.words for caution in mixing.cautions],
    }
    return Paper("batch-card", "Batch card", "batch-card", content)


def _batch(batch: Batch, units: Units, rich: bool) -> list[str]:
    portland = [show(batch.portland, "kg", units)] if rich else []
    return [
        str(batch.number), clock(batch.wet), batch.lift, str(batch.bags), *portland, water(batch.water, units),
        str(batch.buckets), clock(batch.placed),
    ]  # fmt: skip


def _batch_facts(days: DaysPlan) -> Iterator[tuple[str, str]]:
    assert days.mixing is not None  # the card has looked
    plan, warm, units = days.mixing.batches, days.mixing.warmth, days.plan.job.units
    site = days.choices.site
    bags = sum(batch.bags for batch in plan.batches)
    yield "Bags", f"{bags} to mix, {plan.reserve} more kept dry, unopened"
    bucket = show(plan.bucket_weight, "kg", units)
    yield "Buckets", f"{plan.trips}, each {100 * site.fill:.0f} % full, {bucket} with the pail"
    comes, least, most = (show(t, "degC", units) for t in (warm.temperature, warm.least, warm.most))
    yield "Mix comes out at", f"{comes}; its range is {least} to {most}"
    seen = days.mixing.conditions
    yield "Reckoned with", ", ".join(f"{what} {show(t, 'degC', units)}" for what, t in
        (("bags", seen.bags), ("water", seen.water), ("air", seen.air)))  # fmt: skip
    oldest, may = show(plan.oldest, "s", units), show(plan.open, "s", units)
    yield "Edge is covered", f"{oldest} old at most, open {may}"
    yield "Last bucket placed", clock(plan.done)


def _enriched(rows: tuple[Step, ...], units: Units) -> Iterator[tuple[str, ...]]:
    for step in rows:
        mix = step.mix
        yield (
            step.says, show(mix.portland, "kg", units), f"{mix.water_cement.mean:.2f} ± {mix.water_cement.sd:.2f}",
            show(mix.strength.mean, "Pa", units), show(mix.yields, "m3", units), f"{mix.shrinkage:.2f}",
        )  # fmt: skip
