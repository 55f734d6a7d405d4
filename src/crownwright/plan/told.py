"""The plan's sentences in the units of its job: the parts know nothing of a job, so they say a measure both ways."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from crownwright.quantity.both import in_one

if TYPE_CHECKING:
    from crownwright.cure.model import CurePlan
    from crownwright.plan.model import Plan
    from crownwright.quantity.display import System
    from crownwright.quantity.findings import Finding


def in_units_of_job(plan: Plan) -> Plan:
    """The plan with its findings and the form's steps told in the job's units."""
    units, form, repair = plan.job.units, plan.form, plan.repair
    if form is not None:
        form = replace(form, steps=tuple(replace(step, tell=in_one(step.tell, units)) for step in form.steps))
    if repair is not None:
        below, findings = repair.repointing, tuple(_told(finding, units) for finding in repair.findings)
        if below is not None:
            below = replace(below, not_done=tuple(in_one(says, units) for says in below.not_done))
        repair = replace(repair, findings=findings, repointing=below)
    return replace(plan, findings=tuple(_told(f, units) for f in plan.findings), form=form, repair=repair)


def cure_in_units(cure: CurePlan, units: System) -> CurePlan:
    """The cure with its findings, and why hours are refused, told in the job's units."""
    windows = (replace(one, refused=tuple(_told(f, units) for f in one.refused)) for one in cure.windows)
    pour = None if cure.pour is None else replace(cure.pour, refused=tuple(_told(f, units) for f in cure.pour.refused))
    findings = tuple(_told(finding, units) for finding in cure.findings)
    return replace(cure, windows=tuple(windows), pour=pour, findings=findings)


def _told(finding: Finding, units: System) -> Finding:
    rule, subject, action = (in_one(text, units) for text in (finding.rule, finding.subject, finding.action))
    parts = tuple(_told(part, units) for part in finding.parts)
    return replace(finding, rule=rule, subject=subject, action=action, parts=parts)
