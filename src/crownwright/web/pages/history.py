"""What changed: every revision, undo, two of them side by side, and what two devices changed at once."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from fastapi import APIRouter, HTTPException, Request
from starlette.responses import Response

from crownwright.quantity.problems import Problem
from crownwright.service.desk.compare import Comparison, compare
from crownwright.service.desk.compare_days import compare_days
from crownwright.service.desk.model import Conflict, JobRow, PlanOf, RevisionRow
from crownwright.service.desk.money_of import money_of
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.pair_device import list_devices
from crownwright.service.desk.revisions_of import history, restore, undo
from crownwright.service.desk.settle_conflict import conflicts_of, settle_conflict
from crownwright.service.desk.words import name_of, shown
from crownwright.web.asking import Asker, Patience, TheDesk, TheJob
from crownwright.web.forms import Posted, Posting
from crownwright.web.page import fragment, go, page
from crownwright.web.sheets import Sheet
from crownwright.web.trouble import Trouble, trouble_page

router = APIRouter()
SHEETS = (Sheet("history", "What changed", "every revision, who made it and what it did; undo"),)
AT_ONCE = 50


@dataclass(frozen=True, slots=True)
class Sides:
    """A conflict in words: what it is about, what stands, what came second and from which device."""

    id: str
    name: str
    stands: str
    second: str
    device: str
    found_at: str


@router.get("/job/{job}/history")
def show(request: Request, desk: TheDesk, job: TheJob, one: str = "", other: str = "", after: str = "0") -> Response:
    """List the revisions, newest first; with two numbers, compare them."""
    start, names = _number(after) or 0, _devices(desk)
    rows = history(desk, job.id, start, AT_ONCE)
    newest = (history(desk, job.id, most=1) if start else rows)[0]
    pair = sorted(number for number in (_number(one), _number(other)) if number)
    if len(pair) == 1:
        pair = [max(1, pair[0] - 1), pair[0]]
    compared = _compared(desk, job.id, pair)
    return page(
        request,
        "history.html",
        sheet="What changed",
        job=job,
        rows=[(row, _place(row, names)) for row in rows],
        start=start,
        further=start + AT_ONCE if start + AT_ONCE < job.head else 0,
        conflicts=[_sides(conflict, names) for conflict in conflicts_of(desk, job.id)],
        compared=compared,
        price=None if compared is None else _prices(desk, compared),
        undone=(newest.restores or newest.number) > 1,
    )


@router.get("/job/{job}/history/days")
def show_days(
    request: Request, desk: TheDesk, job: TheJob, patience: Patience, one: str = "", other: str = "", part: str = ""
) -> Response:
    """Compare the days of two revisions, or say that they are being worked out; ``part`` asks after them (202: not yet)."""
    first, second = pair = sorted(_number(text) or job.head for text in (one, other))
    try:
        days = compare_days(desk, job.id, first, second, patience)
    except KeyError:
        raise HTTPException(404, "There is no such revision of this job") from None
    problem = days if isinstance(days, Problem) else None
    context: dict[str, Any] = {"job": job, "days": days, "problem": problem, "pair": pair, "coming": days is None}
    if part:
        return fragment("history_days_answer.html", 202 if days is None else 200, **context)
    return page(request, "history_days.html", sheet="What it did to the days", **context)


@router.post("/job/{job}/undo")
def take_back(desk: TheDesk, by: Asker, job: TheJob, posted: Posting) -> Response:
    """Undo the newest change."""
    row = undo(desk, by, job.id, _seen(posted, job))
    return go(f"/job/{job.id}/history", "Undone" if row else "There is nothing left to undo")


@router.post("/job/{job}/restore")
def go_back(desk: TheDesk, by: Asker, job: TheJob, posted: Posting) -> Response:
    """Go back to a revision."""
    number = _number(posted.text("number"))
    try:
        restore(desk, by, job.id, _seen(posted, job), number or 0)
    except KeyError:
        raise HTTPException(404, "There is no such revision of this job") from None
    return go(f"/job/{job.id}/history", f"It stands as revision {number} did")


@router.post("/job/{job}/conflicts/{conflict}")
def settle(request: Request, desk: TheDesk, by: Asker, job: TheJob, conflict: str, posted: Posting) -> Response:
    """Say which of two readings holds."""
    keep: Literal["theirs", "mine"] = "mine" if posted.text("keep") == "second" else "theirs"
    if conflict not in {found.id for found in conflicts_of(desk, job.id)}:
        return go(f"/job/{job.id}/history", "That was settled already")
    done = settle_conflict(desk, by, conflict, keep)
    if isinstance(done, Problem):
        return trouble_page(request, Trouble(422, done.what[:1].upper() + done.what[1:], done.remedy))
    return go(f"/job/{job.id}/history", "Settled; both stay in the book")


def _compared(desk: Desk, job: str, pair: list[int]) -> Comparison | None:
    if len(pair) < 2 or pair[0] == pair[1]:
        return None
    try:
        return compare(desk, job, *pair)
    except KeyError:
        raise HTTPException(404, "There is no such revision of this job") from None


def _prices(desk: Desk, compared: Comparison) -> tuple[str, str] | None:
    """What the two would be priced at today, tax and all; None where one has no price or both have the same."""
    first, second = (_price(desk, side) for side in (compared.first, compared.second))
    return None if first is None or second is None or first == second else (first, second)


def _price(desk: Desk, side: PlanOf) -> str | None:
    made = None if side.planned is None else money_of(desk, side.planned.plan)
    if made is None or isinstance(made, tuple) or made.problems:
        return None
    return made.made.priced.price.gross.shown(made.business.locale)


def _seen(posted: Posted, job: JobRow) -> int:
    """The revision the person saw."""
    seen = _number(posted.text("on"))
    if not seen or seen > job.head:
        raise HTTPException(400, "It is not told which revision was seen")
    return seen


def _number(text: str) -> int | None:
    return int(text) if text.isdecimal() and len(text) < 9 else None


def _devices(desk: Desk) -> Mapping[str, str]:
    return {device.id: device.name for device in list_devices(desk)}


def _place(row: RevisionRow, names: Mapping[str, str]) -> str:
    """Who, and on which device where that is not told by the name already."""
    device = names.get(row.device, "at the desk" if row.device == "desk" else "")
    return row.who if device in ("", row.who) else f"{row.who}, {device}"


def _sides(conflict: Conflict, names: Mapping[str, str]) -> Sides:
    stands, second = (json.loads(side) for side in (conflict.theirs, conflict.mine))
    item = second if isinstance(second, dict) else stands
    device = names.get(conflict.device, "the desk")
    return Sides(conflict.id, name_of(conflict.path, item), shown(stands), shown(second), device, conflict.found_at)
