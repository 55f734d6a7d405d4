"""The days: every hour of the forecast, the best of them, why the rest will not do, and the pour of one by the clock."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, HTTPException, Request
from starlette.responses import Response

from crownwright.quantity.problems import Problem
from crownwright.service.days_to_pour import DaysTold
from crownwright.service.desk.calendars import calendar_of_job
from crownwright.service.desk.days_of import DaysOf, days_of, fetch_for, keep_forecast
from crownwright.service.desk.model import JobRow
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.shelf import forecast_place, shelved, unshelve
from crownwright.service.desk.try_changes import values_of
from crownwright.service.draw_the_days import drawn_days
from crownwright.web.asking import Asker, TheDesk, TheJob, patience_of
from crownwright.web.forms import Posted, Posting, token_of
from crownwright.web.page import fragment, go, locale_of, page
from crownwright.web.pages.entries import entry_from_form
from crownwright.web.pages.planned import kept_of
from crownwright.web.sheets import Sheet
from crownwright.web.views.choices import DAYS, filled
from crownwright.web.views.figures import grouped
from crownwright.web.views.hours import best_hours, clocks, followed, hours_shown
from crownwright.web.views.pictures import on_screen

router = APIRouter()
SHEETS = (Sheet("days", "The days", "which hours the weather allows, and the pour by the clock"),)
HEADS = (
    ("The hours", ("cure.evaporation", "cure.mist", "cure.coldest", "cure.hottest")),
    ("Setting and strength", ("cure.", "concrete.strip")),
    ("Mixing", ("concrete.",)),
)
ZONES = (
    "America/New_York",
    "America/Chicago",
    "America/Denver",
    "America/Phoenix",
    "America/Los_Angeles",
    "America/Anchorage",
    "America/Halifax",
    "America/Toronto",
    "Pacific/Honolulu",
    "Europe/London",
    "Europe/Dublin",
    "UTC",
)
"""Suggested; any name of the time zone database is taken."""


@router.get("/job/{job}/days")
def show(request: Request, desk: TheDesk, job: TheJob) -> Response:
    """Show the days as they stand, or that they are being worked out; ``?part=days`` asks after them (202: not yet)."""
    if request.query_params.get("part"):
        context = _context(request, desk, job, Posted())
        return fragment("days_part.html", 202 if context["coming"] else 200, **context)
    return _page(request, desk, job, Posted())


@router.post("/job/{job}/days")
def tried(request: Request, desk: TheDesk, job: TheJob, posted: Posting) -> Response:
    """Show the days with what is typed tried; nothing is kept."""
    return _page(request, desk, job, posted)


def _page(
    request: Request, desk: Desk, job: JobRow, posted: Posted, said: tuple[Problem, ...] = (), status: int = 200
) -> Response:
    context = _context(request, desk, job, posted)
    context["problems"] = (*said, *context["problems"])
    return page(request, "days.html", sheet="The days", status=status, **context)


def _context(request: Request, desk: Desk, job: JobRow, posted: Posted) -> dict[str, Any]:
    kept = days_of(desk, job.id, wait=patience_of(request))
    changes = entry_from_form(job.id, posted).changes
    days = days_of(desk, job.id, changes) if changes else kept
    of = days.of
    units = of.opened.job.units if of.opened.job is not None else "us"
    context: dict[str, Any] = {
        "job": job,
        "metric": units == "metric",
        "form_token": token_of(request.scope["crownwright"].session),
        "coming": days.coming,
        "trying": bool(changes),
        "problems": days.problems,
        "values": values_of(of.text),
        "weather": _weather(desk, job, days),
        "day": days.day,
        "zones": ZONES,
        "choices": filled(DAYS, values_of(of.text), values_of(kept.of.text), units, of.opened.problems),
        "told": days.told,
        "before": kept.told if changes else None,
    }
    if days.told is not None:
        context |= _told(request, desk, days.told, units)
    return context


def _told(request: Request, desk: Desk, told: DaysTold, units: Any) -> dict[str, Any]:
    cure, locale = told.days.cure, locale_of(request)
    charts = kept_of(request).get(("charts", id(told)), lambda: (told, dict(drawn_days(told.days))))[1]
    return {
        "hours": hours_shown(cure, locale),
        "best": best_hours(cure, locale),
        "followed": followed(cure, locale),
        "clocks": clocks(cure, None, desk.clock(), {}, locale),
        "charts": {name: on_screen(data.decode()) for name, data in charts.items()},
        "groups": grouped(told.days.figures, units, HEADS),
    }


def _plain(degrees: float | None) -> str:
    return "" if degrees is None else f"{degrees:g}"


def _weather(desk: Desk, job: JobRow, days: DaysOf) -> dict[str, Any]:
    file = shelved(desk, forecast_place(job.id))
    place = days.of.opened.job.surroundings if days.of.opened.job is not None else None
    return {
        "by_hand": days.day.weather,
        "file": file.name if file else "",
        "put_at": file.put_at if file else "",
        "placed": place is not None and place.latitude is not None and place.longitude is not None,
        "stands": {key: _plain(getattr(place, key, None)) for key in ("latitude", "longitude")},
    }


@router.post("/job/{job}/days/forecast")
def ask(request: Request, desk: TheDesk, by: Asker, job: TheJob, _posted: Posting) -> Response:
    """Ask the forecast service for the job's place: the one thing that goes out of the house, and only when this is pressed."""
    problems = tuple(fetch_for(desk, by, job.id))
    if problems:
        return _page(request, desk, job, Posted(), problems, 422)
    return go(f"/job/{job.id}/days", "The forecast is here")


@router.post("/job/{job}/days/weather")
def take_weather(request: Request, desk: TheDesk, job: TheJob, posted: Posting) -> Response:
    """Take a weather file in, or take it off the shelf."""
    where = f"/job/{job.id}/days"
    if posted.ticked("forget"):
        unshelve(desk, forecast_place(job.id))
        return go(where, "The weather file is off the shelf")
    file = posted.file("weather")
    if file is None:
        return go(where, "No file was picked")
    problems = tuple(keep_forecast(desk, job.id, *file))
    if problems:
        return _page(request, desk, job, Posted(), problems, 422)
    return go(where, f"The days are by {file[0]} from now on")


@router.get("/job/{job}/days/visits.ics")
def visits(desk: TheDesk, job: TheJob) -> Response:
    """The visits round the pour, for a calendar; those of the last time that fell away are struck out."""
    text = calendar_of_job(desk, job.id)
    if "BEGIN:VEVENT" not in text:
        raise HTTPException(404, "No pour is chosen yet")
    return Response(text, media_type="text/calendar", headers={"content-disposition": 'attachment; filename="visits.ics"'})
