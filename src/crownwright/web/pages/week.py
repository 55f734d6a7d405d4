"""The week over all jobs: visits, where they clash, the weather; whom to call today; all of it as a calendar."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from fastapi import APIRouter, HTTPException, Request
from starlette.responses import Response

from crownwright.service.desk.calendars import calendar_of_book
from crownwright.service.desk.calls import calls_of
from crownwright.service.desk.today import today_of
from crownwright.service.desk.week import week_of
from crownwright.sheets.calendar_week import clock
from crownwright.web.asking import Patience, TheDesk
from crownwright.web.page import fragment, locale_of, page

router = APIRouter()
FARTHEST = 3660  # days to either side of today that can be looked at


@router.get("/week")
def show(request: Request, desk: TheDesk, patience: Patience) -> Response:
    """Show seven days from ``?from`` (left out, this Monday); ``?part=week`` asks after them while some are coming (202)."""
    today = today_of(desk)
    monday = _day(request.query_params.get("from", ""), today) or today - timedelta(days=today.weekday())
    week = week_of(desk, monday, patience)
    context: dict[str, Any] = {
        "locale": locale_of(request),
        "week": week,
        "clock": clock,
        "monday": monday,
        "now": today,
        "earlier": monday - timedelta(days=7),
        "later": monday + timedelta(days=7),
        "calls": calls_of(desk, today, patience),
        "any": any(day.visits for day in week.days),
    }
    if request.query_params.get("part"):
        return fragment("week_part.html", 202 if week.coming else 200, **context)
    return page(request, "week.html", sheet="The week", **context)


def _day(text: str, today: date) -> date | None:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return None
    return day if abs((day - today).days) <= FARTHEST else None


@router.get("/week/visits.ics")
def visits(desk: TheDesk) -> Response:
    """The visits of all jobs, for a calendar; what fell away since the last time is struck out."""
    text = calendar_of_book(desk)
    if "BEGIN:VEVENT" not in text:
        raise HTTPException(404, "There is no visit yet")
    return Response(text, media_type="text/calendar", headers={"content-disposition": 'attachment; filename="visits.ics"'})
