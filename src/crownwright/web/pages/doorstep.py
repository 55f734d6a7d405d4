"""From the doorstep: five questions, and at once what a cap about comes to; kept, it is a job."""

from __future__ import annotations

from collections.abc import Callable

from fastapi import APIRouter, Request
from starlette.responses import Response

from crownwright.quantity.problems import Problem
from crownwright.service.desk.doorstep import (
    LUMPINESS,
    MASONRY,
    MOST_FLUES,
    SIZES,
    Answers,
    begin_from_the_door,
    seen_from_the_door,
)
from crownwright.service.desk.open_desk import Desk
from crownwright.web.asking import Asker, TheDesk
from crownwright.web.forms import Posting
from crownwright.web.page import fragment, go, page

router = APIRouter()
Told = Callable[[str], str]


@router.get("/doorstep")
def show(request: Request, desk: TheDesk) -> Response:
    """The questions, and what the answers come to (``?part=seen`` that alone)."""
    asked = request.query_params
    answers = _answers(lambda name: asked.get(name, ""))
    if asked.get("part") == "seen":
        return fragment("doorstep_seen.html", seen=seen_from_the_door(desk, answers), answers=answers)
    return _page(request, desk, answers, {})


@router.post("/doorstep")
def keep(request: Request, desk: TheDesk, by: Asker, posted: Posting) -> Response:
    """Keep the answers as a job."""
    answers = _answers(posted.text)
    told = {name: posted.text(name) for name in ("customer", "place")}
    row = begin_from_the_door(desk, by, posted.text("id"), posted.text("title"), answers, told)
    if isinstance(row, Problem):
        typed = told | {"title": posted.text("title")}
        return _page(request, desk, answers, typed, f"{row.where.capitalize()}: {row.what}. {row.remedy}", 422)
    return go(f"/job/{row.id}", "A job by now. Climb and read the top before you cut a board")


def _answers(told: Told) -> Answers:
    """The answers as sent; what is none of the choices is the usual one."""
    flues, size, masonry, lumpiness = told("flues"), told("size"), told("masonry"), told("lumpiness")
    usual = Answers()
    return Answers(
        told("length").strip()[:80],
        told("width").strip()[:80],
        int(flues) if flues in map(str, range(MOST_FLUES + 1)) else usual.flues,
        size if size in SIZES else usual.size,
        masonry if masonry in MASONRY else usual.masonry,
        lumpiness if lumpiness in LUMPINESS else usual.lumpiness,
        "metric" if told("units") == "metric" else "us",
    )


def _page(request: Request, desk: Desk, answers: Answers, typed: dict[str, str], wrong: str = "", status: int = 200) -> Response:
    return page(
        request,
        "doorstep.html",
        sheet="From the doorstep",
        status=status,
        answers=answers,
        seen=seen_from_the_door(desk, answers),
        typed={"title": "", "customer": "", "place": ""} | typed,
        wrong=wrong,
        sizes=tuple(SIZES),
        masonry=MASONRY,
        lumpiness=LUMPINESS,
        counts=tuple(map(str, range(MOST_FLUES + 1))),
    )
