"""A job at a glance: what it comes to, what wants doing next, and its sheets."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import Response

from crownwright.web.asking import TheJob
from crownwright.web.page import page
from crownwright.web.sheets import Sheet

router = APIRouter()
SHEETS = (Sheet("", "The job", "what it comes to, and what wants doing next"),)


@router.get("/job/{job}")
def show(request: Request, job: TheJob) -> Response:
    """Show the job at a glance."""
    return page(request, "overview.html", sheet="The job", job=job)
