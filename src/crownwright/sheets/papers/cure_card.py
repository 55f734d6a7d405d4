"""The cure card: when to finish, mist, cover, blanket, strip, and when the cap may be left alone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from crownwright.concrete.early import saying
from crownwright.cure.on_the_day import Moved
from crownwright.cure.options import BLANKETS, mist_interval
from crownwright.plan.days import DaysPlan
from crownwright.quantity.display import show, show_figure
from crownwright.quantity.units import DAY, HOUR
from crownwright.sheets.drawings.days import cure_chart
from crownwright.sheets.papers.day_words import band, day_of, label, later, when
from crownwright.sheets.papers.press import Paper
from crownwright.sheets.papers.say import common, picture


def cure_card(days: DaysPlan, moved: Sequence[Moved] = ()) -> Paper:
    """Return the cure card: finish, mist, cover, blanket, strip and walk away, by the clock. ValueError without a pour.

    ``moved`` what the log of the day has moved: the card then says so, and leaves out what was worked out for the plan alone.
    """
    cure, units = days.cure, days.plan.job.units
    if cure.course is None or days.mixing is None:
        raise ValueError("no pour was followed, so there is nothing to cure")
    content = common(days.plan, "When to float, trowel, mist, cover, strip, and when it may be left alone.")
    content |= {
        "on": day_of(days),
        "moments": [[when(m.at), label(m), band(m)] for m in cure.moments],
        "care": [list(row) for row in _care(days)],
        "moved": [[label(m), when(m.planned), when(m.now), later(m)] for m in moved],
        "ways": [] if moved else [list(row) for row in _ways(days)],
        "chart": picture(cure_chart(cure, units), scaled=False),
        "three": [] if moved else [list(row) for row in _three_days(days)],
        "strip": _strip(days),
        "unit": "°F" if units == "us" else "°C",
        "cautions": [caution.words for caution in days.mixing.cautions if caution.key not in ("silica", "lifting")],
    }
    return Paper("cure-card", "Cure card", "cure-card", content)


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
            f"{100 * share:.0f} % ({show_figure(strength, days.plan.job.units)})",
        )
    yield from ((f"{name}, at 20 °C", f"{100 * share:.0f} %") for name, share in said.at_three_days.items())
    least, mean, most = said.data
    yield "22 mixes measured", f"{100 * mean:.0f} %, from {100 * least:.0f} to {100 * most:.0f} %"
    yield "Where 80 % does stand", f"in the end, kept moist three days only: {100 * said.moist_three_days:.0f} % of full strength"
