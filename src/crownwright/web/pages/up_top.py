"""Up top: the readings, taken one after another with one hand, on a roof where the network comes and goes."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from fastapi import APIRouter, HTTPException, Request
from starlette.responses import JSONResponse, Response

from crownwright.quantity.problems import Problem
from crownwright.service.desk.model import UNKNOWN, By, Change, Entry
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.desk.try_changes import values_of
from crownwright.service.desk.up_top_of import TopOf, up_top_of
from crownwright.service.plain import plain
from crownwright.service.up_top import Step, UpTop, change_for
from crownwright.web.asking import Asker, TheDesk, TheJob
from crownwright.web.forms import Posted, Posting
from crownwright.web.page import go, page
from crownwright.web.pages.entries import note_of
from crownwright.web.sheets import Sheet
from crownwright.web.views.sketch import sketch_svg

router = APIRouter()
SHEETS = (Sheet("up-top", "Up top", "the readings, one after another, while you are up there"),)
HEADS = {"tape": "Tapes", "flue": "Flues", "offset": "Out of the string", "drop": "Down to the stone", "around": "Round it"}


@router.get("/job/{job}/up-top")
def show(request: Request, desk: TheDesk, job: TheJob) -> Response:
    """The reading asked for, and all that are in. ``?at=KEY`` asks for another."""
    return _page(request, up_top_of(desk, job.id), request.query_params.get("at", ""))


@router.post("/job/{job}/up-top")
def keep(request: Request, desk: TheDesk, by: Asker, job: TheJob, posted: Posting) -> Response:
    """Keep what was typed at a step, sent by the plain form. JSON {"step", "values"} keeps nothing and says what it would do."""
    of = up_top_of(desk, job.id)
    if posted.json is not None:
        return _tried(desk, of, posted.json)
    step = of.top.step(posted.text("step"))
    if step is None:
        return _moved(request, of, posted)
    typed = {ask.key: posted.text(ask.key) for ask in step.asks}
    gone = posted.ticked("remove")
    missing = [ask.label for ask in step.asks if not typed[ask.key] and not ask.may]
    if missing and not gone:
        return _page(request, of, step.key, typed, f"Still wanted: {missing[0].lower()}.", 422)
    change = change_for(step, typed, remove=gone, saw=_saw(posted.text("before")))
    return _kept(request, desk, by, of, step, change, posted, typed)


def _kept(
    request: Request, desk: Desk, by: By, of: TopOf, step: Step, change: Change, posted: Posted, typed: Mapping[str, str]
) -> Response:
    saved = save_entry(desk, by, Entry(posted.text("id"), of.row.id, of.revision, (change,)))
    if isinstance(saved, Problem):
        return _page(request, of, step.key, typed, f"{saved.what}. {saved.remedy}", 422)
    wrong = _fault_after(up_top_of(desk, of.row.id).top, step.key)
    return go(
        f"/job/{of.row.id}/up-top" + ("" if wrong is None else f"?at={step.key}"), note_of(saved) if wrong is None else wrong
    )


def _fault_after(top: UpTop, key: str) -> str | None:
    step = top.step(key)
    return f"Kept as typed, but {step.problems[0].what}. {step.problems[0].remedy}" if step and step.problems else None


@router.post("/job/{job}/up-top/begin")
def begin(desk: TheDesk, by: Asker, job: TheJob, posted: Posting) -> Response:
    """Begin the readings of a job that has a doorstep survey; that stays among the revisions."""
    of = up_top_of(desk, job.id)
    if of.top.why_not == "doorstep":
        quick = values_of(of.text).get("quick", {})
        kind = quick.get("masonry") if isinstance(quick, dict) else None
        table = {"corners": list("ABCD"), "masonry": kind if isinstance(kind, str) else "rubble stone"}
        changes = (Change("readings", table), Change("quick", remove=True))
        saved = save_entry(desk, by, Entry(posted.text("id"), job.id, of.revision, changes))
        if isinstance(saved, Problem):
            raise HTTPException(422, saved.what)
    return go(f"/job/{job.id}/up-top")


def _saw(before: str) -> Any:
    """What stood there when the form was made."""
    try:
        return json.loads(before) if before else UNKNOWN
    except (ValueError, RecursionError):
        return UNKNOWN


def _moved(request: Request, of: TopOf, posted: Posted) -> Response:
    typed = ", ".join(value for name, value in posted.typed.items() if name not in ("step", "id", "base") and value)
    return _page(request, of, "", note=f"That reading is asked no more. You typed: {typed}", status=409)


def _tried(desk: Desk, of: TopOf, raw: Any) -> Response:
    """How the tapes would close with what is being typed."""
    step = of.top.step(str(raw.get("step"))) if isinstance(raw, dict) else None
    values = raw.get("values") if isinstance(raw, dict) else None
    if step is None or not isinstance(values, dict) or not all(isinstance(v, str) and len(v) < 100 for v in values.values()):
        raise HTTPException(422, "That is no reading")
    top = up_top_of(desk, of.row.id, (change_for(step, values),)).top
    after = top.step(step.key)
    wrong = after.problems[0] if after is not None and after.problems else None
    says = (f"{wrong.what}. {wrong.remedy}",) if wrong else top.says
    return JSONResponse(
        {"says": says, "closes": top.closes, "fault": wrong is not None, "suspect": bool(after and after.suspect)}
    )


def _page(
    request: Request, of: TopOf, at: str, typed: Mapping[str, str] | None = None, note: str = "", status: int = 200
) -> Response:
    top = of.top
    step = top.step(at) or top.step(top.next)
    return page(
        request,
        "up_top.html",
        sheet="Up top",
        job=of.row,
        status=status,
        revision=of.revision,
        top=top,
        values=values_of(of.text),
        step=step,
        typed=typed or {},
        wrong=note,
        heads=HEADS,
        groups=_groups(top),
        sketch=sketch_svg(top.sketch, step) if top.sketch else "",
        carried=carried,
    )


def _groups(top: UpTop) -> list[tuple[str, list[Step]]]:
    """The readings under headings, those that the survey wants to be sure first of all."""
    groups: list[tuple[str, list[Step]]] = []
    for step in top.steps:
        head = HEADS[step.kind]
        if not groups or groups[-1][0] != head:
            groups.append((head, []))
        groups[-1][1].append(step)
    return groups


def carried(step: Step) -> str:
    """A step as JSON, for the script that asks it when there is no network."""
    keys = ("key", "kind", "name", "ask", "why", "path", "asks", "fixed", "before", "start", "end", "side", "tap", "again")
    return json.dumps({key: plain(getattr(step, key)) for key in keys}, ensure_ascii=False)
