"""The plan's sentences in the units of its job: the parts know nothing of a job, so they say a length both ways."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from crownwright.quantity.both import in_one

if TYPE_CHECKING:
    from crownwright.plan.model import Plan
    from crownwright.quantity.display import System
    from crownwright.quantity.findings import Finding


def in_units_of_job(plan: Plan) -> Plan:
    """The plan with its findings and the form's steps told in the job's units."""
    units, form, repair = plan.job.units, plan.form, plan.repair
    if form is not None:
        form = replace(form, steps=tuple(replace(step, tell=in_one(step.tell, units)) for step in form.steps))
    if repair is not None:
        repair = replace(repair, findings=tuple(_told(finding, units) for finding in repair.findings))
    return replace(plan, findings=tuple(_told(f, units) for f in plan.findings), form=form, repair=repair)


def _told(finding: Finding, units: System) -> Finding:
    subject, action = in_one(finding.subject, units), in_one(finding.action, units)
    parts = tuple(_told(part, units) for part in finding.parts)
    return replace(finding, subject=subject, action=action, parts=parts)
