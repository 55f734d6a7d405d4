"""The papers of the pour: day plan, batch card, cure card, and the calculation sheet of the days."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from crownwright.concrete.batches import Batch
from crownwright.concrete.early import saying
from crownwright.concrete.enriching import Step, steps
from crownwright.cure.model import Moment
from crownwright.cure.on_the_day import Moved
from crownwright.cure.options import BLANKETS, mist_interval
from crownwright.plan.days import DaysPlan
from crownwright.plan.job import Units
from crownwright.quantity.display import show, show_figure
from crownwright.quantity.findings import Verdict
from crownwright.quantity.units import DAY, HOUR, QUART
from crownwright.sheets.drawings.days import cure_chart, window_chart
from crownwright.sheets.papers.calculations import calculation_sheet
from crownwright.sheets.papers.press import Paper
from crownwright.sheets.papers.say import common, finding_row, picture
from crownwright.sheets.papers.summary import matter_line, once_a_rule

SKY = "The sky has the last word: look at it, and at a fresh forecast, the evening before and before the first bag is opened."


WHO = dict.fromkeys(("struck", "float", "trowel", "final", "leave"), "who finishes") | {"strip": "all"}
"""Who does what of the moments of a pour (common practice, no source); nobody where there is only something to wait for."""


def day_papers(days: DaysPlan) -> tuple[Paper, ...]:
    """Return the papers of the days: the cards only where a pour was followed."""
    followed = (batch_card(days), cure_card(days)) if days.mixing is not None and days.cure.course is not None else ()
    return (day_plan(days), *followed, day_calculations(days))


def day_calculations(days: DaysPlan) -> Paper:
    """Return the days' figures and findings with their working, laid out like the plan's."""
    says = "Every number of the days with its formula, inputs and source."
    return calculation_sheet(
        days.plan, days.figures, days.findings, name="day-calculations", title="Calculation sheet of the days", says=says
    )


def day_plan(days: DaysPlan) -> Paper:
    """Return the day plan: the answer, every hour of the forecast, the chosen day by the clock, who does what."""
    cure, units = days.cure, days.plan.job.units
    refused: dict[str, tuple[int, str]] = {}
    for window in cure.windows:
        for reason in window.refused[:1]:
            refused[reason.rule] = (refused.get(reason.rule, (0, ""))[0] + 1, reason.action)
    short = once_a_rule([f for f in days.findings if f.verdict is Verdict.SHORT])
    content = common(days.plan, "Which hours of the forecast will do, and the chosen day by the clock.")
    content |= {
        "answers": list(_answers(days)),
        "chart": picture(window_chart(cure), scaled=False),
        "clock": [list(row) for row in _clock(days)],
        "who": [list(row) for row in _who(days)],
        "refused": [[str(count), rule, action] for rule, (count, action) in sorted(refused.items(), key=lambda r: -r[1][0])],
        "short": [finding_row(finding, units) for finding in short],
        "problems": [f"{p.what[:1].upper()}{p.what[1:]}. {p.remedy}" for p in days.problems],
        "matters": [matter_line(one) for one in days.matters if one.key.startswith("concrete.strip")],
        "sky": SKY,
    }
    return Paper("day-plan", "Day plan", "day-plan", content)


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
        "on": _day(days),
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


def cure_card(days: DaysPlan, moved: Sequence[Moved] = ()) -> Paper:
    """Return the cure card: finish, mist, cover, blanket, strip and walk away, by the clock. ValueError without a pour.

    ``moved`` what the log of the day has moved: the card then says so, and leaves out what was worked out for the plan alone.
    """
    cure, units = days.cure, days.plan.job.units
    if cure.course is None or days.mixing is None:
        raise ValueError("no pour was followed, so there is nothing to cure")
    content = common(days.plan, "When to float, trowel, mist, cover, strip, and when it may be left alone.")
    content |= {
        "on": _day(days),
        "moments": [[_when(m.at), _label(m), _band(m)] for m in cure.moments],
        "care": [list(row) for row in _care(days)],
        "moved": [[_label(m), _when(m.planned), _when(m.now), _later(m)] for m in moved],
        "ways": [] if moved else [list(row) for row in _ways(days)],
        "chart": picture(cure_chart(cure, units), scaled=False),
        "three": [] if moved else [list(row) for row in _three_days(days)],
        "strip": _strip(days),
        "unit": "°F" if units == "us" else "°C",
        "cautions": [caution.words for caution in days.mixing.cautions if caution.key not in ("silica", "lifting")],
    }
    return Paper("cure-card", "Cure card", "cure-card", content)


def water(volume: float, units: Units) -> str:
    """Water (m3) as it is measured out: quarts, or litres.

    >>> water(3 * QUART, "us"), water(0.0028, "metric")
    ('3.0 qt', '2.8 L')
    """
    return f"{volume / QUART:.1f} qt" if units == "us" else f"{volume * 1000:.1f} L"


def clock(seconds: float) -> str:
    """Seconds after midnight as a clock shows them.

    >>> clock(9.25 * 3600)
    '09:15'
    """
    minutes = round(seconds / 60)
    return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}"


def _when(at: datetime | None) -> str:
    return "not in sight" if at is None else f"{at:%a} {at.day} {at:%b}, {at:%H:%M}"


def _later(moved: Moved) -> str:
    if moved.by is None:
        return ""
    minutes = round(moved.by.total_seconds() / 60)
    hours = f"{abs(minutes) // 60} h {abs(minutes) % 60:02d} min"
    return "as planned" if not minutes else f"{hours} {'later' if minutes > 0 else 'earlier'}"


def _band(moment: Moment) -> str:
    if moment.early is None or moment.early == moment.late:
        return ""
    if moment.late is None:
        return f"{moment.early:%a %H:%M} at the earliest"
    same = moment.late.date() == moment.early.date()
    return f"{moment.early:%H:%M} to {moment.late:%H:%M}" if same else f"{moment.early:%a %H:%M} to {moment.late:%a %H:%M}"


def _label(moment: Moment | Moved) -> str:
    """On a card that hangs by the form nothing may read as leave to strip it early."""
    return "strength for stripping is there; the form stays on" if moment.key == "ready" else moment.label


def _day(days: DaysPlan) -> str:
    pour = days.cure.pour
    return "" if pour is None else f"{pour.at:%A} {pour.at.day} {pour.at:%B}"


def _answers(days: DaysPlan) -> Iterator[dict[str, str]]:
    cure = days.cure
    pour = cure.pour
    if pour is None:
        yield {"label": "First batch", "value": "no hour will do", "note": "the chart says why of every hour"}
        return
    sure = "" if pour.sure is None else f"holds in {100 * pour.sure:.0f} of 100 forecasts like this one"
    refused = "; ".join(reason.rule for reason in pour.refused)
    yield {"label": "First batch", "value": _when(pour.at), "note": f"against a rule: {refused}" if refused else sure}
    if pour.bed is not None:
        yield {"label": "Lay the bed", "value": _when(pour.bed), "note": "mortar bed and levelling course, overnight at least"}
    strip = next((m for m in cure.moments if m.key == "strip"), None)
    if strip is not None:
        yield {"label": "Strip the form", "value": _when(strip.at), "note": "not before, whatever the weather looks like"}


def _clock(days: DaysPlan) -> Iterator[tuple[str, str, str]]:
    """The chosen day: bed, lifts, then the moments of the cure."""
    cure, mixing = days.cure, days.mixing
    if cure.pour is None:
        return
    if cure.pour.bed is not None:
        yield _when(cure.pour.bed), "mortar bed under the boards, levelling course; covered for the night", "all"
    if mixing is not None and mixing.batches.batches:
        day, batches = f"{cure.pour.at:%a} {cure.pour.at.day} {cure.pour.at:%b}", mixing.batches.batches
        for name in dict.fromkeys(batch.lift for batch in batches):
            run = [batch for batch in batches if batch.lift == name]
            bags = sum(batch.bags for batch in run)
            says = f"{name}: batches {run[0].number} to {run[-1].number}, {bags} bags, last one placed {clock(run[-1].placed)}"
            yield f"{day}, {clock(run[0].wet)}", says, "one mixes, the others carry and place"
    for moment in cure.moments:
        band = _band(moment)
        yield _when(moment.at), _label(moment) + (f" ({band})" if band else ""), WHO.get(moment.key, "")


def _who(days: DaysPlan) -> Iterator[tuple[str, str]]:
    site = days.choices.site
    if site.people < 2:
        yield "One alone", "mixes, carries and places each batch before the next is wetted; works slower than the clock of two"
        yield "Someone in call", "nobody works alone on a roof"
        return
    yield "One at the mixer", f"opens {site.mixer} bags a batch, measures the water, takes the mix's temperature, writes the card"
    carry = site.people - 1
    yield (
        "The other carries" if carry == 1 else f"{carry} carry",
        "hoist, place, rod round the drip and the steel; nobody stands below a bucket",
    )
    yield "Who finishes", "strikes off the wash, stays till final set: floats, trowels or brooms, mists, covers"


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


def _care(days: DaysPlan) -> Iterator[tuple[str, str]]:
    cure, units = days.cure, days.plan.job.units
    care, chosen = cure.choices.care, cure.options[0]
    interval = mist_interval(chosen.drying)
    drying = show(chosen.drying, "kg/(m2 s)", units)
    if interval < 4 * HOUR:
        yield "Mist", f"a fine mist every {show(interval, 's', units)} between float and cover; it dries {drying} at the worst"
    else:
        yield "Mist", f"not needed for drying: {drying} at the worst"
    yield "Never", "work water into the face, and never sprinkle dry cement on it"
    if care.damp:
        yield "Cover", f"wet burlap under a sheet, from final set, for {care.moist_days:g} days; wet it again before it dries"
    else:
        yield "Cover", "no damp cover was chosen; the calculation sheet says what that costs in strength"
    if care.blanket > 0:
        yield "Blanket", f"round the form before the pour, over the top from final set, for {care.blanket_days:g} days"
    else:
        yield "Blanket", "none planned; have one in the van when nights are near freezing"
    if care.shade > 0:
        yield "Shade", f"keeps {100 * care.shade:.0f} % of the sun off, from the first batch on"
    coldest, hottest = show(chosen.coldest, "degC", units), show(chosen.hottest, "degC", units)
    yield "Temperatures", f"coldest {coldest} before it stands a freezing, hottest {hottest}"


def _ways(days: DaysPlan) -> Iterator[tuple[str, ...]]:
    """What other ways of caring would do: only where one was worth computing."""
    units, options = days.plan.job.units, days.cure.options
    if len(options) < 2:
        return
    names = {name: f"blanket, R {name.rpartition('-')[2]}" for name in BLANKETS}
    for way in options:
        cold, hot = show(way.coldest, "degC", units), show(way.hottest, "degC", units)
        final = show(way.final, "s", units)
        yield names.get(way.name, way.name), cold, hot, show(way.drying, "kg/(m2 s)", units), final


def _strip(days: DaysPlan) -> str:
    strip, units = days.strip, days.plan.job.units
    if strip is None:
        return ""
    needed, floor = show(strip.needed, "Pa", units), f"{days.choices.stripping.floor / DAY:g} days"
    governs = f"Before the form goes the overhang needs {needed} ({strip.governs}), nineteen chances in twenty."
    if strip.strip is None or strip.earliest is None:
        return f"{governs} The models do not see it within 28 days: leave the form on."
    there = show(strip.earliest, "s", units)
    return f"{governs} The models see that {there} after striking off; the form stays on {floor} all the same."


def _three_days(days: DaysPlan) -> Iterator[tuple[str, str]]:
    """The trade's saying beside what this cap, the curves and the measured mixes say."""
    said, cure = saying(), days.cure
    yield "The saying", "about 80 % in three days"
    strength = next((f for f in days.figures if f.key == "cure.strength.3d"), None)
    if strength is not None:
        share = strength.value / cure.mix.strength
        yield (
            "This cap in this weather",
            f"{100 * share:.0f} % ({show_figure(strength, days.plan.job.units)})".replace("+/-", "±"),
        )
    yield from ((f"{name}, at 20 °C", f"{100 * share:.0f} %") for name, share in said.at_three_days.items())
    least, mean, most = said.data
    yield "22 mixes measured", f"{100 * mean:.0f} %, from {100 * least:.0f} to {100 * most:.0f} %"
    yield "Where 80 % does stand", f"in the end, kept moist three days only: {100 * said.moist_three_days:.0f} % of full strength"
