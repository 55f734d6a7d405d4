"""Held against the rules: all that was compared with a rule, what falls short first; and what was decided in spite of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from crownwright.plan.model import Plan
from crownwright.quantity.findings import Finding, Verdict
from crownwright.service.desk.model import JobRow
from crownwright.service.desk.open_desk import Desk
from crownwright.sheets.papers.say import CAUTIONS, finding_row
from crownwright.web.pages.planned import Shows, router_of
from crownwright.web.sheets import Sheet
from crownwright.web.views.choices import RULES

ORDER = (
    (Verdict.SHORT, "Falls short"),
    (Verdict.CANNOT_TELL, "Not told yet"),
    (Verdict.WAIVED, "Left out by decision"),
    (Verdict.OK, "As the rule asks"),
)
AREAS = (("cap", "cap and flues"), ("code", "cap and flues"), ("concrete", "concrete"), ("strength", "concrete"),
         ("heat", "heat"), ("form", "form"), ("stack", "stack"), ("people", "people"), ("survey", "readings"))  # fmt: skip


@dataclass(frozen=True, slots=True)
class Verdicts:
    """Findings of one verdict, by area."""

    head: str
    verdict: str
    areas: tuple[tuple[str, tuple[dict[str, Any], ...]], ...]
    count: int


def verdicts(plan: Plan) -> tuple[Verdicts, ...]:
    """Every finding of a plan: what falls short first, each with what was compared with what and what to do."""
    made = []
    for verdict, head in ORDER:
        mine = [finding for finding in plan.findings if finding.verdict is verdict]
        names = dict.fromkeys(_area(finding) for finding in mine)
        areas = tuple((name, tuple(_row(f, plan) for f in mine if _area(f) == name)) for name in names)
        if mine:
            made.append(Verdicts(head, verdict.value, areas, len(mine)))
    return tuple(made)


def _row(finding: Finding, plan: Plan) -> dict[str, Any]:
    return finding_row(finding, plan.job.units) | {"blocks": finding.blocks}


def _area(finding: Finding) -> str:
    stem = finding.key.split(".", maxsplit=1)[0]
    return next((name for begins, name in AREAS if begins == stem), "the rest")


def _findings(_desk: Desk, _job: JobRow, plan: Plan) -> Mapping[str, Any]:
    waived = plan.job.cap.joint_waived
    flues = [flue.name for flue in plan.survey.flues] if plan.survey is not None else []
    checks = plan.job.checks
    signed = [(name, name in checks.covered, name in checks.uncovered) for name in flues]
    return {"verdicts": verdicts(plan), "waived": waived, "signed": signed, "cautions": CAUTIONS}


SHOWS = Shows(
    sheet=Sheet("rules", "Held against the rules", "what was compared with what, and what to do where it falls short"),
    pictures=(),
    heads=(("Stack", ("checks.stack", "checks.height")), ("Overhang and strength", ("checks.overhang", "checks.movement")),
           ("Heat", ("checks.heat",)), ("Form and clamp", ("checks.clamp", "checks.board", "checks.screws")),
           ("People", ("checks.lifting", "checks.ladder")), ("The rest", ("checks.",))),
    choices=RULES,
    own="rules_list.html",
    own_first=True,
    extra=_findings,
)  # fmt: skip
SHEETS = (SHOWS.sheet,)
router = router_of(SHOWS)
