"""Compare two revisions of a job: what was changed, and what that did to the plan."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher
from operator import attrgetter
from typing import Any

from crownwright.plan.model import Plan
from crownwright.quantity.display import System, show_figure
from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.working import Figure
from crownwright.service.desk.merge import same
from crownwright.service.desk.model import PlanOf
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.paths import NOTHING, Step, spelt, value_at
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.desk.words import name_of, said, shown
from crownwright.service.jobfile.syntax import parse_toml
from crownwright.service.summary import finding_words

MAIN = (
    "cap.length",
    "cap.width",
    "cap.edge_thickness",
    "cap.fall",
    "cap.volume",
    "concrete.bags",
    "concrete.weight",
    "form.cut_list.cost",
)
"""Figures that a mason looks at first; the rest follow in the order of the job."""


@dataclass(frozen=True, slots=True)
class Changed:
    """One place of the job file: what it is called, and what stood there before and after, as typed."""

    path: str
    name: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Effect:
    """One figure of the plan before and after, as it is shown; empty where there was none."""

    key: str
    name: str
    before: str
    after: str
    main: bool


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two revisions side by side. ``worse`` are findings that fall short only in the second, ``better`` only in the first;
    ``unplanned`` says which of the two has faults that stop its plan, where one has.
    """

    first: PlanOf
    second: PlanOf
    changes: tuple[Changed, ...]
    effects: tuple[Effect, ...]
    worse: tuple[str, ...]
    better: tuple[str, ...]
    unplanned: tuple[int, ...]


def compare(desk: Desk, job: str, first: int, second: int, *, cut_list: bool = True) -> Comparison:
    """Compare revision ``first`` with ``second``; KeyError when there is none of that number."""
    one, other = (plan_of(desk, job, number, cut_list=cut_list) for number in (first, second))
    before, after = (p.planned.plan if p.planned else None for p in (one, other))
    changes = tuple(changes_between(one.text, other.text))
    unplanned = tuple(p.revision.number for p in (one, other) if p.planned is None)
    if before is None or after is None:
        return Comparison(one, other, changes, (), (), (), unplanned)
    worse, better = findings_between(before, after)
    return Comparison(one, other, changes, effects_between(before, after), worse, better, ())


def effects_between(before: Plan, after: Plan) -> tuple[Effect, ...]:
    """Every figure that two plans show differently, what a mason looks at first in front."""
    return tuple(_effects(before, after, after.job.units))


def findings_between(before: Plan, after: Plan) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Findings in words that fall short only after, and only before."""
    units, (fell, falls) = after.job.units, (_short(before), _short(after))
    worse = tuple(finding_words(finding, units) for key, finding in falls.items() if key not in fell)
    better = tuple(finding_words(finding, units) for key, finding in fell.items() if key not in falls)
    return worse, better


def changes_between(first: str, second: str) -> Iterator[Changed]:
    """Every place at which two job texts say something else."""
    one, other = (parse_toml(text, "").values for text in (first, second))
    for path, before, after in _differences((), one, other):
        spelling = spelt(path)
        yield Changed(spelling, _named(path, other if after is not NOTHING else one), shown(before), shown(after))


def _named(path: tuple[Step, ...], values: Any) -> str:
    """A place in words, its items by what they say rather than by their place: tape AB."""
    name = name_of(spelt(path))
    for k, step in enumerate(path):
        item = value_at(values, path[: k + 1])
        if isinstance(step, int) and isinstance(item, dict) and said(item):
            name = name.replace(f" {step + 1}", f" {said(item)}", 1)
    return name


def _differences(path: tuple[Step, ...], one: Any, other: Any) -> Iterator[tuple[tuple[Step, ...], Any, Any]]:
    if same(one, other):
        return
    if isinstance(one, dict) and isinstance(other, dict):
        for key in dict.fromkeys((*one, *other)):
            yield from _differences((*path, key), one.get(key, NOTHING), other.get(key, NOTHING))
    elif _tables(one) and _tables(other):
        yield from _items(path, one, other)
    else:
        yield path, one, other


def _tables(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(item, dict) for item in value)


def _items(path: tuple[Step, ...], one: list[Any], other: list[Any]) -> Iterator[tuple[tuple[Step, ...], Any, Any]]:
    """Items of two lists of tables, those that are the same left out, the rest side by side in their order."""
    marks = [[repr(sorted((key, shown(part)) for key, part in item.items())) for item in items] for items in (one, other)]
    for kind, a0, a1, b0, b1 in SequenceMatcher(None, marks[0], marks[1], autojunk=False).get_opcodes():
        if kind == "equal":
            continue
        for k in range(max(a1 - a0, b1 - b0)):
            before = one[a0 + k] if a0 + k < a1 else NOTHING
            after = other[b0 + k] if b0 + k < b1 else NOTHING
            yield from _differences((*path, (a0 if after is NOTHING else b0) + k), before, after)


def _effects(first: Plan, second: Plan, units: System) -> Iterator[Effect]:
    one, other = ({f.key: f for f in plan.figures} for plan in (first, second))
    for key in (*MAIN, *(k for k in dict.fromkeys((*one, *other)) if k not in MAIN)):
        figure = other.get(key) or one.get(key)
        if key in one and key in other and _shows_the_same(one[key], other[key]):
            continue  # most of them: writing two hundred figures out to see that takes longer than all the rest
        before, after = (show_figure(side[key], units) if key in side else "" for side in (one, other))
        if figure is not None and before != after:
            yield Effect(key, figure.label, before, after, key in MAIN)


def _shows_the_same(one: Figure, other: Figure) -> bool:
    """Whether all that a figure's text is made of is the same."""
    shows = attrgetter("value", "spread", "unit", "extrapolated")
    return bool(shows(one) == shows(other))


def _short(plan: Plan) -> dict[tuple[str, str, str], Finding]:
    return {(f.key, f.subject, f.rule): f for f in plan.findings if f.verdict is Verdict.SHORT}
