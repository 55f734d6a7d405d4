"""Plan a job: everything that follows from its readings, with what it comes to in words."""

from __future__ import annotations

from dataclasses import dataclass, replace

from crownwright.plan.job import Job
from crownwright.plan.model import Plan
from crownwright.plan.plan_job import plan_job
from crownwright.quantity.kept import Kept
from crownwright.service.jobfile import with_lines
from crownwright.service.summary import Summary, summarise


@dataclass(frozen=True, slots=True)
class Planned:
    """A plan and its summary."""

    plan: Plan
    summary: Summary


def plan_a_job(job: Job, text: str = "", *, cut_list: bool = True, kept: Kept | None = None) -> Planned:
    """Plan a job; ``text`` of its job file puts a line to each problem, ``kept`` holds parts of earlier plans."""
    plan = plan_job(job, cut_list=cut_list, kept=kept)
    plan = replace(plan, problems=with_lines(plan.problems, text))
    return Planned(plan, summarise(plan))
