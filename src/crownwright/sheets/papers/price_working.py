"""How the price is made, for the mason: every amount and quantity with formula, inputs and source."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import Any

from crownwright.plan.job import Units
from crownwright.plan.model import Plan
from crownwright.price.showing import Sum, Worked
from crownwright.quantity.display import show
from crownwright.quantity.working import Figure, Term
from crownwright.sheets.papers.press import Paper
from crownwright.sheets.papers.say import common, families, figure_row
from crownwright.sources.bibliography import spell

GROUPS = {
    "record": "From the condition record", "old_cap": "The old cap",
    "goods": "Goods", "task": "Hours by task", "hours": "Hours by task", "labour": "Costs",
    "travel": "Costs", "cost": "Costs", "factor": "Price", "line": "Price", "net": "Price", "tax": "Price", "gross": "Price",
    "stage": "Payments", "band": "While the survey is rough", "unit": "By the unit",
    "left": "What is left, and the risk", "margin": "What is left, and the risk",
    "mark_up": "What is left, and the risk", "chance_of_loss": "What is left, and the risk",
    "least": "What is left, and the risk",
}  # fmt: skip
"""What a part of a key is called on paper."""


def price_working_paper(plan: Plan, ways: Sequence[tuple[str, str, str, Sequence[Worked]]], locale: str) -> Paper:
    """Return the working of a price. ``ways`` are (name, price in words, stem of its keys, figures)."""
    units = plan.job.units
    content = common(plan, "Every amount behind the price, with its formula, inputs and source.")
    content |= {"foot": "For the mason. " + content["foot"],
                "ways": [{"name": name, "price": price, "groups": _groups(stem, figures, units, locale)}
                         for name, price, stem, figures in ways]}  # fmt: skip
    return Paper("price-working", "How the price is made", "price-working", content)


def worked_row(one: Worked, units: Units, locale: str) -> dict[str, Any]:
    """Return a figure or an amount with its working, as text."""
    if isinstance(one, Figure):
        return figure_row(one, units)
    return {
        "key": one.key, "label": one.label[:1].upper() + one.label[1:], "value": one.amount.shown(locale),
        "formula": one.formula, "inputs": [_term(term, one, units) for term in one.inputs], "source": spell(one.cite),
        "holds": one.holds, "extrapolated": False,
    }  # fmt: skip


def _groups(stem: str, figures: Sequence[Worked], units: Units, locale: str) -> list[dict[str, Any]]:
    def group(one: Worked) -> str:
        part = one.key.removeprefix(f"{stem}.").split(".", 1)[0]
        return GROUPS.get(part, part.capitalize())

    return [
        {"name": name, "families": families(worked_row(one, units, locale) for one in some)}
        for name, some in groupby(figures, key=group)
    ]


def _term(term: Term, one: Sum, units: Units) -> dict[str, str]:
    text = isinstance(term.value, str)
    unit = "" if term.unit == "1" else f" {term.unit}"
    value = f"{term.value}{unit}" if text else show(float(term.value), term.unit, units)
    source = spell(term.cite) if term.cite is not None and term.cite != one.cite else ""
    return {"symbol": term.symbol, "name": term.name, "value": value, "source": source}
