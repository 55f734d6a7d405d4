"""What was found on the chimney below and round the cap, ticked by its trade name while up there, measured, photographed; and
what was looked at, and how.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from crownwright.quantity.problems import Problem
from crownwright.service.desk.add_photo import list_photos
from crownwright.service.desk.model import By, Change, Entry
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.desk.try_changes import values_of
from crownwright.service.desk.up_top_of import TopOf, up_top_of
from crownwright.service.plain import plain
from crownwright.service.up_top.found import Finding, Measure, finding_of, found_of, next_there, places_of
from crownwright.service.up_top.looked import looked_of
from crownwright.web.asking import Asker, TheDesk, TheJob
from crownwright.web.forms import Posted, Posting
from crownwright.web.page import go, page
from crownwright.web.pages.entries import note_of
from crownwright.web.sheets import Sheet
from crownwright.web.trouble import Trouble, trouble_page

router = APIRouter()
SHEETS = (Sheet("found", "What was found", "what is wrong with the chimney, ticked by its name"),)


@router.get("/job/{job}/found")
def show(request: Request, desk: TheDesk, job: TheJob) -> Response:
    """What was found, and everything that may be, part by part. ``?at=KEY`` asks for more of one finding."""
    of = up_top_of(desk, job.id)
    values = values_of(of.text)
    one = finding_of(values, request.query_params.get("at", ""))
    return page(
        request,
        "found.html",
        sheet="What was found",
        job=of.row,
        revision=of.revision,
        top=of.top,
        parts=places_of(values),
        found=found_of(values),
        looked=looked_of(values),
        one=one,
        another=next_there(values, one) if one is not None and one.found else "",
        photos={row.name: row.id for row in list_photos(desk, job.id)},
        carried=carried,
    )


@router.post("/job/{job}/found")
def keep(request: Request, desk: TheDesk, by: Asker, job: TheJob, posted: Posting) -> Response:
    """Keep, without a script, the ticks of what was found and what was looked at (``tick:KEY`` set, ``was:KEY`` yes or no as it
    stood on the page; what did not change is not sent on); or what is told of one finding: ``at`` its key, ``tell:NAME`` what is
    typed, ``was:NAME`` what stood there.
    """
    of = up_top_of(desk, job.id)
    one = finding_of(values_of(of.text), posted.text("at"))
    changes = (*_ticked(of, posted), *_looked(of, posted)) if one is None else tuple(_told(one, posted))
    if not changes:
        return go(f"/job/{job.id}/found", "Nothing was changed")
    return _kept(request, desk, by, of, changes, posted)


def _kept(request: Request, desk: Desk, by: By, of: TopOf, changes: tuple[Change, ...], posted: Posted) -> Response:
    base = posted.text("base")
    entry = Entry(posted.text("id"), of.row.id, int(base) if base.isdecimal() and len(base) < 10 else 0, changes)
    saved = save_entry(desk, by, entry)
    if isinstance(saved, Problem):
        return trouble_page(request, Trouble(422, f"{saved.where}: {saved.what}", saved.remedy))
    return go(f"/job/{of.row.id}/found", note_of(saved))


def _ticked(of: TopOf, posted: Posted) -> Iterator[Change]:
    for rows in places_of(values_of(of.text)).values():
        for one in (one for _, places in rows for one in places):
            set_now = _now(one.key, posted)
            if set_now and not one.found:
                yield Change(one.path, dict(one.item), was=None)
            elif set_now is False and one.found:
                yield Change(one.path, remove=True)


def _looked(of: TopOf, posted: Posted) -> Iterator[Change]:
    for one in (one for ways in looked_of(values_of(of.text)).values() for one in ways):
        set_now = _now(one.key, posted)
        if set_now and not one.done:
            yield Change(one.path, one.item, was=None)
        elif set_now is False and one.done:
            yield Change(one.path, remove=True)


def _now(key: str, posted: Posted) -> bool | None:
    """Whether a tick was set or taken off on the page that was sent; None where it stands as it did, or was not on it."""
    set_now, was = posted.ticked(f"tick:{key}"), posted.text(f"was:{key}")
    return None if was not in ("yes", "no") or set_now == (was == "yes") else set_now


def _told(one: Finding, posted: Posted) -> Iterator[Change]:
    if posted.ticked("remove"):
        if one.found:
            yield Change(one.path, remove=True)
        return
    if not one.found:
        yield Change(f"{one.path}.what", one.item["what"], was=None)
    for tell in one.tells:
        typed, was = posted.text(f"tell:{tell.key}"), posted.text(f"was:{tell.key}")
        if typed == was:
            continue
        path = f"{one.path}.{tell.key}"
        yield Change(path, _value(tell, typed), was=was or None) if typed else Change(path, remove=True, was=was)


def _value(tell: Measure, typed: str) -> str | int:
    """A course is a number; one that is none is kept as typed, and what is wrong with it is told beside the plan."""
    return int(typed) if tell.kind == "count" and typed.isdecimal() and len(typed) < 6 else typed


def carried(one: Finding) -> str:
    """A finding as JSON, for the script that goes on without a network."""
    keys = ("key", "name", "path", "item", "tells", "photos")
    told: Mapping[str, Any] = {key: plain(getattr(one, key)) for key in keys}
    return json.dumps(told, ensure_ascii=False)
