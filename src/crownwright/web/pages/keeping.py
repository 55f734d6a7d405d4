"""What is done with a job as a whole: state of work, next visit, copy, export, take out and bring back."""

from __future__ import annotations

import re

from fastapi import APIRouter, Request
from starlette.responses import Response

from crownwright.quantity.problems import Problem
from crownwright.service.desk.begin_job import copy_job
from crownwright.service.desk.export_job import export_job
from crownwright.service.desk.keep_work import bring_back, set_state, set_visit, take_out
from crownwright.service.desk.model import STATES
from crownwright.service.desk.pairing import new_id
from crownwright.web.asking import Asker, TheDesk, TheJob
from crownwright.web.forms import Posting
from crownwright.web.page import go
from crownwright.web.trouble import Trouble, trouble_page

router = APIRouter()


@router.post("/job/{job}/work")
def work(request: Request, desk: TheDesk, by: Asker, job: TheJob, posted: Posting) -> Response:
    """Keep the state of work and the next visit."""
    state, visit = posted.text("state", job.state), posted.text("visit")
    if state not in STATES:
        return trouble_page(request, Trouble(422, "That is no state of work", f"Choose one of {', '.join(STATES)}"))
    if posted.text("hour") and visit:
        visit = f"{visit}T{posted.text('hour')}"
    moved = set_visit(desk, job.id, visit, by)
    if isinstance(moved, Problem):
        return trouble_page(request, Trouble(422, moved.what[:1].upper() + moved.what[1:], moved.remedy))
    row = set_state(desk, job.id, state, by)
    return go(f"/job/{job.id}", "Kept" if row.head != job.head else "Nothing was changed")


@router.post("/job/{job}/copy")
def copy(request: Request, desk: TheDesk, by: Asker, job: TheJob, posted: Posting) -> Response:
    """Begin a job as a copy of this one."""
    row = copy_job(desk, by, job.id, posted.text("id") or new_id())
    if isinstance(row, Problem):
        return trouble_page(request, Trouble(422, row.what[:1].upper() + row.what[1:], row.remedy))
    return go(f"/job/{row.id}", f"A copy of {job.title}. Photos and papers stay with the first")


@router.post("/job/{job}/take-out")
def out(desk: TheDesk, job: TheJob) -> Response:
    """Take the job out of the book."""
    take_out(desk, job.id)
    return go("/", f"{job.title} is out of the book; it can be brought back under Taken out")


@router.post("/job/{job}/bring-back")
def back(desk: TheDesk, job: TheJob) -> Response:
    """Bring the job back."""
    bring_back(desk, job.id)
    return go(f"/job/{job.id}", f"{job.title} is back in the book")


@router.get("/job/{job}/export")
def export(desk: TheDesk, job: TheJob) -> Response:
    """The job as one file, with photos and papers."""
    name = re.sub(r"[^A-Za-z0-9]+", "-", job.title).strip("-").lower()[:60] or "job"
    headers = {"content-disposition": f'attachment; filename="{name}.zip"'}
    return Response(export_job(desk, job.id), media_type="application/zip", headers=headers)
