"""plan_job: the one sequence from readings to everything that follows from them. Pure: same job, same plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crownwright import __version__
from crownwright.cap.design import design_cap
from crownwright.checks.form_case import FormCase
from crownwright.checks.job import Case, check_job, figures_job, what_matters
from crownwright.checks.settle import settled
from crownwright.concrete.pour import NO_BED, pour_for
from crownwright.form.build import build_form
from crownwright.plan.model import Plan
from crownwright.plan.paper_figures import paper_figures
from crownwright.plan.repair import repair_for, with_the_rest
from crownwright.plan.told import in_units_of_job
from crownwright.quantity.display import show
from crownwright.quantity.kept import Kept
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import FOOT
from crownwright.survey.adjust import adjust

if TYPE_CHECKING:
    from crownwright.cap.model import CapDesign
    from crownwright.concrete.model import ConcretePlan
    from crownwright.form.model import FormDesign
    from crownwright.plan.job import Job
    from crownwright.quantity.findings import Finding
    from crownwright.quantity.working import Figure
    from crownwright.repair.model import RepairPlan
    from crownwright.survey.model import Survey

    Part = Survey | CapDesign | FormDesign | ConcretePlan | RepairPlan

LARGEST = 30 * FOOT
"""No chimney top is longer than this; a cap that comes out longer comes from readings that hold nothing (a judgement)."""


def plan_job(job: Job, *, cut_list: bool = True, kept: Kept | None = None) -> Plan:
    """Plan one job: survey, cap, form, concrete, repair, checks, in that order.

    A part that bad readings make impossible is None and the plan's ``problems`` say why and what to do; nothing is raised for
    field data. ``cut_list=False`` leaves out the search for the best cutting of the lumber (the slowest step), for a redraw
    while values change. ``kept`` holds parts of earlier plans by all that they follow from: a redraw then makes anew only what
    the changed value reaches, and the plan is the same. Raises KeyError for a code set that does not exist, naming those that do.
    """
    rules, made = job.rule_set(), kept or Kept(0)
    of_survey = ("survey", job.readings)
    survey, problems = made.get(of_survey, lambda: adjust(job.readings))
    if survey is None:
        return Plan(job, __version__, None, None, None, None, (), (), problems)
    of_cap = ("cap", job.readings, job.cap)
    cap = made.get(of_cap, lambda: design_cap(survey, job.cap))
    if impossible := _cannot_be_built(cap, job):
        repair = repair_for(job, survey)
        found, shown = _told((survey, repair))
        problems = (*problems, impossible, *(repair.problems if repair else ()))
        return in_units_of_job(Plan(job, __version__, survey, None, None, None, found, shown, problems, repair=repair))
    of_form = (*of_cap, job.form, cut_list)
    form = made.get(of_form, lambda: build_form(survey, cap, job.form, cut_list=cut_list))
    load, wood = job.checks.people.edge_load, job.checks.wood
    stands = made.get((*of_form, load, wood), lambda: FormCase(survey, cap, form, load, wood))
    pour = pour_for(cap, job.concrete, form.bed_volume if form else NO_BED, survey.surface.spread_with)
    case = Case(survey, rules, job.surroundings, cap, form, pour, job.checks, stands)
    repair = repair_for(job, survey, cap, pour)
    found, shown = _told((survey, cap, form, pour, repair))
    matters = what_matters(case)
    plan = Plan(
        job=job,
        version=__version__,
        survey=survey,
        cap=cap,
        form=form,
        concrete=pour,
        findings=settled((*found, *check_job(case))),
        figures=(*shown, *figures_job(case), *paper_figures(cap, form, matters)),
        problems=(*problems, *(form.problems if form else ()), *(repair.problems if repair else ())),
        matters=matters,
        repair=repair,
    )
    return in_units_of_job(with_the_rest(plan))


def _told(parts: tuple[Part | None, ...]) -> tuple[tuple[Finding, ...], tuple[Figure, ...]]:
    """The findings and the figures of the parts that there are, in the order of the job."""
    there = [part for part in parts if part is not None]
    return tuple(f for part in there for f in part.findings), tuple(f for part in there for f in part.figures)


def _cannot_be_built(cap: CapDesign, job: Job) -> Problem | None:
    """What no form, pour or check can be made for: a cap as large as a house, or one without concrete in it."""
    if max(cap.length, cap.width) > LARGEST:
        size = f"{show(cap.length, 'm', job.units)} by {show(cap.width, 'm', job.units)}"
        remedy = "Take the next readings, and read again what is named above: the tapes leave the top all but free"
        return Problem("cap", f"by these readings it would have to be {size} to be sure of its overhang", remedy)
    if min(cap.volume.all.mean, cap.volume.lower, cap.volume.upper) <= 0:
        remedy = "Leave out what was fixed by hand, one at a time: length, width, edge_thickness, soffit_drop"
        return Problem("cap", "as it was fixed by hand the stone leaves no room in it for concrete", remedy)
    return None
