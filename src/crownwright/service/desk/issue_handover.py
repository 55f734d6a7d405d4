"""Hand over a finished job: what was built and when by its log, who signed the flues open, how to care for it."""

from __future__ import annotations

import json
from datetime import date, datetime

from crownwright.book.issued import IssuedRow
from crownwright.plan.the_day import TheDay
from crownwright.quantity.problems import Problem
from crownwright.service.desk.days_of import log_data
from crownwright.service.desk.hand_out import Made, hand_out
from crownwright.service.desk.model import By
from crownwright.service.desk.money_of import books_of
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.photos_for_papers import photos_for_papers
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.write_papers import usual_size

KIND = "handover"
MOST_TAKEN = 8
"""So many temperatures of the pour day's log stand on the paper."""


def issue_handover(desk: Desk, by: By, job: str, remarks: str = "", issue: str = "") -> IssuedRow | tuple[Problem, ...]:
    """Hand out the handover of a job, or say what stands against it: no pour logged, or a flue not signed as open again."""
    found, books = plan_of(desk, job), books_of(desk)
    if found.planned is None:
        return (Problem(KIND, "the job has faults that stop its plan", "Put them right first"),)
    if isinstance(books, tuple):
        return books
    from crownwright.sheets.calendar_visits import visits_of
    from crownwright.sheets.papers.handover import Record, handover_paper, still_covered
    from crownwright.sheets.papers.press import pdf

    plan = found.planned.plan
    poured = poured_on(plan.job.day)
    if poured is None:
        return (Problem("pour day", "no batch and no pour is logged", "Log the first batch on Pour day"),)
    batches, _ = log_data(plan.job.day)
    bags = round(sum(float(row.get("bags", 0)) for row in batches["batches"]))
    record = Record(
        poured,
        bags or None,
        len(batches["batches"]) or None,
        temperatures="; ".join(
            f"{row.place} {row.temperature} at {row.at[-5:]}" for row in plan.job.day.temperatures[:MOST_TAKEN]
        ),
        remarks=(remarks.strip()[:2000],) if remarks.strip() else (),
        uncovered=tuple(plan.job.checks.uncovered),
        uncovered_by=by.who,
    )
    covered = still_covered(plan, record)
    if covered:
        remedy = "Uncover them, see them draw, and sign for them under Held against the rules"
        return (Problem(", ".join(covered), "not signed as open again: a blocked flue kills", remedy),)
    care = [v for v in visits_of("", plan.job.title, plan.job.place, datetime(poured.year, poured.month, poured.day, 8))
            if v.key.startswith("care")]  # fmt: skip
    at = int(desk.clock().timestamp())

    def make(number: str) -> Made:
        paper = handover_paper(plan, books.business, record, care, "", photos_for_papers(desk, job))
        made_from = json.dumps({"revision": found.revision.number, "job": found.text})
        return pdf(paper, usual_size(plan.job.units), at, number), made_from

    return hand_out(desk, job, found.revision.number, KIND, make, issue=issue)


def poured_on(day: TheDay) -> date | None:
    """The day of the pour by the log: of the first batch, else of what was struck off."""
    told = [*(row.at for row in day.batches), *(e.at for e in day.events if e.what in ("first batch", "struck off"))]
    for text in sorted(told):
        try:
            return datetime.fromisoformat(text).date()
        except ValueError:
            continue
    return None
