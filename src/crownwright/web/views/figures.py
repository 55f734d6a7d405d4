"""Figures with their working, grouped as a page shows them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from crownwright.plan.job import Units
from crownwright.price.showing import Worked
from crownwright.quantity.display import show
from crownwright.quantity.working import Figure, Term
from crownwright.sheets.papers.say import figure_row
from crownwright.sources.bibliography import spell

SPREAD = "After ± stands one standard error: two times in three it lies within that."


@dataclass(frozen=True, slots=True)
class Shown:
    """A figure and the units it is shown in: all that its text follows from."""

    figure: Figure
    units: Units


@dataclass(frozen=True, slots=True)
class Group:
    """Figures under one heading."""

    head: str
    rows: tuple[Shown, ...]


def row_of(figure: Figure, units: Units) -> dict[str, Any]:
    """A figure as text, with what its ± means."""
    row = figure_row(figure, units) | {"spread": SPREAD if figure.spread else ""}
    return row | {"value": chance(figure.value)} if figure.unit == "1" and figure.label.startswith("chance") else row


def worked_row(one: Worked, locale: str, units: Units) -> dict[str, Any]:
    """A figure or an amount of money as text."""
    if isinstance(one, Figure):
        return row_of(one, units)
    inputs = [{"symbol": t.symbol, "name": t.name, "source": "", "value": _term(t, units)} for t in one.inputs]
    label = one.label[:1].upper() + one.label[1:]
    return {"key": one.key, "label": label, "value": one.amount.shown(locale), "formula": one.formula, "inputs": inputs,
            "source": spell(one.cite), "holds": one.holds, "extrapolated": False, "spread": ""}  # fmt: skip


def _term(term: Term, units: Units) -> str:
    return term.value if isinstance(term.value, str) else show(term.value, term.unit, units)


def chance(share: float) -> str:
    """A chance as people say it.

    >>> chance(0.044), chance(0.00009), chance(0.5)
    ('4.4 %', 'less than 0.1 %', '50 %')
    """
    percent = 100 * share
    return "less than 0.1 %" if percent < 0.1 else f"{percent:.1f} %" if percent < 9.95 else f"{percent:.0f} %"


def grouped(figures: Iterable[Figure], units: Units, heads: Sequence[tuple[str, tuple[str, ...]]]) -> tuple[Group, ...]:
    """Figures by what their keys begin with, in the order of ``heads``; the first head that fits takes a figure."""
    rest = list(figures)
    groups = []
    for head, begins in heads:
        mine = [figure for figure in rest if figure.key.startswith(begins)]
        rest = [figure for figure in rest if not figure.key.startswith(begins)]
        if mine:
            groups.append(Group(head, tuple(Shown(figure, units) for figure in mine)))
    return tuple(groups)


def named(figures: Iterable[Figure], units: Units, *keys: str) -> tuple[Shown, ...]:
    """The figures of those keys, in that order; what is not there is left out."""
    known = {figure.key: figure for figure in figures}
    return tuple(Shown(known[key], units) for key in keys if key in known)
