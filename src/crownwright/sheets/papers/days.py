"""The papers of the pour together; the day plan, and the calculation sheet of the days."""

from __future__ import annotations

from collections.abc import Iterator

from crownwright.plan.days import DaysPlan
from crownwright.quantity.findings import Verdict
from crownwright.sheets.drawings.days import window_chart
from crownwright.sheets.papers.batch_card import batch_card
from crownwright.sheets.papers.calculations import calculation_sheet
from crownwright.sheets.papers.cure_card import cure_card
from crownwright.sheets.papers.day_words import band, clock, label, when
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


def _answers(days: DaysPlan) -> Iterator[dict[str, str]]:
    cure = days.cure
    pour = cure.pour
    if pour is None:
        yield {"label": "First batch", "value": "no hour will do", "note": "the chart says why of every hour"}
        return
    sure = "" if pour.sure is None else f"holds in {100 * pour.sure:.0f} of 100 forecasts like this one"
    refused = "; ".join(reason.rule for reason in pour.refused)
    yield {"label": "First batch", "value": when(pour.at), "note": f"against a rule: {refused}" if refused else sure}
    if pour.bed is not None:
        yield {"label": "Lay the bed", "value": when(pour.bed), "note": "mortar bed and levelling course, overnight at least"}
    strip = next((m for m in cure.moments if m.key == "strip"), None)
    if strip is not None:
        yield {"label": "Strip the form", "value": when(strip.at), "note": "not before, whatever the weather looks like"}


def _clock(days: DaysPlan) -> Iterator[tuple[str, str, str]]:
    """The chosen day: bed, lifts, then the moments of the cure."""
    cure, mixing = days.cure, days.mixing
    if cure.pour is None:
        return
    if cure.pour.bed is not None:
        yield when(cure.pour.bed), "mortar bed under the boards, levelling course; covered for the night", "all"
    if mixing is not None and mixing.batches.batches:
        day, batches = f"{cure.pour.at:%a} {cure.pour.at.day} {cure.pour.at:%b}", mixing.batches.batches
        for name in dict.fromkeys(batch.lift for batch in batches):
            run = [batch for batch in batches if batch.lift == name]
            bags = sum(batch.bags for batch in run)
            says = f"{name}: batches {run[0].number} to {run[-1].number}, {bags} bags, last one placed {clock(run[-1].placed)}"
            yield f"{day}, {clock(run[0].wet)}", says, "one mixes, the others carry and place"
    for moment in cure.moments:
        within = band(moment)
        yield when(moment.at), label(moment) + (f" ({within})" if within else ""), WHO.get(moment.key, "")


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
