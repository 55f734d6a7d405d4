"""The calculation sheet: every figure of a plan with its working, and every finding, in the order of the job."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from crownwright.plan.model import Plan
from crownwright.quantity.findings import Finding
from crownwright.quantity.working import Figure
from crownwright.sheets.papers.press import Paper
from crownwright.sheets.papers.say import common, families, figure_row, finding_areas

GROUPS = {
    "survey": "Readings", "cap": "Cap", "height": "Height above the roof", "form": "Form", "concrete": "Concrete",
    "cure": "Curing", "repair": "Repair", "checks": "Checks", "price": "Price",
}  # fmt: skip
"""What the first part of a figure's key is called on paper; an unknown one is printed as it is."""


def calculations(plan: Plan) -> Paper:
    """Return the calculation sheet."""
    says = "Every number of the plan with its formula, inputs and source."
    return calculation_sheet(plan, plan.figures, plan.findings, name="calculations", title="Calculation sheet", says=says)


def calculation_sheet(
    plan: Plan, figures: Sequence[Figure], findings: Sequence[Finding], *, name: str, title: str, says: str
) -> Paper:
    """Return figures and findings of a plan as a calculation sheet, in their order."""
    units = plan.job.units
    groups = [
        {"name": GROUPS.get(stem, stem.capitalize()), "families": families(figure_row(figure, units) for figure in some)}
        for stem, some in groupby(figures, key=lambda f: f.key.split(".", 1)[0])
    ]
    content = common(plan, says)
    content |= {"groups": groups, "areas": finding_areas(findings, units)}
    return Paper(name, title, "calculations", content)
