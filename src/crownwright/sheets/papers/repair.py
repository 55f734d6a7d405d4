"""The scope of the repair: what was found and where, what it calls for, how much of it, in what order before the cap is cast."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from crownwright.plan.job import Units
from crownwright.plan.model import Plan
from crownwright.quantity.display import show, show_figure
from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.working import Figure
from crownwright.repair.condition import Judged
from crownwright.repair.model import RepairPlan
from crownwright.repair.tell import liquid_words, run_words, to_buy
from crownwright.sheets.draw.shapes import Drawing
from crownwright.sheets.papers.press import Paper
from crownwright.sheets.papers.say import common, finding_row, picture
from crownwright.sheets.papers.summary import ROOM
from crownwright.sources.bibliography import spell

AMOUNTS = (
    "repair.rebuild.depth", "repair.rebuild.volume", "repair.rebuild.units", "repair.rebuild.new", "repair.rebuild.stone",
    "repair.rebuild.new_stone", "repair.rebuild.bonders", "repair.rebuild.mortar", "repair.rebuild.bags", "repair.rebuild.up",
    "repair.rebuild.down", "repair.repoint.length", "repair.repoint.width", "repair.repoint.depth", "repair.repoint.volume",
    "repair.repoint.bags", "repair.repoint.cement", "repair.repoint.lime", "repair.repoint.sand", "repair.replace.buy",
    "repair.between.bags", "repair.flashing.steps", "repair.flashing.stepped_high", "repair.flashing.joint",
    "repair.flashing.area", "repair.cricket.height", "repair.cricket.ridge", "repair.cricket.valley", "repair.repellent.area",
    "repair.repellent.volume", "repair.order.visits", "repair.order.days",
)  # fmt: skip
"""Figures that the sheet shows, in order; the others stand on the calculation sheet."""


def repair_scope(plan: Plan, pictures: Sequence[Drawing] = ()) -> Paper:
    """Return the scope sheet. ``pictures`` are the faces of the stack. Raises ValueError for a plan without a repair."""
    repair, units = plan.repair, plan.job.units
    if repair is None:
        raise ValueError("nothing was entered of this chimney below its cap")
    content = common(plan, "The repair below the cap: what was found, what is done about it, and what comes before the cap.")
    told = [one for one in repair.findings if not one.key.startswith("repair.seen.")]
    content |= {
        "answers": list(_answers(repair, units)),
        "blocks": [_block(one) for one in repair.blocks],
        "problems": [f"{one.where}: {one.what}. {one.remedy}" for one in repair.problems],
        "pictures": {of.name: picture(of, scaled=of.scale_says != "") for of in pictures},
        "room": ROOM,
        "found": [_found(one, units) for one in repair.condition.judged],
        "chains": [" → ".join(chain) for chain in repair.condition.chains],
        "amounts": [_amount(figure, units) for figure in _shown(repair)],
        "buys": [_bought(repair, units, n) for n in range(len(repair.materials))],
        "steps": [_step(repair, units, n) for n in range(len(repair.tasks))],
        "before": [[after.task, _wait(after.wait, units), after.why] for after in repair.cap_after],
        "not_done": list(repair.repointing.not_done) if repair.repointing else [],
        "findings": [finding_row(one, units) for one in told if one.verdict in (Verdict.SHORT, Verdict.WAIVED)],
        "unknown": [finding_row(one, units) for one in told if one.verdict is Verdict.CANNOT_TELL],
        "inspection": repair.condition.level_says,
    }
    return Paper("repair", "Repair below the cap", "repair", content)


def _answers(repair: RepairPlan, units: Units) -> Iterator[dict[str, Any]]:
    blocks = len(repair.blocks)
    value = "not yet" if blocks else "after the work below"
    note = f"{blocks} thing{'s' * (blocks != 1)} to be seen first" if blocks else "nothing found keeps it from being cast"
    yield {"label": "Cast a cap on it?", "value": value, "note": note, "keys": []}
    if repair.rebuild is not None:
        depth = show(repair.rebuild.depth.mean, "m", units)
        courses = f"{repair.rebuild.courses} courses, mortar type" if repair.rebuild.courses else "mortar type"
        note = f"{courses} {repair.rebuild.mortar.name}"
        yield {"label": "Laid anew, from the top", "value": depth, "note": note, "keys": ["repair.rebuild.depth"]}
    if repair.repointing is not None:
        run = run_words(repair.repointing.length, units).split(" ±")[0]
        note = f"mortar type {repair.repointing.mortar.name}, raked {show(repair.repointing.depth.mean, 'm', units)} deep"
        yield {"label": "Joint to repoint", "value": run, "note": note, "keys": ["repair.repoint.length"]}


def _block(one: Finding) -> dict[str, str]:
    return {"what": f"{one.subject[:1].upper()}{one.subject[1:]}: {one.rule}", "todo": f"{one.action.rstrip('.')}."}


def _found(one: Judged, units: Units) -> dict[str, str]:
    seen = one.seen
    measures = [
        f"{what} {show(part.metres, 'm', units)}"
        for part, what in ((seen.measure, one.kind.measure), (seen.over, one.kind.over), (seen.offset, "out of plane by"))
        if part is not None
    ]
    measures += [f"{100 * seen.share:.0f} % of it"] if seen.share is not None else []
    measures += ["growing"] if seen.growing else []
    notes = [f"photo {', '.join(seen.photos)}"] if seen.photos else []
    waiver = one.finding.waiver
    return {
        "number": str(one.number),
        "where": one.where[:1].upper() + one.where[1:],
        "what": one.kind.name,
        "measure": ", ".join(measures),
        "grade": "not measured" if one.grade is None else one.grade.name,
        "todo": one.finding.action.rstrip("."),
        "waived": f"Waived by {waiver.by}: {waiver.reason}".rstrip(".") if waiver else "",
        "note": "; ".join([*notes, *([seen.note] if seen.note else [])]),
        "source": spell(one.finding.cite),
        "blocks": "yes" if one.finding.blocks else "",
    }


def _shown(repair: RepairPlan) -> Iterator[Figure]:
    by_key = {figure.key: figure for figure in repair.figures}
    yield from (by_key[key] for key in AMOUNTS if key in by_key)


def _amount(figure: Figure, units: Units) -> list[str]:
    label = figure.label[:1].upper() + figure.label[1:]
    if figure.key.startswith("repair.repoint.length") and figure.spread is not None:
        return [label, run_words(Uncertain(figure.value, figure.spread), units), figure.key]
    if figure.key == "repair.repellent.volume" and figure.spread is not None:
        return [label, liquid_words(Uncertain(figure.value, figure.spread), units), figure.key]
    return [label, show_figure(figure, units), figure.key]


def _bought(repair: RepairPlan, units: Units, n: int) -> list[str]:
    line = repair.materials[n]
    amount = to_buy(line, units)
    return [line.what[:1].upper() + line.what[1:], amount, line.why]


def _step(repair: RepairPlan, units: Units, n: int) -> list[str]:
    task = repair.tasks[n]
    after = ", ".join(f"{one.task}" + (f" + {_wait(one.wait, units)}" if one.wait > 0 else "") for one in task.after)
    mildest = "" if task.coldest is None else f"not under {show(task.coldest, 'degC', units)}"
    return [task.key, task.what, f"{task.hours.mean:.1f} ± {task.hours.sd:.1f}", after, mildest]


def _wait(seconds: float, units: Units) -> str:
    return show(seconds, "s", units) if seconds > 0 else "done"
