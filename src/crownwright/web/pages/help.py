"""Help: the guide, one job followed from the ladder to the handover, with pictures of its own pages."""

from __future__ import annotations

import tomllib
from functools import cache
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from crownwright.service.desk.list_jobs import list_jobs
from crownwright.web.asking import TheDesk
from crownwright.web.page import HERE, STATIC, page

router = APIRouter()


@router.get("/help")
def show(request: Request, desk: TheDesk) -> Response:
    """Show the guide; its pictures link to the same page of the newest job in this book."""
    rows = list_jobs(desk, most=1).rows
    steps = [step | {"pictured": pictured(step["key"])} for step in guide()]
    return page(request, "help.html", sheet="Help", steps=steps, newest=rows[0] if rows else None)


@cache
def guide() -> tuple[dict[str, Any], ...]:
    """The steps of the guide."""
    return tuple(tomllib.loads((HERE / "guide.toml").read_text("utf-8"))["step"])


def pictured(key: str) -> bool:
    """Whether there is a picture of a step."""
    return (STATIC / "help" / f"{key}.webp").is_file()
