"""The site plan: what applies to people on this job and why, whose rule it is, and the boxes to sign for every flue."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from crownwright.plan.model import Plan
from crownwright.quantity.findings import Finding
from crownwright.sheets.papers.press import Paper
from crownwright.sheets.papers.say import common, finding_row

TOPICS = {
    "lines": "Power lines", "wind": "Wind", "ladder": "Ladder", "falls": "Falls", "platform": "Scaffold and planks",
    "lifting": "Lifting", "silica": "Silica dust", "cement": "Dry bags and wet cement",
}  # fmt: skip
"""What the second part of a finding's key is called, in the order of a day."""
NOT_TOLD = {
    "platform": "No scaffold or planks told. If you set any: rating, ties, guardrails and planks are read first.",
    "silica": "No grinder told. Grinding, sawing or chipping masonry: water or a shroud with its collector, and a fitting mask.",
}
"""What is said where the job tells nothing to compare: common practice, no source."""


def site_plan(plan: Plan) -> Paper:
    """Return the site plan. Needs ``plan.survey``."""
    units = plan.job.units
    people = [f for f in plan.findings if f.key.startswith("people.")]
    topics = [
        {
            "topic": words,
            "rows": _told([finding_row(f, units) for f in people if _topic(f) == key]),
            "untold": NOT_TOLD.get(key, ""),
        }
        for key, words in TOPICS.items()
    ]
    anchor = [finding_row(f, units) for f in plan.findings if f.key in ("stack.anchor", "stack.overturning")]
    flues = plan.survey.flues if plan.survey is not None else ()
    content = common(
        plan, "What applies to the people on this job, why, by whose rule; flues signed as covered and as uncovered."
    )
    content |= {
        "topics": [*topics, {"topic": "The chimney itself", "rows": _told(anchor), "untold": ""}],
        "flues": [{"name": flue.name, "serves": flue.serves or "not told"} for flue in flues],
    }
    return Paper("site-plan", "Site plan", "site-plan", content)


def _told(rows: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """Rows with those of one subject, verdict and remedy as one: what to do once, under it each rule with what it asks."""
    told: list[dict[str, Any]] = []
    for row in rows:
        rule = {key: row[key] for key in ("key", "provided", "required", "rule", "source")}
        same = next((one for one in told if all(one[key] == row[key] for key in ("subject", "verdict", "action"))), None)
        if same is None:
            told.append({**{key: row[key] for key in ("subject", "verdict", "action")}, "rules": [rule]})
        else:
            same["rules"].append(rule)
    return told


def _topic(finding: Finding) -> str:
    return finding.key.split(".")[1]
