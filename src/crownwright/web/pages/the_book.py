"""The book: every job, to be searched and put in order."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import Response

from crownwright.service.desk.list_jobs import list_jobs
from crownwright.web.asking import TheDesk
from crownwright.web.page import page

router = APIRouter()


@router.get("/")
def show(request: Request, desk: TheDesk) -> Response:
    """List the book."""
    return page(request, "book.html", sheet="The book", found=list_jobs(desk))
