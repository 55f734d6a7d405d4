"""Small help for saying numbers: a figure from its parts, and looking one up again."""

from __future__ import annotations

from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.working import Cite, Figure, Term

STATICS = Cite("statics", standing="derived")
JUDGED = Cite("judgement", standing="derived")

Input = tuple[str, str, float | str, str]
"""Symbol, name, value, unit of one input."""


def figure(
    key: str,
    label: str,
    value: float,
    unit: str,
    formula: str,
    cite: Cite,
    *inputs: Input,
    holds: str = "",
    extrapolated: bool = False,
) -> Figure:
    """Return a figure; ``inputs`` are (symbol, name, value, unit)."""
    return Figure(key, label, value, unit, formula, tuple(Term(*one) for one in inputs), cite, holds, extrapolated)


def value_of(figures: tuple[Figure, ...], key: str) -> float | None:
    """Return the value of a figure by key, None where it could not be worked out."""
    return next((one.value for one in figures if one.key == key), None)


def open_question(key: str, rule: str, cite: Cite, subject: str, action: str, *, blocks: bool = False) -> Finding:
    """Return a finding that nothing could be compared for: what was not told, and what to do."""
    return Finding(key, rule, cite, subject, Verdict.CANNOT_TELL, action, blocks=blocks)
