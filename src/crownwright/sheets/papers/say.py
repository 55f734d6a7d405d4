"""Figures, findings and jobs as plain text for papers."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import date
from itertools import pairwise
from typing import Any

from crownwright.checks.nest import nested
from crownwright.plan.job import Units
from crownwright.plan.model import Plan
from crownwright.quantity.amounts import amounts
from crownwright.quantity.both import in_one
from crownwright.quantity.display import show, show_figure
from crownwright.quantity.findings import Finding
from crownwright.quantity.working import Figure, Term
from crownwright.sheets.draw.ink import lay
from crownwright.sheets.draw.shapes import Drawing
from crownwright.sheets.draw.svg import size_mm, svg
from crownwright.sources.bibliography import spell

FOOT = "Worked from the readings as typed. It compares with rules, no more: local code and a licensed practitioner decide."
CAUTIONS = (
    "A fall kills. From 6 ft (1.8 m) up you want a guardrail or a harness on an anchor that holds; a chimney is not an anchor.",
    "Look for power lines before you raise a ladder, a pole or a strap: stay 10 ft (3 m) off, more above 50 kV.",
    "Every appliance on a flue you cover is locked out and tagged first, and the cover comes off before you leave: a "
    "blocked flue kills.",
    "Wet cement burns, and you may not feel it until later. Gloves, boots, eyes covered; wash at once.",
    "Grinding or chipping masonry makes silica dust: water or a vacuum shroud, and a mask that fits.",
    "What you lift, hoist and stand on has a rating. Read it; count yourself, your clothes and your tools.",
    "If the stack leans, rocks or is cracked through, stop: an engineer looks at it before any weight goes on.",
)
"""The usual cautions: common practice of the trade, no source, except where a finding on the same papers names one."""


def cautions(units: Units) -> list[str]:
    """Return the usual cautions in the units of a job."""
    return [in_one(says, units) for says in CAUTIONS]


def common(plan: Plan, says: str) -> dict[str, Any]:
    """Return what every paper shows: the job, the unit, the foot, the cautions."""
    job = plan.job
    dated = written(job.read_on, job.units)
    named = {"title": job.title, "place": job.place, "customer": job.customer, "mason": job.mason, "dated": dated}
    return heading(named, job.units, plan.version, says)


def written(day: str, units: Units) -> str:
    """Return a day of a job as people write it: the month first in a US job; what is no day, as it was typed.

    >>> written("2026-05-03", "us"), written("2026-05-03", "metric"), written("in May", "us")
    ('May 3, 2026', '3 May 2026', 'in May')
    """
    try:
        on = date.fromisoformat(day)
    except ValueError:
        return day
    return f"{on:%B} {on.day}, {on.year}" if units == "us" else f"{on.day} {on:%B} {on.year}"


def heading(job: Mapping[str, str], units: Units, version: str, says: str) -> dict[str, Any]:
    """Return what every paper shows of what it is about, by title, place, customer, mason and date."""
    return {
        "says": says,
        "job": dict(job),
        "foot": f"Crownwright {version}. {FOOT}",
        "cautions": cautions(units),
        "unit-says": "inches" if units == "us" else "millimetres",
    }


def formula_words(formula: str) -> str:
    """Return a formula as it is set on paper: root, powers and signs in the signs of arithmetic.

    >>> formula_words("sqrt((x_2 - x_1)^2 + y^2) >= pi/2")
    '√((x_2 − x_1)² + y²) ≥ π/2'
    """
    for rough, fine in _SIGNS:
        formula = rough.sub(fine, formula)
    return formula


_SIGNS = tuple(
    (re.compile(rough), fine)
    for rough, fine in (
        (r"\bsqrt\(", "√("), (r"\^2(?![\d.])", "²"), (r"\^3(?![\d.])", "³"), (r"\^4(?![\d.])", "⁴"),
        (r"\b(ft|in|m|mm)2\b", r"\1²"), (r"\b(ft|in|m|mm)3\b", r"\1³"), (r"<=", "≤"), (r">=", "≥"), (r"\bpi\b", "π"),
        (r"(?<=[\w)²³]) - (?=[\w(√])", " − "), (r"(?<=[\w)²³]) x (?=[\w(√])", " × "),
    )
)  # fmt: skip


def formula_parts(formula: str) -> list[list[str]]:
    """Return a formula in parts, each with where it is set: "" on the line, "low" (after _) or "high" (after ^).

    >>> formula_parts("x_i y_(i+1) + p^1.7")
    [['x', ''], ['i', 'low'], [' y', ''], ['i+1', 'low'], [' + p', ''], ['1.7', 'high']]
    """
    parts = []
    for text in _MOVED.split(formula):
        where = {"_": "low", "^": "high"}.get(text[:1], "") if _MOVED.fullmatch(text) else ""
        inner = text[1:].removeprefix("(").removesuffix(")") if where else text
        parts += [[inner, where]] if inner else []
    return parts


_MOVED = re.compile(r"(_(?:\([^()]*\)|[A-Za-z0-9]+)|\^(?:\([^()]*\)|-?[\d.]+|[a-z]\b))")


def families(rows: Iterable[dict[str, Any]]) -> list[dict[str, Any]]:
    """Return rows of `figure_row` with neighbours of one formula, source and range told together: those once, then each value."""
    told: list[dict[str, Any]] = []
    for row in rows:
        shared = {key: row[key] for key in ("formula", "source", "holds", "extrapolated")}
        own = {key: row[key] for key in ("key", "label", "value", "inputs")}
        if told and all(told[-1][key] == value for key, value in shared.items()):
            told[-1]["members"].append(own)
        else:
            told.append({**shared, "parts": formula_parts(row["formula"]), "members": [own]})
    return told


def figure_row(figure: Figure, units: Units) -> dict[str, Any]:
    """Return a figure with its working, as text."""
    return {
        "key": figure.key,
        "label": figure.label[:1].upper() + figure.label[1:],
        "value": show_figure(figure, units),
        "formula": formula_words(figure.formula),
        "inputs": _term_rows(figure, units),
        "source": spell(figure.cite),
        "holds": figure.holds,
        "extrapolated": figure.extrapolated,
    }


def _term_rows(figure: Figure, units: Units) -> list[dict[str, str]]:
    """Return the inputs; of several in a row from one source only the last names it."""
    rows = [term_row(term, figure, units) for term in figure.inputs]
    for row, then in pairwise(rows):
        if row["source"] == then["source"]:
            row["source"] = ""
    return rows


def term_row(term: Term, figure: Figure, units: Units) -> dict[str, str]:
    """Return one input of a formula as text; its source only where it is not the figure's own."""
    value = term.value if isinstance(term.value, str) else show(term.value, term.unit, units)
    source = spell(term.cite) if term.cite is not None and term.cite != figure.cite else ""
    return {"symbol": term.symbol, "name": term.name, "value": value, "source": source}


