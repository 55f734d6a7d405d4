"""Findings as a tree: area, rule, and under the rule each side, flue or board that was held against it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType

from crownwright.checks.settle import GRAVITY, gravest
from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.working import DERIVED

AREAS: Mapping[str, str] = MappingProxyType(
    {
        "readings": "Readings", "stack": "The chimney", "flue": "Flues", "cap": "The cap", "strength": "Strength of the cap",
        "heat": "Heat at the joint", "form": "The form", "concrete": "Concrete", "days": "The days", "repair": "Repair",
        "price": "Price", "people": "People", "rest": "The rest",
    }
)  # fmt: skip
"""Areas in the order of the job, and what they are called."""
_BEGINS: Mapping[str, str] = MappingProxyType(
    {
        "survey": "readings", "code.height": "stack", "code.slenderness": "stack", "code.brace": "stack", "code.cricket": "stack",
        "code.wall_thickness": "stack", "code.wythe": "flue", "code.flue": "flue", "code.free_area": "flue",
        "code.rain_cap": "flue", "code.liner_space": "flue", "stack": "stack", "flue": "flue", "code": "cap", "cap": "cap",
        "strength": "strength", "heat": "heat", "form": "form", "concrete": "concrete", "strip": "days", "cure": "days",
        "days": "days", "weather": "days", "mixing": "days", "repair": "repair", "price": "price", "people": "people",
    }
)  # fmt: skip
"""How keys begin, the longer first where one begins like another."""


def nested(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return one finding an area, its parts one a rule, and where several things were held against one rule, those under it.

    A parent has the gravest verdict below it. A finding's own parts (what other sources make of the same) stay under it.
    """
    areas: dict[str, list[Finding]] = {}
    for finding in findings:
        areas.setdefault(area_of(finding.key), []).append(finding)
    return tuple(_area(name, areas[name]) for name in AREAS if name in areas)


def rules_among(findings: Iterable[Finding], verdict: Verdict) -> int:
    """Count the rules with findings of a verdict, each once however many places of the job it was held against."""
    return sum(len(area.parts) for area in nested(finding for finding in findings if finding.verdict is verdict))


def area_of(key: str) -> str:
    """Return the area that a finding's key belongs to.

    >>> area_of("code.height.ridge"), area_of("code.overhang.AB")
    ('stack', 'cap')
    """
    return next((area for begins, area in _BEGINS.items() if key.startswith(begins)), "rest")


def _area(name: str, findings: list[Finding]) -> Finding:
    rules: dict[tuple[str, str, str], list[Finding]] = {}
    for finding in findings:
        rules.setdefault((finding.rule, finding.cite.document, finding.cite.clause), []).append(finding)
    count = f"{len(findings)} comparison{'s' * (len(findings) != 1)}"
    parts = tuple(_rule(some) for some in rules.values())
    return Finding(f"area.{name}", count, DERIVED, AREAS[name], gravest(findings), parts=parts)


def _rule(findings: list[Finding]) -> Finding:
    """One finding as it is; several under a parent that shows the gravest of them."""
    if len(findings) == 1:
        return findings[0]
    worst = min(findings, key=lambda one: (GRAVITY.index(one.verdict), -one.short_by))
    subject = f"{len(findings)} places, the gravest: {worst.subject}"
    stem = _stem([one.key for one in findings])
    return replace(worst, key=stem, subject=subject, blocks=any(one.blocks for one in findings), parts=tuple(findings))


def _stem(keys: list[str]) -> str:
    """What keys have in common, part by part.

    >>> _stem(["form.span.AB", "form.span.BC"])
    'form.span'
    """
    first, *others = [key.split(".") for key in keys]
    same = [part for k, part in enumerate(first) if all(len(one) > k and one[k] == part for one in others)]
    return ".".join(first[: len(same)] if first[: len(same)] == same else same) or keys[0]
