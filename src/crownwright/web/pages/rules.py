"""Held against the rules: all that was compared with a rule, what falls short first; and what was decided in spite of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from crownwright.plan.model import Plan
from crownwright.quantity.findings import Verdict
from crownwright.service.desk.model import JobRow
from crownwright.service.desk.open_desk import Desk
from crownwright.sheets.papers.say import cautions, finding_areas
from crownwright.web.pages.planned import Shows, router_of
from crownwright.web.sheets import Sheet
from crownwright.web.views.choices import RULES

ORDER = (
    (Verdict.SHORT, "Falls short"),
    (Verdict.CANNOT_TELL, "Not told yet"),
    (Verdict.WAIVED, "Left out by decision"),
    (Verdict.OK, "As the rule asks"),
)


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule with all that was held against it: its words and source, the rows, what to do (each thing once), and whether it
    stops the job.
    """

    says: str
    source: str
    rows: tuple[dict[str, Any], ...]
    actions: tuple[str, ...]
    stops: bool


@dataclass(frozen=True, slots=True)
class Verdicts:
    """Findings of one verdict: ``areas`` in the order of the job as (name, how many rules, rules)."""

    head: str
    verdict: str
    areas: tuple[tuple[str, int, tuple[Rule, ...]], ...]
    count: int


def verdicts(plan: Plan) -> tuple[Verdicts, ...]:
    """Every finding of a plan: what falls short first, by area and rule as on the papers, with what was compared with what."""
    made = []
    for verdict, head in ORDER:
        mine = [finding for finding in plan.findings if finding.verdict is verdict]
        stop = {finding.key for finding in mine if finding.blocks}
        areas = tuple(_area(area, stop) for area in finding_areas(mine, plan.job.units))
        if mine:
            made.append(Verdicts(head, verdict.value, areas, sum(count for _, count, _ in areas)))
    return tuple(made)


def _area(area: dict[str, Any], stop: set[str]) -> tuple[str, int, tuple[Rule, ...]]:
    rules = tuple(_rule(rule, stop) for rule in area["rules"])
    return area["name"], len(rules), rules


def _rule(rule: dict[str, Any], stop: set[str]) -> Rule:
    rows = tuple(rule["rows"])
    actions = tuple(dict.fromkeys(row["action"] for row in rows if row["action"]))
    return Rule(rule["rule"], rule["source"], rows, actions, any(row["key"] in stop for row in rows))


def _findings(_desk: Desk, _job: JobRow, plan: Plan) -> Mapping[str, Any]:
    waived = plan.job.cap.joint_waived
    flues = [flue.name for flue in plan.survey.flues] if plan.survey is not None else []
    checks = plan.job.checks
    signed = [(name, name in checks.covered, name in checks.uncovered) for name in flues]
    return {"verdicts": verdicts(plan), "waived": waived, "signed": signed, "cautions": cautions(plan.job.units)}


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