def finding_row(finding: Finding, units: Units) -> dict[str, Any]:
    """Return a finding as text; ``also`` is what other sources make of the same."""
    waiver = finding.waiver
    low, high, has = amounts(finding, units)
    return {
        "key": finding.key,
        "rule": finding.rule,
        "subject": finding.subject[:1].upper() + finding.subject[1:],
        "required": _required(low, high),
        "provided": has,
        "verdict": finding.verdict.value,
        "action": finding.action.rstrip("."),
        "waived": f"Waived by {waiver.by}: {waiver.reason}".rstrip(".") if waiver else "",
        "source": spell(finding.cite),
        "also": [_also(part, finding, units) for part in finding.parts],
    }


def finding_areas(findings: Iterable[Finding], units: Units) -> list[dict[str, Any]]:
    """Return findings as areas, each with its rules, each with what was held against it."""
    return [
        {
            "name": area.subject,
            "count": area.rule,
            "verdict": area.verdict.value,
            "rules": [_rule_rows(rule, units) for rule in area.parts],
        }
        for area in nested(findings)
    ]


def _rule_rows(rule: Finding, units: Units) -> dict[str, Any]:
    several = any(part.rule == rule.rule and part.cite == rule.cite for part in rule.parts)
    rows = [finding_row(one, units) for one in (rule.parts if several else (rule,))]
    return {"rule": rule.rule, "source": spell(rule.cite), "verdict": rule.verdict.value, "rows": rows}


def _also(part: Finding, whole: Finding, units: Units) -> str:
    """What another source asks of the same, and the verdict by it where that is another."""
    low, high, there = amounts(part, units)
    has = f" (there is {there})" if there and there != amounts(whole, units)[2] else ""
    return f"{spell(part.cite)}: {_required(low, high) or part.rule}{has}, {part.verdict.value}"


def _required(low: str, high: str) -> str:
    if low == high:
        return low
    return f"{low} to {high}" if low and high else f"at least {low}" if low else f"at most {high}" if high else ""


def picture(drawing: Drawing, *, scaled: bool = True) -> dict[str, Any]:
    """Return a drawing for a template: its SVG, its size on paper, and what is said of it."""
    laid = lay(drawing)
    wide, high = size_mm(laid)
    return {
        "svg": svg(laid), "wide": round(wide, 2), "high": round(high, 2), "title": drawing.title, "says": drawing.says,
        "scale-says": drawing.scale_says, "scaled": scaled,
    }  # fmt: skip
