"""Say when this machine's clock and the book do not agree."""

from __future__ import annotations

from datetime import UTC, timedelta

from crownwright.book import jobs
from crownwright.quantity.problems import Problem
from crownwright.service.desk.open_desk import Desk

SLACK = timedelta(minutes=5)  # servers of one book keep time no closer than this


def clock_doubt(desk: Desk) -> Problem | None:
    """A problem where the book was last changed later than it is now; None while the two agree.

    Nothing is lost by it: revisions stand in the order of their numbers, whatever times they bear.
    """
    with desk.book.reading() as c:
        last = jobs.changed_last(c)
    ahead = (desk.clock().astimezone(UTC) + SLACK).strftime("%Y-%m-%dT%H:%M:%SZ")
    if last is None or last.changed_at <= ahead:
        return None
    return Problem(
        "clock",
        f"this machine says it is {desk.now()[:16].replace('T', ' ')} UTC, but “{last.title}” was changed at "
        f"{last.changed_at[:16].replace('T', ' ')}",
        "Set the clock of this machine. Nothing is lost: changes stand in the order in which they came",
        stops=False,
    )
