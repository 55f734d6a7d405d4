"""The repair as a whole: flashing, repellent, the order of work with the cap in its place, and ways over years."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from difflib import get_close_matches
from typing import TYPE_CHECKING

from crownwright.plan.model import Plan
from crownwright.price.hours import cap_tasks
from crownwright.quantity.findings import Finding
from crownwright.quantity.problems import Problem
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import DAY, HOUR
from crownwright.quantity.working import PRACTICE, Cite
from crownwright.repair.choices import FlashingChoices, OrderChoices
from crownwright.repair.model import After, RepairPlan, Task

if TYPE_CHECKING:
    from crownwright.repair.flashing import FlashingPlan
    from crownwright.repair.order import Visits
    from crownwright.repair.repellent import Repellent
    from crownwright.repair.stack import Stack
    from crownwright.repair.years import Years
    from crownwright.survey.model import Survey
    from crownwright.survey.readings import Surroundings

SEED = 20
"""Chance in the sheet cut list, the same every time: a plan is pure."""
EFFORT = (30, 6, 60, 50)
"""Starts, rounds, layouts a round and nodes of the sheet cut list: less than the usual, since a plan is made at every redraw."""
FORM = ("saw", "assemble", "strap", "pack", "seal form", "steel", "wrap")
"""Tasks of the price that make up the day on which form and bed are set."""
NIGHT = 12 * HOUR
OPEN = 72 * HOUR
"""A bed sets overnight and stands open three days at the most before the pour, as in the window search (common practice)."""
STRIP = Cite("aci_347_04", "times to strip", "from memory")


def whole_repair(plan: Plan) -> Plan:
    """Return the plan with the rest of its repair; the plan itself where nothing was entered of one."""
    repair = plan.repair
    if repair is None or plan.survey is None:
        return plan
    from crownwright.repair.condition import waived
    from crownwright.repair.stack import stack_of
    from crownwright.repair.work_tell import work_figures

    stack = stack_of(plan.survey, plan.job.surroundings, repair.record.units)
    flashing, told = _flashing(repair, stack, plan.survey, plan.job.surroundings)
    repellent = _repellent(repair, stack)
    parts = [part for part in (flashing, repellent) if part is not None]
    grown = replace(
        repair,
        flashing=flashing,
        repellent=repellent,
        materials=(*repair.materials, *(line for part in parts for line in part.materials if line.amount > 0)),
        tasks=_without_the_absent((*repair.tasks, *(task for part in parts for task in part.tasks))),
    )
    order, circles = _order(plan, grown)
    years, unknown = _years(grown)
    more = [part for part in (flashing, repellent, order, years) if part is not None]
    findings = tuple(waived(f, f.rule, repair.record) for part in more for f in part.findings)
    figures = (*(f for part in more for f in part.figures), *work_figures(grown.tasks, grown.cap_after))
    problems = (*told, *circles, *unknown, *_idle_waivers(repair, (*repair.findings, *findings)))
    grown = replace(
        grown,
        order=order,
        years=years,
        findings=(*repair.findings, *findings),
        figures=(*repair.figures, *figures),
        problems=(*repair.problems, *problems),
    )
    return replace(
        plan,
        repair=grown,
        findings=(*plan.findings, *findings),
        figures=(*plan.figures, *figures),
        problems=(*plan.problems, *problems),
    )


def _idle_waivers(repair: RepairPlan, findings: tuple[Finding, ...]) -> Iterator[Problem]:
    """Waivers of something that was not found: a name typed wrong would otherwise waive nothing in silence."""
    names = {*(one.kind.name for one in repair.condition.judged), *(f.key for f in findings), *(f.rule for f in findings)}
    for n, one in enumerate(repair.record.waived, 1):
        if one.what not in names:
            near = get_close_matches(one.what, names, n=1)
            remedy = f"Did you mean “{near[0]}”?" if near else "Write the finding as it is named under seen, or its key"
            yield Problem(f"repair.waived[{n}].what", f"nothing found is called “{one.what}”", remedy, stops=False)


def _flashing(
    repair: RepairPlan, stack: Stack, survey: Survey, around: Surroundings
) -> tuple[FlashingPlan | None, tuple[Problem, ...]]:
    """Flashing where it was asked for, or what was found calls for it."""
    called = repair.condition.calling("reflash", "cricket")
    if repair.record.flashing is None and not called:
        return None, ()
    from crownwright.repair.flashing import plan_flashing
    from crownwright.repair.nest import Effort

    choices = repair.record.flashing or FlashingChoices()
    width, depth = around.width_along_ridge, choices.depth
    if depth is None and width is not None:
        depth = _across(stack, width)
    meets = around.ridge_away is not None and around.ridge_away <= 0
    return plan_flashing(
        width,
        depth,
        around.roof_pitch,
        course=stack.course,
        meets_ridge=meets,
        choices=choices,
        rng=random.Random(SEED),
        effort=Effort(*EFFORT),
    )


def _across(stack: Stack, width: float) -> float | None:
    """The stack's depth across the ridge: the mean of the other two faces, those along it being nearest to ``width``."""
    runs = [face.mean for face in stack.faces.values()]
    if len(runs) != 4:
        return None
    pairs = ((runs[0] + runs[2]) / 2, (runs[1] + runs[3]) / 2)
    along = min(pairs, key=lambda run: abs(run - width))
    return pairs[0] if along == pairs[1] else pairs[1]


