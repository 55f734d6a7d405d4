"""A plan: everything that follows from one job's readings, recomputed whenever it is wanted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from crownwright.cap.model import CapDesign
from crownwright.plan.job import Job
from crownwright.quantity.findings import Finding
from crownwright.quantity.problems import Problem
from crownwright.quantity.working import Figure
from crownwright.survey.model import Survey

if TYPE_CHECKING:
    from crownwright.checks.sensitivity import Sensitivity
    from crownwright.concrete.model import ConcretePlan
    from crownwright.form.model import FormDesign
    from crownwright.repair.model import RepairPlan


@dataclass(frozen=True, slots=True)
class Plan:
    """The whole answer. A part is None where the ``problems`` stopped the plan before it; what could be done is there.

    ``findings`` and ``figures`` gather those of every part, in the order of the job.
    """

    job: Job
    version: str
    survey: Survey | None
    cap: CapDesign | None
    form: FormDesign | None
    concrete: ConcretePlan | None
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]
    problems: tuple[Problem, ...]
    matters: tuple[Sensitivity, ...] = ()
    """For bags, weight and clamp: which input matters most."""
    repair: RepairPlan | None = None
    """The repair below the cap; None where nothing was entered of one."""

    def figure(self, key: str) -> Figure:
        """Return the figure with this key; KeyError naming near keys when there is none."""
        for figure in self.figures:
            if figure.key == key:
                return figure
        stem = key.split(".", maxsplit=1)[0]
        near = ", ".join(f.key for f in self.figures if f.key.startswith(stem)) or "none"
        raise KeyError(f"no figure {key!r} in this plan; those beginning with {stem!r}: {near}")
