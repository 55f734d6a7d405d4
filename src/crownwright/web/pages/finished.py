"""Forecast against actual: what finished jobs took, what follows for the next, and how well stated chances have held."""

from __future__ import annotations

from concurrent import futures
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from crownwright.price.learning import ENOUGH
from crownwright.service.desk.finished_jobs import DoneJob, begin_lessons, done_jobs
from crownwright.service.desk.kept_lessons import kept_lessons
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.own_way import learn_and_keep
from crownwright.web.asking import Patience, TheDesk
from crownwright.web.forms import Posting, token_of
from crownwright.web.page import fragment, go, page
from crownwright.web.views.lessons import things_of

router = APIRouter()
LATEST = 12
"""So many of the newest done jobs can be told on the page what they took."""


@router.get("/finished")
def show(request: Request, desk: TheDesk, patience: Patience) -> Response:
    """Show what the finished jobs teach; ``?part=lessons`` asks after what is not worked out yet (202: still not)."""
    context = _context(request, desk, patience)
    if request.query_params.get("part"):
        return fragment("finished_part.html", 202 if context["coming"] else 200, **context)
    return page(request, "finished.html", sheet="Forecast against actual", **context)


def _context(request: Request, desk: Desk, patience: float) -> dict[str, Any]:
    done = done_jobs(desk)
    telling = sum(job.tells for job in done)
    answer = begin_lessons(desk) if telling else None
    if answer is not None:
        futures.wait([answer], patience)
    coming = answer is not None and not answer.done()
    found = answer.result() if answer is not None and not coming else None
    kept = kept_lessons(desk)
    newest = tuple(reversed(done))  # those that have not told come first
    return {
        "form_token": token_of(request.scope["crownwright"].session),
        "coming": coming,
        "telling": telling,
        "enough": ENOUGH,
        "things": things_of(found) if found is not None else (),
        "current": found is not None and kept is not None and _counted(kept.jobs) == _counted(found.jobs),
        "kept": kept is not None,
        "done": [_row(job) for job in sorted(newest, key=_told)[:LATEST]],
    }


def _counted(jobs: Any) -> dict[str, list[tuple[str, str]]]:
    """Jobs as they are kept: by name and actual, forecasts being written to fewer digits."""
    return {what: [(one.job, f"{one.actual:.6g}") for one in rows] for what, rows in jobs.items()}


def _told(job: DoneJob) -> bool:
    return job.bags is not None and job.hours is not None


def _row(job: DoneJob) -> dict[str, Any]:
    return {
        "id": job.row.id, "title": job.row.title, "state": job.row.state, "head": job.row.head,
        "told": _told(job),
        "bags": "" if job.bags is None else f"{job.bags:g}", "hours": "" if job.hours is None else f"{job.hours:g}",
    }  # fmt: skip


@router.post("/finished/keep")
def keep(desk: TheDesk, _posted: Posting) -> Response:
    """Take what was learned into the prices made from now on."""
    found = learn_and_keep(desk)
    return go("/finished", "Prices take their hours from these jobs now" if found.learned else "There is nothing to learn yet")