def _repellent(repair: RepairPlan, stack: Stack) -> Repellent | None:
    if repair.record.repellent is None or stack.height is None:
        return None
    from crownwright.repair.repellent import plan_repellent

    surface = "stone" if stack.masonry != "brick" else "soft brick" if repair.record.units.hardness == "soft" else "brick"
    cracks = [seen.measure.metres for seen in repair.record.seen if seen.what == "masonry crack" and seen.measure is not None]
    wet = any(seen.what == "efflorescence" for seen in repair.record.seen)
    widest = max(cracks, default=None)
    return plan_repellent(stack.perimeter, stack.height, surface, repair.record.repellent, widest_crack=widest, wet=wet)


def work_of(plan: Plan, repair: RepairPlan) -> tuple[Task, ...]:
    """Return all tasks of a job: the repair's, and the cap's own between them."""
    choices = repair.record.order or OrderChoices()
    bare = After("seal", DAY, "sealant sticks to bare masonry only", PRACTICE)
    own = (replace(task, after=(*task.after, bare)) if task.key == "repellent" else task for task in repair.tasks)
    return (*own, *_cap(plan, repair, choices))


def _without_the_absent(tasks: tuple[Task, ...]) -> tuple[Task, ...]:
    """Tasks that wait only for what is part of this repair."""
    keys = {task.key for task in tasks}
    return tuple(replace(task, after=tuple(after for after in task.after if after.task in keys)) for task in tasks)


def _order(plan: Plan, repair: RepairPlan) -> tuple[Visits | None, tuple[Problem, ...]]:
    from crownwright.repair.order import order_of, place

    order, problems = order_of(work_of(plan, repair), repair.record.order or OrderChoices())
    return (None if order is None else place(order)), problems


def _cap(plan: Plan, repair: RepairPlan, choices: OrderChoices) -> Iterator[Task]:
    """Form and bed, pour, strip, flue joint: hours as the price counts them."""
    if plan.cap is None or plan.form is None or plan.concrete is None:
        return
    hours = {task.key: Uncertain(0.0) for task in cap_tasks(plan)}
    for task in cap_tasks(plan):
        had = hours[task.key]
        hours[task.key] = Uncertain(had.mean + task.hours.mean, (had.sd**2 + task.hours.sd**2) ** 0.5)

    def of(*keys: str) -> Uncertain:
        found = [hours[key] for key in keys if key in hours]
        return Uncertain(sum(h.mean for h in found), sum(h.sd**2 for h in found) ** 0.5)

    cold = plan.job.pour.cure.limits.air_low
    stands = max(plan.job.pour.cure.care.strip_days, plan.job.pour.stripping.floor / DAY) * DAY
    pieces, volume = float(len(plan.form.pieces)), plan.cap.volume.all.mean
    bed = After("form", NIGHT, "the bed must carry the form's weight", PRACTICE, OPEN)
    strip = After("pour", stands, "the overhang must carry itself", STRIP)
    dried = After("pour", choices.joint_days * DAY, "sealant wants concrete that has dried", PRACTICE)
    bare = After("strip", 0.0, "the form is off", PRACTICE)
    form, strip_form, pour = "set form, bed and steel", "take the form apart", "pour, float and trowel the cap"
    yield Task("form", form, pieces, "1", "form.pieces", of(*FORM), people=2, after=repair.cap_after, coldest=cold)
    yield Task("pour", pour, volume, "m3", "cap.volume", of("pour", "finish"), people=2, after=(bed,), coldest=cold)
    yield Task("strip", strip_form, pieces, "1", "form.pieces", of("strip"), people=2, after=(strip,), dry=False)
    flues = "seal the joint round the flues"
    yield Task("seal", flues, 1.0, "1", "cap.joint.length", of("seal joint"), after=(dried, bare), coldest=cold)


def _years(repair: RepairPlan) -> tuple[Years | None, tuple[Problem, ...]]:
    if repair.record.years is None:
        return None, ()
    from crownwright.repair.years import over_years

    return over_years(repair.record.years)
