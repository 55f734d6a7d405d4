"""Pour day: what comes next and how long is left, moved by what the thermometer says; a batch or an event in one press."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from crownwright.quantity.problems import Problem
from crownwright.service.desk.days_of import pour_day_of
from crownwright.service.desk.model import Change, Entry, JobRow
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.desk.try_changes import values_of
from crownwright.weather.hours import zone_of
from crownwright.web.asking import Asker, TheDesk, TheJob, patience_of
from crownwright.web.forms import Posting, token_of
from crownwright.web.page import fragment, go, locale_of, page
from crownwright.web.sheets import Sheet
from crownwright.web.trouble import Trouble, trouble_page
from crownwright.web.views.the_day import EVENTS, MISTED, PLACES, clocks_now, coming, done_of, lines, next_batch, time_left

router = APIRouter()
SHEETS = (Sheet("pour-day", "Pour day", "running clocks, batches and temperatures, for wet hands"),)
LISTS = ("batches", "temperatures", "events")


@router.get("/job/{job}/pour-day")
def show(request: Request, desk: TheDesk, job: TheJob) -> Response:
    """Show the pour day; ``?part=now`` is only what moves."""
    context = _context(request, desk, job)
    if request.query_params.get("part"):
        return fragment("pour_day_part.html", 202 if context["coming"] else 200, **context)
    return page(request, "pour_day.html", sheet="Pour day", **context)


def _context(request: Request, desk: Desk, job: JobRow) -> dict[str, Any]:
    day = pour_day_of(desk, job.id, patience_of(request))
    told, opened = day.days.told, day.days.of.opened.job
    units = opened.units if opened is not None else "us"
    now = desk.clock().astimezone(zone_of(day.days.day.zone or "UTC"))
    shown = clocks_now(day, now, locale_of(request))
    return {
        "job": job,
        "form_token": token_of(request.scope["crownwright"].session),
        "problems": tuple(p for p in day.problems if p.stops),
        "values": values_of(day.days.of.text),
        "told": told,
        "coming": day.days.coming,
        "now": now,
        "clocks": shown,
        "next": coming(shown),
        "left": () if told is None else time_left(told, day.log, now, units),
        "batch": None if told is None else next_batch(told, day.log, units),
        "done": done_of(day.log),
        "lines": lines(day, units, locale_of(request)),
        "events": EVENTS,
        "places": PLACES,
        "misted": MISTED,
        "units": units,
    }


@router.post("/job/{job}/pour-day/log")
def log(request: Request, desk: TheDesk, by: Asker, job: TheJob, posted: Posting) -> Response:
    """Log one thing without a script: what is told of it, at the time told, or now."""
    which = posted.text("list")
    if which not in LISTS:
        return trouble_page(request, Trouble(422, "That is no list of the log", "Log it from the page"))
    told = {
        name.removeprefix("log:"): posted.text(name) for name in posted.fields if name.startswith("log:") and posted.text(name)
    }
    at = told.pop("at", "") or desk.clock().isoformat(timespec="seconds")
    saved = save_entry(desk, by, Entry(posted.text("id"), job.id, 0, (Change(f"day.{which}[+]", {"at": at, **told}),)))
    if isinstance(saved, Problem):
        return trouble_page(request, Trouble(422, saved.what, saved.remedy))
    return go(f"/job/{job.id}/pour-day", "Logged")


def local(at: datetime) -> str:
    """A local time as a field for day and time takes it."""
    return f"{at:%Y-%m-%dT%H:%M}"
