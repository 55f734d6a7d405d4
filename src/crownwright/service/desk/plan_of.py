"""Plan a revision of a job in the book."""

from __future__ import annotations

from crownwright.book import jobs, revisions
from crownwright.service.desk.model import PlanOf
from crownwright.service.desk.open_desk import Desk


def plan_of(desk: Desk, job: str, number: int | None = None, *, cut_list: bool = True) -> PlanOf:
    """The plan of a job as it stands (``number`` None) or stood; KeyError when there is no such job or revision.

    ``cut_list=False`` leaves out the cutting of the lumber, for a redraw while values change.
    """
    with desk.book.reading() as c:
        row = jobs.need(c, job)
        revision = revisions.numbered(c, job, row.head if number is None else number)
    opened, planned = desk.planner.plan(revision.text, cut_list=cut_list)
    return PlanOf(row, revision.row, revision.text, opened, planned)
