"""A job at a glance: what it comes to, what wants doing next, and its sheets."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import JSONResponse, Response

from crownwright.service.desk.model import STATES, PlanOf
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.desk.settle_conflict import conflicts_of
from crownwright.service.desk.text_of import values_as_typed
from crownwright.service.desk.try_changes import try_changes
from crownwright.service.summary import Line, Summary, summarise
from crownwright.web.asking import TheDesk, TheJob
from crownwright.web.page import page
from crownwright.web.pages.planned import kept_of, price_of
from crownwright.web.sheets import Sheet
from crownwright.web.views.pictures import shown
from crownwright.web.views.places import placed

router = APIRouter()
SHEETS = (Sheet("", "The job", "what it comes to, and what wants doing next"),)
KEYS = {"Cap": "cap.length", "Concrete": "concrete.bags", "Weight": "concrete.weight", "Wash": "cap.fall"}
MOST = 4


@dataclass(frozen=True, slots=True)
class ToDo:
    """One thing that wants doing: what, and the sheet where it is done, or the name and the address of the very field."""

    says: str
    sheet: str
    name: str = ""
    href: str = ""


@router.get("/job/{job}")
def show(request: Request, desk: TheDesk, job: TheJob) -> Response:
    """Show the job at a glance."""
    found = plan_of(desk, job.id)
    summary = summarise(found.planned.plan) if found.planned else None
    pictures = shown(desk.planner.drawn(found.text, "elevation", "view")[1]())
    values, conflicts = values_as_typed(desk, job.id), conflicts_of(desk, job.id)
    return page(
        request,
        "overview.html",
        sheet="The job",
        job=job,
        summary=summary,
        figures=_figures(found, summary),
        to_do=_to_do(found, summary, job.id, values),
        begun=_begun(values),
        conflicts=len(conflicts),
        pictures=pictures,
        states=tuple((state, state) for state in STATES),
        notes=str(values.get("notes", "")),
        pour=_pour(values),
        visit=(job.next_visit or "").partition("T")[::2],
    )


@router.get("/job/{job}/price")
def price(request: Request, desk: TheDesk, job: TheJob) -> Response:
    """The price in words, for a script to put in after the page is there: it takes longer than all the rest."""
    trial = try_changes(desk, job.id)
    if trial.kept.planned is None or trial.kept.planned.plan.cap is None:
        return JSONResponse({"says": "there is no cap to price yet"})
    takes = price_of(kept_of(request), desk, trial)
    return JSONResponse({"says": "not all of it has a price yet" if takes is None else f"{takes.now} with tax"})


def _pour(values: Mapping[str, Any]) -> str:
    """The hour that was chosen for the pour, as typed; "" where none is."""
    day = values.get("day")
    return str(day.get("begins") or "") if isinstance(day, Mapping) else ""


def _begun(values: object) -> bool:
    """Whether anything was read yet."""
    table = values.get("readings") or values.get("quick") if isinstance(values, dict) else None
    return isinstance(table, dict) and any(table.get(key) for key in ("tapes", "drops", "offsets", "flues", "length", "width"))


def _figures(found: PlanOf, summary: Summary | None) -> list[tuple[Line, str]]:
    """What there is to build, each line with the key of its working where it has one."""
    if summary is None or found.planned is None:
        return []
    there = {figure.key for figure in found.planned.plan.figures}
    return [(line, KEYS.get(line.head, "") if KEYS.get(line.head) in there else "") for line in summary.build]


def _to_do(found: PlanOf, summary: Summary | None, job: str, values: Mapping[str, Any]) -> list[ToDo]:
    """What wants doing, what stands against building it first."""
    if summary is None:
        rows = placed(found.opened.problems[:MOST], job, values)
        return [ToDo(f"{row.what}. {row.remedy}.", "up-top", row.where, row.href) for row in rows]
    told = [ToDo(text, "up-top") for text in ("" if summary.closes else " ".join(summary.readings),) if text]
    told += [ToDo(text, "rules") for text in summary.stops]
    told += [ToDo(text, "up-top") for text in summary.next_readings]
    return told[:MOST]
