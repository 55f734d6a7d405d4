"""plan_repair: from what was found to what it calls for. Pure: the same record and survey give the same plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import shapely

from crownwright.cap.model import CapDesign
from crownwright.codes.cap_rules import Rule
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import DAY
from crownwright.quantity.working import PRACTICE
from crownwright.repair.between import price_between
from crownwright.repair.check import check_record
from crownwright.repair.condition import judge, waived
from crownwright.repair.flues import FluesPlan, plan_flues
from crownwright.repair.model import After, RepairPlan, Task
from crownwright.repair.mortar import USUAL_BAG, Bag
from crownwright.repair.rebuild import RebuildPlan, plan_rebuild
from crownwright.repair.record import RepairRecord
from crownwright.repair.replacing import plan_replacing
from crownwright.repair.repointing import DAMP, DAMP_CITE, RepointPlan, plan_repointing
from crownwright.repair.stack import Stack, stack_of
from crownwright.survey.model import Survey
from crownwright.survey.readings import Surroundings


def plan_repair(
    record: RepairRecord,
    survey: Survey,
    around: Surroundings,
    cap: CapDesign | None = None,
    bags: Uncertain | None = None,
    per_bag: float | None = None,
    mortar: Bag = USUAL_BAG,
    local: Sequence[Rule] = (),
) -> RepairPlan:
    """Plan the repair below the cap.

    ``cap`` as designed on the survey at hand (None: none could be); ``bags`` of concrete it takes, with the survey's spread, and
    ``per_bag`` what one makes, m3: they say what the first survey is worth in a price when the top is rebuilt before the pour.
    ``mortar`` is the bag of mortar that is bought; ``local`` rules of the authority move the thresholds of what was found.
    What is wrong with the record comes back as problems; what can be planned without it is planned.
    """
    stack = stack_of(survey, around, record.units)
    condition = judge(record, local)
    rebuild = plan_rebuild(record, condition, stack, _hollow(survey, stack, cap), cap.weight.mean if cap else None, mortar)
    rebuilt = 0.0 if rebuild is None else rebuild.depth.mean
    if record.rebuild is not None and record.rebuild.done:
        rebuild = None  # laid, and read again: what is left of it is that those courses are sound
    repointing = plan_repointing(record, stack, rebuilt, mortar)
    replacing = plan_replacing(condition, stack, rebuilt)
    fits, soffit = ((), None) if cap is None else (cap.flues, cap.soffit)
    flues = plan_flues(survey.flues, fits, record.flues, soffit, rebuild is not None)
    between = price_between(rebuild, stack, bags, per_bag)
    found = (*condition.findings, *(f for part in (rebuild, repointing, flues) if part for f in part.findings))
    parts = [part for part in (rebuild, repointing, replacing, flues) if part is not None]
    return RepairPlan(
        record=record,
        condition=condition,
        repointing=repointing,
        rebuild=rebuild,
        replacing=replacing,
        flues=flues,
        between=between,
        materials=tuple(line for part in parts for line in part.materials if line.amount > 0),
        tasks=_in_order([task for part in parts for task in part.tasks]),
        cap_after=_cap_after(rebuild, repointing, flues),
        findings=tuple(waived(f, f.rule, record) for f in found),
        figures=(*condition.figures, *(f for part in parts for f in part.figures), *(between.figures if between else ())),
        problems=check_record(record, stack),
    )


def _hollow(survey: Survey, stack: Stack, cap: CapDesign | None) -> float:
    """Volume left out of the top course so that the cap keys into it, m3."""
    if cap is None or cap.choices.hollow_depth <= 0:
        return 0.0
    inner = shapely.Polygon(survey.outline.face).buffer(-cap.choices.hollow_inset)
    return max(inner.area - stack.void(0.0), 0.0) * cap.choices.hollow_depth


def _in_order(tasks: list[Task]) -> tuple[Task, ...]:
    """The tasks, each after those that there are: what is not done need not be waited for."""
    keys = {task.key for task in tasks}
    return tuple(replace(task, after=tuple(one for one in task.after if one.task in keys)) for task in tasks)


def _cap_after(rebuild: RebuildPlan | None, repointing: RepointPlan | None, flues: FluesPlan | None) -> tuple[After, ...]:
    """What must have been done before the cap is cast, and how long before."""
    found: list[After] = []
    if rebuild is not None:
        found.append(After("rebuild", rebuild.days * DAY, "the new courses must carry the cap and keep their damp", DAMP_CITE))
        found.append(After("survey again", 0.0, "the form is cut from readings of the rebuilt top", PRACTICE))
    if repointing is not None:
        found.append(After("repoint", DAMP, "the strap and the form would mar fresh joints; they are kept damp", DAMP_CITE))
    if flues is not None and any(task.key == "liners" for task in flues.tasks):
        found.append(After("liners", DAY, "the bed of a new tile must hold it", PRACTICE))
    return tuple(found)
